"""Words written on the parts of a drawing, where there is room for them and nothing is covered."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import atan2, hypot, pi

import shapely

from formwork.cutting.curves import told
from formwork.drawings.clearance import Box, Piece, crosses, line_pieces, overlap, text_boxes
from formwork.drawings.frames import Point
from formwork.drawings.layers import BEVEL, TEXTS, Layer
from formwork.drawings.scene import Circle, Item, Text, placed, text_box
from formwork.geometry.outlines import Leg, Outline, legs
from formwork.units import show

_SQUARE = 0.0044
"""An edge nearer to square than this (rad, a quarter of a degree) is cut square (ours: no table saw is set finer)."""

_RING, _NUMBER, _BESIDE = 2.1, 1.8, 0.6
"""Radius of the ring round a number, height of its figures, and how far it stands off its line, mm (ours)."""
_ALONG = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9, 0.05, 0.95)

Words = tuple[tuple[str, Layer, float], ...]
"""Lines one under the other: what is written, on which layer, the height of its capitals (mm on paper)."""


@dataclass(frozen=True, slots=True)
class _Room:
    """Where one part may be written on, mm: inside its outline, and the lines that run there."""

    region: shapely.Polygon
    lines: list[Piece]

    def holds(self, box: Box) -> bool:
        """Whether a box lies in it; one wider than the whole is told without asking for every place."""
        x0, y0, x1, y1 = self.region.bounds
        inside = all(x0 <= x <= x1 and y0 <= y <= y1 for x, y in box)
        return inside and bool(self.region.contains(shapely.Polygon(box)))


class Writer:
    """Writes on parts where nothing is covered; keeps what it wrote, m.

    Attributes:
        written: so far.
    """

    def __init__(self, drawn: Sequence[Item], n: float) -> None:
        """Begin with what is drawn (m), at a scale of 1:n."""
        self.factor = 1000.0 / n
        page = [placed(item, self.factor, (0.0, 0.0)) for item in drawn]
        self._lines: list[Piece] = [piece for item in page for piece in line_pieces(item)]
        self._texts: list[Box] = text_boxes(page)
        self.written: list[Item] = []

    def write_in(self, region: shapely.Polygon, *choices: Words) -> bool:
        """Write the first of the choices that fits inside a region (m), level or upright; whether one did."""
        room = self._room(region)
        for words in choices:
            for angle in (0.0, pi / 2.0):
                for middle in _spots(room.region):
                    texts = _block(words, middle, angle)
                    if self._free(texts, room):
                        self._keep(texts)
                        return True
        return False

    def bevels(self, region: shapely.Polygon, outline: Outline, angles: Sequence[float]) -> None:
        """The angle from square inside each edge that is not square, where there is room."""
        room = self._room(region)
        along = list(legs(outline))
        worded = told(along)
        for number, (leg, angle) in enumerate(zip(along, angles, strict=True)):
            if abs(angle) < _SQUARE or number not in worded:
                continue
            for text in self._bevel_texts(leg, show.angle(angle)):
                if self._free([text], room):
                    self._keep([text])
                    break

    def ringed(self, start: Point, end: Point, words: str, within: shapely.Polygon) -> bool:
        """A ringed number beside a line, where that covers nothing; whether there was such a place.

        Args:
            start: of the line, m.
            end: of it.
            words: the number.
            within: where it may stand, m.
        """
        room = self._room(within)
        run = hypot(end[0] - start[0], end[1] - start[1])
        ux, uy = (end[0] - start[0]) / run, (end[1] - start[1]) / run
        for part, side in product(_ALONG, (1.0, -1.0)):
            x, y = (a + part * (b - a) for a, b in zip(start, end, strict=True))
            off = side * (_RING + _BESIDE)
            centre = (x * self.factor - off * uy, y * self.factor + off * ux)
            box = _square(centre, _RING)
            clear = not any(crosses(box, line) for line in room.lines)
            if clear and room.holds(box) and not any(overlap(box, other) for other in self._texts):
                text = Text(TEXTS, (centre[0], centre[1] - _NUMBER / 2.0), words, _NUMBER, "middle")
                self._texts.append(box)
                both = (Circle(TEXTS, centre, _RING), text)
                self.written.extend(placed(item, 1.0 / self.factor, (0.0, 0.0)) for item in both)
                return True
        return False

    def _room(self, part: shapely.Polygon) -> _Room:
        region = shapely.transform(part, lambda points: points * self.factor)
        x0, y0, x1, y1 = region.bounds
        lines = [
            ((ax, ay), (bx, by))
            for (ax, ay), (bx, by) in self._lines
            if max(ax, bx) >= x0 and min(ax, bx) <= x1 and max(ay, by) >= y0 and min(ay, by) <= y1
        ]
        return _Room(region.buffer(-0.4), lines)

    def _bevel_texts(self, leg: Leg, words: str) -> Iterator[Text]:
        """Places for an edge's angle: along it, inside the outline, its middle first."""
        size = 1.8
        for part in (0.5, 0.25, 0.75):
            (x, y), (ux, uy) = _along(leg, part)
            flipped = ux < -1e-9 or (abs(ux) <= 1e-9 and uy < 0.0)
            off = 1.0 + (size if flipped else 0.0)
            turn = atan2(uy, ux) + (pi if flipped else 0.0)
            at = (x * self.factor - off * uy, y * self.factor + off * ux)
            yield Text(BEVEL, at, words, size, "middle", turn)

    def _free(self, texts: Sequence[Text], room: _Room) -> bool:
        boxes = [text_box(text) for text in texts]
        return (
            all(room.holds(box) for box in boxes)
            and not any(crosses(box, line) for box in boxes for line in room.lines)
            and not any(overlap(box, other) for box in boxes for other in self._texts)
        )

    def _keep(self, texts: Sequence[Text]) -> None:
        self._texts.extend(text_box(text) for text in texts)
        self.written.extend(placed(text, 1.0 / self.factor, (0.0, 0.0)) for text in texts)


def _square(middle: Point, half: float) -> Box:
    x, y = middle
    return ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))


def _along(leg: Leg, part: float) -> tuple[Point, Point]:
    """The point at a part of a leg, and the direction of the leg there."""
    (x0, y0), (x1, y1) = leg.start, leg.end
    if leg.bulge == 0.0:
        run = leg.chord
        return (x0 + part * (x1 - x0), y0 + part * (y1 - y0)), ((x1 - x0) / run, (y1 - y0) / run)
    arc = leg.arc()
    at, way = arc.at(part), 1.0 if arc.sweep > 0.0 else -1.0
    return at, (way * (arc.centre[1] - at[1]) / arc.radius, way * (at[0] - arc.centre[0]) / arc.radius)


def _spots(region: shapely.Polygon) -> Iterator[Point]:
    """Places to write at: the middle, then a grid over the region's box, from its middle outward."""
    if region.is_empty:
        return
    x0, y0, x1, y1 = region.bounds
    centre = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    yield centre
    grid = [(x0 + i * (x1 - x0) / 8.0, y0 + j * (y1 - y0) / 8.0) for i in range(1, 8) for j in range(1, 8)]
    yield from sorted(grid, key=lambda p: (round(hypot(p[0] - centre[0], p[1] - centre[1]), 6), p))


def _block(words: Words, middle: Point, angle: float) -> list[Text]:
    """Lines of text one under the other about a point."""
    sizes = [size for _, _, size in words]
    total = sum(sizes) + 1.6 * (len(sizes) - 1)
    texts: list[Text] = []
    at = total / 2.0
    for text, layer, size in words:
        at -= size
        offset = (0.0, at) if angle == 0.0 else (-at, 0.0)
        texts.append(Text(layer, (middle[0] + offset[0], middle[1] + offset[1]), text, size, "middle", angle))
        at -= 1.6
    return texts
