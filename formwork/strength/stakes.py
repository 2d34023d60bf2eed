"""The ground: what stakes driven into it hold sideways, how deep they must go, and what it carries.

Source: International Building Code 1807.3.2.1, posts not held at the ground: d = 0.5 A (1 + sqrt(1 + 4.36 h / A)) with
A = 2.34 P / (S_1 b), S_1 the lateral bearing at a third of the depth; lateral bearing by depth: Table 1806.2 (2012) as
reprinted; twice that for a single post that half an inch of movement does not harm: 1806.3.4. Solved for P it is
P = S_1 b d^2 / (2.34 (d + 1.09 h)). Tests of bracing stakes (ASTM STP34550S, abstract) found that most soils hold too
little for tall walls in a modest wind.
"""

from __future__ import annotations

from math import hypot

from formwork.errors import RangeError
from formwork.record import record
from formwork.strength.customary import FOOT, MM, PSF
from formwork.strength.valid import not_negative, positive
from formwork.strength.working import Verdict, given, step

LATERAL: dict[str, float] = {
    "gravel": 200.0 * PSF / FOOT,
    "sand": 150.0 * PSF / FOOT,
    "clay": 100.0 * PSF / FOOT,
}
"""Lateral bearing for each metre of depth, Pa/m: sandy gravel; sand, also silty or clayey; clay and silt."""
BEARING: dict[str, float] = {"gravel": 3000.0 * PSF, "sand": 2000.0 * PSF, "clay": 1500.0 * PSF}
"""What the ground may carry, Pa, of the same table."""
SINGLE = 2.0
"""What a single post may bear over the table's value."""
STEP = 0.05
"""Depths are told in whole steps of this much, m."""
SHALLOWEST, DEEPEST = 0.3, 1.2
"""No stake is told to be driven less deep, or deeper, m (ours)."""


@record
class Stake:
    """A stake: sides of its section, how deep it is driven, how high above the ground it is pushed, m."""

    thickness: float
    width: float
    depth: float
    height: float


def lateral_hold(stake: Stake, ground: str) -> float:
    """What a stake holds sideways, N.

    Args:
        stake: as it is driven.
        ground: gravel, sand or clay.

    Raises:
        RangeError: for another ground, a size that is not above zero, a negative height.

    Source: module docstring.
    Valid: natural ground, not fill, mud or peat; a stake that does not break.

    >>> round(lateral_hold(Stake(0.045, 0.045, 0.6, 0.0), "sand"))
    154
    """
    _check(stake, ground)
    bearing = SINGLE * LATERAL[ground] * stake.depth / 3.0
    across = hypot(stake.thickness, stake.width)
    return bearing * across * stake.depth**2 / (2.34 * (stake.depth + 1.09 * stake.height))


def depth_for(force: float, stake: Stake, ground: str) -> float | None:
    """The least depth, in whole steps, at which a stake holds a force (N), m; None where not even the deepest does.

    Args:
        force: level, N.
        stake: its own depth does not count.
        ground: gravel, sand or clay.

    Raises:
        RangeError: as :func:`lateral_hold`.

    Source: module docstring.
    """
    not_negative("force", force, "N")
    steps = range(round(SHALLOWEST / STEP), round(DEEPEST / STEP) + 1)
    tried = (Stake(stake.thickness, stake.width, k * STEP, stake.height) for k in steps)
    return next((one.depth for one in tried if lateral_hold(one, ground) >= force), None)


def held_sideways(force: float, stake: Stake, ground: str) -> Verdict:
    """A level force against what a stake holds.

    Args:
        force: on it, N.
        stake: as it is driven.
        ground: gravel, sand or clay.

    Raises:
        RangeError: as :func:`lateral_hold`.

    Source: module docstring.
    Valid: as :func:`lateral_hold`.
    """
    not_negative("force", force, "N")
    limit, bearing = lateral_hold(stake, ground), SINGLE * LATERAL[ground] * stake.depth / 3.0
    across = hypot(stake.thickness, stake.width)
    rise, deep = LATERAL[ground] * MM / 1e6, stake.depth / MM
    steps = (
        given("s", rise, "MPa/mm", f"lateral bearing of {ground} for each mm of depth, IBC Table 1806.2"),
        given("d", deep, "mm", "driven into the ground"),
        step("S_1", "k * s * d / 3", bearing / 1e6, "MPa", k=SINGLE, s=rise, d=deep),
        step("b", "sqrt(t_1^2 + t_2^2)", across / MM, "mm", t_1=stake.thickness / MM, t_2=stake.width / MM),
        step("P_s", "S_1 * b * d^2 / (2.34 * (d + 1.09 * h))", limit, "N",
             S_1=bearing / 1e6, b=across / MM, d=deep, h=stake.height / MM),
        given("F_s", force, "N", "on each stake"),
    )  # fmt: skip
    return Verdict("stakes sideways", force, limit, "N", "IBC 1807.3.2.1, Tables 1806.2, 1806.3.4", steps)


def carried(weight: float, area: float, ground: str) -> Verdict:
    """What stands on a plate against what the ground under it may carry.

    Args:
        weight: N.
        area: of the plate, m2.
        ground: gravel, sand or clay.

    Raises:
        RangeError: for another ground, a negative weight, an area that is not above zero.

    Source: International Building Code, Table 1806.2 (2012), as reprinted.
    Valid: natural ground, level and drained, not fill, mud or peat.

    >>> round(carried(5000.0, 0.25, "clay").utilisation, 3)
    0.278
    """
    not_negative("weight", weight, "N")
    positive("area", area, "m2")
    _known(ground)
    pressed, limit = weight / area, BEARING[ground]
    steps = (
        step("p_g", "G_f / A_p", pressed / 1e6, "MPa", G_f=weight, A_p=area / MM**2),
        given("p_gmax", limit / 1e6, "MPa", f"{ground}, IBC Table 1806.2"),
    )
    return Verdict("ground under the plate", pressed / 1e6, limit / 1e6, "MPa", "IBC Table 1806.2", steps)


def _known(ground: str) -> None:
    if ground not in LATERAL:
        raise RangeError(f"ground: got {ground!r}, want one of {', '.join(LATERAL)}")


def _check(stake: Stake, ground: str) -> None:
    _known(ground)
    positive("thickness", stake.thickness, "m")
    positive("width", stake.width, "m")
    positive("depth", stake.depth, "m")
    not_negative("height", stake.height, "m")
