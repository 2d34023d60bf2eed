"""Turned piece: a profile revolved about an upright axis: bowl, bird bath, baluster, finial, ring.

The profile is laid out as the piece stands in use, its foot at z = 0, and turned over where it is cast rim down.
"""

from __future__ import annotations

from math import radians, tan
from typing import Annotated, Literal

from pydantic import Field

from formwork.errors import GeometryError
from formwork.geometry import sides
from formwork.geometry.rounds import Round
from formwork.geometry.sides import Side
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Curved, CurvedFormer, Lot, Measure, Piece, Plug, Seat
from formwork.shapes.shape import Shape
from formwork.shapes.turned_profile import SAME, Corners, Sides, at, sides_of
from formwork.units import show
from formwork.units.fields import quantity

_PLUG_DRAFT = tan(radians(3.0))
_LEAST_PLUG_DRAFT = tan(radians(1.0))
_NARROW = 0.6
"""Least width of a drain plug's free end, as a share of the other (ours)."""


class TurnedParameters(Parameters):
    """Keys of a turned piece in the project file."""

    outside: Corners | None = Field(
        default=None,
        description="corners of the outside from the foot up, each [distance from the axis, height]; a third number "
        "is how far the line to that corner bows out (inward if below 0)",
    )
    inside: Corners | None = Field(
        default=None, description="corners of the hollow, from its lower end up; solid if left out"
    )
    profile: Corners | None = Field(
        default=None,
        description="instead of outside and inside: the corners all round the cut face, counter-clockwise; a third "
        "number bows the line out to the right as you go",
    )
    cast: Literal["over", "up"] | None = Field(
        default=None,
        description="how it lies in the mold: turned over, or as it stands; a bowl is cast over if left out",
    )
    drain_diameter: Annotated[float, quantity("length", 0.0, 0.15)] = Field(
        default=0.0, description="drain hole in the middle of the floor, at its wider end; 0 for none"
    )


def lay_out(parameters: Parameters, name: str) -> tuple[Lot, ...]:
    """The piece as it lies in its mold.

    Raises:
        GeometryError: where the profile crosses the axis or itself, turns down, leaves too thin a wall, or holds its
            core fast; it says where.
    """
    assert isinstance(parameters, TurnedParameters)
    p = parameters
    used = sides_of(p.outside, p.inside, p.profile, name)
    over = p.cast == "over" if p.cast else used.open_above and not used.open_below
    cast = used.turned_over() if over else used
    core, seat = _core(cast, used, over, name)
    piece = Piece(
        name=name,
        shape="turned",
        form=Curved(Turned(sides.solid(cast.outer)), core, cast.height),
        plugs=_drain(p, cast, seat, name),
        pour_points=(_pour_point(cast),),
        turned_over=over,
        measures=_measures(cast),
        notes=_notes(p, used),
    )
    return (Lot(piece),)


def _core(cast: Sides, used: Sides, over: bool, name: str) -> tuple[tuple[CurvedFormer, ...], Seat]:
    """The hollow's core as cast: standing on the base, or hung where the hollow opens above only.

    Raises:
        GeometryError: where the hollow holds its core fast.
    """
    hollow = cast.hollow
    if hollow is None:
        return (), "base"
    down, up = cast.open_below, cast.open_above
    stuck = sides.widens(hollow) if down else sides.narrows(hollow)
    if stuck is not None and down and up:
        stuck = (
            sides.narrows(hollow) if sides.draft(hollow, up=False) < sides.draft(hollow, up=True) else stuck
        )
    if stuck is not None:
        r, z = stuck
        as_typed = (r, (used.height - z if over else z) + used.from_foot)
        raise GeometryError(
            f"{name}: inside: the hollow holds its core fast at {at(as_typed)}: on the way to its opening it must "
            "never grow narrower; widen it towards the opening from there"
        )
    seat: Seat = "base" if down else "hung"
    return (CurvedFormer("core", "core", Turned(sides.solid(hollow)), "solid", seat),), seat


def _drain(p: TurnedParameters, cast: Sides, seat: Seat, name: str) -> tuple[Plug, ...]:
    """A round plug through the floor, wider where it is fastened.

    Raises:
        GeometryError: where there is no flat floor for it.
    """
    if p.drain_diameter == 0.0:
        return ()
    hollow = cast.hollow
    if hollow is None or (cast.open_below and cast.open_above):
        raise GeometryError(f"{name}: drain_diameter: there is no floor to drain; leave it out")
    start = hollow.head if seat == "base" else 0.0
    length = cast.height - hollow.head if seat == "base" else hollow.foot
    flat = hollow.below(hollow.head) if seat == "base" else hollow.above(hollow.foot)
    flat = min(flat, cast.outer.below(cast.height) if seat == "base" else cast.outer.above(0.0))
    if p.drain_diameter > 2.0 * flat:
        raise GeometryError(
            f"{name}: drain_diameter: {show.both(p.drain_diameter)} is more than the flat of the floor, "
            f"{show.both(2.0 * flat)} across"
        )
    wide, narrow = p.drain_diameter / 2.0, _narrow_end(p.drain_diameter, length, name) / 2.0
    body = Round((0.0, 0.0, start), (0.0, 0.0, 1.0), length, wide, narrow)
    held: tuple[Seat, str] = ("former", "core") if seat == "base" else ("base", "")
    return (Plug("drain plug", body, *held),)


def _narrow_end(diameter: float, length: float, name: str) -> float:
    """Diameter of the plug at its free end: 3 degrees of draft, or as much as leaves it thick enough, m."""
    narrow = max(diameter - 2.0 * length * _PLUG_DRAFT, _NARROW * diameter)
    if (diameter - narrow) / 2.0 < length * _LEAST_PLUG_DRAFT:
        raise GeometryError(
            f"{name}: drain_diameter: a plug of {show.both(diameter)} through a floor of {show.both(length)} has no "
            "draft to speak of; make it larger, or the floor thinner"
        )
    return narrow


def _pour_point(cast: Sides) -> Vec:
    """A point inside the concrete: in the middle of the wall just under the fill plane, or near the axis."""
    z = cast.height - min(0.002, 0.1 * cast.height)
    out = cast.outer.below(z)
    if cast.hollow is not None and cast.hollow.foot < z < cast.hollow.head:
        return ((out + cast.hollow.below(z)) / 2.0, 0.0, z)
    return (out / 2.0, 0.0, z)


def _measures(cast: Sides) -> tuple[Measure, ...]:
    """Height and the diameters at foot, head and where it is widest, as it lies in the mold."""
    h = cast.height
    wide = max(cast.outer.fine())
    found = [
        _diameter("diameter below", cast.outer.above(0.0), 0.0),
        _diameter("diameter on top", cast.outer.below(h), h),
        Measure("height", "front", (wide[0], 0.0, 0.0), (wide[0], 0.0, h)),
    ]
    if wide[0] > max(cast.outer.above(0.0), cast.outer.below(h)) + SAME:
        found.append(_diameter("greatest diameter", *wide))
    if cast.hollow is not None:
        found += _hollow_measures(cast, cast.hollow)
    return tuple(one for one in found if one.start != one.end)


def _hollow_measures(cast: Sides, hollow: Side) -> list[Measure]:
    found = []
    if cast.open_below:
        found.append(_diameter("opening", hollow.above(0.0), 0.0))
    if cast.open_above:
        found.append(_diameter("opening on top", hollow.below(cast.height), cast.height))
    if not cast.open_below:
        found.append(Measure("floor", "front", (0.0, 0.0, 0.0), (0.0, 0.0, hollow.foot)))
    if not cast.open_above:
        found.append(Measure("floor", "front", (0.0, 0.0, hollow.head), (0.0, 0.0, cast.height)))
    return found


def _diameter(name: str, r: float, z: float) -> Measure:
    return Measure(name, "front", (-r, 0.0, z), (r, 0.0, z))


def _notes(p: TurnedParameters, used: Sides) -> tuple[str, ...]:
    notes = ["Heights and distances from the axis are those of the finished piece as it stands in use."]
    if used.hollow is not None:
        least, place = sides.gap(used.hollow, used.outer)
        notes.append(f"Thinnest wall: {show.both(least)}, at {at((place[0], place[1] + used.from_foot))}.")
    if p.drain_diameter:
        notes.append(f"Drain plug: {show.both(p.drain_diameter)} across at its wider end.")
    return tuple(notes)


SHAPE = Shape(
    name="turned",
    summary="Turned piece: a profile revolved about an upright axis, such as a bowl, a bird bath or a baluster",
    methods=("stacked",),
    parameters=TurnedParameters,
    lay_out=lay_out,
    samples=(
        {
            "outside": ((0, 0), (200, 0), (250, 300)),
            "inside": ((180, 40), (225, 300)),
            "drain_diameter": 25,
        },
        {"profile": ((0, 0), (160, 0), (230, 110, 15), (190, 110), (0, 45, -14)), "cast": "up"},
        {
            "outside": (
                (90, 0),
                (90, 60),
                (60, 75),
                (85, 200, 18),
                (45, 330, -12),
                (45, 350),
                (80, 365),
                (80, 420),
            )
        },
        {"outside": ((210, 0), (150, 120)), "inside": ((165, 0), (100, 120)), "cast": "up"},
    ),
)
