"""The cut list: every part of every mold and frame, equal ones together under one label."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from string import ascii_uppercase

from formwork.molds.framed import BuiltFrame
from formwork.molds.mold import Blank, Mold, Part, Placement
from formwork.record import record
from formwork.shapes.piece import Embedded, Piece

_LENGTH_STEP = 1e-4
_ANGLE_STEP = 2e-4

Key = tuple[object, ...]


@record
class CutLine:
    """One line of the cut list: equal parts of one mold or frame under one label.

    Attributes:
        label: as written on the part, unique in the plan ("A3": mold A, third line; "1C": frame 1, its class C).
        mold: name of the mold or frame.
        names: names of the parts it stands for in one mold.
        part: one of them.
        quantity: how many are cut for all copies of the mold, layers counted one by one.
    """

    label: str
    mold: str
    names: tuple[str, ...]
    part: Part
    quantity: int


def cut_list(molds: Iterable[tuple[Mold, int]], frames: Iterable[BuiltFrame] = ()) -> tuple[CutLine, ...]:
    """The lines of all molds and frames; a mold the shop owns gives only what stays in its pieces.

    Args:
        molds: each mold, and how many of its pieces are wanted.
        frames: each frame.
    """
    lines: list[CutLine] = []
    for number, (mold, count) in enumerate(molds):
        letter = _letter(number)
        groups: dict[Key, list[Part]] = {}
        for part in () if mold.owned else mold.parts:
            groups.setdefault(_alike(part), []).append(part)
        for index, same in enumerate(groups.values(), start=1):
            each = len(same) * same[0].layers * mold.copies
            lines.append(
                CutLine(f"{letter}{index}", mold.name, tuple(part.name for part in same), same[0], each)
            )
        for index, thing in enumerate(mold.piece.embedded, start=len(groups) + 1):
            part = _stays_in(thing, mold.piece)
            lines.append(CutLine(f"{letter}{index}", mold.name, (part.name,), part, thing.count * count))
    lines.extend(line for number, frame in enumerate(frames, start=1) for line in _of_frame(number, frame))
    return tuple(lines)


def _of_frame(number: int, built: BuiltFrame) -> Iterable[CutLine]:
    """A line for each class of pipes, which keeps its letter."""
    for cut in built.cuts:
        label = f"{number}{cut.letter}"
        yield CutLine(label, built.name, (cut.part.name,), cut.part, cut.each * built.copies)


def _letter(number: int) -> str:
    """A, B, ... Z, AA, AB, ..."""
    first, last = divmod(number, 26)
    return (ascii_uppercase[first - 1] if first else "") + ascii_uppercase[last]


def _alike(part: Part) -> Key:
    """Equal for parts that one description at the saw makes."""
    blank = part.blank
    return (
        part.role,
        part.kind,
        part.stock,
        part.layers,
        part.good_face,
        *(_steps(side) for side in (blank.length, blank.width, blank.thickness)),
        _canonical(blank),
        tuple(tuple(_steps(value) for value in hole) for hole in blank.holes),
    )


def _canonical(blank: Blank) -> tuple[tuple[int, int, int], ...]:
    """Outline and bevels, told from the least corner, the same when the blank is turned half round."""
    edges = [
        (_steps(x), _steps(y), _steps(bevel, _ANGLE_STEP))
        for (x, y), bevel in zip(blank.outline, blank.bevels, strict=True)
    ]
    length, width = _steps(blank.length), _steps(blank.width)
    half_round = [(length - x, width - y, bevel) for x, y, bevel in edges]
    return min(_from_least(edges), _from_least(half_round))


def _steps(value: float, step: float = _LENGTH_STEP) -> int:
    """Whole steps of a length (m) or an angle (rad), the last digits of its arithmetic taken off first.

    A size that lies half way between two steps, as 3.75 mm does, then falls to one side for all parts alike.
    """
    return round(round(value, 9) / step)


def _from_least(edges: Sequence[tuple[int, int, int]]) -> tuple[tuple[int, int, int], ...]:
    start = min(range(len(edges)), key=lambda i: edges[i])
    return (*edges[start:], *edges[:start])


def _stays_in(thing: Embedded, piece: Piece) -> Part:
    """What stays in a piece, as a part to cut and count."""
    length, width = thing.length, thing.width or thing.diameter
    outline = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    return Part(
        name=thing.name,
        role="embedded",
        kind="hardware",
        stock=thing.item,
        group=piece.name,
        cells=(),
        blank=Blank(length, width, thing.diameter, outline, (0.0,) * 4),
        placement=Placement((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    )
