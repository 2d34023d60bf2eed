"""What cutting takes and gives. All lengths in m; on a sheet x runs along its length (the face grain), y across it."""

from __future__ import annotations

from typing import Literal

from formwork.record import record
from formwork.stock.records import SheetStock, StickStock


@record
class SheetPart:
    """Equal blanks to be cut from one kind of sheet.

    Attributes:
        label: as printed on the part.
        length: along the grain, m, long points of bevels included.
        width: across it, m.
        quantity: how many.
        may_turn: the blank may lie across the grain.
    """

    label: str
    length: float
    width: float
    quantity: int
    may_turn: bool


@record
class Spot:
    """Where one part lies on a sheet: the lower left corner of its box there.

    Attributes:
        label: of the part.
        x: m.
        y: m.
        quarters: quarter turns of its own frame, counter-clockwise, 0 to 3.
    """

    label: str
    x: float
    y: float
    quarters: int


@record
class Placed:
    """One blank on a sheet: lower left corner and the size it takes there (x by y), turned or not.

    Attributes:
        label: of the part; of several parts cut from one blank, their number and label ("8 x A3").
        x: m.
        y: m.
        length: in x, m.
        width: in y, m.
        turned: the blank lies across the grain.
        nested: the parts that come out of it where it holds several; empty where the blank is that of one part.
    """

    label: str
    x: float
    y: float
    length: float
    width: float
    turned: bool
    nested: tuple[Spot, ...] = ()


def spots(placed: Placed) -> tuple[Spot, ...]:
    """Every part that comes out of a blank, where it lies on the sheet."""
    return placed.nested or (Spot(placed.label, placed.x, placed.y, int(placed.turned)),)


@record
class Cut:
    """One straight through cut of one piece of the sheet.

    Attributes:
        piece: number of the piece that is cut; piece 0 is the whole sheet, each cut's two products are numbered in
            order of making: near side of the fence first.
        along: "length" for a cut that runs along the sheet's length (x), "width" for one that runs across it (y).
        at: distance of the near side of the kerf from the fence edge: the fence setting, m.
        from_edge: the edge of the piece that lies on the fence: "left", "right", "bottom", "top".
        parts: labels of the parts that this cut frees at once.
        gives: numbers of the two pieces it makes (-1 where that side is waste: no part in it and too small to keep).
    """

    piece: int
    along: Literal["length", "width"]
    at: float
    from_edge: Literal["left", "right", "bottom", "top"]
    parts: tuple[str, ...]
    gives: tuple[int, int]


@record
class Offcut:
    """A rectangle left over and worth keeping, m."""

    x: float
    y: float
    length: float
    width: float


def offcut_name(sheet: int, number: int) -> str:
    """How an offcut is marked, so that it is found again in the rack: its sheet, and a letter of its own there.

    Args:
        sheet: number of the layout in the plan, from 1.
        number: of the offcut among those of the sheet, from 0.

    >>> offcut_name(1, 0), offcut_name(2, 27)
    ('1a', '2bb')
    """
    again, letter = divmod(number, 26)
    return f"{sheet}{(chr(ord('a') + letter)) * (again + 1)}"


@record
class SheetLayout:
    """One way of cutting a sheet, and how many sheets are cut that way."""

    stock: SheetStock
    count: int
    placed: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]


@record
class StickPart:
    """Equal lengths to be cut from one kind of stick."""

    label: str
    length: float
    quantity: int


@record
class StickLayout:
    """One way of cutting a stick: labels and lengths in order from the end, what is left, how many are cut so."""

    stock: StickStock
    length: float
    price: float | None
    count: int
    cuts: tuple[tuple[str, float], ...]
    offcut: float


@record
class Bound:
    """How far from the best possible a plan is.

    Attributes:
        stock: name of the sheet or stick.
        used: sheets or sticks used (their cost where prices are given).
        least: no plan can use less.
        proven: ``used`` equals ``least``: no plan can be better.
        method: what gave the bound, in plain words.
        stopped: the search for a better plan was ended before its work was done.
    """

    stock: str
    used: float
    least: float
    proven: bool
    method: str
    stopped: bool = False


@record
class SheetPlan:
    """How all blanks of one kind of sheet are cut, and how far that is from the best possible."""

    layouts: tuple[SheetLayout, ...]
    bound: Bound


@record
class StickPlan:
    """How all lengths of one kind of stick are cut, and how far that is from the best possible."""

    layouts: tuple[StickLayout, ...]
    bound: Bound
