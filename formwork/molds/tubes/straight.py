"""A round piece with upright sides, as a tube can mold it: one radius outside, at most one hollow in the middle."""

from __future__ import annotations

from math import hypot

from formwork.errors import GeometryError
from formwork.geometry.outlines import area, box
from formwork.geometry.prisms import Prism
from formwork.geometry.turned import Turned
from formwork.record import record
from formwork.shapes.piece import CurvedFormer, Piece, curved
from formwork.units import show

_SAME = 1e-9


@record
class Core:
    """A round hollow with upright sides.

    Attributes:
        former: of the piece.
        radius: m.
        low: height of its lower end, m.
        high: height of its upper end, m.
    """

    former: CurvedFormer
    radius: float
    low: float
    high: float


@record
class Straight:
    """A round piece with upright sides.

    Attributes:
        piece: as cast.
        radius: of its outside, m.
        height: of the fill plane above the base, m.
        core: its hollow; None where it is solid.
        strips: what shapes its foot, all round.
    """

    piece: Piece
    radius: float
    height: float
    core: Core | None
    strips: tuple[CurvedFormer, ...]

    @property
    def through(self) -> bool:
        """Its hollow runs from the base to the fill plane."""
        return self.core is not None and self.core.low < _SAME and self.core.high > self.height - _SAME


def straight(piece: Piece) -> Straight:
    """What a tube must mold.

    Raises:
        GeometryError: where the piece is not round, leans, or has more to it than one hollow in the middle.
    """
    form = curved(piece)
    radius, low, high = _upright(piece, form.outside, "outside")
    if low > _SAME or abs(high - form.fill) > _SAME:
        raise GeometryError(f"{piece.name}: a tube stands on its plate and is filled to its brim; {_OTHER}")
    cores = [one for one in form.formers if one.kind == "core"]
    strips = tuple(one for one in form.formers if one.kind == "strip" and one.seat == "base")
    odd = [one.name for one in form.formers if one not in cores and one not in strips]
    if odd or len(cores) > 1:
        named = ", ".join(odd or [one.name for one in cores[1:]])
        raise GeometryError(
            f"{piece.name}: a tube molds one hollow in the middle and a chamfer round the foot, nothing else "
            f"({named}); {_OTHER}"
        )
    if cores and not isinstance(cores[0].body, Turned):
        raise GeometryError(f"{piece.name}: a core tube is round, and the {cores[0].name} is not; {_OTHER}")
    core = Core(cores[0], *_upright(piece, cores[0].body, cores[0].name)) if cores else None
    return Straight(piece, radius, form.fill, core, strips)


_OTHER = 'build it another way: method = "wrapped"'


def _upright(piece: Piece, body: Turned | Prism, name: str) -> tuple[float, float, float]:
    """Radius, lower end and upper end of a cylinder about the upright axis, m.

    Raises:
        GeometryError: where the body is none.
    """
    if not isinstance(body, Turned) or not body.whole or hypot(*body.axis) > _SAME:
        raise GeometryError(f"{piece.name}: a tube is round, and the {name} is not; {_OTHER}")
    (near, low), (far, high) = box(body.profile)
    if near > _SAME:
        raise GeometryError(f"{piece.name}: the {name} leaves its middle open, which no tube molds; {_OTHER}")
    if area(body.profile) < far * (high - low) - _SAME:
        ends = [max(r for r, z in body.profile.points if abs(z - at) < _SAME) for at in (low, high)]
        raise GeometryError(
            f"{piece.name}: a tube is straight, and the {name} is {show.both(2.0 * ends[0])} across at its lower end "
            f"and {show.both(2.0 * ends[1])} at its upper one; make both alike"
            f'{" (core_draft = 0)" if name == "core" else ""}, or build it with method = "wrapped"'
        )
    return far, low, high
