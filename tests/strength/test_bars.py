"""Bars over a hung core against beam statics."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.strength.bars import BarLoad, bar_verdicts, moment, sag
from formwork.strength.customary import MPA
from formwork.strength.lumber import Section, Service, adjust, cautious_grade
from formwork.strength.spans import DeflectionLimit

SECTION = Section(breadth=0.0889, depth=0.0381)
VALUES = adjust(cautious_grade(), SECTION, Service())
LIMIT = DeflectionLimit(1.0 / 360.0)


def by_cuts(load: BarLoad, stiffness: float, cells: int = 4000) -> tuple[float, float]:
    """Greatest moment and deflection, from the moment line integrated twice in small cells: a second route."""
    step = load.span / cells
    pulls = ((load.first, load.force / 2.0), (load.span - load.last, load.force / 2.0))
    left = sum(force * (load.span - place) for place, force in pulls) / load.span
    moments = [
        left * x - sum(force * max(0.0, x - place) for place, force in pulls)
        for x in (i * step for i in range(cells + 1))
    ]
    slope = bend = 0.0
    line = [0.0]
    for i in range(cells):
        slope += (moments[i] + moments[i + 1]) / 2.0 * step / stiffness
        bend += slope * step
        line.append(bend)
    return max(moments), max(abs(one - line[-1] * i / cells) for i, one in enumerate(line))


@given(
    force=st.floats(1.0, 5000.0),
    span=st.floats(0.2, 3.0),
    first=st.floats(0.02, 0.49),
    last=st.floats(0.02, 0.49),
)
def test_moment_and_sag_are_those_of_the_integrated_beam(
    force: float, span: float, first: float, last: float
) -> None:
    load = BarLoad(force, span, first * span, last * span)
    greatest, bend = by_cuts(load, VALUES.e * SECTION.inertia, 400)
    assert moment(load) == pytest.approx(greatest, rel=0.01)
    assert bend * 0.96 <= sag(VALUES, SECTION, load) <= bend * 1.01


def test_a_single_pull_in_the_middle_is_the_textbook_case() -> None:
    """F l / 4 and F l^3 / (48 E I): any book of beam statics."""
    load = BarLoad(400.0, 1.2, 0.6, 0.6)
    assert moment(load) == pytest.approx(400.0 * 1.2 / 4.0)
    assert sag(VALUES, SECTION, load) == pytest.approx(400.0 * 1.2**3 / (48.0 * VALUES.e * SECTION.inertia))


def test_the_verdicts_are_stresses_of_a_flat_stick() -> None:
    """By hand: 100 N m on 0.0889 x 0.0381^2 / 6 = 21.508 cm3 is 4.649 MPa."""
    bending, shear, bend = bar_verdicts(VALUES, SECTION, BarLoad(400.0, 1.2, 0.5, 0.5), LIMIT)
    assert bending.load == pytest.approx(100.0 / 21.508, rel=1e-3)
    assert bending.limit == pytest.approx(VALUES.fb / MPA)
    assert shear.load == pytest.approx(1.5 * 400.0 / (88.9 * 38.1), rel=1e-6)
    assert bend.limit == pytest.approx(1200.0 / 360.0)


@pytest.mark.parametrize("load", [BarLoad(-1, 1, 0, 0), BarLoad(1, 0, 0, 0), BarLoad(1, 1, -0.1, 0)])
def test_impossible_bars_are_refused(load: BarLoad) -> None:
    with pytest.raises(RangeError):
        moment(load)
