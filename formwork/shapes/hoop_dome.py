"""Hoop dome: bent pipe, ribs from a base hoop to a crown ring and level hoops across them; built, not cast.

All sizes are on the centre line of the pipe. Ribs and hoops lie on one sphere; where they cross they are clamped side
by side, which the frame takes up by a pipe's width.
"""

from __future__ import annotations

from math import asin, cos, pi, sin
from string import ascii_uppercase
from typing import Annotated

from pydantic import Field

from formwork.errors import GeometryError
from formwork.geometry.vectors import Vec
from formwork.shapes.parameters import Keys
from formwork.shapes.piece import Bent, Frame, Hub
from formwork.shapes.shape import Shape
from formwork.units import show
from formwork.units.fields import quantity, text, whole

_STEP = pi / 60.0
"""Angle between points that a line is drawn through, rad."""


class HoopDomeKeys(Keys):
    """Keys of a hoop dome in the project file."""

    radius: Annotated[float, quantity("length", 0.3, 15.0)] = Field(
        description="radius of the sphere that the pipes' centre lines lie on"
    )
    ribs: Annotated[int, whole(3, 48)] = Field(default=8, description="ribs round the dome")
    hoops: Annotated[int, whole(1, 20)] = Field(
        default=3, description="level hoops, the base hoop counted, evenly spaced up the ribs"
    )
    opening: Annotated[float, quantity("angle", 0.35, 1.5708)] = Field(
        default=1.5707963267948966,
        description="angle from the crown down to the base hoop, at the middle of the sphere; 90 deg for half a sphere",
    )
    crown: Annotated[float, quantity("length", 0.02, 2.0)] = Field(
        default=0.15, description="radius of the crown ring that the ribs end on"
    )
    tail: Annotated[float, quantity("length", 0.0, 0.5)] = Field(
        default=0.1,
        description="straight pipe the bender holds at each end of a bend; it comes off afterwards",
    )
    pipe: Annotated[str, text(60)] | None = Field(
        default=None, description="name of the pipe; the shop's first one if left out"
    )


def lay_out(keys: HoopDomeKeys, name: str) -> tuple[Frame, ...]:
    """The frame, its base hoop at z = 0.

    Args:
        keys: as the project file has them.
        name: what the project calls it.

    Raises:
        GeometryError: where the crown ring leaves no room for the hoops.
    """
    upper = _upper(keys, name)
    down = keys.opening
    angles = [down * (keys.hoops - i) / keys.hoops for i in range(keys.hoops)]
    floor = keys.radius * cos(down)
    letters = iter(ascii_uppercase)
    hoops = [
        Bent(
            next(letters), "hoop", keys.radius * sin(angle), 2.0 * pi, (_hoop(keys, angle, floor),), keys.tail
        )
        for angle in angles
    ]
    marks = tuple(keys.radius * (down - angle) for angle in angles)
    ribs = Bent(
        next(letters),
        "rib",
        keys.radius,
        down - upper,
        tuple(_rib(keys, turn, upper, floor) for turn in _turns(keys)),
        keys.tail,
        marks,
    )
    nodes = [_at(keys, angle, turn, floor) for angle in (*angles, upper) for turn in _turns(keys)]
    return (
        Frame(
            name=name,
            shape="hoop dome",
            pipe=keys.pipe or "",
            nodes=tuple(nodes),
            members=(),
            hubs=_hubs(keys),
            base=tuple(range(keys.ribs)),
            closest=0.0,
            notes=_notes(keys),
            bent=(*hoops, ribs),
            crown=keys.crown,
        ),
    )


def _upper(keys: HoopDomeKeys, name: str) -> float:
    """Angle from the crown at which the ribs end, rad.

    Raises:
        GeometryError: where the crown ring reaches the uppermost hoop.
    """
    highest = keys.radius * sin(keys.opening / keys.hoops)
    if keys.crown >= 0.8 * highest:
        raise GeometryError(
            f"{name}: the crown ring of radius {show.both(keys.crown)} leaves no room under the uppermost hoop, "
            f"of radius {show.both(highest)}; make crown less than {show.both(0.8 * highest)}, or hoops fewer"
        )
    return asin(keys.crown / keys.radius)


def _turns(keys: HoopDomeKeys) -> list[float]:
    return [2.0 * pi * i / keys.ribs for i in range(keys.ribs)]


def _at(keys: HoopDomeKeys, angle: float, turn: float, floor: float) -> Vec:
    """A point of the sphere by its angle from the crown and its turn round the axis, the base at z = 0."""
    r = keys.radius
    return (r * sin(angle) * cos(turn), r * sin(angle) * sin(turn), r * cos(angle) - floor)


def _hoop(keys: HoopDomeKeys, angle: float, floor: float) -> tuple[Vec, ...]:
    steps = round(2.0 * pi / _STEP)
    return tuple(_at(keys, angle, 2.0 * pi * i / steps, floor) for i in range(steps + 1))


def _rib(keys: HoopDomeKeys, turn: float, upper: float, floor: float) -> tuple[Vec, ...]:
    """From its foot to the crown ring."""
    steps = max(2, round((keys.opening - upper) / _STEP))
    return tuple(
        _at(keys, keys.opening + (upper - keys.opening) * i / steps, turn, floor) for i in range(steps + 1)
    )


def _hubs(keys: HoopDomeKeys) -> tuple[Hub, ...]:
    above = keys.ribs * (keys.hoops - 1)
    return (
        *((Hub("crossing", 2, above),) if above else ()),
        Hub("foot on the base hoop", 2, keys.ribs),
        Hub("end at the crown ring", 1, keys.ribs),
    )


def _notes(keys: HoopDomeKeys) -> tuple[str, ...]:
    return (
        f"{keys.ribs} ribs and {keys.hoops} hoops; hoops are lettered from the base up, the ribs come last.",
        "All sizes are on the centre line of the pipe; ribs pass inside the hoops or outside, all the same way.",
    )


SHAPE = Shape(
    name="hoop dome",
    summary="Hoop dome: bent pipe ribs from a base hoop to a crown ring, level hoops across; built, not cast",
    methods=("framed",),
    parameters=HoopDomeKeys,
    lay_out=lay_out,
    samples=(
        {"radius": 1500},
        {"radius": 1800, "ribs": 12, "hoops": 4, "opening": "70 deg", "crown": 200, "pipe": "EMT 1/2"},
        {"radius": 970.2, "ribs": 6, "hoops": 1, "tail": 80},
    ),
)
