"""Round planter: a cylinder or a cone with a floor, cast floor down round a hung core or rim down over one."""

from __future__ import annotations

from dataclasses import replace
from math import atan, atan2, cos, pi, sin, tan
from typing import Annotated, Literal

from pydantic import Field

from formwork.errors import GeometryError
from formwork.geometry.outlines import polygon
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec
from formwork.record import record
from formwork.shapes.box import turned_point
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Curved, CurvedFormer, Lot, Measure, Piece, Plug, Seat
from formwork.shapes.shape import Shape
from formwork.shapes.vessel import LEAST_HOLLOW, plug_end
from formwork.units import show
from formwork.units.fields import quantity

UP: Vec = (0.0, 0.0, 1.0)


class RoundPlanterParameters(Parameters):
    """Keys of a round planter in the project file."""

    diameter: Annotated[float, quantity("length", 0.1, 3.0)] = Field(
        description="outside diameter at the rim"
    )
    height: Annotated[float, quantity("length", 0.05, 2.5)] = Field(description="overall height")
    base_diameter: Annotated[float, quantity("length", 0.1, 3.0)] | None = Field(
        default=None, description="outside diameter at the bottom; straight sides if left out"
    )
    lean: Annotated[float, quantity("angle", -0.6, 0.6)] | None = Field(
        default=None, description="lean of the outside, outward on the way up, instead of base_diameter"
    )
    wall: Annotated[float, quantity("length", 0.012, 0.3)] = Field(description="wall thickness at the rim")
    wall_measured: Literal["square", "level"] = Field(
        default="square", description="how the wall is measured: square to its outside face, or level"
    )
    floor: Annotated[float, quantity("length", 0.012, 0.4)] = Field(description="floor thickness")
    core_draft: Annotated[float, quantity("angle", 0.0, 0.6)] = Field(
        default=atan(1.0 / 12.0), description="least lean of the inside face, so that the core draws"
    )
    drain_holes: Annotated[int, Field(ge=0, le=24)] = Field(
        default=1, description="drain holes: one in the middle, more in a ring"
    )
    drain_diameter: Annotated[float, quantity("length", 0.006, 0.15)] = Field(
        default=0.025, description="drain hole diameter at its wider end"
    )
    down: Literal["floor", "rim"] = Field(
        default="rim", description="which end lies down in the mold; the other is struck off"
    )


@record
class _Sizes:
    """A round planter as it stands in use: radii of its outside and inside, and heights, m.

    Attributes:
        rim: outside radius at the rim.
        foot: outside radius at the bottom.
        inside_rim: inside radius at the rim.
        inside_floor: inside radius at the floor's upper face.
        height: of the rim.
        floor: of the floor's upper face.
    """

    rim: float
    foot: float
    inside_rim: float
    inside_floor: float
    height: float
    floor: float

    @property
    def lean(self) -> float:
        """How far the outside leans outward, going up, rad."""
        return atan2(self.rim - self.foot, self.height)

    @property
    def draft(self) -> float:
        """How far the inside leans outward, going up, rad."""
        return atan2(self.inside_rim - self.inside_floor, self.height - self.floor)

    def outside(self, z: float) -> float:
        """Outside radius at a height."""
        return self.foot + (self.rim - self.foot) * z / self.height


def lay_out(parameters: Parameters, name: str) -> tuple[Lot, ...]:
    """The planter as it lies in its mold.

    Raises:
        GeometryError: where the keys contradict one another (no room for the core, two leans).
    """
    assert isinstance(parameters, RoundPlanterParameters)
    sizes = _sizes(parameters, name)
    floor_down = parameters.down == "floor"
    outside = Turned(polygon(((0.0, 0.0), (sizes.foot, 0.0), (sizes.rim, sizes.height), (0.0, sizes.height))))
    core = CurvedFormer("core", "core", _hollow(sizes), "box", "hung" if floor_down else "base")
    upright = Piece(
        name=name,
        shape="round planter",
        form=Curved(outside, (core,), sizes.height),
        plugs=_plugs(parameters, sizes, name),
        pour_points=(_pour_point(sizes),),
        turned_over=False,
        measures=_measures(parameters, sizes),
        notes=_notes(parameters, sizes, name),
        holds_soil=True,
    )
    return (Lot(upright if floor_down else _turned_over(upright, outside, core, sizes.height)),)


def _sizes(p: RoundPlanterParameters, name: str) -> _Sizes:
    if p.base_diameter is not None and p.lean is not None:
        raise GeometryError(f"{name}: base_diameter and lean say the same thing; leave one of them out")
    rim, foot = p.diameter / 2.0, p.diameter / 2.0
    if p.base_diameter is not None:
        foot = p.base_diameter / 2.0
    elif p.lean is not None:
        foot = rim - p.height * tan(p.lean)
    if foot < LEAST_HOLLOW / 2.0:
        raise GeometryError(
            f"{name}: lean: the sides meet before the bottom; make the planter lower or lean it less"
        )
    if p.floor >= p.height:
        raise GeometryError(f"{name}: floor: {show.both(p.floor)} leaves no height for the walls")
    lean = atan2(rim - foot, p.height)
    level = p.wall / cos(lean) if p.wall_measured == "square" else p.wall
    inside = rim - level
    low = inside - (p.height - p.floor) * tan(max(lean, p.core_draft))
    if min(inside, low) < LEAST_HOLLOW / 2.0:
        raise GeometryError(
            f"{name}: no room left for the core: {show.both(max(0.0, 2.0 * min(inside, low)))} across, at least "
            f"{show.both(LEAST_HOLLOW)} wanted; reduce wall, core_draft or height, or enlarge diameter"
        )
    return _Sizes(rim, foot, inside, low, p.height, p.floor)


def _hollow(s: _Sizes) -> Turned:
    return Turned(
        polygon(((0.0, s.floor), (s.inside_floor, s.floor), (s.inside_rim, s.height), (0.0, s.height)))
    )


def _plugs(p: RoundPlanterParameters, s: _Sizes, name: str) -> tuple[Plug, ...]:
    """Round plugs through the floor, wider where they are fastened: to the base, or to a core that stands on it."""
    if p.drain_holes == 0:
        return ()
    clear = min(s.inside_floor, s.foot, s.outside(s.floor))
    ring = _drain_ring(p, s)
    apart = 2.0 * ring * sin(pi / p.drain_holes) if p.drain_holes > 1 else 2.0 * clear
    if p.drain_diameter > 0.8 * min(apart, 2.0 * (clear - ring)):
        raise GeometryError(
            f"{name}: drain_holes: {p.drain_holes} holes of {show.both(p.drain_diameter)} do not fit a floor of "
            f"{show.both(2.0 * clear)} across"
        )
    wide, narrow = p.drain_diameter / 2.0, plug_end(s.floor, p.drain_diameter, name) / 2.0
    floor_down = p.down == "floor"
    held: tuple[Seat, str] = ("base", "") if floor_down else ("former", "core")
    start, way = (0.0, 1.0) if floor_down else (s.floor, -1.0)
    return tuple(
        Plug(f"drain plug {i}", Round((x, y, start), (0.0, 0.0, way), s.floor, wide, narrow), *held)
        for i, (x, y) in enumerate(_drain_places(p, s), start=1)
    )


def _drain_ring(p: RoundPlanterParameters, s: _Sizes) -> float:
    """Radius of the circle the holes stand on: none for a single one, else half of the floor's."""
    return 0.0 if p.drain_holes == 1 else min(s.inside_floor, s.foot) / 2.0


def _drain_places(p: RoundPlanterParameters, s: _Sizes) -> list[tuple[float, float]]:
    ring, turn = _drain_ring(p, s), 2.0 * pi / p.drain_holes
    return [(ring * cos(i * turn), ring * sin(i * turn)) for i in range(p.drain_holes)]


def _pour_point(s: _Sizes) -> Vec:
    """A point in the middle of the wall."""
    z = (s.floor + s.height) / 2.0
    inside = (s.inside_floor + s.inside_rim) / 2.0
    return (0.0, -(inside + s.outside(z)) / 2.0, z)


def _measures(p: RoundPlanterParameters, s: _Sizes) -> tuple[Measure, ...]:
    h, r, low = s.height, s.rim, s.foot
    inside: Vec = (s.inside_rim, 0.0, h)
    outside: Vec = (r, 0.0, h)
    if p.wall_measured == "square":
        off = (r - s.inside_rim) * cos(s.lean)
        outside = (s.inside_rim + off * cos(s.lean), 0.0, h - off * sin(s.lean))
    found = [
        Measure("diameter", "front", (-r, 0.0, h), (r, 0.0, h)),
        Measure("height", "front", (r, 0.0, 0.0), (r, 0.0, h)),
        Measure("inside diameter at rim", "front", (-s.inside_rim, 0.0, h), (s.inside_rim, 0.0, h)),
        Measure("floor", "front", (0.0, 0.0, 0.0), (0.0, 0.0, s.floor)),
        Measure("wall", "front", inside, outside),
    ]
    if abs(low - r) > 1e-9:
        found.append(Measure("diameter at bottom", "front", (-low, 0.0, 0.0), (low, 0.0, 0.0)))
    if p.drain_holes > 1:
        ring = _drain_ring(p, s)
        found.append(Measure("middle to drain hole", "top", (0.0, 0.0, h), (ring, 0.0, h)))
    return tuple(found)


def _notes(p: RoundPlanterParameters, s: _Sizes, name: str) -> tuple[str, ...]:
    how = "square to the outside face" if p.wall_measured == "square" else "level"
    notes = [f"Wall thickness is measured {how}, at the rim."]
    if s.draft > s.lean + 1e-9:
        notes.append("The wall grows thicker towards the floor, so that the core draws.")
    struck = "rim" if p.down == "floor" else "underside of the floor"
    notes.append(f"Cast {p.down} down; the {struck} is struck off.")
    if p.drain_holes:
        notes.append(
            f"Drain plugs: {show.both(p.drain_diameter)} across at the screwed end, "
            f"{show.both(plug_end(s.floor, p.drain_diameter, name))} at the other, {show.both(s.floor)} long."
        )
    return tuple(notes)


def _turned_over(piece: Piece, outside: Turned, core: CurvedFormer, height: float) -> Piece:
    def plug(one: Plug) -> Plug:
        body = one.body
        x, y, z = body.axis
        turned = Round(
            turned_point(body.foot, height), (x, -y, -z), body.length, body.foot_radius, body.head_radius
        )
        return Plug(one.name, turned, one.seat, one.on)

    former = replace(core, body=core.body.turned_over(height))
    return replace(
        piece,
        form=Curved(outside.turned_over(height), (former,), height),
        plugs=tuple(plug(one) for one in piece.plugs),
        pour_points=tuple(turned_point(point, height) for point in piece.pour_points),
        turned_over=True,
        measures=tuple(
            Measure(m.name, m.view, turned_point(m.start, height), turned_point(m.end, height))
            for m in piece.measures
        ),
    )


SHAPE = Shape(
    name="round planter",
    summary="Round planter, straight or conical, with drain holes, cast rim down or floor down",
    methods=("wrapped", "tube"),
    parameters=RoundPlanterParameters,
    lay_out=lay_out,
    samples=(
        {"diameter": 500, "height": 400, "wall": 45, "floor": 45, "down": "rim"},
        {
            "diameter": 640,
            "base_diameter": 520,
            "height": 420,
            "wall": 50,
            "floor": 50,
            "drain_holes": 3,
            "down": "rim",
        },
        {
            "diameter": 560,
            "height": 380,
            "lean": "6 deg",
            "wall": 48,
            "floor": 42,
            "wall_measured": "level",
            "down": "floor",
        },
        {"diameter": 460, "base_diameter": 520, "height": 300, "wall": 60, "floor": 50, "drain_holes": 0},
        {"diameter": 500, "height": 400, "wall": 45, "floor": 45, "core_draft": 0, "drain_holes": 3},
    ),
)
