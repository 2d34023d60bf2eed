"""Volume of concrete tubes by the foot, as sellers' tables print it.

The figures are those of the formula (area of the inside times a foot), so that they hold for a tube whose inside is
what its label says, and only then.
"""

from __future__ import annotations

import pytest

from formwork.stock.tubes import CUBIC_FOOT, fill_of

INCH, FOOT = 0.0254, 0.3048
PRINTED = {8: 0.3491, 10: 0.5454, 12: 0.7854, 16: 1.3963, 18: 1.7671, 24: 3.1416}
"""Inside diameter, in: cubic feet to the foot."""


@pytest.mark.parametrize(("inches", "printed"), PRINTED.items())
def test_cubic_feet_to_the_foot(inches, printed):
    assert fill_of(inches * INCH, FOOT) / CUBIC_FOOT == pytest.approx(printed, abs=0.00005)


def test_an_eighth_less_inside_is_a_fortieth_less_concrete():
    """Why the label will not do: 9 7/8 in inside, labelled 10 in, holds 2.5 % less."""
    share = fill_of(9.875 * INCH, FOOT) / fill_of(10 * INCH, FOOT)
    assert 1.0 - share == pytest.approx(0.0248, abs=0.00005)
