"""Dome cast as one shell of even thickness on a sphere, a spheroid or a catenary, with an oculus and doors."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, sin
from typing import Annotated, Literal

from pydantic import Field

from formwork.errors import GeometryError
from formwork.geometry.meridians import Meridian, catenary, outlined, radius_over, sphere, spheroid
from formwork.geometry.outlines import Outline
from formwork.geometry.passages import Passage
from formwork.geometry.turned import Turned
from formwork.shapes.doorways import Doorway, formers, refuse_bad_doors
from formwork.shapes.parameters import Keys, Parameters
from formwork.shapes.piece import Curved, Lot, Measure, Piece, Shell
from formwork.shapes.shape import Shape
from formwork.shapes.shell_notes import shell_notes
from formwork.units import show
from formwork.units.fields import quantity

FLUID = "fluid between two forms"
STIFF = "stiff built up on the inner form"
_FLATTEST = 1.0 / 50.0
"""Least rise over span (ours): below it a dome is a plate."""


class Door(Keys):
    """A doorway through the shell, its sill at the springing."""

    width: Annotated[float, quantity("length", 0.05, 6.0)] = Field(description="clear width of the doorway")
    height: Annotated[float, quantity("length", 0.05, 6.0)] = Field(
        description="clear height of the doorway in its middle, over the springing"
    )
    head: Literal["arch", "square"] = Field(
        default="arch", description="top of the doorway: half a circle over its width, or level"
    )
    direction: Annotated[float, quantity("angle", -pi, 2.0 * pi)] = Field(
        default=0.0,
        description="where the doorway looks: 0 to the front, then counter-clockwise as seen from above",
    )


class CastDomeParameters(Parameters):
    """Keys of a cast dome in the project file."""

    profile: Literal["sphere", "spheroid", "catenary"] = Field(
        default="sphere", description="curve that the inside follows from springing to crown"
    )
    inside_span: Annotated[float, quantity("length", 0.2, 20.0)] | None = Field(
        default=None, description="clear width inside at the springing; give this or inside_radius"
    )
    inside_radius: Annotated[float, quantity("length", 0.1, 20.0)] | None = Field(
        default=None, description="radius of the sphere inside; give this or inside_span"
    )
    rise: Annotated[float, quantity("length", 0.05, 20.0)] | None = Field(
        default=None,
        description="height of the inside over the springing; that of half a sphere if left out",
    )
    thickness: Annotated[float, quantity("length", 0.012, 1.0)] = Field(
        description="thickness of the shell, square to its surface"
    )
    springing: Literal["level", "radial"] = Field(
        description="how the foot of the shell is cut: level, or square to its surface"
    )
    oculus: Annotated[float, quantity("length", 0.0, 10.0)] = Field(
        default=0.0, description="diameter of the opening at the crown, straight up; 0 for none"
    )
    door: tuple[Door, ...] = Field(default=(), description="doorways through the shell")
    placing: Literal["fluid between two forms", "stiff built up on the inner form"] = Field(
        description="how the shell is placed; a fluid mix runs off a form that is open above"
    )


def lay_out(parameters: Parameters, name: str) -> tuple[Lot, ...]:
    """The dome as it stands on its form.

    Raises:
        GeometryError: where the keys contradict one another.
    """
    assert isinstance(parameters, CastDomeParameters)
    p = parameters
    inside = _with_oculus(p, _inside(p, name), name)
    outside = _outside(p, inside)
    doors = tuple(_doorway(door) for door in p.door)
    refuse_bad_doors(doors, inside, p.oculus / 2.0, name)
    _refuse_straight_steel(p, name)
    body = _body(p, inside, outside)
    shell = Shell(
        inside,
        p.thickness,
        p.springing == "radial",
        p.oculus / 2.0,
        "fluid" if p.placing == FLUID else "stiff",
    )
    piece = Piece(
        name=name,
        shape="cast dome",
        form=Curved(body, formers(doors, body, p.thickness), body.box()[1][2], shell),
        plugs=(),
        pour_points=(_pour_point(p, inside, doors),),
        turned_over=False,
        measures=_measures(p, inside, outside, doors),
        notes=shell_notes(shell, doors, p.profile),
    )
    return (Lot(piece),)


def _doorway(door: Door) -> Doorway:
    return Doorway(Passage(door.width, door.height, door.head == "arch"), door.direction - pi / 2.0)


def _inside(p: CastDomeParameters, name: str) -> Meridian:
    """The meridian of the inside, without its oculus."""
    inside = _sphere(p, name) if p.profile == "sphere" else _other(p, name)
    tightest = inside.tightest()
    if p.thickness >= tightest:
        raise GeometryError(
            f"{name}: thickness {show.both(p.thickness)} is not less than the tightest radius of the inside, "
            f"{show.both(tightest)}; that is no shell; make it thinner, or the dome larger or nearer to a sphere"
        )
    return inside


def _sphere(p: CastDomeParameters, name: str) -> Meridian:
    if (p.inside_span is None) == (p.inside_radius is None):
        got = "neither" if p.inside_span is None else "both"
        raise GeometryError(f"{name}: inside_span and inside_radius: got {got}, want one of them")
    half = p.inside_span / 2.0 if p.inside_span is not None else p.inside_radius or 0.0
    rise = half if p.rise is None else p.rise
    if rise > half + 1e-9:
        what = "half the span" if p.inside_span is not None else "the radius"
        raise GeometryError(
            f"{name}: rise {show.both(rise)} is more than {what}, {show.both(half)}: the sphere would spring from "
            "below its equator, where the shell leans in and the form cannot be taken out; want at most "
            f'{show.both(half)}, or profile = "spheroid" or "catenary" for a higher dome'
        )
    radius = p.inside_radius if p.inside_radius is not None else radius_over(half, rise)
    made = sphere(radius, min(rise, radius))
    _refuse_flat(made.r(made.springing), rise, name)
    return made


def _other(p: CastDomeParameters, name: str) -> Meridian:
    if p.inside_radius is not None:
        raise GeometryError(
            f"{name}: inside_radius is the radius of a sphere; a {p.profile} wants inside_span and rise"
        )
    if p.inside_span is None or p.rise is None:
        missing = "inside_span" if p.inside_span is None else "rise"
        raise GeometryError(
            f"{name}: {missing}: got nothing, want it: a {p.profile} needs its span and its rise"
        )
    half = p.inside_span / 2.0
    _refuse_flat(half, p.rise, name)
    if p.rise > 5.0 * p.inside_span:
        raise GeometryError(
            f"{name}: rise {show.both(p.rise)} is more than five times the span; want at most "
            f"{show.both(5.0 * p.inside_span)}"
        )
    return spheroid(half, p.rise) if p.profile == "spheroid" else catenary(half, p.rise)


def _refuse_flat(half: float, rise: float, name: str) -> None:
    if rise < 2.0 * half * _FLATTEST:
        raise GeometryError(
            f"{name}: rise {show.both(rise)} is less than a fiftieth of the span {show.both(2.0 * half)}: that is a "
            "plate, no dome; make it higher"
        )


def _with_oculus(p: CastDomeParameters, inside: Meridian, name: str) -> Meridian:
    if p.oculus == 0.0:
        return inside
    widest = 2.0 * inside.r(inside.springing)
    if p.oculus >= widest:
        raise GeometryError(
            f"{name}: oculus {show.both(p.oculus)} is not less than the span at the springing, {show.both(widest)}; "
            "nothing is left to cast"
        )
    return replace(inside, oculus=inside.at_radius(p.oculus / 2.0))


def _outside(p: CastDomeParameters, inside: Meridian) -> Meridian:
    """The meridian of the outside, between its own polar angles of springing and oculus."""
    outside = inside.moved(p.thickness)
    foot = outside.springing if p.springing == "radial" else outside.at_height(0.0)
    return replace(outside, springing=foot, oculus=outside.at_radius(p.oculus / 2.0))


def _refuse_straight_steel(p: CastDomeParameters, name: str) -> None:
    wrong = next((thing.kind for thing in p.embed if thing.kind in ("bar", "mesh")), None)
    if wrong:
        raise GeometryError(
            f"{name}: embed {wrong}: straight bars and flat mesh do not lie in a dome; rings and bent mesh are a "
            "licensed designer's matter, fibres may stand here"
        )


def _body(p: CastDomeParameters, inside: Meridian, outside: Meridian) -> Turned:
    """The whole shell; what rounding left of a level foot and an upright oculus is rounded off."""
    up = outside.traced(outside.springing, outside.oculus)
    down = inside.traced(inside.oculus, inside.springing)
    made = outlined(up, down)
    points = tuple((round(r, 13), round(z, 13)) for r, z in made.points)
    return Turned(Outline(points, made.bulges))


def _pour_point(
    p: CastDomeParameters, inside: Meridian, doors: tuple[Doorway, ...]
) -> tuple[float, float, float]:
    """In the middle of the thickness, half way between the crown or oculus and the highest door or the springing."""
    top = max((door.passage.height for door in doors), default=0.0)
    lowest = inside.at_height(top) if doors else inside.springing
    polar = (lowest + inside.oculus) / 2.0
    r, z = inside.moved(p.thickness / 2.0).point(polar)
    return (r, 0.0, z)


def _measures(
    p: CastDomeParameters, inside: Meridian, outside: Meridian, doors: tuple[Doorway, ...]
) -> tuple[Measure, ...]:
    """Spans and heights as a section through the axis shows them; doors where they look."""
    foot, wide = inside.r(inside.springing), outside.r(outside.springing)
    low, high = inside.z(inside.oculus), outside.z(outside.oculus)
    edge, base = p.oculus / 2.0, outside.z(outside.springing)
    slope = (inside.springing + inside.oculus) / 2.0
    (ri, zi), (ro, zo) = inside.point(slope), outside.point(slope)
    rise = "height inside at the oculus" if edge > 0.0 else "rise inside"
    found = [
        Measure("span inside", "front", (-foot, 0.0, 0.0), (foot, 0.0, 0.0)),
        Measure("span outside", "front", (-wide, 0.0, base), (wide, 0.0, base)),
        Measure(rise, "front", (edge, 0.0, 0.0), (edge, 0.0, low)),
        Measure("overall height", "front", (-edge, 0.0, 0.0), (-edge, 0.0, high)),
        Measure("thickness", "front", (ri, 0.0, zi), (ro, 0.0, zo)),
    ]
    if edge > 0.0:
        found.append(Measure("oculus", "top", (-edge, 0.0, high), (edge, 0.0, high)))
    for number, door in enumerate(doors, start=1):
        found += _door_measures(door, number, outside)
    return tuple(found)


def _door_measures(door: Doorway, number: int, outside: Meridian) -> list[Measure]:
    """Width of a door from above, and its height in the view that has the door at its edge or cuts it there."""
    c, s = cos(door.bearing), sin(door.bearing)
    foot, half = outside.r(outside.springing), door.passage.width / 2.0
    head = outside.r(outside.at_height(door.passage.height))
    view: Literal["front", "side"] = "front" if abs(c) > abs(s) + 1e-9 else "side"
    return [
        Measure(
            f"door {number} width",
            "top",
            (foot * c + half * s, foot * s - half * c, 0.0),
            (foot * c - half * s, foot * s + half * c, 0.0),
        ),
        Measure(
            f"door {number} height",
            view,
            (head * c, head * s, 0.0),
            (head * c, head * s, door.passage.height),
        ),
    ]


SHAPE = Shape(
    name="cast dome",
    summary="Dome cast as one shell, on a sphere, a spheroid or a catenary, with oculus and doors",
    methods=("ribbed",),
    parameters=CastDomeParameters,
    lay_out=lay_out,
    samples=(
        {"inside_span": 2400, "thickness": 60, "springing": "level", "oculus": 400, "placing": FLUID},
        {
            "inside_radius": 1500,
            "rise": 1000,
            "thickness": 80,
            "springing": "radial",
            "placing": STIFF,
        },
        {
            "profile": "spheroid",
            "inside_span": 3000,
            "rise": 1800,
            "thickness": 90,
            "springing": "level",
            "door": [{"width": 800, "height": 1100, "direction": "90 deg"}],
            "placing": FLUID,
        },
        {
            "profile": "catenary",
            "inside_span": 2600,
            "rise": 2000,
            "thickness": 70,
            "springing": "radial",
            "oculus": 500,
            "door": [
                {"width": 700, "height": 1000, "head": "square"},
                {"width": 400, "height": 600, "head": "arch", "direction": "180 deg"},
            ],
            "placing": STIFF,
        },
    ),
)
