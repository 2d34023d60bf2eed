"""The dimensions of a mold worth drawing, found from its parts: overall sizes, heights, where the core stands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from formwork.drawings.extents import Box, Reach, body_box, level_reach, part_box, parts_box, standing
from formwork.geometry.cells import Cell
from formwork.geometry.planes import Planes
from formwork.geometry.prisms import Prism
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec
from formwork.molds.mold import Mold, Part, PartRole
from formwork.shapes.body import envelope, former_cell
from formwork.shapes.piece import Curved, Measure, Piece, View, planar

_LEVEL = 1e-6
_SAME_LEVEL = 0.002
_LEAST_WIDTH = 0.002
_LINING: tuple[PartRole, ...] = ("panel", "skin", "tube")
_HEIGHTS: tuple[tuple[str, tuple[PartRole, ...]], ...] = (
    ("base", ("base",)),
    ("panel", _LINING),
    ("core", ("core wall", "core cap", "core rib")),
)

Shape = Cell | Turned | Prism


def mold_measures(mold: Mold, cut_at: float) -> tuple[Measure, ...]:
    """What to draw; the view "side" is the section across the mold.

    Args:
        mold: the mold.
        cut_at: x of the section, m.
    """
    parts = standing(mold.parts)
    whole = parts_box(parts)
    outside = _outside(mold.piece)
    return (
        *_overall(whole),
        *_heights(parts, whole, body_box(outside), cut_at),
        *_cavity(outside, cut_at),
        *_core(mold.piece, outside, cut_at),
        *_rails(parts, whole),
    )


def _outside(piece: Piece) -> Shape:
    """What encloses the piece."""
    return piece.form.outside if isinstance(piece.form, Curved) else envelope(Planes(), piece)


def _cores(piece: Piece) -> list[tuple[Shape, bool]]:
    """The cores of a piece, each with whether it hangs from bars."""
    if isinstance(piece.form, Curved):
        return [(one.body, one.seat == "hung") for one in piece.form.formers if one.kind == "core"]
    planes = Planes()
    formers = [former for former in planar(piece).formers if former.kind == "core"]
    return [(former_cell(planes, piece, former), former.seat == "hung") for former in formers]


def _span(name: str, view: View, axis: int, ends: tuple[float, float], at: Vec) -> Measure:
    """A measure along an axis, at a point given by its other two coordinates."""
    start, end = list(at), list(at)
    start[axis], end[axis] = ends
    return Measure(name, view, (start[0], start[1], start[2]), (end[0], end[1], end[2]))


def _overall(box: Box) -> tuple[Measure, ...]:
    low, high = box
    return (
        _span("overall length", "top", 0, (low[0], high[0]), low),
        _span("overall width", "top", 1, (low[1], high[1]), low),
        _span("overall height", "front", 2, (low[2], high[2]), low),
    )


def _heights(parts: Sequence[Part], whole: Box, cavity: Box, cut_at: float) -> Iterable[Measure]:
    """Base thickness, panel height, depth of the cavity and height of the core, in the section."""
    found: list[tuple[str, tuple[float, float], float]] = []
    for name, roles in _HEIGHTS:
        own = [part for part in parts if part.role in roles]
        if own:
            low, high = parts_box(own)
            found.append((f"{name} height", (low[2], high[2]), low[1]))
    low, high = cavity
    found.append(("cavity depth", (low[2], high[2]), high[1]))
    total = (whole[0][2], whole[1][2])
    for name, ends, y in _different(found, total):
        yield _span(name, "side", 2, ends, (cut_at, y, 0.0))


def _different(
    found: Sequence[tuple[str, tuple[float, float], float]], total: tuple[float, float]
) -> Iterable[tuple[str, tuple[float, float], float]]:
    """Each span once, and none that repeats the overall one."""
    seen = [total]
    for name, ends, at in found:
        if not any(abs(ends[0] - a) < _LEVEL and abs(ends[1] - b) < _LEVEL for a, b in seen):
            seen.append(ends)
            yield name, ends, at


def _cavity(outside: Shape, cut_at: float) -> Iterable[Measure]:
    """Length and width between the panels, or the diameter, at the top and where it differs at the base."""
    low, high = body_box(outside)
    levels = [("at the top", high[2]), ("at the base", low[2])]
    found = [(where, level, _extents(outside, level)) for where, level in levels]
    wide = [(where, level, reach) for where, level, reach in found if reach and _wide(reach)]
    for axis, word, view in _ways(outside):
        drawn: list[Reach] = []
        for where, level, reach in wide:
            if not any(all(abs(reach[axis][i] - one[i]) < 1e-5 for i in (0, 1)) for one in drawn):
                drawn.append(reach[axis])
                at = (cut_at, reach[1][1] if axis == 0 else 0.0, level)
                yield _span(f"cavity {word} {where}", view, axis, reach[axis], at)


def _ways(outside: Shape) -> tuple[tuple[int, str, View], ...]:
    """Along which axes a cavity is measured, what that is called, and in which view it is drawn."""
    if isinstance(outside, Turned):
        return ((1, "diameter", "side"),)
    return ((0, "length", "top"), (1, "width", "side"))


def _wide(reach: tuple[Reach, Reach]) -> bool:
    return all(high - low > _LEAST_WIDTH for low, high in reach)


def _extents(body: Shape, level: float) -> tuple[Reach, Reach] | None:
    """Reach along x and along y of a body at a level; None where it does not come there."""
    if not isinstance(body, Cell):
        return level_reach(body, level)
    points = [p for p in body.points() if abs(p[2] - level) < _LEVEL]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return ((min(xs), max(xs)), (min(ys), max(ys))) if points else None


def _core(piece: Piece, outside: Shape, cut_at: float) -> Iterable[Measure]:
    """Where the cores stand, at the level they are fastened at: from panel to core and from core to core.

    Along the length for the first row of cores, across for the cores that the section meets; a gap that repeats the
    one before it is drawn once. What is round is measured across alone.
    """
    found = _cores(piece)
    if not found:
        return
    end = 1 if found[0][1] else 0
    level = body_box(outside)[end][2]
    outer = _extents(outside, level)
    cores = [_extents(core, level) for core, _ in found if abs(body_box(core)[end][2] - level) < _LEVEL]
    standing = [reach for reach in cores if reach is not None]
    if not standing or outer is None:
        return
    row = [x for x, y in standing if abs(y[0] - min(c[1][0] for c in standing)) < _LEVEL]
    met = [y for x, y in standing if x[0] < cut_at < x[1]]
    edge = max(y[1] for _, y in standing)
    for name, ends in () if isinstance(outside, Turned) else _gaps(outer[0], row):
        yield _span(f"{name}, along", "top", 0, ends, (0.0, edge, level))
    for name, ends in _gaps(outer[1], met):
        yield _span(f"{name}, across", "side", 1, ends, (cut_at, 0.0, level))


def _gaps(
    panels: tuple[float, float], cores: Sequence[tuple[float, float]]
) -> Iterable[tuple[str, tuple[float, float]]]:
    """The clear distances between the near panel and the cores in a row."""
    before, name = panels[0], "panel to core"
    drawn: list[float] = []
    for start, end in sorted(set(cores)):
        if start - before > _LEVEL and not any(abs(start - before - gap) < 1e-5 for gap in drawn):
            drawn.append(start - before)
            yield name, (before, start)
        before, name = end, "core to core"


def _rails(parts: Sequence[Part], whole: Box) -> Iterable[Measure]:
    """From the foot of the panels to the lower edge of each rail or ring, in the front view.

    Rails on sides that lean differently come to nearly the same level; one of them stands for all. What lies on the
    one below it is not measured: its place follows from the thickness.
    """
    lining = [part for part in parts if part.role in _LINING]
    if not lining:
        return
    foot = parts_box(lining)[0][2]
    for word in ("rail", "ring"):
        boxes = [part_box(part) for part in parts if part.role == word]
        levels = sorted((low[2], high[2]) for low, high in boxes)
        for number, level in enumerate(_apart(foot, levels), start=1):
            yield _span(f"to {word} {number}", "front", 2, (foot, level), (whole[1][0], whole[0][1], 0.0))


def _apart(foot: float, levels: Iterable[Reach]) -> Iterator[float]:
    """The lower edges that are neither at the foot, nor at one drawn before, nor on top of the one below."""
    drawn, top = foot, foot
    for low, high in levels:
        if low - drawn > _SAME_LEVEL and abs(low - top) > _SAME_LEVEL:
            yield low
        drawn, top = max(drawn, low), max(top, high)
