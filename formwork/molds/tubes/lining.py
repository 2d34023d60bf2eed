"""What holds the mix of a piece cast in a tube: the tube, its plate, the core tube with its discs, chamfer and plugs.

The plate lies under z = 0; the tube stands on it. A core tube stands over a disc on the plate, which keeps it in the
middle and the mix out of it, and ends under a cap, or in a disc at the brim that hangs from the bar. All lengths in m.
"""

from __future__ import annotations

from math import pi

from formwork.errors import GeometryError
from formwork.geometry.cells import Cell, cell
from formwork.geometry.outlines import rectangle
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec, across, add, scale, sub
from formwork.molds.blank import blank
from formwork.molds.foot_strip import foot_strip
from formwork.molds.mold import Blank, Part, PartRole, Placement
from formwork.molds.stacks.layers import Layer
from formwork.molds.stacks.rings import disc_part
from formwork.molds.tubes.choice import CoreFitted, Fitted
from formwork.molds.tubes.straight import Core, Straight
from formwork.project.records import TubeOff
from formwork.record import record
from formwork.shapes.piece import Plug
from formwork.stock.records import SheetStock
from formwork.units import show
from formwork.units.show import UnitSystem

BASE, TUBE, CORE, CAGE = "base", "tube", "core tube", "cage"
"""Groups of parts that leave together."""
WRAP_STOCK = "foam underlay"
PLAY = 0.002
"""The disc under a cap is so much smaller than its tube that this one can spring in round it, m (ours)."""
_LEAST_BORE = 0.03
"""Least inside diameter of a core tube that discs are fastened in, m (ours)."""


@record
class Choice:
    """What a tube mold is made of, as far as the piece decides it.

    Attributes:
        work: the piece.
        tube: that it is cast in.
        off: how the tube leaves it.
        core: the tube of its hollow; None where it is solid.
        sheet: for plate and discs.
        units: how a person here reads a length.
    """

    work: Straight
    tube: Fitted
    off: TubeOff
    core: CoreFitted | None
    sheet: SheetStock
    units: UnitSystem


def tube_lining(choice: Choice) -> tuple[Part, ...]:
    """Every part that the mix touches, and the discs in the core tube; the plate comes with the bracing.

    Raises:
        GeometryError: where the core is too narrow or too short for its discs.
    """
    return (
        _outer(choice),
        *(_core(choice, choice.work.core, choice.core) if choice.work.core and choice.core else ()),
        *(foot_strip(one, BASE, choice.units) for one in choice.work.strips),
        *(_plug(one, choice.units) for one in choice.work.piece.plugs),
    )


def plate(planes: Planes, choice: Choice, half: float) -> Part:
    """The plate that the tube stands on, square.

    Args:
        planes: the register.
        choice: of tube and sheet.
        half: half its side, m.

    Raises:
        GeometryError: where no sheet is so wide.
    """
    sheet, t = choice.sheet, choice.sheet.thickness
    if 2.0 * half > min(sheet.length, sheet.width) + 1e-9:
        raise GeometryError(
            f"{choice.work.piece.name}: its plate is {show.length(2.0 * half, choice.units)} square, and "
            f"{sheet.name} is {show.length(min(sheet.length, sheet.width), choice.units)} wide; name a wider sheet"
        )
    body = block(planes, (-half, -half, -t), (half, half, 0.0), "plate")
    cut, placement = blank(planes, body, along=(1.0, 0.0, 0.0), flat_on=planes.enter(_level(0.0)))
    work = (
        f"draw both middle lines and a circle of {show.length(2.0 * choice.tube.outer, choice.units)} round their "
        "crossing: the tube stands on it"
    )
    return Part(
        "plate", "base", "panel", sheet.name, BASE, (body,), cut, placement, good_face="outline", work=work
    )


def block(planes: Planes, low: Vec, high: Vec, name: str) -> Cell:
    """A box between two opposite corners.

    Raises:
        GeometryError: where it has no volume.
    """
    halves = [HalfSpace(_axis(i, 1.0), high[i], name) for i in range(3)]
    halves += [HalfSpace(_axis(i, -1.0), -low[i], name) for i in range(3)]
    body = cell(planes, halves, name)
    if body is None:
        raise GeometryError(f"{name}: there is no room for it")
    return body


def _axis(index: int, way: float) -> Vec:
    return (
        way if index == 0 else 0.0,
        way if index == 1 else 0.0,
        way if index == 2 else 0.0,
    )


def _level(height: float) -> HalfSpace:
    return HalfSpace((0.0, 0.0, 1.0), height, "top of plate")


def _outer(choice: Choice) -> Part:
    inner, outer, tall = choice.tube.inside / 2.0, choice.tube.outer, choice.work.height
    work = {
        "cut away": "cut it square; it is cut away from the piece, so every filling takes a new one",
        "slit": "cut it square, then slit it along one line from end to end",
        "drawn": "cut it square and smooth its inside edge, so that it slides off",
    }[choice.off]
    return _pipe(
        "tube", choice.tube.tube.name, TUBE, (inner, outer), (0.0, tall), work, choice.off == "cut away"
    )


def _pipe(
    name: str,
    stock: str,
    group: str,
    radii: tuple[float, float],
    ends: tuple[float, float],
    work: str,
    spent: bool,
) -> Part:
    (inner, outer), (low, high) = radii, ends
    length, wide = high - low, 2.0 * outer
    return Part(
        name=name,
        role="tube",
        kind="pipe",
        stock=stock,
        group=group,
        cells=(),
        blank=Blank(
            length,
            wide,
            wide,
            ((0.0, 0.0), (length, 0.0), (length, wide), (0.0, wide)),
            (0.0,) * 4,
            wall=outer - inner,
        ),
        placement=Placement((-outer, outer, low), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0)),
        turned=(Turned(rectangle((inner, low), (outer, high))),),
        work=work,
        spent=spent,
    )


def _core(choice: Choice, core: Core, fitted: CoreFitted) -> tuple[Part, ...]:
    """The core tube, the discs that hold it, its cap where it ends in the piece, and its wrap."""
    t = choice.sheet.thickness
    bore = fitted.outside / 2.0 - fitted.wall
    if 2.0 * bore < _LEAST_BORE or core.high - core.low < 4.0 * t:
        raise GeometryError(
            f"{choice.work.piece.name}: its core is {show.length(2.0 * bore, choice.units)} wide inside and "
            f"{show.length(core.high - core.low, choice.units)} long; the discs that hold it want at least "
            f"{show.length(_LEAST_BORE, choice.units)} and {show.length(4.0 * t, choice.units)}: make the hollow wider "
            "or longer, or leave a sleeve in instead ([[piece.embed]])"
        )
    if fitted.out == "left in" and not choice.work.through:
        raise GeometryError(
            f"{choice.work.piece.name}: mold.core_out: the core ends in the piece, and its cap would not come out past "
            "a tube that is left in; let the tube be slit, split or wrapped"
        )
    standing, at_brim = core.low < 1e-9, core.high > choice.work.height - 1e-9
    low = core.low if standing else core.low + t
    high = core.high if at_brim else core.high - t
    outer = fitted.outside / 2.0
    parts = [
        _pipe(
            CORE, fitted.stock, CORE, (outer - fitted.wall, outer), (low, high), _worked(fitted), fitted.spent
        )
    ]
    if standing:
        parts.append(_disc(choice, "foot disc", "core rib", BASE, bore, 0.0))
    if at_brim:
        parts.append(_disc(choice, "brim disc", "core rib", CAGE, bore, core.high - t))
    if not standing or not at_brim:
        at, inside = (core.high - t, core.high - 2.0 * t) if standing else (core.low, core.low + t)
        parts.append(_disc(choice, "core cap", "core cap", CORE, core.radius, at))
        parts.append(_disc(choice, "disc under the cap", "core rib", CORE, bore - PLAY, inside))
    if fitted.wrap:
        parts.append(_wrap(outer, core.radius, (low, high)))
    return tuple(parts)


def _worked(fitted: CoreFitted) -> str:
    return {
        "slit": "cut it square; slit it along one line and set a strip as thick as the cut in the slit, taped over",
        "wrapped": "cut it square; wrap it in one layer of foam underlay, butted and taped over",
        "split": "cut it square; saw it into two halves and set a strip as thick as the cut in each cut, taped over",
        "left in": "cut it square; it stays in the piece, so every filling takes a new one",
    }[fitted.out]


def _disc(choice: Choice, name: str, role: PartRole, group: str, radius: float, low: float) -> Part:
    layer = Layer(low, low + choice.sheet.thickness, radius, radius)
    return disc_part(layer, name, role, group, choice.sheet, "")


def _wrap(inner: float, outer: float, ends: tuple[float, float]) -> Part:
    low, high = ends
    length, width = high - low, 2.0 * pi * outer
    return Part(
        name="core wrap",
        role="skin",
        kind="hardware",
        stock=WRAP_STOCK,
        group=CORE,
        cells=(),
        blank=_flat(length, width, outer - inner),
        placement=Placement((outer, 0.0, low), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0)),
        turned=(Turned(rectangle((inner, low), (outer, high))),),
    )


def _flat(length: float, width: float, thickness: float) -> Blank:
    outline = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    return Blank(length, width, thickness, outline, (0.0,) * 4)


def _plug(plug: Plug, units: UnitSystem) -> Part:
    """A plug for a drain hole, in the group of what it is fastened to."""
    body = plug.body
    wide, narrow = (pick(body.foot_radius, body.head_radius) * 2.0 for pick in (max, min))
    u, v = across(body.axis)
    corner = sub(body.foot, scale(add(u, v), wide / 2.0))
    ends = [show.length(each, units) for each in (wide, narrow)]
    work = f"taper it: {ends[0]} across where it is screwed on, {ends[1]} at its end" if wide > narrow else ""
    return Part(
        name=plug.name,
        role="plug",
        kind="hardware",
        stock="dowel or stopper",
        group=BASE if plug.seat == "base" else CORE,
        cells=(),
        blank=_flat(body.length, wide, wide),
        placement=Placement(corner, body.axis, u, v),
        rounds=(body,),
        work=work,
    )
