"""Many-sided planter: a regular one of three to twelve sides, straight or tapered, cast floor down or rim down."""

from __future__ import annotations

from math import atan, atan2, cos, pi, sin, tan
from typing import Annotated, Literal

from pydantic import Field

from formwork.errors import GeometryError
from formwork.geometry.vectors import Vec
from formwork.shapes import box, vessel
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Former, Lot, Measure, Piece, Planar
from formwork.shapes.shape import Shape
from formwork.shapes.vessel import Vessel
from formwork.units import show
from formwork.units.fields import quantity, whole

_ROOM = 0.8
"""Drain holes take at most this share of the room they stand in (ours)."""


class ManySidedParameters(Parameters):
    """Keys of a many-sided planter in the project file."""

    sides: Annotated[int, whole(3, 12)] = Field(description="how many equal sides it has")
    size: Annotated[float, quantity("length", 0.1, 4.0)] = Field(description="outside size at the rim")
    base_size: Annotated[float, quantity("length", 0.1, 4.0)] | None = Field(
        default=None, description="outside size at the bottom; straight walls if left out"
    )
    across: Literal["flats", "corners"] = Field(
        default="flats",
        description="how sizes are measured: the circle that touches the flats, or the one through the corners",
    )
    height: Annotated[float, quantity("length", 0.05, 2.5)] = Field(description="overall height")
    wall: Annotated[float, quantity("length", 0.012, 0.3)] = Field(
        description="wall thickness at the rim, square to the outside face"
    )
    floor: Annotated[float, quantity("length", 0.012, 0.4)] = Field(description="floor thickness")
    core_draft: Annotated[float, quantity("angle", 0.0, 0.6)] = Field(
        default=atan(1.0 / 12.0), description="least lean of the inside faces, so that the core draws"
    )
    drain_holes: Annotated[int, whole(0, 24)] = Field(
        default=1, description="drain holes: one in the middle, more in a ring"
    )
    drain_diameter: Annotated[float, quantity("length", 0.006, 0.15)] = Field(
        default=0.025, description="drain hole diameter at its wider end"
    )
    drain_ring: Annotated[float, quantity("length", 0.02, 3.0)] | None = Field(
        default=None, description="diameter of the ring of drain holes; half the floor's if left out"
    )
    chamfer: Annotated[float, quantity("length", 0.0, 0.1)] = Field(
        default=0.0, description="chamfer of the upright corners, along each face; 0 for none"
    )
    deep_chamfer: bool = Field(default=False, description="allow a chamfer deeper than a quarter of the wall")
    down: Literal["floor", "rim"] = Field(
        default="rim", description="which end lies down in the mold; the other is struck off"
    )


def lay_out(parameters: Parameters, name: str) -> tuple[Lot, ...]:
    """The planter as it lies in its mold.

    Raises:
        GeometryError: where the keys contradict one another (no room for the core, a floor as high as the planter).
    """
    assert isinstance(parameters, ManySidedParameters)
    p = parameters
    box.refuse_chamfer(p.chamfer, p.wall, "wall", p.deep_chamfer, name)
    if p.floor >= p.height:
        raise GeometryError(
            f"{name}: the floor leaves no height for the walls; make it thinner than the height"
        )
    _refuse_upright_mesh(p, name)
    sizes = _sizes(p)
    _refuse_no_hollow(p, sizes, name)
    upright = Piece(
        name=name,
        shape="many-sided",
        form=Planar(faces=vessel.faces(sizes), formers=(vessel.core(sizes), *_corner_strips(p, sizes, name))),
        plugs=vessel.drain_plugs(sizes, _drain_places(p, sizes, name), p.drain_diameter, name),
        pour_points=(vessel.pour_point(sizes, 0),),
        turned_over=False,
        measures=(*_measures(p, sizes), *_drain_measures(p, sizes, name)),
        notes=_notes(p, sizes, name),
    )
    return (Lot(vessel.as_cast(upright, sizes)),)


def _refuse_upright_mesh(p: ManySidedParameters, name: str) -> None:
    if any(thing.kind == "mesh" and thing.face != "flat" for thing in p.embed):
        raise GeometryError(
            f"{name}: embed mesh: its walls are not the long and short ones of a box; lay mesh flat in the floor, or "
            "use fibres in the walls"
        )


def _from_axis(p: ManySidedParameters, size: float) -> float:
    """Distance of a flat from the axis for an outside size, m."""
    return size / 2.0 if p.across == "flats" else size / 2.0 * cos(pi / p.sides)


def _sizes(p: ManySidedParameters) -> Vessel:
    """The planes, side 1 in front in the mold, whichever end lies down there."""
    top = _from_axis(p, p.size)
    lean = atan2(top - _from_axis(p, p.base_size or p.size), p.height)
    inside = max(lean, p.core_draft)
    turn = 1.0 if p.down == "floor" else -1.0
    numbers = range(1, p.sides + 1) if p.down == "floor" else range(p.sides, 0, -1)
    ways = [(f"side {k}", turn * (2.0 * pi * (k - 1) / p.sides - pi / 2.0)) for k in numbers]
    level = [(name, (cos(angle), sin(angle))) for name, angle in ways]
    outer = tuple(box.side(name, way, top, p.height, lean) for name, way in level)
    walls = tuple(
        box.side(f"{name} inside", way, top - p.wall / cos(lean), p.height, inside) for name, way in level
    )
    return Vessel(outer, outer, walls, p.height, 0.0, p.floor, inside, p.down)


def _refuse_no_hollow(p: ManySidedParameters, s: Vessel, name: str) -> None:
    clear = 2.0 * min(vessel.stands_off(s.inner[0], z) for z in (s.floor_top, s.height))
    if clear < vessel.LEAST_HOLLOW:
        raise GeometryError(
            f"{name}: {show.both(p.size)} across {p.across} is too small for its walls: "
            f"{show.both(max(0.0, clear))} clear inside, at least {show.both(vessel.LEAST_HOLLOW)} wanted; "
            "enlarge size or base_size, or reduce wall, core_draft or height"
        )


def _drain_places(p: ManySidedParameters, s: Vessel, name: str) -> list[vessel.Point]:
    """One hole in the middle, or a ring of them, the first to the front of the upright piece."""
    if p.drain_holes == 0:
        return []
    clear = vessel.stands_off(s.inner[0], s.floor_top)
    ring = 0.0 if p.drain_holes == 1 else (p.drain_ring or clear) / 2.0
    apart = 2.0 * ring * sin(pi / p.drain_holes) if p.drain_holes > 1 else 2.0 * clear
    if p.drain_diameter > _ROOM * min(apart, 2.0 * (clear - ring)):
        where = "in the middle" if p.drain_holes == 1 else f"on a ring of {show.both(2.0 * ring)}"
        raise GeometryError(
            f"{name}: drain_holes: {p.drain_holes} of {show.both(p.drain_diameter)} {where} do not fit a floor "
            f"{show.both(2.0 * clear)} across flats; use fewer or smaller ones, or another drain_ring"
        )
    angles = [2.0 * pi * i / p.drain_holes - pi / 2.0 for i in range(p.drain_holes)]
    return [(ring * cos(angle), ring * sin(angle)) for angle in angles]


def _corner_strips(p: ManySidedParameters, s: Vessel, name: str) -> tuple[Former, ...]:
    if p.chamfer == 0.0:
        return ()
    side = 2.0 * min(vessel.stands_off(s.outer[0], z) for z in (0.0, s.height)) * tan(pi / p.sides)
    if 2.0 * p.chamfer > _ROOM * side:
        raise GeometryError(
            f"{name}: two chamfers of {show.both(p.chamfer)} leave nothing of a side {show.both(side)} wide"
        )
    ends = (box.level("bottom", 0.0, up=False), box.level("rim", s.height, up=True))
    return vessel.corner_strips(s.outer, [half.name for half in s.outer], ends, p.chamfer)


def _measures(p: ManySidedParameters, s: Vessel) -> tuple[Measure, ...]:
    """In the top view the flat in front (in use the one behind, where the rim lies down), in front what is level."""
    h, n = s.height, p.sides
    a, below = vessel.stands_off(s.outer[0], h), vessel.stands_off(s.outer[0], 0.0)
    half = a * tan(pi / n)
    first = -1.0 if p.down == "floor" else 1.0
    opposite = a if n % 2 == 0 else a / cos(pi / n)
    broad, narrow = _half_breadth(n, a), _half_breadth(n, below)
    inside = _half_chord(n, vessel.stands_off(s.inner[0], h))
    found = [
        Measure("side", "top", (-half, first * a, h), (half, first * a, h)),
        Measure(
            "across flats" if n % 2 == 0 else "flat to corner",
            "top",
            (broad, first * a, h),
            (broad, -first * opposite, h),
        ),
        Measure("height", "front", (broad, 0.0, 0.0), (broad, 0.0, h)),
        Measure("inside width at rim", "front", (-inside, 0.0, h), (inside, 0.0, h)),
        Measure("floor", "front", (0.0, 0.0, 0.0), (0.0, 0.0, s.floor_top)),
    ]
    if abs(below - a) > 1e-9:
        found.append(Measure("width at bottom", "front", (-narrow, 0.0, 0.0), (narrow, 0.0, 0.0)))
    return tuple(found)


def _drain_measures(p: ManySidedParameters, s: Vessel, name: str) -> list[Measure]:
    """From hole to hole on the ring, and from the middle to one of them; a hole in the middle needs none."""
    points: list[Vec] = [(x, y, s.height) for x, y in _drain_places(p, s, name)]
    if len(points) < 2:
        return []
    found = [Measure("drain hole to drain hole", "top", *points[:2])]
    if len(points) > 2:
        found.append(Measure("middle to drain hole", "top", (0.0, 0.0, s.height), points[1]))
    return found


def _half_breadth(sides: int, flat: float) -> float:
    """Half the greatest breadth, side to side, of a regular outline with a flat in front, m."""
    corner = flat / cos(pi / sides)
    return corner * max(cos((2 * k + 1) * pi / sides - pi / 2.0) for k in range(sides))


def _half_chord(sides: int, flat: float) -> float:
    """Half its breadth through the middle, m."""
    across = [cos(2.0 * pi * k / sides - pi / 2.0) for k in range(sides)]
    return min(flat / way for way in across if way > 1e-9)


def _notes(p: ManySidedParameters, s: Vessel, name: str) -> tuple[str, ...]:
    flats = 2.0 * vessel.stands_off(s.outer[0], s.height)
    corners = flats / cos(pi / p.sides)
    kind = "" if p.sides % 2 == 0 else " (twice the distance from the middle, since no flat faces another)"
    where = "in the middle" if p.drain_holes == 1 else "evenly on a ring about the middle"
    plugs = (f"{vessel.plug_note(s, p.drain_diameter, name)} They stand {where}.",) if p.drain_holes else ()
    return (
        f"{p.sides} equal sides: {show.both(flats)} across flats, {show.both(corners)} "
        f"across corners at the rim{kind}.",
        *vessel.wall_notes(s, "square to the outside face"),
        *plugs,
    )


_TAPERED = {"size": 480, "base_size": 400, "height": 360, "wall": 40, "floor": 40}
_STRAIGHT = {"size": 420, "height": 300, "wall": 36, "floor": 36}

SHAPE = Shape(
    name="many-sided",
    summary="Planter with three to twelve equal sides, straight or tapered, with drain holes",
    methods=("panelled",),
    parameters=ManySidedParameters,
    lay_out=lay_out,
    samples=(
        {**_TAPERED, "sides": 6, "drain_holes": 3},
        {**_TAPERED, "sides": 5, "down": "floor", "chamfer": 8},
        {**_STRAIGHT, "sides": 3, "across": "corners", "size": 700},
        {**_TAPERED, "sides": 8, "drain_holes": 4, "drain_ring": 180, "chamfer": 9},
        {**_TAPERED, "sides": 12, "across": "corners", "down": "floor", "core_draft": "4 deg"},
        {**_STRAIGHT, "sides": 4, "shrinkage": 0.003, "drain_holes": 0},
        {**_STRAIGHT, "sides": 7, "chamfer": 6},
    ),
)
