"""The drawing of a frame of pipe: top view, front view, and a map of its struts with their marks.

In the map the frame is spread out flat from the top: a hub's distance from the middle is its angle from the top of the
sphere, so that every row can be read. Lengths in the map mean nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import atan2, cos, hypot, pi, sin

from formwork.cutting.cut_list import CutLine
from formwork.drawings.arrange import Bare, Pane, compose
from formwork.drawings.dimensioning import Wanted, dimensioned
from formwork.drawings.frames import FRONT, TOP, Point
from formwork.drawings.frames import Frame as View
from formwork.drawings.layers import HUB, STRUT, TEXTS, TITLE
from formwork.drawings.lettering import width
from formwork.drawings.page import Titles, angle_for
from formwork.drawings.piece import figures
from formwork.drawings.scene import Circle, Item, Line, Polyline, Scene, Text, bounds
from formwork.drawings.views import titled
from formwork.geometry.vectors import Vec
from formwork.molds.framed import BuiltFrame
from formwork.project.records import Project
from formwork.shapes.piece import Frame
from formwork.units import show

_LEAST = 60.0
_MARK = 2.0
_TEXT = 2.5
_GAP = 0.7
_ROW = 15.0
"""Between rows of the map, mm: room for a mark on every strut."""
_NODE = 1.1
"""Radius of a hub in the map, mm."""
_MAP_TITLE = "MAP OF THE STRUTS, SPREAD OUT FROM THE TOP, NOT TO SCALE"
_GROUND = 1e-6


def frame_drawing(
    built: BuiltFrame,
    cut_list: Sequence[CutLine],
    project_file: Project,
    *,
    number: str = "",
    page: str = "1 / 1",
) -> Scene:
    """The drawing of one frame.

    Args:
        built: the frame and its pipe.
        cut_list: of the whole plan; gives the marks.
        project_file: its project: title, units, shop.
        number: identification number for the title block.
        page: "1 / 3" for the title block.
    """
    units = project_file.units
    frame = built.frame
    lines = [line for line in cut_list if line.mold == built.name]
    shown = figures(units)
    titles = Titles(project_file.shop.name, built.name, project_file.title, "frame drawing", number, page)
    extent = _extent(frame.nodes)
    bare = [Bare(0, 1, extent[0], extent[1]), Bare(0, 0, extent[0], extent[2])]
    flat = (
        Pane("map", 1, 1, _map(frame, lines, shown), aligned=False, paper=True),
        Pane("struts", 1, 0, _table(frame, lines, shown), aligned=False, paper=True),
    )
    return compose(
        f"frame-{built.name}", titles, units, angle_for(units), frame.notes, _LEAST, bare,
        lambda n: (*_views(frame, n, shown), *flat),
    )  # fmt: skip


def _extent(nodes: Sequence[Vec]) -> tuple[float, float, float]:
    """Length, breadth and height of the box round the nodes, m."""
    x, y, z = (max(node[i] for node in nodes) - min(node[i] for node in nodes) for i in range(3))
    return x, y, z


def _edges(frame: Frame) -> Iterator[tuple[int, tuple[int, int]]]:
    """Number of the class, and the nodes joined, of every strut."""
    for number, member in enumerate(frame.members):
        for pair in member.joins:
            yield number, pair


def _views(frame: Frame, n: float, shown: Callable[[float], str]) -> tuple[Pane, Pane]:
    floor = min(node[2] for node in frame.nodes)
    top = max(frame.nodes, key=lambda node: node[2])
    across = 2.0 * max(hypot(frame.nodes[node][0], frame.nodes[node][1]) for node in frame.base)
    left, right = (-across / 2.0, 0.0, 0.0), (across / 2.0, 0.0, 0.0)
    front = _view(frame, FRONT)
    height = Wanted("height", FRONT.flat((top[0], top[1], floor)), FRONT.flat(top), sides=("left", "right"))
    base = Wanted("across the base", TOP.flat(left), TOP.flat(right), sides=("below", "above"))
    drawn = ((_view(frame, TOP), base, "top view", 1), (front, height, "front view", 0))
    first, second = (
        Pane(title, 0, row, titled((*items, *_dimension(items, wanted, n, shown)), title.upper(), n))
        for items, wanted, title, row in drawn
    )
    return second, first


def _dimension(
    items: Sequence[Item], wanted: Wanted, n: float, shown: Callable[[float], str]
) -> tuple[Item, ...]:
    """A dimension outside the box round a view; the struts inside need not be minded one by one."""
    (x0, y0), (x1, y1) = bounds(items)
    box = Polyline(STRUT, ((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
    return dimensioned((box,), [wanted], n, shown)[1:]


def _view(frame: Frame, view: View) -> tuple[Item, ...]:
    """Every strut as a line; struts that cover one another, as the two halves of a dome do, are drawn once."""
    nodes = [view.flat(node) for node in frame.nodes]
    found: dict[tuple[float, ...], Line] = {}
    for _, (a, b) in _edges(frame):
        start, end = sorted((nodes[a], nodes[b]))
        key = tuple(round(value, 5) for value in (*start, *end))
        if key[:2] != key[2:]:
            found[key] = Line(STRUT, start, end)
    return tuple(found.values())


def _map(frame: Frame, lines: Sequence[CutLine], shown: Callable[[float], str]) -> tuple[Item, ...]:
    """The struts spread out from the top, each with its mark; beside a base hub how high it hangs."""
    hubs = [
        Circle(HUB, place, 1.6 * _NODE if node in frame.base else _NODE)
        for node, place in enumerate(_spread(frame))
    ]
    items: list[Item] = [*hubs]
    for number, (a, b) in _edges(frame):
        items.extend(_marked(hubs[a], hubs[b], lines[number].label))
    items.extend(_heights(frame, hubs, shown))
    low = min(hub.centre[1] for hub in hubs) - 14.0
    items.append(Text(TEXTS, (0.0, low), _MAP_TITLE, 3.0, "middle"))
    return tuple(items)


def _spread(frame: Frame) -> list[Point]:
    """Where each hub stands in the map, mm: as far from the middle as its angle from the top, rows evenly apart."""
    top = max(node[2] for node in frame.nodes)
    wide = max(hypot(node[0], node[1]) for node in frame.nodes)
    angles = [_from_top(node, top, wide) for node in frame.nodes]
    least = min(angle for angle in angles if angle > _GROUND)
    return [
        (angle / least * _ROW * cos(turn), angle / least * _ROW * sin(turn))
        for angle, turn in zip(angles, (atan2(node[1], node[0]) for node in frame.nodes), strict=True)
    ]


def _from_top(node: Vec, top: float, wide: float) -> float:
    """A hub's angle from the top, as seen from the middle of a ball of that width touching the top, rad."""
    return pi / 2.0 - atan2(node[2] - (top - wide), hypot(node[0], node[1]))


def _marked(start: Circle, end: Circle, label: str) -> Iterator[Item]:
    """A line from hub to hub with a gap in its middle for its mark."""
    (x0, y0), (x1, y1) = start.centre, end.centre
    long = hypot(x1 - x0, y1 - y0)
    ux, uy = (x1 - x0) / long, (y1 - y0) / long
    half = abs(ux) * (width(label, _MARK) / 2.0 + _GAP) + abs(uy) * (_MARK / 2.0 + _GAP)

    def at(far: float) -> Point:
        return (x0 + far * ux, y0 + far * uy)

    yield Line(STRUT, at(start.radius), at(long / 2.0 - half))
    yield Line(STRUT, at(long / 2.0 + half), at(long - end.radius))
    x, y = at(long / 2.0)
    yield Text(TEXTS, (x, y - _MARK / 2.0), label, _MARK, "middle")


def _heights(frame: Frame, hubs: Sequence[Circle], shown: Callable[[float], str]) -> Iterator[Item]:
    """Beside each base hub that does not reach the ground, how far it hangs above it."""
    for node in frame.base:
        height = frame.nodes[node][2]
        if height > _GROUND:
            x, y = hubs[node].centre
            out = 1.0 + 7.0 / hypot(x, y)
            yield Text(TEXTS, (x * out, y * out - _MARK / 2.0), f"+{shown(height)}", _MARK, "middle")


def _table(frame: Frame, lines: Sequence[CutLine], shown: Callable[[float], str]) -> tuple[Item, ...]:
    """Marks with their numbers, lengths and bends."""
    rows = [("mark", "off", "cut", "hole to hole", "bend of flats")]
    rows += [
        (line.label, str(len(m.joins)), shown(m.cut), shown(m.length), show.angle(m.bend))
        for line, m in zip(lines, frame.members, strict=True)
    ]
    starts = [0.0]
    for column in range(4):
        starts.append(starts[-1] + 4.0 + max(width(row[column], _TEXT) for row in rows))
    items: list[Item] = [
        Text(TEXTS, (x, -4.6 * i), text, _TEXT)
        for i, row in enumerate(rows)
        for x, text in zip(starts, row, strict=True)
    ]
    items.append(Line(TITLE, (0.0, -1.4), (starts[-1] + width(rows[0][-1], _TEXT), -1.4)))
    if any(frame.nodes[node][2] > _GROUND for node in frame.base):
        below = -4.6 * len(rows) - 1.0
        items.append(
            Text(TEXTS, (0.0, below), "+ beside a base hub: how far it stands above the lowest ones.", 2.0)
        )
    return tuple(items)
