"""The skin of a dome's form: gores bent flat over the ribs, as they stand in the mold and as they are cut.

In the mold a gore is a chain of plane strips between levels close together; its edges lie in the planes of the ribs,
or stay back from them beside a key rib, whose own edge is the face there. The blank is the exact flat pattern.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from math import ceil, cos, dist, pi, sin

from formwork.geometry.cells import Cell
from formwork.geometry.gores import half_width, offset_line, ordinate
from formwork.geometry.meridians import Meridian
from formwork.geometry.outlines import Point
from formwork.geometry.vectors import Vec
from formwork.molds.dome.form import DomeForm, Side, bay_cell, squeezed
from formwork.molds.mold import Blank, Part, Placement
from formwork.record import record

_TURN = pi / 32.0
"""Most that the meridian turns within one plane strip, rad."""
_ORDINATES = 24
"""Ordinates of a flat pattern, from its lower to its upper end."""


@record
class Chain:
    """The skin of a bay in the plane of its middle: its face and its back, from the lower end to the upper.

    Attributes:
        polars: polar angle of each corner of the face; that of the springing again for the end of the skirt.
        front: corners of the face, (u, z).
        back: corners of the back, as many.
    """

    polars: tuple[float, ...]
    front: tuple[Point, ...]
    back: tuple[Point, ...]


def upper_end(form: DomeForm, side: Side) -> float:
    """Polar angle at which a form's skin ends at the crown."""
    return form.face(side).at_radius(form.top)


def skirt(form: DomeForm) -> float:
    """How far the inner skin runs on straight below the springing, past the board that the shell stands on, m."""
    turn = form.shell.inside.springing
    (du, dz), (su, sz) = (cos(turn), -sin(turn)), form.seat
    return form.ply / abs(du * sz - dz * su)


def chain(form: DomeForm, side: Side) -> Chain:
    """The skin of a bay of one of the forms."""
    face = form.face(side)
    low, high = face.springing, upper_end(form, side)
    marks = {*form.splits, *((form.key_end,) if side == "inner" else ())}
    stops = _stops((low, *sorted((one for one in marks if high < one < low), reverse=True), high))
    front = [squeezed(form, face.point(stop)) for stop in stops]
    by = form.lining if side == "inner" else -form.lining
    if side == "inner":
        (r, z), run = face.point(low), skirt(form)
        front.insert(0, squeezed(form, (r + run * cos(low), z - run * sin(low))))
        stops = (low, *stops)
    back = list(offset_line(tuple(front), by))
    top = front[-1][0]
    back[-1] = _met(back[-2], back[-1], (top, 0.0), (0.0, 1.0))
    if side == "outer":
        seat = (form.seat[0] * cos(form.half), form.seat[1])
        back[0] = _met(back[1], back[0], front[0], seat)
    return Chain(tuple(stops), tuple(front), tuple(back))


def behind(line: Chain, low: float, high: float) -> list[Point]:
    """The back of a bay's skin from one polar angle up to a smaller one, as far as the skin goes."""
    low, high = min(low, line.polars[0]), max(high, line.polars[-1])
    inside = [p for turn, p in zip(line.polars, line.back, strict=True) if high < turn < low]
    return [_back_at(line, low), *inside, _back_at(line, high)]


def _back_at(line: Chain, polar: float) -> Point:
    for i in range(len(line.polars) - 1):
        first, last = line.polars[i], line.polars[i + 1]
        if last <= polar <= first and first > last:
            share = (first - polar) / (first - last)
            (u0, z0), (u1, z1) = line.back[i], line.back[i + 1]
            return u0 + share * (u1 - u0), z0 + share * (z1 - z0)
    return line.back[0]


def _stops(ends: Sequence[float]) -> tuple[float, ...]:
    """Polar angles close enough together, the ends and what lies between them among them."""
    found = [ends[0]]
    for low, high in pairwise(ends):
        steps = max(1, ceil((low - high) / _TURN - 1e-9))
        found += [*(low + (high - low) * i / steps for i in range(1, steps)), high]
    return tuple(found)


def _met(a: Point, b: Point, at: Point, way: Point) -> Point:
    """Where the line through a and b meets the line through a point."""
    (ax, ay), (dx, dy) = a, (b[0] - a[0], b[1] - a[1])
    share = ((at[0] - ax) * way[1] - (at[1] - ay) * way[0]) / (dx * way[1] - dy * way[0])
    return ax + share * dx, ay + share * dy


def beside(form: DomeForm, side: Side, bay: int, polar: float) -> tuple[float, float]:
    """How far the skin of a bay stays back from the planes of its two ribs, above a polar angle, m."""
    if side == "outer" or polar < form.key_end - 1e-12:
        return 0.0, 0.0
    wide, ribs = form.key * form.ply, form.key_ribs
    return (wide if bay % form.count in ribs else 0.0), (wide if (bay + 1) % form.count in ribs else 0.0)


def skins(form: DomeForm, side: Side) -> Iterator[Part]:
    """Every gore of a form, parted where it is longer than the sheet is wide."""
    line = chain(form, side)
    cuts = [0, *(line.polars.index(one) for one in form.splits if one in line.polars), len(line.polars) - 1]
    for bay in range(form.count):
        for number, (first, last) in enumerate(pairwise(cuts), start=1):
            yield _gore(form, side, bay, line, (first, last), _name(side, bay, number, len(cuts) - 1))


def _name(side: Side, bay: int, number: int, of: int) -> str:
    plain = f"{side} gore {bay + 1}"
    return plain if of == 1 else f"{plain} part {number}"


def _gore(form: DomeForm, side: Side, bay: int, line: Chain, ends: tuple[int, int], name: str) -> Part:
    middle = form.bearing(bay + 0.5)
    cells = tuple(_strip_cell(form, side, bay, line, i, name) for i in range(*ends))
    return Part(
        name=name,
        role="skin",
        kind="panel",
        stock=form.skin.name,
        group=form.section_of(side, bay).name,
        cells=cells,
        blank=pattern_blank(form, side, bay, line, ends),
        placement=_placement(form, middle, line.front[ends[0]], line.front[ends[0] + 1], cells[0]),
        good_face="outline",
        layers=form.layers,
        work="bend it over the ribs along its middle; the ordinates are those of the face towards the mix",
    )


def _strip_cell(form: DomeForm, side: Side, bay: int, line: Chain, i: int, name: str) -> Cell:
    low, high = beside(form, side, bay, line.polars[i + 1])
    return bay_cell(form, form.bearing(bay + 0.5), _strip(line, i), (form.half, low), (form.half, high), name)


def _strip(line: Chain, i: int) -> tuple[Point, ...]:
    """The cross-section of one plane strip, counter-clockwise."""
    corners = (line.front[i], line.front[i + 1], line.back[i + 1], line.back[i])
    (ax, ay), (bx, by), (cx, cy), _ = corners
    return corners if (bx - ax) * (cy - by) - (by - ay) * (cx - bx) > 0.0 else corners[::-1]


def pattern_blank(form: DomeForm, side: Side, bay: int, line: Chain, ends: tuple[int, int]) -> Blank:
    """The flat pattern of a part of a gore: grain along the hoop, the lower end at y = 0."""
    run = skirt(form) if side == "inner" and ends[0] == 0 else 0.0
    turns = (line.polars[ends[0]], line.polars[ends[1]])
    back = beside(form, side, bay, form.key_end)
    outline = _flat(form.face(side), form.count, turns, run, back, form.key_end)
    width, length = max(x for x, _ in outline), max(y for _, y in outline)
    return Blank(width, length, form.skin.thickness, outline, (0.0,) * len(outline))


@lru_cache(maxsize=512)
def _flat(
    face: Meridian,
    count: int,
    turns: tuple[float, float],
    run: float,
    back: tuple[float, float],
    key_end: float,
) -> tuple[Point, ...]:
    """Outline of a flat pattern from its lower end up, set back from the ribs' planes below a polar angle."""
    (low, high), half = turns, pi / count
    left: list[Point] = []
    right: list[Point] = []

    def put(width: float, y: float, above: float) -> None:
        less = [one / cos(half) if above >= key_end - 1e-12 else 0.0 for one in back]
        left.append((less[0] - width, y))
        right.append((width - less[1], y))

    start = 0.0
    if run:
        drop = run * cos(low)
        put((face.r(low) + drop) * sin(half), 0.0, low)
        start = (run * run - (drop * sin(half)) ** 2) ** 0.5
    for a, b in pairwise(_stations(low, high, key_end)):
        put(half_width(face, count, a), start + _run(face, count, a, low), b)
        put(half_width(face, count, b), start + _run(face, count, b, low), b)
    outline = (*_plain(right), *reversed(_plain(left)))
    least = min(x for x, _ in outline)
    return tuple((x - least, y) for x, y in outline)


@lru_cache(maxsize=512)
def _run(face: Meridian, count: int, high: float, low: float) -> float:
    """Distance along the middle of a gore, kept: every gore asks for the same ones."""
    return ordinate(face, count, high, low)


def _stations(low: float, high: float, key_end: float) -> list[float]:
    """Polar angles of the ordinates, the end of the key ribs among them."""
    even = [low + (high - low) * i / _ORDINATES for i in range(_ORDINATES)]
    key = [key_end] if high < key_end < low else []
    return sorted({*even, *key, high}, reverse=True)


def _plain(path: list[Point]) -> list[Point]:
    """A path without the points that it has twice."""
    return [p for i, p in enumerate(path) if i == 0 or dist(p, path[i - 1]) > 1e-9]


def _placement(form: DomeForm, middle: float, low: Point, high: Point, body: Cell) -> Placement:
    """Where the lower end of a gore's pattern lies: x along the hoop, y up the first strip."""
    c, s = cos(middle), sin(middle)
    size = ((high[0] - low[0]) ** 2 + (high[1] - low[1]) ** 2) ** 0.5
    up_u, up_z = (high[0] - low[0]) / size, (high[1] - low[1]) / size
    along: Vec = (-s, c, 0.0)
    up: Vec = (up_u * c, up_u * s, up_z)
    into: Vec = (-up_z * c, -up_z * s, up_u)
    reach = min(along[0] * x + along[1] * y for x, y, _ in body.points())
    origin = (low[0] * c + reach * along[0], low[0] * s + reach * along[1], low[1])
    return Placement(origin, along, up, into)
