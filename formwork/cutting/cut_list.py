"""The cut list: every part of every mold and frame, equal ones together under one label."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import ceil
from string import ascii_uppercase

from formwork.geometry.outlines import Outline, Point, legs
from formwork.molds.mold import Blank, Mold, Part, Placement
from formwork.molds.structure import BuiltCentre, BuiltFrame
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
        quantity: how many are cut for all copies of the mold, layers counted one by one; of what every filling takes
            anew, for all fillings.
    """

    label: str
    mold: str
    names: tuple[str, ...]
    part: Part
    quantity: int


def cut_list(
    molds: Sequence[tuple[Mold, int]], structures: Iterable[BuiltFrame | BuiltCentre] = ()
) -> tuple[CutLine, ...]:
    """The lines of all molds, centres and frames; an owned mold gives only what each of its fillings takes.

    Molds and centres go by letters, frames by numbers.

    Args:
        molds: each mold, and how many of its pieces are wanted.
        structures: what is built and not cast.
    """
    lines: list[CutLine] = []
    for number, (mold, count) in enumerate(molds):
        letter = _letter(number)
        groups = _groups(part for part in mold.parts if part.spent or not mold.owned)
        for index, same in enumerate(groups, start=1):
            times = ceil(count / mold.piece.cavities) if same[0].spent else mold.copies
            each = len(same) * same[0].layers * times
            lines.append(
                CutLine(f"{letter}{index}", mold.name, tuple(part.name for part in same), same[0], each)
            )
        cast_in = [thing for thing in cast_in_besides(mold) if thing.length > 0.0]
        for index, thing in enumerate(cast_in, start=len(groups) + 1):
            part = _stays_in(thing, mold.piece)
            lines.append(CutLine(f"{letter}{index}", mold.name, (part.name,), part, thing.count * count))
    built = tuple(structures)
    centres = [one for one in built if isinstance(one, BuiltCentre)]
    frames = [one for one in built if isinstance(one, BuiltFrame)]
    lines.extend(
        line for number, one in enumerate(centres, start=len(molds)) for line in _of_centre(number, one)
    )
    lines.extend(line for number, one in enumerate(frames, start=1) for line in _of_frame(number, one))
    return tuple(lines)


def _groups(parts: Iterable[Part]) -> list[list[Part]]:
    """The parts, those together that one description at the saw makes."""
    groups: dict[Key, list[Part]] = {}
    for part in parts:
        groups.setdefault(_alike(part), []).append(part)
    return list(groups.values())


def _of_centre(number: int, built: BuiltCentre) -> Iterable[CutLine]:
    letter = _letter(number)
    for index, same in enumerate(_groups(built.parts), start=1):
        names = tuple(part.name for part in same)
        yield CutLine(f"{letter}{index}", built.name, names, same[0], len(same) * built.copies)


def cast_in_besides(mold: Mold) -> tuple[Embedded, ...]:
    """What stays in the pieces of a mold and is not cut among its parts, as a core tube is that is left in."""
    cut = {part.name for part in mold.parts if part.spent}
    return tuple(thing for thing in mold.piece.embedded if thing.name not in cut)


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
        part.spent,
        *(_steps(side) for side in (blank.length, blank.width, blank.thickness)),
        _steps(blank.wall),
        _canonical(blank),
    )


Corner = tuple[int, int, int, int]
"""Of an outline: x, y, how far the edge from it rises over its chord, its bevel; in steps."""
Cut = tuple[tuple[Corner, ...], tuple[tuple[int, int, int], ...], tuple[tuple[Corner, ...], ...]]
"""What is cut of a blank: outline, round holes, openings, in steps."""


def _canonical(blank: Blank) -> Cut:
    """Outline, holes and openings, the same when the blank is turned half round."""
    return min(_told(blank), _told(_half_round(blank)))


def _half_round(blank: Blank) -> Blank:
    """The blank turned by half a turn in its own plane."""

    def at(point: Point) -> Point:
        return blank.length - point[0], blank.width - point[1]

    return replace(
        blank,
        outline=tuple(at(point) for point in blank.outline),
        holes=tuple((*at((x, y)), across) for x, y, across in blank.holes),
        openings=tuple(Outline(tuple(at(p) for p in one.points), one.bulges) for one in blank.openings),
    )


def _told(blank: Blank) -> Cut:
    """Each outline from its least corner, holes and openings in an order of their own."""
    openings = (_corners(one, (0.0,) * len(one.points)) for one in blank.openings)
    holes = ((_steps(x), _steps(y), _steps(across)) for x, y, across in blank.holes)
    return _corners(blank.edge, blank.bevels), tuple(sorted(holes)), tuple(sorted(openings))


def _corners(outline: Outline, bevels: Sequence[float]) -> tuple[Corner, ...]:
    """Corners and edges of an outline in steps, from the least corner on."""
    corners = [
        (
            _steps(leg.start[0]),
            _steps(leg.start[1]),
            _steps(leg.bulge * leg.chord / 2.0),
            _steps(bevel, _ANGLE_STEP),
        )
        for leg, bevel in zip(legs(outline), bevels, strict=True)
    ]
    start = min(range(len(corners)), key=lambda i: corners[i])
    return (*corners[start:], *corners[:start])


def _steps(value: float, step: float = _LENGTH_STEP) -> int:
    """Whole steps of a length (m) or an angle (rad), the last digits of its arithmetic taken off first.

    A size that lies half way between two steps, as 3.75 mm does, then falls to one side for all parts alike.
    """
    return round(round(value, 9) / step)


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
