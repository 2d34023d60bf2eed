"""Planter: a box with four walls and a floor, straight or tapered, cast floor down or rim down."""

from __future__ import annotations

from dataclasses import replace
from math import atan, atan2, cos
from typing import Annotated, Literal

from pydantic import Field

from formwork.errors import GeometryError
from formwork.geometry.planes import HalfSpace
from formwork.geometry.vectors import Vec
from formwork.shapes import box, vessel
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Former, Lot, Measure, Piece, Planar, Plug, Seat, planar
from formwork.shapes.shape import Shape
from formwork.shapes.vessel import Vessel
from formwork.units import show
from formwork.units.fields import quantity

_TURNED = {"front": "back", "back": "front"}
"""Sides are named as they stand in the mold; a planter cast rim down is turned over about its length."""
_FOOT_DRAFT = 1.0 / 12.0


class PlanterParameters(Parameters):
    """Keys of a planter in the project file."""

    length: Annotated[float, quantity("length", 0.1, 4.0)] = Field(description="outside length at the rim")
    width: Annotated[float, quantity("length", 0.1, 4.0)] = Field(description="outside width at the rim")
    height: Annotated[float, quantity("length", 0.05, 2.5)] = Field(
        description="overall height, feet included"
    )
    base_length: Annotated[float, quantity("length", 0.1, 4.0)] | None = Field(
        default=None, description="outside length at the bottom; straight walls if left out"
    )
    base_width: Annotated[float, quantity("length", 0.1, 4.0)] | None = Field(
        default=None, description="outside width at the bottom; straight walls if left out"
    )
    wall: Annotated[float, quantity("length", 0.012, 0.3)] = Field(description="wall thickness at the rim")
    wall_measured: Literal["square", "level"] = Field(
        default="square", description="how the wall is measured: square to its outside face, or level"
    )
    floor: Annotated[float, quantity("length", 0.012, 0.4)] = Field(description="floor thickness")
    core_draft: Annotated[float, quantity("angle", 0.0, 0.6)] = Field(
        default=atan(1.0 / 12.0), description="least lean of the inside faces, so that the core draws"
    )
    drain_holes: Annotated[int, Field(ge=0, le=24)] = Field(default=1, description="drain holes, in a row")
    drain_diameter: Annotated[float, quantity("length", 0.006, 0.15)] = Field(
        default=0.025, description="drain hole diameter at its wider end"
    )
    rim_width: Annotated[float, quantity("length", 0.0, 0.2)] = Field(
        default=0.0, description="how far an outward rim stands out, square to the wall; 0 for none"
    )
    rim_height: Annotated[float, quantity("length", 0.0, 1.0)] = Field(
        default=0.0, description="height of that rim; 0 for none"
    )
    feet_height: Annotated[float, quantity("length", 0.0, 0.3)] = Field(
        default=0.0, description="height of two runners under the short sides; 0 for none"
    )
    feet_width: Annotated[float, quantity("length", 0.0, 1.0)] = Field(
        default=0.0, description="width of each runner at the bottom"
    )
    chamfer: Annotated[float, quantity("length", 0.0, 0.1)] = Field(
        default=0.0,
        description="chamfer of the upright corners and of the edges that lie on the base; 0 for none",
    )
    deep_chamfer: bool = Field(default=False, description="allow a chamfer deeper than a quarter of the wall")
    down: Literal["floor", "rim"] = Field(
        default="rim", description="which end lies down in the mold; the other is struck off"
    )


def lay_out(parameters: Parameters, name: str) -> tuple[Lot, ...]:
    """The planter as it lies in its mold.

    Raises:
        GeometryError: where the keys contradict one another (no room for the core, a rim without height).
    """
    assert isinstance(parameters, PlanterParameters)
    _refuse_contradictions(parameters, name)
    sizes = _sizes(parameters)
    _refuse_no_hollow(sizes, name)
    formers = (
        *_liners(parameters, sizes),
        *_foot_board(parameters, sizes),
        vessel.core(sizes),
    )
    upright = Piece(
        name=name,
        shape="planter",
        form=Planar(faces=vessel.faces(sizes), formers=formers),
        plugs=_plugs(parameters, sizes, name),
        pour_points=(vessel.pour_point(sizes, 1),),
        turned_over=False,
        measures=_measures(parameters, sizes),
        notes=_notes(parameters, sizes, name),
    )
    return (Lot(_with_chamfers(vessel.as_cast(upright, sizes), parameters, sizes)),)


def _refuse_contradictions(p: PlanterParameters, name: str) -> None:
    if (p.rim_width > 0.0) != (p.rim_height > 0.0):
        raise GeometryError(f"{name}: a rim needs both rim_width and rim_height; one of them is 0")
    if (p.feet_height > 0.0) != (p.feet_width > 0.0):
        raise GeometryError(f"{name}: feet need both feet_height and feet_width; one of them is 0")
    if p.feet_height > 0.0 and p.down == "rim":
        raise GeometryError(f'{name}: feet are cast on the base of the mold; they need down = "floor"')
    box.refuse_chamfer(p.chamfer, p.wall, "wall", p.deep_chamfer, name)
    if p.chamfer > 0.0 and p.rim_width > 0.0 and p.chamfer > min(p.rim_width, p.rim_height / 2.0):
        raise GeometryError(
            f"{name}: the chamfer is larger than the rim has room for; make it at most the rim_width"
        )
    if p.rim_height + p.floor + p.feet_height >= p.height:
        raise GeometryError(f"{name}: rim, floor and feet together leave no height for the walls")


def _sizes(p: PlanterParameters) -> Vessel:
    top = (p.length / 2.0, p.width / 2.0)
    low = tuple(
        below / 2.0 if below else above / 2.0 - p.rim_width
        for below, above in ((p.base_length, p.length), (p.base_width, p.width))
    )
    outer, body, inner = [], [], []
    least_lean = 1.0
    for side, wx, wy in box.SIDES:
        name = _TURNED.get(side, side) if p.down == "rim" else side
        axis = 0 if wx else 1
        lean = _body_lean(top[axis], low[axis], p.rim_width, p.height)
        out = p.rim_width / cos(lean)
        body_top = top[axis] - out
        wall = p.wall / cos(lean) if p.wall_measured == "square" else p.wall
        inside_lean = max(lean, p.core_draft)
        least_lean = min(least_lean, inside_lean)
        outer.append(box.side(name, (wx, wy), top[axis], p.height, lean))
        body.append(box.side(f"{name} wall", (wx, wy), body_top, p.height, lean))
        inner.append(box.side(f"{name} inside", (wx, wy), body_top - wall, p.height, inside_lean))
    return Vessel(
        outer=tuple(outer),
        body=tuple(body),
        inner=tuple(inner),
        height=p.height,
        floor_under=p.feet_height,
        floor_top=p.feet_height + p.floor,
        draft=least_lean,
        down=p.down,
    )


def _body_lean(top: float, low: float, rim: float, height: float) -> float:
    """Lean of a wall that stands ``low`` from the axis at the bottom and leaves room for the rim at the top.

    The rim is measured square to the wall, so the lean depends on itself; the iteration halves its error many
    times over at each step for every rim narrower than the planter is high.
    """
    lean = 0.0
    for _ in range(60):
        lean = atan2(top - rim / cos(lean) - low, height)
    return lean


def _refuse_no_hollow(s: Vessel, name: str) -> None:
    for axis, word, key in ((1, "length", "length"), (0, "width", "width")):
        clear = 2.0 * min(vessel.stands_off(s.inner[axis], z) for z in (s.floor_top, s.height))
        if clear < vessel.LEAST_HOLLOW:
            raise GeometryError(
                f"{name}: no room left for the core along the {word}: {show.both(clear)} clear, at least "
                f"{show.both(vessel.LEAST_HOLLOW)} wanted; reduce wall, core_draft or height, or enlarge {key}"
            )


def _liners(p: PlanterParameters, s: Vessel) -> tuple[Former, ...]:
    if p.rim_width == 0.0:
        return ()
    under = box.level("underside of rim", p.height - p.rim_height, up=True)
    bottom = box.level("bottom", 0.0, up=False)
    made = []
    for i, outer in enumerate(s.outer):
        lead = s.body[i].flipped(f"{outer.name} wall")
        others = [box.bisector(s.body[i], other) for j, other in enumerate(s.body) if j != i]
        made.append(
            Former(
                f"{outer.name} liner", "liner", (outer, lead, under, bottom, *others), "solid", "panel",
                outer.name, lead=lead,
            )
        )  # fmt: skip
    return tuple(made)


def _foot_board(p: PlanterParameters, s: Vessel) -> tuple[Former, ...]:
    """The board between the two runners, from front to back, its sides leaning so that it draws."""
    if p.feet_height == 0.0:
        return ()
    half = vessel.stands_off(s.body[1], 0.0) - p.feet_width
    narrower = half - p.feet_height * _FOOT_DRAFT
    if narrower < vessel.LEAST_HOLLOW / 2.0:
        raise GeometryError(f"feet_width: {show.both(p.feet_width)} leaves no room between the runners")
    if vessel.stands_off(s.body[1], p.feet_height) - narrower < p.feet_width / 3.0:
        raise GeometryError(
            "feet_width: the walls lean in so far that the runners would not reach the floor; use wider or lower feet"
        )
    top = box.level("underside of floor", p.feet_height, up=True)
    sides = (
        box.leaning("runner right", (1.0, 0.0), half, narrower, p.feet_height),
        box.leaning("runner left", (-1.0, 0.0), half, narrower, p.feet_height),
    )
    halves = (s.body[0], s.body[2], *sides, top, box.level("bottom", 0.0, up=False))
    return (Former("foot board", "board", halves, "solid", "base", lead=top),)


def _plugs(p: PlanterParameters, s: Vessel, name: str) -> tuple[Plug, ...]:
    """Round plugs through the floor, wider where they are fastened."""
    if p.drain_holes == 0:
        return ()
    clear = _clear_floor(s, 1), _clear_floor(s, 0)
    if p.drain_diameter > 0.8 * min(*clear, max(clear) / p.drain_holes):
        raise GeometryError(
            f"{name}: drain_holes: {p.drain_holes} holes of {show.both(p.drain_diameter)} do not fit a floor of "
            f"{show.both(clear[0])} x {show.both(clear[1])}"
        )
    seat: tuple[Seat, str] = ("former", "foot board") if p.feet_height > 0.0 else ("base", "")
    return vessel.drain_plugs(s, _drain_places(p, s), p.drain_diameter, name, seat)


def _drain_places(p: PlanterParameters, s: Vessel) -> list[vessel.Point]:
    """A row along the middle of the floor, the longer way."""
    clear = _clear_floor(s, 1), _clear_floor(s, 0)
    along_x = clear[0] >= clear[1]
    return [(at, 0.0) if along_x else (0.0, at) for at in box.row(p.drain_holes, max(clear))]


def _clear_floor(s: Vessel, side: int) -> float:
    """Width of floor that a hole may stand in, right through, between a side and the one opposite, m."""
    above = vessel.stands_off(s.inner[side], s.floor_top)
    below = vessel.stands_off(s.body[side], s.floor_under)
    return 2.0 * min(above, below)


def _with_chamfers(piece: Piece, p: PlanterParameters, s: Vessel) -> Piece:
    """Chamfer strips in the upright corners, and along the edges on the base where no foot board lies."""
    if p.chamfer == 0.0:
        return piece
    floor_down = p.down == "floor"

    def cast(half: HalfSpace) -> HalfSpace:
        return vessel.cast_half(half, s)

    ends = (cast(box.level("bottom", 0.0, up=False)), cast(box.level("rim", s.height, up=True)))
    under = cast(box.level("underside of rim", p.height - p.rim_height, up=True))
    above = cast(box.level("underside of rim", p.height - p.rim_height, up=False))
    base = ends[0] if floor_down else ends[1]
    zones = [([cast(h) for h in s.body], (*ends, under) if p.rim_width else ends, "")]
    if p.rim_width:
        zones.append(([cast(h) for h in s.outer], (*ends, above), "rim "))
    formers: list[Former] = []
    names = [half.name for half in s.outer]
    for sides, bounds, zone in zones:
        on_base = p.feet_height == 0.0 and (not p.rim_width or (zone == "") == floor_down)
        formers.extend(vessel.corner_strips(sides, names, bounds, p.chamfer, base if on_base else None, zone))
    form = planar(piece)
    return replace(piece, form=Planar(form.faces, (*form.formers, *formers)))


def _measures(p: PlanterParameters, s: Vessel) -> tuple[Measure, ...]:
    h = s.height
    x, y = vessel.stands_off(s.outer[1], h), vessel.stands_off(s.outer[0], h)
    bx, by = vessel.stands_off(s.body[1], 0.0), vessel.stands_off(s.body[0], 0.0)
    inside = vessel.stands_off(s.inner[1], h)
    found = [
        Measure("length", "top", (-x, -y, h), (x, -y, h)),
        Measure("width", "top", (x, -y, h), (x, y, h)),
        Measure("height", "front", (x, -y, 0.0), (x, -y, h)),
        Measure("inside length at rim", "front", (-inside, 0.0, h), (inside, 0.0, h)),
        Measure("floor", "front", (0.0, 0.0, s.floor_under), (0.0, 0.0, s.floor_top)),
    ]
    found.append(vessel.wall_measure(s, 1, p.wall_measured == "square"))
    if abs(bx - x) > 1e-9 or p.rim_width:
        found.append(Measure("length at bottom", "front", (-bx, -by, 0.0), (bx, -by, 0.0)))
    if abs(by - y) > 1e-9 or p.rim_width:
        found.append(Measure("width at bottom", "side", (bx, -by, 0.0), (bx, by, 0.0)))
    if p.rim_width:
        found.append(Measure("rim height", "front", (x, -y, h - p.rim_height), (x, -y, h)))
    return (*found, *_drain_measures(p, s))


def _drain_measures(p: PlanterParameters, s: Vessel) -> list[Measure]:
    """From the end at the rim to the first hole, and from hole to hole."""
    if p.drain_holes == 0:
        return []
    h = s.height
    points: list[Vec] = [(x, y, h) for x, y in _drain_places(p, s)]
    x, y, _ = points[0]
    end: Vec = (-vessel.stands_off(s.outer[1], h), y, h)
    if y != 0.0:
        end = (x, -vessel.stands_off(s.outer[0], h), h)
    found = [Measure("end to drain hole", "top", end, points[0])]
    if len(points) > 1:
        found.append(Measure("drain hole to drain hole", "top", *points[:2]))
    return found


def _notes(p: PlanterParameters, s: Vessel, name: str) -> tuple[str, ...]:
    how = "square to the outside face" if p.wall_measured == "square" else "level"
    notes = vessel.wall_notes(s, how)
    return (*notes, vessel.plug_note(s, p.drain_diameter, name)) if p.drain_holes else notes


_TAPERED = {"length": 600, "width": 420, "base_length": 480, "base_width": 330, "height": 400}
_STRAIGHT = {"length": 700, "width": 300, "height": 260, "wall": 40, "floor": 35}

SHAPE = Shape(
    name="planter",
    summary="Rectangular planter, straight or tapered, with drain holes, rim or feet",
    methods=("panelled",),
    parameters=PlanterParameters,
    lay_out=lay_out,
    samples=(
        {**_TAPERED, "wall": 50, "floor": 45, "down": "rim"},
        {**_TAPERED, "wall": 50, "floor": 45, "down": "floor", "drain_holes": 3, "wall_measured": "level"},
        {
            **_TAPERED,
            "wall": 48,
            "floor": 45,
            "down": "floor",
            "rim_width": 17.9,
            "rim_height": 50,
            "chamfer": 10,
        },
        {
            **_TAPERED,
            "wall": 48,
            "floor": 45,
            "down": "rim",
            "rim_width": 17.9,
            "rim_height": 50,
            "chamfer": 10,
        },
        {**_STRAIGHT, "down": "floor", "feet_height": 25, "feet_width": 70, "chamfer": 8, "drain_holes": 2},
        {**_STRAIGHT, "down": "rim", "gang": 2, "drain_holes": 0, "shrinkage": 0.003, "core_draft": "3 deg"},
    ),
    gang_axis="y",
)
