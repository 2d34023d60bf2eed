"""Arch of wedge stones (voussoirs): equal stones on a circular soffit, each cast lying on its face.

A stone is a prism whose outline is a trapezoid: flat chords inside and outside, the two beds on radii of the arch.
It lies on the face that will be seen, good face down on the base, so that all four panels stand upright and pull
straight off, and no draft is wanted.
"""

from __future__ import annotations

from math import asin, cos, degrees, pi, sin, tan
from typing import Annotated

from pydantic import Field

from formwork.errors import GeometryError
from formwork.geometry.planes import HalfSpace, Planes, behind
from formwork.record import record
from formwork.shapes import box
from formwork.shapes.body import piece_volume
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Centre, Face, Former, Lot, Measure, Piece, Planar, Seat
from formwork.shapes.shape import Shape
from formwork.units import show
from formwork.units.fields import quantity, whole

_LEAST_CHORD = 0.03
"""Least width of a stone at the soffit, m (ours): below it a stone is a splinter."""


class ArchParameters(Parameters):
    """Keys of an arch in the project file."""

    span: Annotated[float, quantity("length", 0.2, 12.0)] = Field(
        description="clear width between the springings"
    )
    rise: Annotated[float, quantity("length", 0.02, 6.0)] = Field(
        description="height of the soffit's crown above the springings; at most half the span"
    )
    ring: Annotated[float, quantity("length", 0.05, 1.0)] = Field(
        description="depth of the ring of stones, along the radius"
    )
    width: Annotated[float, quantity("length", 0.04, 1.2)] = Field(
        description="width of the arch through the wall"
    )
    stones: Annotated[int, whole(3, 199)] = Field(
        description="how many stones; an odd number, so that one is the keystone"
    )
    joint: Annotated[float, quantity("length", 0.0, 0.05)] = Field(
        default=0.0, description="thickness of the joint between two stones, half of it taken from each bed"
    )
    chamfer: Annotated[float, quantity("length", 0.0, 0.05)] = Field(
        default=0.0, description="chamfer round the face that is seen; 0 for none"
    )
    centre: bool = Field(
        default=True, description="build the centre that the stones are laid on: ribs, ties and battens"
    )


@record
class Ring:
    """The geometry of an arch.

    Attributes:
        radius: of the soffit, to the stones' inner corners, m.
        outer: radius to the stones' outer corners, m.
        angle: of the whole arch at its centre, rad.
        each: of one stone with its joint, rad.
        inner_chord: width of the stone and its joint at the soffit, m.
        outer_chord: width of the stone and its joint on the outside, m.
    """

    radius: float
    outer: float
    angle: float
    each: float
    inner_chord: float
    outer_chord: float

    @property
    def centring(self) -> float:
        """Radius of the support's top, which the flat soffits touch in the middle, m."""
        return self.radius * cos(self.each / 2.0)


def ring(span: float, rise: float, depth: float, stones: int) -> Ring:
    """The circle through both springings and the crown, shared out among the stones.

    Args:
        span: clear width, m.
        rise: of the crown, m; at most half the span.
        depth: of the ring, m.
        stones: how many.

    >>> found = ring(48.0, 12.0, 8.0, 11)
    >>> found.radius, round(degrees(found.angle), 3), round(found.inner_chord, 4), round(found.outer_chord, 4)
    (30.0, 106.26, 5.052, 6.3992)
    """
    radius = (span * span / 4.0 + rise * rise) / (2.0 * rise)
    angle = 2.0 * asin(min(1.0, span / (2.0 * radius)))
    each = angle / stones
    outer = radius + depth
    half = sin(each / 2.0)
    return Ring(radius, outer, angle, each, 2.0 * radius * half, 2.0 * outer * half)


def lay_out(parameters: Parameters, name: str) -> tuple[Lot | Centre, ...]:
    """The one stone of the arch as it lies in its mold, and how many the arch takes; the centre it is laid on.

    Raises:
        GeometryError: where the keys contradict one another.
    """
    assert isinstance(parameters, ArchParameters)
    p = parameters
    _refuse_bad_circle(p, name)
    found = ring(p.span, p.rise, p.ring, p.stones)
    _refuse_bad_stone(p, found, name)
    sides = _sides(p, found)
    ends = (box.level("face", 0.0, up=False), box.level("struck face", p.width, up=True))
    piece = Piece(
        name=name,
        shape="arch",
        form=Planar(
            faces=(
                *(Face(side.name, "panel", side) for side in sides),
                Face("face", "base", ends[0]),
                Face("struck face", "fill", ends[1]),
            ),
            formers=_chamfers(p, sides, ends),
        ),
        plugs=(),
        pour_points=((0.0, 0.0, p.width / 2.0),),
        turned_over=True,
        measures=_measures(p, found),
        notes=_notes(p, found),
    )
    lot = Lot(piece, p.stones)
    return (lot, _centre(p, found, piece)) if p.centre else (lot,)


def _centre(p: ArchParameters, found: Ring, piece: Piece) -> Centre:
    """What the stones are laid on."""
    return Centre(
        name=f"{piece.name} centre",
        shape=piece.shape,
        soffit=found.centring,
        turn=found.each,
        stones=p.stones,
        bearing=_chord(found.inner_chord, p, found),
        breadth=p.width,
        volume=piece_volume(Planes(), piece),
    )


def _refuse_bad_circle(p: ArchParameters, name: str) -> None:
    if p.rise > p.span / 2.0 + 1e-9:
        raise GeometryError(
            f"{name}: rise: {show.both(p.rise)} is more than half the span, {show.both(p.span / 2.0)}, so the sides "
            "of the arch would lean inward below; use a rise up to half the span and stand the arch on upright jambs"
        )
    if p.stones % 2 == 0:
        raise GeometryError(
            f"{name}: stones: {p.stones} leave a joint at the crown and no keystone; use {p.stones - 1} or "
            f"{p.stones + 1}"
        )


def _refuse_bad_stone(p: ArchParameters, found: Ring, name: str) -> None:
    narrow = _chord(found.inner_chord, p, found)
    if p.joint >= found.inner_chord:
        raise GeometryError(
            f"{name}: joint: {show.both(p.joint)} is wider than a stone at the soffit, "
            f"{show.both(found.inner_chord)} with its joint; use fewer stones or a thinner joint"
        )
    if narrow < _LEAST_CHORD:
        raise GeometryError(
            f"{name}: stones: {p.stones} leave each only {show.both(narrow)} at the soffit, at least "
            f"{show.both(_LEAST_CHORD)} wanted; use fewer"
        )
    if p.chamfer > min(narrow, p.ring, p.width) / 4.0:
        raise GeometryError(
            f"{name}: a chamfer of {show.both(p.chamfer)} is more than a quarter of the stone's least size, "
            f"{show.both(min(narrow, p.ring, p.width))}; make it smaller"
        )


def _chord(with_joint: float, p: ArchParameters, found: Ring) -> float:
    """Width of the stone itself where it and its joint take ``with_joint``, m."""
    return with_joint - p.joint / cos(found.each / 2.0)


def _sides(p: ArchParameters, found: Ring) -> tuple[HalfSpace, ...]:
    """Soffit in front, outside behind, the beds left and right; the crown line of the stone along y."""
    half = found.each / 2.0
    middle = (found.radius + found.outer) / 2.0 * cos(half)
    deep = p.ring * cos(half) / 2.0

    def bed(name: str, way: float) -> HalfSpace:
        through = (way * (middle * tan(half) - p.joint / 2.0 / cos(half)), 0.0, 0.0)
        return behind((way * cos(half), -sin(half), 0.0), through, name)

    return (
        box.side("soffit", (0.0, -1.0), deep, 0.0, 0.0),
        bed("right bed", 1.0),
        box.side("outside", (0.0, 1.0), deep, 0.0, 0.0),
        bed("left bed", -1.0),
    )


def _chamfers(
    p: ArchParameters, sides: tuple[HalfSpace, ...], ends: tuple[HalfSpace, HalfSpace]
) -> tuple[Former, ...]:
    """Strips along the base round the good face, mitred at the corners."""
    if p.chamfer == 0.0:
        return ()
    edges = [(f"edge strip {one.name}", one, ends[0]) for one in sides]
    seats: list[tuple[Seat, str]] = [("base", "") for _ in sides]
    return box.strips(edges, p.chamfer, (*sides, *ends), seats)


def _measures(p: ArchParameters, found: Ring) -> tuple[Measure, ...]:
    y = p.ring * cos(found.each / 2.0) / 2.0
    inner, outer = (_chord(chord, p, found) / 2.0 for chord in (found.inner_chord, found.outer_chord))
    return (
        Measure("width at soffit", "top", (-inner, -y, 0.0), (inner, -y, 0.0)),
        Measure("width outside", "top", (-outer, y, 0.0), (outer, y, 0.0)),
        Measure("soffit to outside", "top", (outer, -y, 0.0), (outer, y, 0.0)),
        Measure("width through the wall", "front", (outer, y, 0.0), (outer, y, p.width)),
    )


def _notes(p: ArchParameters, found: Ring) -> tuple[str, ...]:
    radius, centring = found.radius, found.centring
    skewback = degrees(pi / 2.0 - found.angle / 2.0)
    joints = f"; half a joint, {show.both(p.joint / 2.0)}, stays at each springing" if p.joint else ""
    return (
        f"{p.stones} equal stones of {degrees(found.each):.3f} deg; number {(p.stones + 1) // 2} from either springing "
        f"is the keystone, set last{joints}.",
        f"Soffit radius {show.both(radius)}, arch {degrees(found.angle):.3f} deg; the springings slope "
        f"{skewback:.3f} deg "
        "from level and must take the thrust.",
        "The stones are laid on the centre that is built with it: ribs, ties and battens are in the cut list."
        if p.centre
        else f"Build it on a centre whose top, lagging included, has a radius of {show.both(centring)}: the flat "
        "soffits touch it in the middle of each stone. Ease the centre only when the keystone is in and the joints "
        "are hard.",
        "Cast lying on the face that is seen; the other face is struck off. Seen from above, the mold shows the stone "
        "mirrored.",
    )


SHAPE = Shape(
    name="arch",
    summary="Arch of equal wedge stones with a keystone, on a circular soffit",
    methods=("panelled",),
    parameters=ArchParameters,
    lay_out=lay_out,
    samples=(
        {"span": 1200, "rise": 300, "ring": 200, "width": 240, "stones": 11, "joint": 10},
        {"span": 900, "rise": 440, "ring": 180, "width": 200, "stones": 9, "chamfer": 8},
        {"span": 2400, "rise": 500, "ring": 300, "width": 150, "stones": 15, "joint": 4},
    ),
)
