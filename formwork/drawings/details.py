"""Details of a mold at a larger scale: a corner cut level, and what meets in the upright section, parts labelled.

A detail shows the place where most parts meet, whatever the method: the corner of a box with its cleats, the seam of a
shell, the foot of a core.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import acos, ceil, cos, sin, tau

import shapely

from formwork.cutting.cut_list import CutLine
from formwork.drawings.arrange import Bare, Pane, compose
from formwork.drawings.balloons import Target, with_balloons
from formwork.drawings.behind import behind
from formwork.drawings.bodies import Shell, shell
from formwork.drawings.extents import part_box, parts_box, standing
from formwork.drawings.frames import LEFT, RIGHT, TOP, Frame, Point
from formwork.drawings.layers import ADDED, BALLOONS
from formwork.drawings.mold import bodies_of, section_place
from formwork.drawings.page import Titles, angle_for
from formwork.drawings.piece import clear_of_planes, concrete
from formwork.drawings.projection import CutFace, View, cut_faces, project
from formwork.drawings.scene import Arc, Circle, Hatch, Item, Line, Polyline, Scene
from formwork.drawings.views import titled, view_items
from formwork.geometry.planes import HalfSpace, Planes
from formwork.molds.mold import Mold, Part
from formwork.project.records import Project
from formwork.units import show
from formwork.units.show import UnitSystem

_HALF = 0.085
"""Half the side of the square that a detail shows, m."""
_CELL = 0.01
"""Places nearer than this are one place, m."""
_OFF_FACES = 7e-4
"""A section is moved this far from the middle of a part, where a face of another may lie, m."""
_CHORDS, _SAG = 48, 1e-4
"""Fewest chords that an arc becomes, and how far they may lie from it, m."""
_CRUMB = 2e-4
_LEAST = 60.0


@dataclass(frozen=True, slots=True)
class _Detail:
    """One detail: its title, what is seen there, and the middle of its square."""

    title: str
    view: View
    middle: Point


def details_drawing(
    mold: Mold,
    cut_list: Sequence[CutLine],
    project_file: Project,
    *,
    number: str = "",
    page: str = "1 / 1",
) -> Scene:
    """The details of one mold.

    Args:
        mold: as designed.
        cut_list: of the whole plan or of this mold; gives the labels.
        project_file: its project: title, units, shop.
        number: identification number for the title block.
        page: "1 / 3" for the title block.
    """
    units = project_file.units
    labels = {name: line.label for line in cut_list if line.mold == mold.name for name in line.names}
    found = _details(mold, units)
    titles = Titles(
        project_file.shop.name, f"{mold.name}, details", project_file.title, "detail drawing", number, page
    )
    notes = ("Each detail shows the place where most parts meet; cut faces are hatched.",)
    return compose(
        f"details-{mold.name}", titles, units, angle_for(units), notes, _LEAST,
        [Bare(column, 0, 2.0 * _HALF, 2.0 * _HALF) for column in range(len(found))],
        lambda n: tuple(_pane(one, column, labels, n) for column, one in enumerate(found)),
    )  # fmt: skip


def _details(mold: Mold, units: UnitSystem) -> list[_Detail]:
    parts = standing(mold.parts)
    shells = [shell(body) for body in bodies_of(mold)]
    across = RIGHT if angle_for(units) == "third" else LEFT
    level = clear_of_planes(shells, HalfSpace((0.0, 0.0, 1.0), _level(parts), "level section"))
    eye = across.toward
    upright = HalfSpace(eye, section_place(mold) * eye[0], "section")
    filled = [*shells, shell(concrete(Planes(), mold.piece, "concrete"))]
    height = show.length(level.offset, units)
    return [
        _detail(f"detail B: cut level, {height} above the base", shells, TOP, level),
        _detail("detail C: in section A-A", filled, across, upright),
    ]


def _level(parts: Sequence[Part]) -> float:
    """Height of the level cut that meets the most parts, the nearest to the middle of the mold among them, m."""
    low, high = parts_box(parts)
    middle = (low[2] + high[2]) / 2.0
    spans = [(box[0][2], box[1][2]) for box in map(part_box, parts)]
    places = sorted({round((a + b) / 2.0, 6) + _OFF_FACES for a, b in spans})
    return min(places, key=lambda z: (-sum(a < z < b for a, b in spans), abs(z - middle), z))


def _detail(title: str, shells: Sequence[Shell], frame: Frame, cut: HalfSpace) -> _Detail:
    faces = [face for one in shells for face in cut_faces(behind(one, cut), frame, cut) if face.parts]
    middle = _busiest(faces)
    near = [one for one in shells if _reaches(one, frame, middle)]
    return _Detail(title, project(near, frame, cut), middle)


def _busiest(faces: Sequence[CutFace]) -> Point:
    """The corner of a cut face round which most bodies meet; the furthest to the right and down of several."""
    regions = [
        shapely.union_all([shapely.Polygon(part[0], part[1:]) for part in face.parts]) for face in faces
    ]
    tree = shapely.STRtree(regions)
    corners = {
        (round(x / _CELL), round(y / _CELL)): (x, y)
        for face in faces
        for part in face.parts
        for x, y in part[0]
    }
    places = [corners[key] for key in sorted(corners)]
    squares = [_square(place, _HALF / 2.0) for place in places]
    met = tree.query(squares, predicate="intersects")[0]
    counts = [0] * len(places)
    for number in met:
        counts[int(number)] += 1
    best = max(range(len(places)), key=lambda i: (counts[i], round(places[i][0] - places[i][1], 6)))
    return places[best]


def _square(middle: Point, half: float) -> shapely.Polygon:
    x, y = middle
    return shapely.box(x - half, y - half, x + half, y + half)


def _reaches(one: Shell, frame: Frame, middle: Point) -> bool:
    """Whether a body can be seen in a detail's square, or stand before what is."""
    flat = [frame.flat(point) for facet in one.facets for point in facet.rings[0]]
    if not flat:
        return False
    xs, ys = zip(*flat, strict=True)
    return bool(_square(middle, _HALF).intersects(shapely.box(min(xs), min(ys), max(xs), max(ys))))


def _pane(one: _Detail, column: int, labels: dict[str, str], n: float) -> Pane:
    window = _square(one.middle, _HALF)
    drawn = [piece for item in view_items(one.view) for piece in clipped(item, window)]
    corners = tuple((float(x), float(y)) for x, y in list(window.exterior.coords)[:4])
    bound = Polyline(ADDED, corners)
    labelled = with_balloons([*drawn, bound], _targets(one.view.cuts, window, labels), n)
    items = titled(labelled, one.title.upper(), n)
    framed = tuple(Polyline(BALLOONS, corners) if item is bound else item for item in items)
    return Pane(one.title, column, 0, framed, aligned=False)


def _targets(faces: Sequence[CutFace], window: shapely.Polygon, labels: dict[str, str]) -> list[Target]:
    """Each label once, on the largest face of it that the square shows."""
    best: dict[str, tuple[float, Point]] = {}
    for face in faces:
        label = labels.get(face.body)
        for part in face.parts:
            seen = shapely.intersection(shapely.Polygon(part[0], part[1:]), window)
            if label is None or seen.area < 1e-6:
                continue
            point = seen.representative_point()
            if label not in best or seen.area > best[label][0]:
                best[label] = (seen.area, (float(point.x), float(point.y)))
    return [Target(label, best[label][1]) for label in sorted(best, key=lambda one: (len(one), one))]


def clipped(item: Item, window: shapely.Polygon) -> list[Item]:
    """What of a line, an arc or a hatch lies within a square; an arc that it cuts becomes chords."""
    if isinstance(item, Hatch):
        seen = shapely.intersection(shapely.Polygon(item.rings[0], item.rings[1:]), window)
        return [replace(item, rings=_rings(part)) for part in shapely.get_parts(seen) if _is_face(part)]
    if isinstance(item, Line):
        path = shapely.LineString([item.start, item.end])
    elif isinstance(item, Arc | Circle):
        path = shapely.LineString(_chords(item))
    else:
        return []
    parts = shapely.get_parts(shapely.line_merge(shapely.intersection(path, window)))
    found: list[Item] = []
    for part in parts:
        points = [(float(x), float(y)) for x, y in part.coords]
        if part.geom_type != "LineString" or part.length < _CRUMB:
            continue
        if len(points) == 2:
            found.append(Line(item.layer, points[0], points[1]))
        else:
            found.append(Polyline(item.layer, tuple(points), closed=False))
    return found


def _is_face(part: shapely.Geometry) -> bool:
    return bool(part.geom_type == "Polygon" and part.area > _CRUMB**2)


def _rings(part: shapely.Polygon) -> tuple[tuple[Point, ...], ...]:
    return tuple(
        tuple((float(x), float(y)) for x, y in list(ring.coords)[:-1])
        for ring in (part.exterior, *part.interiors)
    )


def _chords(item: Arc | Circle) -> list[Point]:
    start, turn = (item.start, item.turn) if isinstance(item, Arc) else (0.0, tau)
    (x, y), r = item.centre, item.radius
    steps = max(_CHORDS, ceil(turn / (2.0 * acos(1.0 - min(1.0, _SAG / r)))))
    angles = [start + turn * step / steps for step in range(steps + 1)]
    return [(x + r * cos(angle), y + r * sin(angle)) for angle in angles]
