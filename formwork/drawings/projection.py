"""Views of bodies: visible edges, hidden edges and cut faces, from any side, whole or behind a section plane.

Hidden lines are found edge by edge: every surface that faces the eye and lies nearer than the edge takes its part of
the edge out of sight. What then falls on one line of the paper is drawn once, and visible goes before hidden.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import acos, atan2, cos, hypot, pi, sin

import shapely

from formwork.drawings.bodies import (
    Body,
    Rim,
    Segment,
    Shell,
    Surface,
    in_space,
    rings,
    segment_behind,
    shell,
)
from formwork.drawings.circles import RoundStroke, Turn, sort_circles
from formwork.drawings.frames import Frame, Point
from formwork.drawings.sight import EDGE_ON, NEARER, Sight, Source, Spot
from formwork.drawings.strokes import SAME, Span, Stroke, minus_spans, sort_strokes
from formwork.geometry.planes import HalfSpace
from formwork.geometry.rounds import Round
from formwork.geometry.vectors import Vec, across, add, dot, scale

_ARC_STEPS = 72
_CRUMB = 1e-4
"""A visible or hidden part of an edge shorter than this (m) is a trace of the tolerance, not worth a stroke."""
_TRACE = 2e-3
"""The same for a circle, as a share of its turn."""


@dataclass(frozen=True, slots=True)
class CutFace:
    """What a section cuts of one body: each part's outline followed by its openings, m."""

    body: str
    pattern: str
    parts: tuple[tuple[tuple[Point, ...], ...], ...]

    def area(self) -> float:
        """Area cut, m2."""
        return float(sum(shapely.Polygon(part[0], part[1:]).area for part in self.parts))


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
        for c in (*self.circles, *self.hidden_circles):
            xs += [c.centre[0] - c.radius, c.centre[0] + c.radius]
            ys += [c.centre[1] - c.radius, c.centre[1] + c.radius]
        return (min(xs), min(ys)), (max(xs), max(ys))


def project(
    bodies: Sequence[Body], frame: Frame, cut: HalfSpace | None = None, *, spots: bool = False
) -> View:
    """The view of all bodies together.

    Args:
        bodies: what is drawn; earlier ones give their layer to edges that coincide.
        frame: direction of view.
        cut: the half-space kept behind a section plane, its outward normal toward the eye; None for a whole view.
        spots: find where each body is to be seen, for labels.
    """
    shells = [shell(body, cut) for body in bodies]
    sight = Sight(shells, frame)
    seen: list[Stroke] = []
    unseen: list[Stroke] = []
    turns: list[Turn] = []
    unseen_turns: list[Turn] = []
    for owner, one in enumerate(shells):
        for segment, barrel in _all_segments(one, frame, cut):
            _classify(segment, one.body, sight, (owner, barrel), seen, unseen)
        for rim, barrel in _round_rims(one, frame, cut):
            _classify_rim(rim, one.body, sight, (owner, barrel), turns, unseen_turns)
    return View(
        frame,
        *sort_strokes(seen, unseen),
        *sort_circles(turns, unseen_turns),
        tuple(face for one in shells for face in _cut_faces(one, frame, cut)),
        tuple((one.body.name, sight.spots(i)) for i, one in enumerate(shells) if spots),
    )


def _all_segments(one: Shell, frame: Frame, cut: HalfSpace | None) -> Iterator[tuple[Segment, int]]:
    """Straight edges, the outlines of round sides, and round edges not seen full face as short chords.

    Each with the number of its round side, -1 for a straight edge.
    """
    for segment in one.segments:
        yield segment, -1
    curved = [(segment, i) for i, barrel in enumerate(one.barrels) for segment in _outline(barrel, frame)]
    for i, rim in enumerate(one.rims):
        if not _full_face(rim.axis, frame) or not _whole(rim, cut):
            curved.extend((chord, i // 2) for chord in _chords(rim))
    for segment, barrel in curved:
        kept = segment if cut is None else segment_behind(segment, cut)
        if kept is not None:
            yield kept, barrel


def _outline(barrel: Round, frame: Frame) -> Iterator[Segment]:
    """The two generators of a cone frustum along which the line of sight grazes it."""
    u, v = across(barrel.axis)
    toward = frame.toward
    lean = (barrel.foot_radius - barrel.head_radius) / barrel.length
    p, q = dot(u, toward), dot(v, toward)
    size = hypot(p, q)
    need = -lean * dot(barrel.axis, toward)
    if size < EDGE_ON or abs(need) >= size:
        return
    middle, spread = atan2(q, p), acos(need / size)
    for angle in (middle - spread, middle + spread):
        way = add(scale(u, cos(angle)), scale(v, sin(angle)))
        foot = add(barrel.foot, scale(way, barrel.foot_radius))
        yield foot, add(barrel.head(), scale(way, barrel.head_radius))


def _full_face(axis: Vec, frame: Frame) -> bool:
    return abs(abs(dot(axis, frame.toward)) - 1.0) < 1e-9


def _whole(rim: Rim, cut: HalfSpace | None) -> bool:
    """A circle seen full face lies square to the cut's normal: it is kept whole or lost whole."""
    return cut is None or cut.depth(rim.centre) >= -NEARER


def _round_rims(one: Shell, frame: Frame, cut: HalfSpace | None) -> Iterator[tuple[Rim, int]]:
    for i, rim in enumerate(one.rims):
        if _full_face(rim.axis, frame) and _whole(rim, cut):
            yield rim, i // 2


def _chords(rim: Rim) -> Iterator[Segment]:
    points = _circle(rim)
    yield from zip(points, (*points[1:], points[0]), strict=True)


def _circle(rim: Rim) -> list[Vec]:
    u, v = across(rim.axis)
    angles = [2.0 * pi * i / _ARC_STEPS for i in range(_ARC_STEPS)]
    r = rim.radius
    return [add(rim.centre, add(scale(u, r * cos(a)), scale(v, r * sin(a)))) for a in angles]


def _classify(
    segment: Segment, body: Body, sight: Sight, source: Source, seen: list[Stroke], unseen: list[Stroke]
) -> None:
    """Part one edge into what is seen and what is not."""
    frame = sight.frame
    start, end = frame.flat(segment[0]), frame.flat(segment[1])
    size = hypot(end[0] - start[0], end[1] - start[1])
    if size < SAME:
        return
    depths = frame.depth(segment[0]), frame.depth(segment[1])
    clear, covered = _parted(sight.covered(start, end, depths, source), _CRUMB / size)
    seen.extend(_part(body.layer, start, end, a, b) for a, b in clear)
    if body.hidden_layer:
        unseen.extend(_part(body.hidden_layer, start, end, a, b) for a, b in covered)


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


def _classify_rim(
    rim: Rim, body: Body, sight: Sight, source: Source, seen: list[Turn], unseen: list[Turn]
) -> None:
    """Part a circle seen full face into what is seen of its turn and what is not."""
    centre = sight.frame.flat(rim.centre)
    depth = sight.frame.depth(rim.centre)
    angles = [2.0 * pi * i / _ARC_STEPS for i in range(_ARC_STEPS + 1)]
    points = [(centre[0] + rim.radius * cos(a), centre[1] + rim.radius * sin(a)) for a in angles]
    spans: list[Span] = []
    for i in range(_ARC_STEPS):
        for a, b in sight.covered(points[i], points[i + 1], (depth, depth), source):
            spans.append(((i + a) / _ARC_STEPS, (i + b) / _ARC_STEPS))
    clear, covered = _parted(minus_spans([(0.0, 1.0)], minus_spans([(0.0, 1.0)], spans)), _TRACE)
    seen.append(Turn(body.layer, centre, rim.radius, tuple(clear)))
    if body.hidden_layer:
        unseen.append(Turn(body.hidden_layer, centre, rim.radius, tuple(covered)))


def _cut_faces(one: Shell, frame: Frame, cut: HalfSpace | None) -> Iterator[CutFace]:
    if cut is None or one.cut is None:
        return
    surface = Surface(cut.normal, cut.offset, one.cut)
    parts = []
    for part in shapely.get_parts(one.cut):
        parts.append(tuple(tuple(frame.flat(in_space(surface, p)) for p in ring) for ring in rings(part)))
    yield CutFace(one.body.name, one.body.pattern, tuple(parts))
