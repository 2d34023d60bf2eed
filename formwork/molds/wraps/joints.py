"""Where the parts of a wrapped mold are joined, and the fastener of every joint.

Spacings are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, pi, tau

from formwork.molds.choice import usual_sticks
from formwork.molds.fastening import Fastening, fasten
from formwork.molds.joints import CLOSE, WIDE, Joint
from formwork.molds.load import PANEL_LIMIT
from formwork.molds.mold import Part
from formwork.molds.strengths import grade_of_stick
from formwork.molds.wraps.lifts import core_lift, held_groups, shells_lift, weight
from formwork.molds.wraps.round_bars import bar_ends
from formwork.molds.wraps.round_core import RoundCore
from formwork.molds.wraps.wrapping import Lined
from formwork.stock.records import StickStock
from formwork.strength.bars import BarLoad, bar_verdicts
from formwork.strength.lumber import Section, Service, adjust
from formwork.strength.uplift import SAFETY, hold_down
from formwork.strength.working import Force, Unjudged, Verdict

SHELLS_DOWN = "shells"
"""The group of both shells together, held down by their lowest rings."""
SEAM = "seam"
"""The group of the screws at the edges of the skins, which the mix pulls along the round."""
_SEAM_BOLTS = 0.5
_PITCH = 0.05
_IN_RING = 0.05


def wrapped_joints(
    lined: Lined, heights: Sequence[Sequence[float]], parts: Sequence[Part]
) -> tuple[Fastening, ...]:
    """The fastener of every joint.

    Raises:
        StockError: where a joint finds none.
    """
    found = [fasten(lined.stocks, joint) for joint in _plain(lined, heights, parts)]
    found += [_seam(lined), fasten(lined.stocks, _bolts(lined), bolts_only=True), _down(lined, parts)]
    if lined.core is not None:
        found += _core(lined, lined.core, parts)
    return tuple(found)


def _plain(lined: Lined, heights: Sequence[Sequence[float]], parts: Sequence[Part]) -> Iterator[Joint]:
    """Joints at which the mix does not pull."""
    t, skin = lined.stocks.sheet.thickness, lined.shell.skin.sheet.thickness
    rings = sum(len(some) for some in heights)
    radius = max(side.foot[0] for side in lined.sides)
    round_it = ceil(tau * radius / CLOSE)
    yield Joint(
        "ring layers, glued to one another", rings * round_it, t, t, comes_off=False, places=2 * rings
    )
    yield Joint(
        "skin to rings, heads flush and filled", rings * round_it, skin, _IN_RING, comes_off=False, places=rings,
        edge=True,
    )  # fmt: skip
    yield Joint(
        "seam battens to ring ends", 4 * 2 * rings, lined.shell.batten.thick, 0.06, comes_off=False,
        places=4 * rings, edge=True,
    )  # fmt: skip
    plugs = [part for part in parts if part.role == "plug"]
    if plugs:
        deep = min(part.blank.length for part in plugs)
        yield Joint("drain plugs, from behind", len(plugs), t, deep, comes_off=False, places=len(plugs))
    if lined.core is not None and lined.core.apart:
        ribs, stick = len(lined.core.ribs), lined.stocks.stick
        yield Joint(
            "core stringers to its ribs", 4 * ribs, stick.thickness, _IN_RING, comes_off=False, places=2 * ribs,
            edge=True,
        )  # fmt: skip
        yield Joint("core cap to the rib behind it, from inside", 4, t, t, comes_off=True, edge=True)
    elif lined.core is not None:
        around = ceil(tau * lined.core.inside.foot[0] / CLOSE)
        count = around * len(lined.core.ribs)
        thin = lined.core.skin.sheet.thickness
        yield Joint(
            "core skin to its ribs, heads flush and filled", count, thin, _IN_RING, comes_off=False,
            places=len(lined.core.ribs), edge=True,
        )  # fmt: skip
        yield Joint("core cap to the rib behind it", max(4, around), t, t, comes_off=False)


def _seam(lined: Lined) -> Fastening:
    """Screws at the edges of the skins: as close as the pull of the mix asks."""
    holds, load = lined.shell.holds, lined.asked.load
    count = 0
    for side in lined.sides:
        worst = load.pressure(side.foot[1]), max(side.foot[0], side.head[0])
        count += 4 * holds.rows(*worst) * (ceil(side.slant / holds.pitch(*worst)) + 1)
    joint = Joint(
        "edges of the skins to the seam battens", count, lined.shell.skin.sheet.thickness,
        lined.shell.batten.deep, comes_off=False, group=SEAM, places=4 * len(lined.sides),
    )  # fmt: skip
    hold = holds.screw.hold
    return Fastening(
        joint, "screw", holds.screw.size, count, Force(0.0, ()), None if isinstance(hold, Unjudged) else hold
    )


def _bolts(lined: Lined) -> Joint:
    """Through both battens of a seam: they keep the shells in line; the straps carry the mix."""
    each = sum(max(2, ceil(side.slant / _SEAM_BOLTS) + 1) for side in lined.sides)
    thick = lined.shell.batten.thick
    return Joint("seam battens of both shells", 2 * each, thick, thick, comes_off=True, places=2)


def _down(lined: Lined, parts: Sequence[Part]) -> Fastening:
    t = lined.stocks.sheet.thickness
    radius = lined.sides[0].foot[0]
    lift, dead = shells_lift(lined), weight(lined, parts, held_groups(lined))
    joint = Joint(
        "lowest rings to base", max(8, ceil(tau * radius / WIDE)), 2.0 * t, t, comes_off=True,
        group=SHELLS_DOWN, places=2, most=max(8, int(tau * radius / _PITCH)),
    )  # fmt: skip
    return fasten(lined.stocks, joint, hold_down(max(0.0, lift.force), dead))


def _core(lined: Lined, core: RoundCore, parts: Sequence[Part]) -> list[Fastening]:
    """What holds the core down: screws from under the base, or its bars and what they are screwed to."""
    t, name = lined.stocks.sheet.thickness, core.former.name
    pull = hold_down(core_lift(lined).force, weight(lined, parts, core.groups))
    room = max(4, int(pi * core.inside.foot[0] / _PITCH))
    if not core.hung:
        joint = Joint("base to core, from below", 4, t, 2.0 * t, comes_off=True, group=name, most=room)
        return [fasten(lined.stocks, joint, pull)]
    bar = next(part for part in parts if part.role == "bar")
    thick = bar.blank.thickness
    joints = (
        Joint("core bars to core", 4, thick, 2.0 * t, comes_off=False, group=name, places=4, most=16),
        Joint("core bars to upper rings", 4, thick, 2.0 * t, comes_off=True, group=name, places=4, most=16),
    )
    return [fasten(lined.stocks, joint, pull) for joint in joints]


def bar_load(lined: Lined) -> BarLoad | None:
    """What pulls at each of the two bars over a hung core; None where there are none."""
    core = lined.core
    if core is None or not core.hung:
        return None
    inner, outer = lined.shell.brim(lined.sides[-1])
    half, first = bar_ends(core, (inner + outer) / 2.0)
    return BarLoad(SAFETY * core_lift(lined).force / 2.0, 2.0 * half, first, first)


def bar_judged(load: BarLoad, stick: StickStock) -> tuple[Verdict, Verdict, Verdict]:
    """Bending, shear and sag of a bar that lies flat."""
    section = Section(breadth=stick.width, depth=stick.thickness)
    return bar_verdicts(
        adjust(grade_of_stick(stick, stick.width), section, Service()), section, load, PANEL_LIMIT
    )


def bar_stick(lined: Lined) -> StickStock:
    """The smallest stick whose bars hold the core; the stoutest where none does (the check then says so)."""
    load = bar_load(lined)
    sticks = usual_sticks(lined.asked.shop, lined.order.mold)
    if load is None:
        return sticks[0]
    rows = [(max(one.utilisation for one in bar_judged(load, stick)), stick) for stick in sticks]
    return next((stick for strain, stick in rows if strain <= 1.0), min(rows, key=lambda row: row[0])[1])
