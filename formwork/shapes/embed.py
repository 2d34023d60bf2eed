"""What stays in a piece: bars, mesh, fibres, lifting loops and sleeves, from the project's keys to parts.

A project gives each as a table with a ``kind``; ``take_in`` checks that it fits the piece with its cover and says
what to buy, how long to cut it, and what volume it displaces.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, pi
from typing import Annotated, Literal, assert_never

from pydantic import BaseModel, ConfigDict, Field

from formwork.errors import GeometryError
from formwork.shapes.piece import Embedded
from formwork.units import show
from formwork.units.fields import quantity

STEEL = 7850.0
"""Density of steel, kg/m3 (common practice, no source)."""
_SPACER_PITCH = 0.6
_LOOP_PAIR = 2

Along = Literal["length", "width", "height"]


class _Embed(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)


class Bar(_Embed):
    """Straight bars, cut to the piece less its cover at both ends."""

    kind: Literal["bar"] = Field(description="straight bars")
    diameter: Annotated[float, quantity("length", 0.003, 0.04)] = Field(description="bar diameter")
    count: Annotated[int, Field(ge=1, le=200)] = Field(description="how many in one piece")
    along: Along = Field(default="length", description="which way they lie: length, width or height")
    cover: Annotated[float, quantity("length", 0.005, 0.2)] = Field(
        default=0.025, description="least concrete between bar and face"
    )
    steel: bool = Field(default=True, description="bare steel; false for basalt, glass or stainless bars")


class Mesh(_Embed):
    """A flat sheet of mesh, cut to the piece less its cover all round."""

    kind: Literal["mesh"] = Field(description="one or more flat sheets of mesh")
    pitch: Annotated[float, quantity("length", 0.004, 0.3)] = Field(description="distance between wires")
    wire: Annotated[float, quantity("length", 0.0005, 0.012)] = Field(description="wire or strand diameter")
    count: Annotated[int, Field(ge=1, le=20)] | None = Field(
        default=None, description="sheets in one piece; one flat, one in each of the two walls, if left out"
    )
    face: Literal["flat", "long wall", "short wall"] = Field(
        default="flat", description="where it lies: flat, or upright in the long or the short walls"
    )
    cover: Annotated[float, quantity("length", 0.005, 0.2)] = Field(
        default=0.02, description="least concrete between mesh and face"
    )
    steel: bool = Field(default=False, description="bare steel; false for glass or basalt mesh")


class Fibres(_Embed):
    """Loose fibres, by dose."""

    kind: Literal["fibres"] = Field(description="loose fibres in the mix")
    dose: Annotated[float, quantity("density", 0.1, 30.0)] = Field(description="mass in a volume of mix")
    gravity: Annotated[float, Field(ge=0.8, le=8.0)] = Field(
        default=0.91, description="specific gravity of the fibre"
    )


class Loop(_Embed):
    """Lifting loops of rope or bent bar."""

    kind: Literal["loop"] = Field(description="lifting loops")
    count: Annotated[int, Field(ge=1, le=8)] = Field(default=_LOOP_PAIR, description="how many in one piece")
    diameter: Annotated[float, quantity("length", 0.003, 0.025)] = Field(description="rope or bar diameter")
    length: Annotated[float, quantity("length", 0.1, 3.0)] = Field(description="cut length of one loop")
    steel: bool = Field(default=False, description="bare steel; false for rope or stainless")


class Sleeve(_Embed):
    """Pipes that stay in the piece."""

    kind: Literal["sleeve"] = Field(description="pipes left in the piece")
    count: Annotated[int, Field(ge=1, le=40)] = Field(default=1, description="how many in one piece")
    outside: Annotated[float, quantity("length", 0.005, 0.4)] = Field(description="outside diameter")
    length: Annotated[float, quantity("length", 0.01, 3.0)] = Field(description="cut length of one sleeve")


Embed = Annotated[Bar | Mesh | Fibres | Loop | Sleeve, Field(discriminator="kind")]


def take_in(
    items: Sequence[Bar | Mesh | Fibres | Loop | Sleeve],
    size: tuple[float, float, float],
    volume: float,
    wall: float | None = None,
) -> tuple[Embedded, ...]:
    """What the items come to in a piece with room for them of ``size`` (length, width, height, m) and ``volume`` (m3).

    Args:
        items: as the project gives them.
        size: of the piece.
        volume: of the piece.
        wall: thickness of the thinnest wall of a hollow piece; None for a solid one.

    Raises:
        GeometryError: where an item does not fit the piece with its cover.
    """
    if wall is not None:
        for item in items:
            _refuse_thin(item, wall)
    walls = 1 if wall is None else 2
    return tuple(_one(item, size, volume, walls) for item in items)


def _refuse_thin(item: Bar | Mesh | Fibres | Loop | Sleeve, wall: float) -> None:
    """What stands in a wall has its cover on either side.

    Raises:
        GeometryError: where the wall is too thin for that.
    """
    if isinstance(item, Bar):
        thick = item.diameter
    elif isinstance(item, Mesh) and item.face != "flat":
        thick = item.wire
    else:
        return
    if thick + 2.0 * item.cover > wall + 1e-9:
        most = show.both(max(0.0, (wall - thick) / 2.0))
        raise GeometryError(
            f"embed {item.kind}: got a cover of {show.both(item.cover)}, want {most} or less: it has its cover on "
            f"either side in a wall of {show.both(wall)}; use less cover, or a thicker wall"
        )


def _one(
    item: Bar | Mesh | Fibres | Loop | Sleeve, size: tuple[float, float, float], volume: float, walls: int
) -> Embedded:
    match item:
        case Bar():
            return _bar(item, size, walls)
        case Mesh():
            return _mesh(item, size, walls)
        case Fibres():
            mass = item.dose * volume
            return Embedded(
                "fibres",
                "fibres",
                "fibres",
                1,
                0.0,
                0.0,
                0.0,
                mass / (1000.0 * item.gravity),
                mass,
                0.0,
                0,
                False,
            )
        case Loop():
            space = item.count * _wire(item.diameter, item.length)
            mass = space * (STEEL if item.steel else 1100.0)
            return Embedded(
                "lifting loop", "loop", "lifting loop", item.count, item.length, 0.0, item.diameter,
                space, mass, 0.0, 0, item.steel,
            )  # fmt: skip
        case Sleeve():
            space = item.count * _wire(item.outside, item.length)
            return Embedded(
                "sleeve",
                "sleeve",
                "pipe sleeve",
                item.count,
                item.length,
                0.0,
                item.outside,
                space,
                0.0,
                0.0,
                0,
                False,
            )
        case _:
            assert_never(item)


def _bar(item: Bar, size: tuple[float, float, float], walls: int) -> Embedded:
    length, width, height = size
    extent = size[("length", "width", "height").index(item.along)]
    cut = extent - 2.0 * item.cover
    if cut < 0.05 or item.diameter + 2.0 * item.cover > min(size):
        raise GeometryError(
            f"embed bar: a cover of {show.both(item.cover)} leaves no room for a bar of "
            f"{show.both(item.diameter)} along the {item.along}; use less cover or a thicker piece"
        )
    space = item.count * _wire(item.diameter, cut)
    spacers = item.count * max(2, ceil(cut / _SPACER_PITCH) + 1)
    mass = space * (STEEL if item.steel else 2100.0)
    return Embedded(
        f"bar along the {item.along}", "bar", "bar", item.count, cut, 0.0, item.diameter,
        space, mass, item.cover, spacers, item.steel, lies=item.along, walls=1 if item.along == "height" else walls,
        spread=height if walls > 1 else (width if item.along == "length" else length),
    )  # fmt: skip


def _mesh(item: Mesh, size: tuple[float, float, float], walls: int) -> Embedded:
    length, width, height = size
    count = item.count or (1 if item.face == "flat" else walls)
    extent = {
        "flat": (length, width),
        "long wall": (max(length, width), height),
        "short wall": (min(length, width), height),
    }[item.face]
    along, across = (side - 2.0 * item.cover for side in extent)
    if along < item.pitch or across < item.pitch:
        raise GeometryError(
            f"embed mesh: a cover of {show.both(item.cover)} leaves less than one opening of the mesh; "
            "use less cover or a finer mesh"
        )
    wires = (across / item.pitch + 1.0) * along + (along / item.pitch + 1.0) * across
    space = count * _wire(item.wire, wires)
    mass = space * (STEEL if item.steel else 2500.0)
    spacers = count * (ceil(along / _SPACER_PITCH) + 1) * (ceil(across / _SPACER_PITCH) + 1)
    return Embedded(
        f"mesh, {item.face}", "mesh", "mesh", count, along, across, item.wire,
        space, mass, item.cover, spacers, item.steel, item.pitch, "steel" if item.steel else "glass or basalt",
        lies=_runs(item.face, length, width), walls=1 if item.face == "flat" else walls,
    )  # fmt: skip


def _runs(face: str, length: float, width: float) -> str:
    """The side of the piece that an upright mesh runs along, whichever is the longer; flat of one that lies."""
    if face == "flat":
        return face
    return "length" if (face == "long wall") == (length >= width) else "width"


def _wire(diameter: float, length: float) -> float:
    return pi * diameter * diameter / 4.0 * length
