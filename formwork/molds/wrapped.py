"""The wrapped method: a skin bent inside half rings, in two shells that straps hold together, on a base; a bent core.

A piece whose outside is turned, of straight sides one above the other, with one round core or none. The skin's sheet
and the way it is bent follow from the piece; rings, battens, straps and fasteners from the mix.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import pi, tau

from formwork.geometry.planes import Planes
from formwork.molds.bearers import Bearers, bearers
from formwork.molds.coaxial import Coaxial, coaxial_cavity
from formwork.molds.fastening import Fastening, fixing
from formwork.molds.foot_strip import foot_strip, strip_lines
from formwork.molds.gluing import glue_line, plies
from formwork.molds.hardware import consumables, gathered, lines_of
from formwork.molds.label import limits
from formwork.molds.mold import Hardware, Mold, Part, Strip
from formwork.molds.panels.strip import way_in_words
from formwork.molds.stacks.parts import base, plug_parts
from formwork.molds.straps import strap_lines
from formwork.molds.weighing import mass
from formwork.molds.wraps.cones import Cone
from formwork.molds.wraps.joints import bar_stick, wrapped_joints
from formwork.molds.wraps.ring_heights import ring_heights
from formwork.molds.wraps.ring_ribs import BACK, FRONT
from formwork.molds.wraps.round_bars import bars
from formwork.molds.wraps.round_core import RoundCore, core_parts
from formwork.molds.wraps.round_shell import shell_parts
from formwork.molds.wraps.words import wrapped_assembly, wrapped_instructions
from formwork.molds.wraps.wrapping import Lined, foot_strips, lined
from formwork.project.records import PieceOrder
from formwork.record import record
from formwork.shapes.body import piece_volume
from formwork.strength.working import Unjudged
from formwork.units import show

__all__ = ["Lined", "WrappedMold", "brace", "lined"]


@record
class WrappedMold:
    """A wrapped mold, and what its checks must know of how it was designed.

    Attributes:
        mold: what every output reads.
        lined: the stage before.
        heights: of the rings' middles on each side, m.
        closed: what the parts enclose.
        fastenings: the fastener of every joint; none of a mold the shop owns.
        under: what the base may lie on.
    """

    mold: Mold
    lined: Lined
    heights: tuple[tuple[float, ...], ...]
    closed: Coaxial
    fastenings: tuple[Fastening, ...]
    under: Bearers | Unjudged

    @property
    def order(self) -> PieceOrder:
        """What is wanted."""
        return self.lined.order

    @property
    def leaks(self) -> tuple[str, ...]:
        """Every place where the mix would run out, as a line."""
        return self.closed.leaks


def brace(lined: Lined) -> WrappedMold:
    """The mold: shells, core and base, how they are joined, what they enclose and how they come off.

    Raises:
        GeometryError: where a part has no room.
        StockError: where a ring, the base or a joint finds no stock.
    """
    asked, order = lined.asked, lined.asked.order
    heights = ring_heights(lined)
    parts = _parts(lined, heights)
    closed = coaxial_cavity(_sealing(parts), lined.form.fill, asked.piece.pour_points)
    chosen = () if asked.owned else wrapped_joints(lined, heights, parts)
    steps, locked = _stripping(lined)
    area, seam = _wetted(lined), _seams(lined)
    under = bearers(lined.stocks.sheet, asked.load, asked.units)
    together = wrapped_assembly(lined, heights, under, parts)
    downward = {step.group for step in steps if step.way[2] < 0.0}
    mold = Mold(
        name=f"{order.name} mold",
        method=order.mold.method,
        piece=asked.piece,
        planes=Planes(),
        parts=parts,
        hardware=(
            *(() if asked.owned else _bought(lined, heights, parts, chosen)),
            *consumables(area, seam, asked.uses),
        ),
        cavity=closed.volume,
        nominal=piece_volume(Planes(), asked.piece),
        stripping=steps,
        locked=locked,
        wetted=area,
        seams=seam,
        uses=asked.uses,
        lifts=asked.load.lifts,
        limits=limits(asked.load, asked.units),
        owned=asked.owned,
        copies=order.molds,
        instructions=wrapped_instructions(lined, together),
        fixings=() if asked.owned else tuple(map(fixing, chosen)),
        mass=mass(parts, asked.shop),
        under=mass([part for part in parts if part.group in downward], asked.shop),
        steps=together,
    )
    return WrappedMold(mold, lined, heights, closed, chosen, under)


def _parts(lined: Lined, heights: Sequence[Sequence[float]]) -> tuple[Part, ...]:
    asked, form = lined.asked, lined.form
    shells, reach = shell_parts(lined.shell, lined.sides, heights, lined.stocks, asked)
    made = [base(reach, lined.stocks.sheet, asked.shop.saw.trim, asked.order.name), *shells]
    core = lined.core
    made += [
        replace(plug, group=core.cap_group) if core and plug.group == core.former.name else plug
        for plug in plug_parts(asked.piece, asked.units)
    ]
    made += [foot_strip(one, "base", asked.units) for one in foot_strips(form)]
    if lined.core is not None:
        made += core_parts(lined.core, asked.piece.plugs, lined.stocks.stick)
        if lined.core.hung:
            brim = lined.shell.brim(lined.sides[-1])[1]
            made += bars(lined.core, bar_stick(lined), brim, form.fill)
    return tuple(made)


def _sealing(parts: Sequence[Part]) -> list[Part]:
    """The parts that may hold mix: rings, battens and strips stand to one side only, and close nothing."""
    return [part for part in parts if part.role in ("base", "plug") or part.turned or part.rounds]


def _stripping(lined: Lined) -> tuple[tuple[Strip, ...], tuple[tuple[str, str], ...]]:
    """The order in which the parts leave, and what cannot: a turned face draws while its radius changes one way."""
    core = lined.core
    shells = (
        _told(Strip(FRONT, (0.0, -1.0, 0.0), 0.0), "slacken and take off the straps, undo the seam bolts"),
        _told(Strip(BACK, (0.0, 1.0, 0.0), 0.0)),
        _told(Strip("base", (0.0, 0.0, -1.0), 0.0)),
    )
    if core is None:
        return shells, ()
    if core.draft < -1e-9:
        why = (
            f"{core.former.name}: it is wider where it should come out last, by a lean of "
            f"{show.angle(-core.draft)}; let it widen the other way, or cast the other end down"
        )
        return shells, ((core.former.name, why),)
    drawn = tuple(_core_steps(core))
    return ((*drawn, *shells) if core.hung else (*shells, *drawn)), ()


def _core_steps(core: RoundCore) -> Iterator[Strip]:
    """The core in one piece; or its ribs, then its skin sprung inward at a joint, then its cap."""
    way = (0.0, 0.0, 1.0 if core.hung else -1.0)
    first = "undo the screws of its bars" if core.hung else ""
    if not core.apart:
        yield _told(Strip(core.former.name, way, core.draft), first)
        return
    inside = "undo the screws of the cap from inside"
    yield _told(Strip(core.ribs_group, way, core.draft), f"{first}, {inside}" if first else inside)
    yield _told(
        Strip(core.skin_group, way, core.draft),
        "take off the tape, spring an edge inward, roll it up",
    )
    yield _told(Strip(core.cap_group, way, core.draft), "knock it loose from inside")


def _told(step: Strip, first: str = "") -> Strip:
    words = way_in_words(step.way)
    return Strip(step.group, step.way, step.draft, f"{first}; {words}" if first else words)


def _wetted(lined: Lined) -> float:
    """Area the mix touches, m2: sides, base, core with its cap."""
    sides = sum(_lateral(side) for side in lined.sides)
    foot = pi * lined.sides[0].foot[0] ** 2
    if lined.core is None:
        return sides + foot
    face = lined.core.face
    if lined.core.hung:
        return sides + foot + _lateral(face) + pi * face.foot[0] ** 2
    return sides + foot - pi * face.foot[0] ** 2 + _lateral(face) + pi * face.head[0] ** 2


def _lateral(side: Cone) -> float:
    return pi * (side.foot[0] + side.head[0]) * side.slant


def _seams(lined: Lined) -> float:
    """Length of seam, m: round the foot, up every joint of the skins, round the core's foot or mouth and its cap."""
    joints = 2.0 * lined.shell.skin.panels * sum(side.slant for side in lined.sides)
    kinks = sum(tau * side.foot[0] for side in lined.sides)
    core = lined.core
    if core is None:
        return joints + kinks
    cap = core.face.radius(core.cap[0 if not core.hung else 1])
    mouth = 0.0 if core.hung else core.face.foot[0]
    return joints + kinks + core.skin.panels * core.face.slant + tau * (cap + mouth)


def _bought(
    lined: Lined, heights: Sequence[Sequence[float]], parts: Sequence[Part], chosen: Sequence[Fastening]
) -> tuple[Hardware, ...]:
    rings = sum(len(some) for some in heights)
    round_it = tau * max(side.foot[0] for side in lined.sides)
    glued = {
        "layers of the rings": plies(parts, "ring"),
        "skin to the rings": rings * 2.0 * lined.stocks.sheet.thickness * round_it,
    }
    return (*gathered(_lines(lined, heights, parts, chosen)), *glue_line(glued))


def _lines(
    lined: Lined, heights: Sequence[Sequence[float]], parts: Sequence[Part], chosen: Sequence[Fastening]
) -> Iterator[Hardware]:
    units = lined.asked.units
    for fastening in chosen:
        yield from lines_of(fastening)
    count = sum(len(some) for some in heights)
    pull = lined.shell.worst_pull(lined.sides, heights, lined.asked.load)
    yield from strap_lines(lined.shell.strap, pull, count, "one round each ring", units)
    yield from strip_lines(parts)
    for part in parts:
        if part.role == "plug":
            size = (
                f"{show.length(part.blank.width, units)} across, {show.length(part.blank.length, units)} long"
            )
            yield Hardware("dowel or stopper", size, 1.0, "piece", "drain plugs")
        for _, _, across in part.blank.holes if part.role == "core cap" else ():
            yield Hardware("stopper", show.length(across, units), 1.0, "piece", "air hole of each core")
    if lined.core is not None and lined.core.apart:
        length = lined.core.skin.panels * lined.core.face.slant * lined.asked.uses
        yield Hardware("tape", "", length, "m", "joints of the core's skin, on its face, for each filling")
