"""A turned piece in a mold of rings: its layers, how far out, whole or parted, the stacked core, and what they form."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import hypot, pi, radians, tau

from formwork.errors import GeometryError, StockError
from formwork.geometry import sides
from formwork.geometry.sides import Side
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec
from formwork.molds.asked import Asked
from formwork.molds.choice import Stocks
from formwork.molds.mold import Part
from formwork.molds.stacks import rings
from formwork.molds.stacks.core import RoundCore, core_parts, round_core, told
from formwork.molds.stacks.layers import (
    Edge,
    Layer,
    bands,
    formed,
    heights_that_suit,
    laid_up,
    miss,
    planed,
)
from formwork.molds.stacks.parts import bars, base, bench_work, plug_parts
from formwork.molds.stacks.profile_boards import profile_boards
from formwork.molds.stacks.stack import BACK, FRONT, WALL, Core, Course, Stack
from formwork.record import record
from formwork.shapes.body import curved_volume
from formwork.shapes.piece import Curved, Piece
from formwork.stock.records import SheetStock
from formwork.strength.working import Force, given, step
from formwork.units import show

WIDTH = 0.06
"""Least width of a ring, m: room for screws in two rows and for glue (common practice, no source)."""
LEAST_DRAFT = radians(1.0)
"""Least lean with which rings in one piece come off (ours); below it the wall parts in two halves."""
_LEAST_WALL = 0.008
_UP: Vec = (0.0, 0.0, 1.0)
_DOWN: Vec = (0.0, 0.0, -1.0)


@record
class _Wall:
    """The rings: their layers and outer radii, whether they part, in how many segments, and how they come off."""

    layers: tuple[Layer, ...]
    outer: tuple[float, ...]
    parted: bool
    segments: int
    way: Vec
    draft: float


def round_stack(asked: Asked, stocks: Stocks, form: Curved) -> Stack:
    """The mold of a turned piece.

    Raises:
        GeometryError: where the piece cannot be formed so.
        StockError: where its rings do not fit the sheet.
    """
    piece, edge, sheet = asked.piece, asked.order.mold.edge or "bevelled", stocks.sheet
    assert isinstance(form.outside, Turned)
    side = sides.side_of(form.outside.profile)
    wall = _wall(asked, side, sheet, edge)
    core = round_core(asked, form, sheet, edge)
    made = _as_formed(piece, form, wall.layers, core)
    _refuse_thin(made, wall.layers, core)
    cores = (told(core),) if core else ()
    ear = rings.EAR if wall.parted else 0.0
    parts = (
        base(max(wall.outer) + ear, sheet, asked.shop.saw.trim, piece.name),
        *_ring_parts(wall, sheet, asked),
        *(core_parts(core, sheet, asked) if core else ()),
        *plug_parts(piece, asked.units),
        *(
            bar
            for one in cores
            if one.seat == "hung"
            for bar in bars(one, wall.outer[-1], form.fill, stocks.stick)
        ),
    )
    inside = (core.drawn, core.former.name, core.hung) if core else None
    group = FRONT if wall.parted else WALL
    boards = profile_boards(side, inside, group, sheet, asked.shop.saw.trim)
    notes = _notes(asked, sheet.thickness, side, form, (wall, core), made)
    return Stack(
        piece=replace(made, notes=(*made.notes, *notes)),
        stocks=stocks,
        parts=(*parts, *boards),
        courses=tuple(_courses(wall)),
        cores=cores,
        parted=wall.parted,
        segments=wall.segments,
        edge=edge,
        reach=max(wall.outer),
        lift=_lift(asked, formed(wall.layers)),
        way=wall.way,
        draft=wall.draft,
        wetted=_wetted(wall.layers, core.side if core else None, form.fill),
        seams=_seams(wall, core.side if core else None),
        locked=tuple(_locked(cores)),
    )


def _wall(asked: Asked, side: Side, sheet: SheetStock, edge: Edge) -> _Wall:
    """The rings of the outside.

    Raises:
        StockError: where they do not fit the sheet.
    """
    layers = laid_up(side, bands(side.foot, side.head, sheet.thickness), edge)
    down, up = sides.draft(side, up=True), sides.draft(side, up=False)
    parted = max(down, up) < LEAST_DRAFT
    way, draft = (_DOWN, down) if down >= up else (_UP, up)
    outer = _outer(layers, parted)
    segments = rings.segments_wanted(layers, max(outer), parted, sheet, asked.shop.saw.trim)
    if segments is None:
        raise StockError(
            f"{asked.piece.name}: no segment of a ring {show.length(2.0 * max(outer), asked.units)} across fits the "
            f"sheet '{sheet.name}'; name a larger sheet"
        )
    return _Wall(layers, outer, parted, segments, way, draft)


def _outer(layers: Sequence[Layer], parted: bool) -> tuple[float, ...]:
    """Outer radius of each ring: the same all over where ears must meet; else what laps the rings above and below."""
    most = [layer.greatest for layer in layers]
    if parted:
        return (max(most) + WIDTH,) * len(most)
    return tuple(max(most[max(0, i - 1) : i + 2]) + WIDTH for i in range(len(most)))


def _as_formed(piece: Piece, form: Curved, wall: Sequence[Layer], core: RoundCore | None) -> Piece:
    """The piece that the layers cast."""
    formers = (replace(core.former, body=Turned(sides.solid(core.side)), takes=None),) if core else ()
    return replace(piece, form=Curved(Turned(sides.solid(formed(wall))), formers, form.fill))


def _refuse_thin(made: Piece, wall: Sequence[Layer], core: RoundCore | None) -> None:
    if core is None:
        return
    least, (r, z) = sides.gap(core.side, formed(wall))
    if least < _LEAST_WALL:
        raise GeometryError(
            f"{made.name}: the steps of the layers leave a wall of only {show.both(least)}, {show.both(r)} from the "
            f'axis and {show.both(z)} above the base; set edge = "bevelled", name a thinner sheet, or thicken the wall'
        )


def _ring_parts(wall: _Wall, sheet: SheetStock, asked: Asked) -> Iterator[Part]:
    halves = ((FRONT, pi), (BACK, 0.0)) if wall.parted else ((WALL, 0.0),)
    for number, (layer, outer) in enumerate(zip(wall.layers, wall.outer, strict=True), start=1):
        for group, start in halves:
            sweep = pi if wall.parted else tau
            some = rings.bounds(start, sweep, wall.segments, number % 2 == 0)
            for k, (begin, turn) in enumerate(some, start=1):
                ears = (wall.parted and k == 1, wall.parted and k == len(some))
                name = f"{group} ring {number}" if wall.parted else f"ring {number}"
                ring = rings.Ring(layer, outer, begin, turn, ears)
                yield rings.ring_part(
                    ring,
                    name if len(some) == 1 else f"{name} segment {k}",
                    group,
                    sheet,
                    bench_work(layer, sheet, asked.units, whole=turn > pi + 1e-9),
                )


def _courses(wall: _Wall) -> Iterator[Course]:
    for layer, outer in zip(wall.layers, wall.outer, strict=True):
        yield Course(layer.low, layer.high, layer.greatest, outer - layer.greatest)


def _lift(asked: Asked, side: Side) -> Force:
    """Net push of the mix on the wall, steps included: the cylinder over its foot less what it holds.

    In lifts rings that widen upward are not counted on: they may stay dry while a lift stands against others.
    """
    if asked.load.lifts > 1:
        over, plan = _narrowing(side)
        said = given("V", over, "m3", "over every ring that narrows upward")
        return asked.load.buoyed(over, plan, (said,))
    foot, height = side.points[0][0], side.height
    held = Turned(sides.solid(side)).volume()
    over = pi * foot * foot * height - held
    known = (
        given("r", foot, "m", "radius of the foot"),
        given("V_0", held, "m3", "inside the rings, the hollow counted in"),
        step("V", "pi * r^2 * H - V_0", over, "m3", r=foot, H=height, V_0=held),
    )
    return asked.load.buoyed(over, 0.0, known)


def _narrowing(side: Side) -> tuple[float, float]:
    """Over all of a side that narrows upward: the volume up to its head, m3, and its area in plan, m2."""
    legs = [leg for leg in pairwise(side.fine()) if leg[0][0] > leg[1][0]]
    plan = sum(pi * (r0 * r0 - r1 * r1) for (r0, _), (r1, _) in legs)
    over = sum(
        pi * (r0 * r0 * (side.head - z0) - r1 * r1 * (side.head - z1) - (z1 - z0) * (r0 * r0 + r0 * r1 + r1 * r1) / 3.0)
        for (r0, z0), (r1, z1) in legs
    )  # fmt: skip
    return over, plan


def _locked(cores: Iterable[Core]) -> Iterator[tuple[str, str]]:
    for core in cores:
        if core.draft < -1e-9:
            way = "upward" if core.way[2] > 0.0 else "downward"
            yield (
                core.name,
                f"{core.name}: it is locked on its way {way}: widen the hollow towards its opening",
            )


def _wetted(wall: Sequence[Layer], core: Side | None, fill: float) -> float:
    """Area that the mix touches: both sides with their steps, the base, the closed end of the core."""
    flat = wall[0].foot ** 2
    if core is not None:
        flat += core.points[0][0] ** 2 * (1.0 if core.foot > 1e-9 else -1.0)
        flat += core.points[-1][0] ** 2 if core.head < fill - 1e-9 else 0.0
    return pi * flat + _lateral(formed(wall)) + (_lateral(core) if core else 0.0)


def _lateral(side: Side) -> float:
    """Area that a side sweeps."""
    return sum(pi * (r0 + r1) * hypot(r1 - r0, z1 - z0) for (r0, z0), (r1, z1) in pairwise(side.fine()))


def _seams(wall: _Wall, core: Side | None) -> float:
    """Foot of the rings, the two parting lines, foot of a core that stands."""
    found = tau * wall.layers[0].foot
    if wall.parted:
        found += 2.0 * (wall.layers[-1].high - wall.layers[0].low)
    if core is not None and core.foot < 1e-9:
        found += tau * core.points[0][0]
    return found


def _notes(
    asked: Asked,
    thickness: float,
    side: Side,
    form: Curved,
    stacks: tuple[_Wall, RoundCore | None],
    made: Piece,
) -> Iterator[str]:
    """Volume as formed and as drawn, the greatest step, the heights that suit the sheet."""
    units, (wall, core) = asked.units, stacks
    drawn = curved_volume(form)
    assert isinstance(made.form, Curved)
    cast = curved_volume(made.form)
    holes = sum(plug.body.volume() for plug in asked.piece.plugs)
    off, (r, z) = miss(side, wall.layers)
    if core is not None:
        off, (r, z) = max((off, (r, z)), core.off)
    share = 100.0 * (cast - drawn) / drawn
    yield (
        f"Layers follow the profile: as formed {show.volume(cast - holes, units)}, as drawn "
        f"{show.volume(drawn - holes, units)} ({share:+.2f} %). The formed face is at most "
        f"{show.length(off, units)} off the drawn one, {show.length(r, units)} from the axis and "
        f"{show.length(z, units)} above the base."
    )
    if planed(wall.layers[-1], thickness):
        low, high = heights_that_suit(side.height, thickness)
        yield (
            f"The top ring is planed to {show.length(wall.layers[-1].thickness, units)}; whole layers of this sheet "
            f"give a height of {show.length(low, units)} or {show.length(high, units)}."
        )
