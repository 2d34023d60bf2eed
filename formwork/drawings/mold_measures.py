"""The dimensions of a mold worth drawing, found from its parts: overall sizes, heights, where the core stands."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from formwork.geometry.cells import Cell, box_of
from formwork.geometry.planes import Planes
from formwork.geometry.vectors import Vec
from formwork.molds.mold import Mold, Part
from formwork.shapes.body import envelope, former_cell
from formwork.shapes.piece import Measure, View, planar

_LEVEL = 1e-6
_SAME_LEVEL = 0.002
Box = tuple[Vec, Vec]


def mold_measures(mold: Mold, cut_at: float) -> tuple[Measure, ...]:
    """What to draw; the view "side" is the section across the mold.

    Args:
        mold: the mold.
        cut_at: x of the section, m.
    """
    parts = [part for part in mold.parts if part.cells]
    whole = box_of([cell for part in parts for cell in part.cells])
    planes = Planes()
    body = envelope(planes, mold.piece)
    return (
        *_overall(whole),
        *_heights(parts, whole, body, cut_at),
        *_cavity(body, cut_at),
        *_core(mold, planes, body, cut_at),
        *_rails(parts, whole),
    )


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


def _heights(parts: Sequence[Part], whole: Box, body: Cell, cut_at: float) -> Iterable[Measure]:
    """Base thickness, panel height, depth of the cavity and height of the core, in the section."""
    found: list[tuple[str, tuple[float, float], float]] = []
    for name, roles in (("base", ("base",)), ("panel", ("panel",)), ("core", ("core wall", "core cap"))):
        cells = [cell for part in parts if part.role in roles for cell in part.cells]
        if cells:
            low, high = box_of(cells)
            found.append((f"{name} height", (low[2], high[2]), low[1]))
    low, high = body.box()
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


def _cavity(body: Cell, cut_at: float) -> Iterable[Measure]:
    """Length and width between the panels, at the top and where it differs at the base."""
    bottom, top = body.box()[0][2], body.box()[1][2]
    at_top, at_base = (_extents(body, level) for level in (top, bottom))
    places: tuple[tuple[int, str, View], ...] = ((0, "length", "top"), (1, "width", "side"))
    for axis, word, view in places:
        spans = [("at the top", at_top, top)]
        if any(abs(at_top[axis][i] - at_base[axis][i]) > 1e-5 for i in (0, 1)):
            spans.append(("at the base", at_base, bottom))
        for where, extents, level in spans:
            at = (cut_at, extents[1][1] if axis == 0 else 0.0, level)
            yield _span(f"cavity {word} {where}", view, axis, extents[axis], at)


def _extents(body: Cell, level: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """Reach along x and along y of a cell at one of its level faces."""
    points = [p for p in body.points() if abs(p[2] - level) < _LEVEL]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), max(xs)), (min(ys), max(ys))


def _core(mold: Mold, planes: Planes, body: Cell, cut_at: float) -> Iterable[Measure]:
    """Where the cores stand, at the level they are fastened at: from panel to core and from core to core.

    Along the length for the first row of cores, across for the cores that the section meets; a gap that repeats the
    one before it is drawn once.
    """
    formers = [former for former in planar(mold.piece).formers if former.kind == "core"]
    if not formers:
        return
    hung = formers[0].seat == "hung"
    level = body.box()[1 if hung else 0][2]
    cores = [_extents(core, level) for core in (former_cell(planes, mold.piece, f) for f in formers)
             if abs(core.box()[1 if hung else 0][2] - level) < _LEVEL]  # fmt: skip
    if not cores:
        return
    outer = _extents(body, level)
    row = [x for x, y in cores if abs(y[0] - min(c[1][0] for c in cores)) < _LEVEL]
    met = [y for x, y in cores if x[0] < cut_at < x[1]]
    edge = max(y[1] for _, y in cores)
    for name, ends in _gaps(outer[0], row):
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
    """From the foot of the panels to the lower edge of each rail, in the front view.

    Rails on sides that lean differently come to nearly the same level; one of them stands for all.
    """
    panels = [cell for part in parts if part.role == "panel" for cell in part.cells]
    if not panels:
        return
    foot = box_of(panels)[0][2]
    drawn = [foot]
    for level in sorted(box_of(part.cells)[0][2] for part in parts if part.role == "rail"):
        if level - drawn[-1] > _SAME_LEVEL:
            drawn.append(level)
            yield _span(
                f"to rail {len(drawn) - 1}", "front", 2, (foot, level), (whole[1][0], whole[0][1], 0.0)
            )
