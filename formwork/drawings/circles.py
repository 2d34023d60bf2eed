"""Round strokes on paper: circles and arcs, each drawn once, visible before hidden. Lengths in m."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import ceil, cos, floor, pi, sin

from formwork.drawings.frames import Point
from formwork.drawings.strokes import SAME, Span, minus_spans

_LEAST = 2e-3
"""A span of a circle shorter than this share of the turn is a trace of reckoning with chords."""


@dataclass(frozen=True, slots=True)
class RoundStroke:
    """A circle (start 0, end 2 pi) or an arc, counter-clockwise, m and rad."""

    layer: str
    centre: Point
    radius: float
    start: float
    end: float


def reach_of(stroke: RoundStroke) -> Iterator[Point]:
    """The ends of an arc, and where it reaches furthest along the axes of the paper."""
    quarter = pi / 2.0
    first, last = ceil(stroke.start / quarter), floor(stroke.end / quarter)
    for angle in (stroke.start, *(k * quarter for k in range(first, last + 1)), stroke.end):
        x, y = stroke.centre
        yield (x + stroke.radius * cos(angle), y + stroke.radius * sin(angle))


@dataclass(frozen=True, slots=True)
class Turn:
    """Spans of a circle, as fractions of its turn, on one layer."""

    layer: str
    centre: Point
    radius: float
    spans: tuple[Span, ...]


@dataclass(slots=True)
class _Ring:
    centre: Point
    radius: float
    seen: list[Turn] = field(default_factory=list)
    unseen: list[Turn] = field(default_factory=list)

    def carries(self, turn: Turn) -> bool:
        return (
            abs(self.centre[0] - turn.centre[0]) < SAME
            and abs(self.centre[1] - turn.centre[1]) < SAME
            and abs(self.radius - turn.radius) < SAME
        )


def sort_circles(
    seen: Sequence[Turn], unseen: Sequence[Turn]
) -> tuple[tuple[RoundStroke, ...], tuple[RoundStroke, ...]]:
    """Every circle of the paper drawn once: hidden arcs only where none is seen."""
    rings: list[_Ring] = []
    for turn, is_seen in [(t, True) for t in seen] + [(t, False) for t in unseen]:
        ring = next((r for r in rings if r.carries(turn)), None)
        if ring is None:
            ring = _Ring(turn.centre, turn.radius)
            rings.append(ring)
        (ring.seen if is_seen else ring.unseen).append(turn)
    visible: list[RoundStroke] = []
    hidden: list[RoundStroke] = []
    for ring in rings:
        taken: list[Span] = []
        visible.extend(_laid(ring.seen, taken))
        hidden.extend(_laid(ring.unseen, taken))
    return tuple(visible), tuple(hidden)


def _laid(turns: Sequence[Turn], taken: list[Span]) -> Iterator[RoundStroke]:
    """What of the turns is not yet taken, as arcs; notes it as taken."""
    for turn in turns:
        free = minus_spans(turn.spans, taken, _LEAST)
        taken.extend(free)
        yield from _arcs(turn, free)


def _arcs(turn: Turn, spans: list[Span]) -> Iterator[RoundStroke]:
    """Arcs of the spans; one that ends where the turn begins is joined to the first."""
    if len(spans) > 1 and spans[0][0] == 0.0 and spans[-1][1] == 1.0:
        spans = [*spans[1:-1], (spans[-1][0], spans[0][1] + 1.0)]
    for a, b in spans:
        yield RoundStroke(turn.layer, turn.centre, turn.radius, 2.0 * pi * a, 2.0 * pi * b)
