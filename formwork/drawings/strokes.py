"""Straight strokes on paper: spans of a line, and putting together what falls on one line. Lengths in m."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import hypot
from typing import Any

import numpy as np

from formwork.drawings.frames import Point

SAME = 1e-6
"""Two lines of the paper nearer than this (m) are one line."""

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight line on a layer."""

    layer: str
    start: Point
    end: Point

    def length(self) -> float:
        """Length, m."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])


def minus_spans(whole: Iterable[Span], taken: Iterable[Span], least: float = 1e-9) -> list[Span]:
    """The spans without those taken, in order; what is shorter than ``least`` falls away.

    >>> minus_spans([(0.0, 1.0)], [(0.25, 0.5), (0.4, 0.75)])
    [(0.0, 0.25), (0.75, 1.0)]
    """
    gone = sorted(taken)
    left: list[Span] = []
    for start, end in sorted(whole):
        at = start
        for a, b in gone:
            if b <= at:
                continue
            if a >= end:
                break
            if a - at > least:
                left.append((at, a))
            at = max(at, b)
        if end - at > least:
            left.append((at, end))
    return left


@dataclass(slots=True)
class _Carrier:
    """A line of the paper that strokes lie on: a point, its direction, and the strokes as spans along it."""

    origin: Point
    way: Point
    seen: list[tuple[str, Span]] = field(default_factory=list)
    unseen: list[tuple[str, Span]] = field(default_factory=list)

    def span(self, stroke: Stroke) -> Span:
        a, b = (
            self.way[0] * (p[0] - self.origin[0]) + self.way[1] * (p[1] - self.origin[1])
            for p in (stroke.start, stroke.end)
        )
        return (min(a, b), max(a, b))

    def stroke(self, layer: str, span: Span) -> Stroke:
        a, b = ((self.origin[0] + t * self.way[0], self.origin[1] + t * self.way[1]) for t in span)
        return Stroke(layer, a, b)


def sort_strokes(
    seen: Sequence[Stroke], unseen: Sequence[Stroke]
) -> tuple[tuple[Stroke, ...], tuple[Stroke, ...]]:
    """Every line of the paper drawn once: strokes on one line put together, hidden ones only where none is seen.

    Where visible strokes of two layers coincide the first one's layer stays.
    """
    carriers: list[_Carrier] = []
    known = np.zeros((len(seen) + len(unseen), 4))
    for stroke, is_seen in sorted(
        [(s, True) for s in seen] + [(s, False) for s in unseen], key=lambda pair: -round(pair[0].length(), 7)
    ):
        number = _carried(known[: len(carriers)], stroke)
        if number is None:
            number = len(carriers)
            carriers.append(_carrier(stroke))
            known[number] = (*carriers[-1].origin, *carriers[-1].way)
        carrier = carriers[number]
        (carrier.seen if is_seen else carrier.unseen).append((stroke.layer, carrier.span(stroke)))
    visible: list[Stroke] = []
    hidden: list[Stroke] = []
    for carrier in carriers:
        shown = _laid(carrier.seen, [])
        visible.extend(carrier.stroke(layer, span) for layer, span in shown)
        under = _laid(carrier.unseen, [span for _, span in shown])
        hidden.extend(carrier.stroke(layer, span) for layer, span in under)
    return tuple(visible), tuple(hidden)


def _carried(known: Any, stroke: Stroke) -> int | None:
    """Number of the first of the lines, each a point and a direction, that both ends of a stroke lie on."""
    x, y, way_x, way_y = known.T
    near = np.ones(len(known), dtype=bool)
    for p in (stroke.start, stroke.end):
        near &= np.abs(way_x * (p[1] - y) - way_y * (p[0] - x)) < SAME
    first = int(near.argmax()) if len(known) else 0
    return first if len(known) and near[first] else None


def _carrier(stroke: Stroke) -> _Carrier:
    start, end = sorted((stroke.start, stroke.end))
    size = hypot(end[0] - start[0], end[1] - start[1])
    return _Carrier(start, ((end[0] - start[0]) / size, (end[1] - start[1]) / size))


def _laid(strokes: Sequence[tuple[str, Span]], taken: Sequence[Span]) -> list[tuple[str, Span]]:
    """Spans on one line, none over another or over those taken, and joined where they meet on one layer."""
    gone = list(taken)
    laid: list[tuple[str, Span]] = []
    for layer, span in strokes:
        for part in minus_spans([span], gone, SAME):
            laid.append((layer, part))
            gone.append(part)
    laid.sort(key=lambda entry: entry[1])
    joined: list[tuple[str, Span]] = []
    for layer, (a, b) in laid:
        if joined and joined[-1][0] == layer and a - joined[-1][1][1] < SAME:
            joined[-1] = (layer, (joined[-1][1][0], b))
        else:
            joined.append((layer, (a, b)))
    return joined
