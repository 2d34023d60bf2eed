"""Views of bodies: visible edges, hidden edges and cut faces, from any side, whole or behind a section plane.

Hidden lines are found edge by edge: every surface that faces the eye and lies nearer than the edge takes its part of
the edge out of sight. What then falls on one line of the paper is drawn once, and visible goes before hidden.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, hypot, pi, tau

import shapely

from formwork.drawings.behind import behind, cut_outline
from formwork.drawings.bodies import Body, Shell, shell
from formwork.drawings.carving import facets_of
from formwork.drawings.circles import RoundStroke, Turn, reach_of, sort_circles
from formwork.drawings.frames import Frame, Point
from formwork.drawings.seams import Edge
from formwork.drawings.sight import EDGE_ON, Sight, Sightline, Spot
from formwork.drawings.strokes import SAME, Span, Stroke, minus_spans, sort_strokes
from formwork.geometry.planes import HalfSpace
from formwork.geometry.vectors import dot

_CRUMB = 1e-4
"""A visible or hidden part of an edge shorter than this (m) is a trace of the tolerance, not worth a stroke."""
_TRACE = 2e-3
"""The same for a circle, as a share of its turn."""
_MEET = 1e-6
"""Spans of a circle nearer than this share of its turn meet."""
_FULL_FACE = 1e-9


@dataclass(frozen=True, slots=True)
class CutFace:
    """What a section cuts of one body.

    Attributes:
        body: its name.
        pattern: how it is hatched.
        parts: each part's outline followed by its openings, arcs as chords, m.
        beyond: area between the arcs and their chords, m2.
    """

    body: str
    pattern: str
    parts: tuple[tuple[tuple[Point, ...], ...], ...]
    beyond: float = 0.0

    def area(self) -> float:
        """Area cut, m2."""
        return float(sum(shapely.Polygon(part[0], part[1:]).area for part in self.parts)) + self.beyond


@dataclass(frozen=True, slots=True)
class View:
    """One view, in its own axes (m).

    Attributes:
        frame: the direction of view.
        visible, hidden: straight strokes.
        circles, hidden_circles: round strokes.
        cuts: cut faces; none where the view is no section.
        spots: for each body, points of paper where it is really to be seen, the roomiest first; none
            unless asked for.
    """

    frame: Frame
    visible: tuple[Stroke, ...]
    hidden: tuple[Stroke, ...]
    circles: tuple[RoundStroke, ...]
    hidden_circles: tuple[RoundStroke, ...]
    cuts: tuple[CutFace, ...]
    spots: tuple[tuple[str, tuple[Spot, ...]], ...]

    def box(self) -> tuple[Point, Point]:
        """Least and greatest corner of everything drawn."""
        xs = [p[0] for s in (*self.visible, *self.hidden) for p in (s.start, s.end)]
        ys = [p[1] for s in (*self.visible, *self.hidden) for p in (s.start, s.end)]
        for stroke in (*self.circles, *self.hidden_circles):
            for x, y in reach_of(stroke):
                xs.append(x)
                ys.append(y)
        return (min(xs), min(ys)), (max(xs), max(ys))


def project(
    bodies: Sequence[Body | Shell], frame: Frame, cut: HalfSpace | None = None, *, spots: bool = False
) -> View:
    """The view of all bodies together.

    Args:
        bodies: what is drawn, or its shells where several views are drawn of it; earlier ones give their layer to
            edges that coincide.
        frame: direction of view.
        cut: the half-space kept behind a section plane, its outward normal toward the eye; None for a whole view.
        spots: find where each body is to be seen, for labels.
    """
    shells = [shell(one) if isinstance(one, Body) else one for one in bodies]
    if cut is not None:
        shells = [behind(one, cut) for one in shells]
    sight = Sight(shells, frame)
    drawn = _Drawn(frame)
    for one in shells:
        if cut is not None:
            for edge in cut_outline(one, cut):
                drawn.put(_Line.of(edge, one.body, frame), [], [(0.0, 1.0)])
    lines = [line for one in shells for line in _lines(one, frame)]
    asked = [line for line in lines if not line.away]
    for line in lines:
        if line.away:
            drawn.put(line, [(0.0, 1.0)], [])
    for line, spans in zip(asked, sight.covered([line.path for line in asked]), strict=True):
        clear, covered = _parted(spans, _CRUMB / line.size)
        drawn.put(line, covered, clear)
    return View(
        frame,
        *sort_strokes(drawn.seen, drawn.unseen),
        *sort_circles(*drawn.turns()),
        tuple(face for one in shells for face in cut_faces(one, frame, cut)),
        tuple((one.body.name, sight.spots(i)) for i, one in enumerate(shells) if spots),
    )


@dataclass(frozen=True, slots=True)
class _Line:
    """An edge as it falls on paper.

    Attributes:
        body: whose it is.
        path: where it falls, and how near the eye it is.
        size: its length on paper, m.
        away: both its faces look away from the eye, so that its own body hides it.
        circle: centre and radius of the true circle it is a chord of, where that is seen full face.
    """

    body: Body
    path: Sightline
    size: float
    away: bool
    circle: tuple[Point, float] | None

    @classmethod
    def of(cls, edge: Edge, body: Body, frame: Frame, *, away: bool = False) -> _Line:
        start, end = frame.flat(edge.start), frame.flat(edge.end)
        path = Sightline(start, end, (frame.depth(edge.start), frame.depth(edge.end)))
        circle = None
        if edge.circle is not None and abs(abs(dot(edge.circle.axis, frame.toward)) - 1.0) < _FULL_FACE:
            circle = (frame.flat(edge.circle.centre), edge.circle.radius)
        return cls(body, path, hypot(end[0] - start[0], end[1] - start[1]), away, circle)


def _lines(one: Shell, frame: Frame) -> Iterator[_Line]:
    """Every edge of a body that makes a line, seen or hidden: sharp ones, and bends along a silhouette."""
    for edge in one.edges:
        facing = [dot(normal, frame.toward) for normal in edge.normals]
        if edge.smooth and (facing[0] > EDGE_ON) == (facing[1] > EDGE_ON):
            continue
        away = len(facing) > 1 and max(facing) <= EDGE_ON and min(facing) < -EDGE_ON
        if away and not one.body.hidden_layer:
            continue
        line = _Line.of(edge, one.body, frame, away=away)
        if line.size >= SAME:
            yield line


class _Drawn:
    """The strokes of a view as they come, round ones gathered by their circle."""

    def __init__(self, frame: Frame) -> None:
        self.frame = frame
        self.seen: list[Stroke] = []
        self.unseen: list[Stroke] = []
        self._seen_turns: dict[_TurnKey, list[Span]] = defaultdict(list)
        self._unseen_turns: dict[_TurnKey, list[Span]] = defaultdict(list)

    def put(self, line: _Line, covered: Sequence[Span], clear: Sequence[Span]) -> None:
        """An edge, parted into what is hidden of it and what is seen."""
        for layer, spans, strokes, turns in (
            (line.body.layer, clear, self.seen, self._seen_turns),
            (line.body.hidden_layer, covered, self.unseen, self._unseen_turns),
        ):
            if not layer or not spans:
                continue
            if line.circle is None:
                strokes.extend(_part(layer, line.path.start, line.path.end, a, b) for a, b in spans)
            else:
                (x, y), radius = line.circle
                key = (layer, round(x, 7), round(y, 7), round(radius, 7))
                turns[key].extend(_turned(line.path, (x, y), spans))

    def turns(self) -> tuple[list[Turn], list[Turn]]:
        """The round strokes, seen and hidden; a crumb of one on the other falls away."""
        seen = [
            Turn(layer, (x, y), r, _merged(spans)) for (layer, x, y, r), spans in self._seen_turns.items()
        ]
        unseen = [
            Turn(layer, (x, y), r, _merged(spans)) for (layer, x, y, r), spans in self._unseen_turns.items()
        ]
        return seen, unseen


_TurnKey = tuple[str, float, float, float]


def _turned(path: Sightline, centre: Point, spans: Sequence[Span]) -> Iterator[Span]:
    """Spans of a chord as spans of its circle's turn."""
    x, y = centre
    first = atan2(path.start[1] - y, path.start[0] - x)
    sweep = (atan2(path.end[1] - y, path.end[0] - x) - first + pi) % tau - pi
    for a, b in spans:
        low, high = sorted(((first + a * sweep) / tau, (first + b * sweep) / tau))
        whole = low // 1.0
        low, high = low - whole, high - whole
        yield low, min(high, 1.0)
        if high > 1.0:
            yield 0.0, high - 1.0


def _merged(spans: Sequence[Span]) -> tuple[Span, ...]:
    """Spans of a turn put together where they meet, crumbs left out."""
    joined: list[Span] = []
    for a, b in sorted(spans):
        if joined and a - joined[-1][1] < _MEET:
            joined[-1] = (joined[-1][0], max(joined[-1][1], b))
        else:
            joined.append((a, b))
    snapped = ((0.0 if a < _MEET else a, 1.0 if b > 1.0 - _MEET else b) for a, b in joined)
    return tuple(span for span in snapped if span[1] - span[0] > _TRACE)


def _parted(covered: Sequence[Span], crumb: float) -> tuple[list[Span], list[Span]]:
    """What of 0 to 1 is clear and what is covered; crumbs of one between the other go to the other."""
    kept = [span for span in covered if span[1] - span[0] > crumb or crumb >= 1.0]
    clear = [span for span in minus_spans([(0.0, 1.0)], kept) if span[1] - span[0] > crumb or not kept]
    return clear, minus_spans([(0.0, 1.0)], clear)


def _part(layer: str, start: Point, end: Point, a: float, b: float) -> Stroke:
    return Stroke(layer, _along(start, end, a), _along(start, end, b))


def _along(start: Point, end: Point, t: float) -> Point:
    if t in (0.0, 1.0):
        return start if t == 0.0 else end
    return (start[0] + t * (end[0] - start[0]), start[1] + t * (end[1] - start[1]))


def cut_faces(one: Shell, frame: Frame, cut: HalfSpace | None) -> Iterator[CutFace]:
    """What a section cuts of one body that is already cut, as a view shows it."""
    if cut is None or one.cut is None:
        return
    parts = []
    for facet in facets_of(one.cut, cut.normal, cut.offset):
        parts.append(tuple(tuple(frame.flat(p) for p in ring) for ring in facet.rings))
    beyond = one.arcs.beyond(one.cut, cut.normal) if one.arcs else 0.0
    yield CutFace(one.body.name, one.body.pattern, tuple(parts), beyond)
