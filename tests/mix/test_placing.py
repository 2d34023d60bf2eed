"""What the mix does in the mold: settlement by a second route, and when each caution is given."""

from __future__ import annotations

import pytest
from scipy.integrate import quad

from formwork.errors import RangeError
from formwork.mix.cellular import design
from formwork.mix.design import mix_for
from formwork.mix.placing import head_settlement, placing_cautions
from formwork.mix.records import CellularWanted, Cement, Foam, Mix, OrdinaryWanted

CEMENT = Cement("portland", 3.15, 25.0)
FOAM = Foam(45.0, 1.0, 40.0)


def mix(wet: float) -> Mix:
    return design(CellularWanted(wet, None, 0.5), CEMENT, FOAM)


def test_settlement_of_a_shallow_lift_is_that_of_a_linear_spring() -> None:
    # strain grows with depth: half of rho*g*h/p0 over the air
    assert head_settlement(500.0, 0.7, 0.01) == pytest.approx(
        0.7 * 0.01 * 0.5 * 500.0 * 9.80665 * 0.01 / 101_325.0, rel=1e-3
    )


@pytest.mark.parametrize("depth", [0.1, 0.9, 3.0])
def test_settlement_is_the_sum_of_squeezed_layers(depth: float) -> None:
    def squeezed(above: float) -> float:
        return 0.7 * (1.0 - 101_325.0 / (101_325.0 + 500.0 * 9.80665 * above))

    assert head_settlement(500.0, 0.7, depth) == pytest.approx(quad(squeezed, 0.0, depth)[0], rel=1e-9)


@pytest.mark.parametrize(
    ("wet", "air", "depth"), [(0.0, 0.5, 1.0), (500.0, 1.1, 1.0), (500.0, 0.5, 0.0), (500.0, -0.1, 1.0)]
)
def test_settlement_outside_its_limits_is_refused(wet: float, air: float, depth: float) -> None:
    with pytest.raises(RangeError, match="settlement"):
        head_settlement(wet, air, depth)


def has(mix: Mix, depth: float, word: str, length: float = 1.0) -> bool:
    return any(word in line for line in placing_cautions(mix, depth, length))


def test_a_noticeable_settlement_is_told() -> None:
    assert has(mix(600.0), 0.6, "up to 6.7 mm")
    assert not has(mix(600.0), 0.1, "sink")


def test_shrinkage_is_told_over_the_length_of_the_piece() -> None:
    dry_400 = design(CellularWanted(None, 400.0, 0.5), CEMENT, FOAM)
    assert has(dry_400, 0.3, "3.0 to 3.5 mm a metre, 7 mm", length=2.0)
    assert has(dry_400, 0.3, "from memory")
    assert not has(mix(400.0), 0.3, "shrinks")  # dries to less than the table begins with


def test_nothing_is_said_of_ordinary_concrete() -> None:
    ordinary = mix_for(OrdinaryWanted(2350.0, 1.0, 0.5, 2.0, 3.0), CEMENT, FOAM)
    assert placing_cautions(ordinary, 2.0, 1.0) == ()
