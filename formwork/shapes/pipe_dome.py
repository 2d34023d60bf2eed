"""Pipe dome: a geodesic frame of straight pipes, flattened and bolted at the hubs; built, not cast.

The frame is an icosahedron, its edges parted into ``frequency`` chords, cut off below along a ring of struts.
"""

from __future__ import annotations

from string import ascii_uppercase
from typing import Annotated, Literal

from pydantic import Field

from formwork.errors import GeometryError
from formwork.geometry.geodesic import CUTS, OTHER_NAMES, Geodesic, closest_angle, dome, levelled
from formwork.geometry.vectors import Vec
from formwork.shapes.parameters import Keys
from formwork.shapes.piece import Frame, Hub, Member
from formwork.shapes.shape import Shape
from formwork.units import show
from formwork.units.fields import quantity, text, whole

_USUAL = {1: "2/3", 2: "1/2", 3: "5/9", 4: "1/2", 5: "8/15", 6: "1/2"}
"""Where each frequency is cut if nothing is said: at the equator, else a little below it."""
_LEAST_ROUND = 0.1
"""Least length of a strut that stays round between its flattened ends, m (common practice, no source)."""


Cut = Literal["1/2", "2/3", "3/8", "5/8", "4/9", "5/9", "5/12", "7/15", "8/15"]


class PipeDomeKeys(Keys):
    """Keys of a pipe dome in the project file."""

    radius: Annotated[float, quantity("length", 0.3, 15.0)] = Field(
        description="radius of the sphere that the hub bolts lie on"
    )
    frequency: Annotated[int, whole(1, 6)] = Field(
        default=2, description="into how many parts each edge of the icosahedron goes: more makes it rounder"
    )
    cut: Cut | None = Field(
        default=None,
        description="how much of the sphere stays; which shares there are depends on the frequency",
    )
    base: Literal["packed", "level"] = Field(
        default="packed",
        description="where the base ring does not lie level: pack up under its high hubs, or move all to one level",
    )
    pipe: Annotated[str, text(60)] | None = Field(
        default=None, description="name of the pipe; the shop's first one if left out"
    )
    beyond: Annotated[float, quantity("length", 0.005, 0.1)] = Field(
        default=0.019, description="from the bolt hole to the end of the pipe"
    )
    flat: Annotated[float, quantity("length", 0.015, 0.3)] = Field(
        default=0.051, description="length of each flattened end, from the pipe's end to where it is bent"
    )


def lay_out(keys: PipeDomeKeys, name: str) -> tuple[Frame, ...]:
    """The frame, its lowest hub at z = 0.

    Args:
        keys: as the project file has them.
        name: what the project calls it.

    Raises:
        GeometryError: where it cannot be cut so, or its struts leave no room between their ends.
    """
    cut = _cut(keys, name)
    frame = dome(keys.frequency, CUTS[keys.frequency][cut])
    if keys.base == "level":
        frame = levelled(frame)
    members = tuple(
        Member(letter, strut.factor * keys.radius, strut.edges, strut.axial, keys.beyond, keys.flat)
        for letter, strut in zip(ascii_uppercase, frame.struts, strict=False)
    )
    _refuse_short(members, keys, name)
    return (
        Frame(
            name=name,
            shape="pipe dome",
            pipe=keys.pipe or "",
            nodes=_standing(frame, keys.radius),
            members=members,
            hubs=_hubs(frame),
            base=frame.base,
            closest=closest_angle(frame),
            notes=_notes(frame, cut),
        ),
    )


def _cut(keys: PipeDomeKeys, name: str) -> str:
    """The cut as its share of the bands.

    Raises:
        GeometryError: where this frequency cannot be cut so, with the reason.
    """
    frequency = keys.frequency
    cut = keys.cut or _USUAL[frequency]
    cut = OTHER_NAMES.get((frequency, cut), cut)
    known = CUTS[frequency]
    if cut in known:
        return cut
    want = " or ".join(known)
    if cut == "1/2":
        bands = 3 * frequency
        raise GeometryError(
            f"{name}: cut: got 1/2, want {want}: frequency {frequency} has {bands} bands of triangles from pole to "
            "pole, so the equator runs through the middle of a band and there is no half; an even frequency has one"
        )
    raise GeometryError(f"{name}: cut: got {cut}, want {want} at frequency {frequency}")


def _refuse_short(members: tuple[Member, ...], keys: PipeDomeKeys, name: str) -> None:
    """Refuse struts that are too short for their two ends, and ends without room for a bolt.

    Raises:
        GeometryError: with the radius that would do.
    """
    if keys.flat < 1.5 * keys.beyond:
        raise GeometryError(
            f"{name}: flat: got {show.both(keys.flat)}, want at least "
            f"{show.both(1.5 * keys.beyond)}, 1.5 times beyond, so that the bolt lies within the flattened end"
        )
    shortest = members[0]
    needed = 2.0 * (keys.flat - keys.beyond) + _LEAST_ROUND
    if shortest.length < needed:
        radius = keys.radius * needed / shortest.length
        raise GeometryError(
            f"{name}: the radius is too small for the hubs: the shortest strut is {show.both(shortest.length)} "
            f"from bolt to bolt, and its two flattened ends with a round piece between take {show.both(needed)}; "
            f"make radius at least {show.both(radius)}, or frequency or flat less"
        )


def _standing(frame: Geodesic, radius: float) -> tuple[Vec, ...]:
    """The nodes at their real size, moved up so that the lowest stands at z = 0."""
    floor = min(node[2] for node in frame.nodes)
    return tuple((radius * x, radius * y, radius * (z - floor)) for x, y, z in frame.nodes)


def _hubs(frame: Geodesic) -> tuple[Hub, ...]:
    """Nodes by how many struts meet there, those of the base apart."""
    ways = frame.ways()
    base = set(frame.base)
    above = sorted({way for node, way in enumerate(ways) if node not in base})
    hubs = [
        Hub(f"{way}-way", way, sum(w == way and node not in base for node, w in enumerate(ways)))
        for way in above
    ]
    low = sorted({ways[node] for node in base})
    hubs += [Hub(f"base, {way}-way", way, sum(ways[node] == way for node in base)) for way in low]
    return tuple(hubs)


def _notes(frame: Geodesic, cut: str) -> tuple[str, ...]:
    return (
        f"Frequency {frame.frequency}, {cut} of the sphere: {len(frame.faces)} triangles.",
        "Struts are lettered from the shortest; other lists may letter them otherwise.",
        "Radius and strut lengths run from bolt to bolt; the pipe is cut longer by what lies beyond its holes.",
    )


SHAPE = Shape(
    name="pipe dome",
    summary="Pipe dome: geodesic frame of straight pipes bolted at hubs; built, not cast",
    methods=("framed",),
    parameters=PipeDomeKeys,
    lay_out=lay_out,
    samples=(
        {"radius": 1500, "frequency": 1},
        {"radius": 2200},
        {"radius": 2500, "frequency": 3, "cut": "4/9", "base": "level"},
        {"radius": 2500, "frequency": 3, "cut": "5/8", "pipe": "EMT 1/2"},
        {"radius": 3000, "frequency": 4, "cut": "5/12"},
        {"radius": 3500, "frequency": 5, "beyond": 22, "flat": 60},
        {"radius": 4000, "frequency": 6},
    ),
)
