"""What every stage of a stacked mold needs to know of it, whether its piece is turned or an outline."""

from __future__ import annotations

from formwork.geometry.vectors import Vec
from formwork.molds.choice import Stocks
from formwork.molds.mold import Part
from formwork.molds.stacks.layers import Edge
from formwork.record import record
from formwork.shapes.piece import Piece, Seat
from formwork.strength.working import Force

FRONT, BACK, WALL, BASE = "front half", "back half", "rings", "base"


@record
class Course:
    """One layer of the wall, as what holds the mix apart sees it. Lengths in m.

    Attributes:
        low: height of its lower face.
        high: height of its upper face.
        half: half the greatest breadth of what it holds: of a ring its inner radius.
        width: least width of its ring.
        straight: longest straight side of its opening; 0 where it is round.
    """

    low: float
    high: float
    half: float
    width: float
    straight: float = 0.0


@record
class Core:
    """One stacked core.

    Attributes:
        name: of the former, and of the group it comes off in.
        seat: base or hung.
        volume: mix that it displaces, m3.
        plan: area of its widest level section, m2.
        top: half of its least breadth at its open end, m.
        discs: layers it is laid up from; 0 where it is struck from mortar.
        way: it leaves by.
        draft: least lean of its side on that way, rad.
        mortar: what is struck of mortar weighs, kg.
    """

    name: str
    seat: Seat
    volume: float
    plan: float
    top: float
    discs: int
    way: Vec
    draft: float
    mortar: float = 0.0


@record
class Stack:
    """A stacked mold before anything is screwed.

    Attributes:
        piece: as the layers form it.
        stocks: that it is built from.
        parts: everything cut.
        courses: the layers of its wall, the lowest first.
        cores: its cores.
        parted: the wall parts in two halves through the axis.
        segments: of each ring, or half ring.
        edge: how its layers were to be cut.
        reach: half of its greatest breadth, ears left out, m.
        lift: of the mix on its wall; below 0 where the mix presses it down.
        way: that the wall leaves by where it stays in one piece.
        draft: least lean of the wall on that way, rad.
        wetted: area that the mix touches, m2.
        seams: length of seam to seal, m.
        locked: groups that cannot leave, each with what would free it.
    """

    piece: Piece
    stocks: Stocks
    parts: tuple[Part, ...]
    courses: tuple[Course, ...]
    cores: tuple[Core, ...]
    parted: bool
    segments: int
    edge: Edge
    reach: float
    lift: Force
    way: Vec
    draft: float
    wetted: float
    seams: float
    locked: tuple[tuple[str, str], ...] = ()

    @property
    def walls(self) -> tuple[str, ...]:
        """Groups that the wall comes off in."""
        return (FRONT, BACK) if self.parted else (WALL,)
