"""The drawing of a frame of pipe: top view, front view, its pipes, and for straight ones a map of their marks.

In the map the frame is spread out flat from the top: a hub's distance from the middle is its angle from the top of the
sphere, so that every row can be read. Lengths in the map mean nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import atan2, cos, hypot, pi, sin

from formwork.cutting.cut_list import CutLine
from formwork.drawings.arrange import Bare, Pane, compose
from formwork.drawings.balloons import Target, with_balloons
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
from formwork.molds.structure import BuiltFrame
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
_FLAT = 1e-6
_RING = 48


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
    extent = _extent([*frame.nodes, *(point for arc in frame.bent for line in arc.lines for point in line)])
    bare = [Bare(0, 1, extent[0], extent[1]), Bare(0, 0, extent[0], extent[2])]
    flat = [Pane("pipes", 1, 0, _table(built, lines, shown), aligned=False, paper=True)]
    if frame.members:
        flat.insert(0, Pane("map", 1, 1, _map(frame, lines, shown), aligned=False, paper=True))
    return compose(
        f"frame-{built.name}", titles, units, angle_for(units), frame.notes, _LEAST, bare,
        lambda n: (*_views(frame, lines, n, shown), *flat),
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


def _views(
    frame: Frame, lines: Sequence[CutLine], n: float, shown: Callable[[float], str]
) -> tuple[Pane, Pane]:
    floor = min(node[2] for node in frame.nodes)
    top = max(frame.nodes, key=lambda node: node[2])
    across = 2.0 * max(hypot(frame.nodes[node][0], frame.nodes[node][1]) for node in frame.base)
    left, right = (-across / 2.0, 0.0, 0.0), (across / 2.0, 0.0, 0.0)
    height = Wanted("height", FRONT.flat((top[0], top[1], floor)), FRONT.flat(top), sides=("left",))
    base = Wanted("across the base", TOP.flat(left), TOP.flat(right), sides=("below", "above"))
    drawn = ((TOP, [base], "top view", 1), (FRONT, [height, *_hoop_heights(frame, floor)], "front view", 0))
    first, second = (
        Pane(
            title,
            0,
            row,
            titled(
                with_balloons(
                    (*_view(frame, view), *_dimension(_view(frame, view), wanted, n, shown)),
                    _line_marks(frame, lines, view),
                    n,
                ),
                title.upper(),
                n,
            ),
        )
        for view, wanted, title, row in drawn
    )
    return second, first


def _hoop_heights(frame: Frame, floor: float) -> Iterator[Wanted]:
    """How high each hoop lies over the lowest, from the front."""
    for number, arc in enumerate(arc for arc in frame.bent if arc.kind == "hoop"):
        end = max(FRONT.flat(point) for point in arc.lines[0])
        if end[1] - floor > _GROUND:
            yield Wanted(f"hoop {number}", (end[0], floor), end, pi / 2.0, sides=("right",))


def _dimension(
    items: Sequence[Item], wanted: Sequence[Wanted], n: float, shown: Callable[[float], str]
) -> tuple[Item, ...]:
    """Dimensions outside the box round a view; the struts inside need not be minded one by one."""
    (x0, y0), (x1, y1) = bounds(items)
    box = Polyline(STRUT, ((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
    return dimensioned((box,), wanted, n, shown)[1:]


def _view(frame: Frame, view: View) -> tuple[Item, ...]:
    """Every pipe's centre line; those that cover one another, as the two halves of a dome do, are drawn once."""
    paths = [[frame.nodes[a], frame.nodes[b]] for _, (a, b) in _edges(frame)]
    paths += [list(line) for arc in frame.bent for line in arc.lines]
    paths += [_crown(frame)] if frame.crown else []
    found: dict[tuple[Point, ...], Polyline | Line] = {}
    for path in paths:
        points = _seen([view.flat(point) for point in path])
        key = tuple((round(x, 5), round(y, 5)) for x, y in points)
        if len(set(key)) > 1:
            straight = len(points) == 2
            found[min(key, key[::-1])] = (
                Line(STRUT, *points) if straight else Polyline(STRUT, points, closed=False)
            )
    return tuple(found.values())


def _crown(frame: Frame) -> list[Vec]:
    """The crown ring's centre line."""
    height = max(node[2] for node in frame.nodes)
    turns = [2.0 * pi * i / _RING for i in range(_RING + 1)]
    return [(frame.crown * cos(turn), frame.crown * sin(turn), height) for turn in turns]


def _seen(points: list[Point]) -> tuple[Point, ...]:
    """The points of a line as seen; a hoop seen from its edge is a line from end to end."""
    ys = [y for _, y in points]
    if max(ys) - min(ys) < _FLAT:
        return (min(points), max(points))
    return tuple(points)


def _line_marks(frame: Frame, lines: Sequence[CutLine], view: View) -> list[Target]:
    """Marks of bent pipes: each hoop's at its right end from the front, the ribs' at the foot of one from above."""
    return [
        Target(line.label, max(view.flat(point) for point in arc.lines[0]))
        for arc, line in zip(frame.bent, lines, strict=False)
        if (arc.kind == "hoop") == (view is FRONT)
    ]


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


def _table(built: BuiltFrame, lines: Sequence[CutLine], shown: Callable[[float], str]) -> tuple[Item, ...]:
    """Marks with their numbers, lengths and bends."""
    frame = built.frame
    heads = ("arc", "to radius", "through") if frame.bent else ("hole to hole", "bend of flats")
    rows: list[tuple[str, ...]] = [("mark", "pipe", "off", "cut", *heads)]
    for line, cut in zip(lines, built.cuts, strict=True):
        radius = (shown(cut.radius),) if cut.radius else ()
        sizes = (shown(cut.part.blank.length), shown(cut.length), *radius, show.angle(cut.bend))
        rows.append((line.label, cut.part.name, str(cut.each), *sizes))
    starts = [0.0]
    for column in range(len(rows[0]) - 1):
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
