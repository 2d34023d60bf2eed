"""The drawing of a piece: top, front and side view and a section, with the dimensions its shape asks for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

import shapely

from formwork.drawings.arrange import Bare, Pane, compose
from formwork.drawings.bodies import Body, Shell, shell, solids_of
from formwork.drawings.dimensioning import Wanted, dimensioned
from formwork.drawings.extents import box_round
from formwork.drawings.frames import FRONT, LEFT, RIGHT, TOP, Frame
from formwork.drawings.layers import CAST, CAST_HIDDEN
from formwork.drawings.page import Angle, Titles, angle_for
from formwork.drawings.projection import View, project
from formwork.drawings.scene import Item, Scene, Units
from formwork.drawings.views import centre_lines, section_marks, titled, view_items
from formwork.geometry.cells import Cell, box_of, flat
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec, dot
from formwork.project.records import Project
from formwork.shapes.body import body as cells_of
from formwork.shapes.piece import Curved, Measure, Piece
from formwork.units import show

_AWAY = 1e-4
_SAME = 1e-6
_LEAST = 38.0
_GRID = {"top": (0, 1), "front": (0, 0), "side": (1, 0), "section": (1, 1)}
_NAMES = {"top": "top view", "front": "front view", "side": "side view", "section": "section A-A"}


def piece_drawing(
    piece: Piece, project_file: Project, *, number: str = "", page: str = "1 / 1", angle: Angle | None = None
) -> Scene:
    """The drawing of one piece as it is used: of one cavity where several are cast together.

    Args:
        piece: as cast.
        project_file: its project: title, units, shop.
        number: identification number for the title block.
        page: "1 / 3" for the title block.
        angle: projection; by the units where None.
    """
    units = project_file.units
    planes = Planes()
    one = piece_body(planes, piece)
    way = angle or angle_for(units)
    pictures = _Pictures(piece, one, way)
    titles = Titles(project_file.shop.name, piece.name, project_file.title, "piece drawing", number, page)
    shown = figures(units)
    return compose(
        f"piece-{piece.name}", titles, units, way, _notes(piece), _LEAST,
        bare_views(pictures.views, _GRID), lambda n: pictures.panes(n, shown),
    )  # fmt: skip


def figures(units: Units) -> Callable[[float], str]:
    """How a drawing writes a length (m): as everywhere else, without the unit, which the title block names."""
    return lambda value: show.length(value, units).removesuffix(f" {units}")


def piece_body(planes: Planes, piece: Piece) -> Body:
    """The concrete of the piece's first cavity."""
    if isinstance(piece.form, Curved):
        return concrete(planes, piece, piece.name, CAST_HIDDEN.name)
    cells = one_cavity(planes, cells_of(planes, piece), piece.pour_points[0])
    low, high = box_of(cells)
    holes = tuple(
        plug.body
        for plug in piece.plugs
        if all(low[i] - 1e-9 <= plug.body.foot[i] <= high[i] + 1e-9 for i in range(3))
    )
    return Body(piece.name, CAST.name, planes, tuple(cells), (), holes, CAST_HIDDEN.name, "stipple")


def concrete(planes: Planes, piece: Piece, name: str, hidden_layer: str = "") -> Body:
    """The concrete of all cavities of a piece."""
    plugs = tuple(plug.body for plug in piece.plugs)
    if not isinstance(piece.form, Curved):
        cells = tuple(cells_of(planes, piece))
        return Body(name, CAST.name, planes, cells, (), plugs, hidden_layer, "stipple")
    outside = piece.form.outside
    turned, prisms = ((outside,), ()) if isinstance(outside, Turned) else ((), (outside,))
    formers = (*(former.body for former in piece.form.formers), *plugs)
    return Body(name, CAST.name, planes, (), (), (), hidden_layer, "stipple", turned, prisms, formers)


def one_cavity(planes: Planes, cells: Sequence[Cell], point: Vec) -> list[Cell]:
    """The cells that hang together with the one that holds a point; all of them where none holds it."""
    start = [cell for cell in cells if all(planes.half(ref).depth(point) > -1e-9 for ref in cell.facets)]
    if not start:
        return list(cells)
    found, rest = [start[0]], [cell for cell in cells if cell is not start[0]]
    for cell in found:
        joined = [other for other in rest if _joined(planes, cell, other)]
        found.extend(joined)
        rest = [other for other in rest if not any(other is j for j in joined)]
    return [cell for cell in cells if any(cell is f for f in found)]


def _joined(planes: Planes, one: Cell, other: Cell) -> bool:
    """Whether two cells share part of a facet."""
    for reference, polygon in one.facets.items():
        if -reference in other.facets:
            normal = planes.half(reference).normal
            first = shapely.Polygon(flat(polygon, normal))
            second = shapely.Polygon(flat(other.facets[-reference], normal))
            if first.intersection(second).area > 1e-9:
                return True
    return False


def clear_of_planes(shells: Iterable[Shell], cut: HalfSpace) -> HalfSpace:
    """The section plane, moved by a tenth of a millimetre as often as it lies on a face of the bodies."""
    levels = []
    for one in shells:
        for facet in one.facets:
            along = dot(facet.normal, cut.normal)
            if abs(abs(along) - 1.0) < 1e-9:
                levels.append(along * facet.offset)
    while any(abs(level - cut.offset) < _AWAY / 2.0 for level in levels):
        cut = HalfSpace(cut.normal, cut.offset + _AWAY, cut.name)
    return cut


def _section_through(piece: Piece, body: Body, eye: Vec) -> HalfSpace:
    """The upright plane of a section: through the middle, or the middles of as many hollows of an outline as it can."""
    low, high = box_round(solids_of(body))
    ends = sorted((dot(low, eye), dot(high, eye)))
    middle = sum(ends) / 2.0
    outlined = isinstance(piece.form, Curved) and not isinstance(piece.form.outside, Turned)
    spans = [sorted((dot(a, eye), dot(b, eye))) for a, b in (box_round([former]) for former in body.formers)]
    hollows = [(a, b) for a, b in spans if ends[0] + _AWAY < a and b < ends[1] - _AWAY] if outlined else []
    places = [(a + b) / 2.0 for a, b in hollows] or [middle]
    best = min(places, key=lambda p: (-sum(a < p < b for a, b in hollows), round(abs(p - middle), 6), p))
    return HalfSpace(eye, best, "section")


def bare_views(views: dict[str, View], grid: dict[str, tuple[int, int]]) -> list[Bare]:
    """The views as they are before anything is written round them."""
    found = []
    for key, (column, row) in grid.items():
        low, high = views[key].box()
        found.append(Bare(column, row, high[0] - low[0], high[1] - low[1]))
    return found


class _Pictures:
    """The views of one piece, projected once and annotated for any scale."""

    def __init__(self, piece: Piece, body: Body, angle: Angle) -> None:
        turn = piece.turned_over
        side = RIGHT if angle == "third" else LEFT
        self.top, self.front, self.side = (f.turned() if turn else f for f in (TOP, FRONT, side))
        self.body = body
        one = shell(body)
        self.cut = clear_of_planes([one], _section_through(piece, body, self.front.toward))
        self.views = {
            "top": project([one], self.top),
            "front": project([one], self.front),
            "side": project([one], self.side),
            "section": project([replace(one, body=replace(body, hidden_layer=""))], self.front, self.cut),
        }
        self.measures = piece.measures
        outside = piece.form.outside if isinstance(piece.form, Curved) else None
        self.axis = outside.axis if isinstance(outside, Turned) else None

    def panes(self, n: float, show_length: Callable[[float], str]) -> tuple[Pane, ...]:
        """The four views with their annotations at a scale of 1:n."""
        top = (
            *view_items(self.views["top"]),
            *centre_lines([self.body], self.top, n),
            *section_marks(self.top, self.front, self.cut, self.views["top"].box(), "A", n),
        )
        section = (*view_items(self.views["section"]), *centre_lines([self.body], self.front, n))
        drawn = {
            "top": top,
            "front": view_items(self.views["front"]),
            "side": view_items(self.views["side"]),
            "section": section,
        }
        return tuple(self._pane(key, items, n, show_length) for key, items in drawn.items())

    def _pane(self, key: str, items: Sequence[Item], n: float, show_length: Callable[[float], str]) -> Pane:
        view = self.views[key]
        dims = [wanted(m, view.frame, self.axis) for m in self.measures if self._belongs(m) == key]
        drawn = titled(dimensioned(items, dims, n, show_length), _NAMES[key].upper(), n)
        return Pane(_NAMES[key], *_GRID[key], drawn, aligned=key != "section")

    def _belongs(self, measure: Measure) -> str:
        """The view a measure is drawn in: inner sizes of the front go to the section, where they are seen."""
        if measure.view != "front":
            return measure.view
        return "front" if _spans(wanted(measure, self.front), self.views["front"]) else "section"


def _spans(one: Wanted, view: View) -> bool:
    """Whether a dimension goes from one side of a view's outline to the other."""
    low, high = view.box()
    axis = 0 if abs(one.end[0] - one.start[0]) > abs(one.end[1] - one.start[1]) else 1
    ends = sorted((one.start[axis], one.end[axis]))
    reach = high[axis] - low[axis]
    return abs(ends[0] - low[axis]) < 0.01 * reach and abs(ends[1] - high[axis]) < 0.01 * reach


def _about(measure: Measure, axis: tuple[float, float] | None) -> bool:
    """Whether a measure is level and an axis goes through its middle."""
    (x0, y0, z0), (x1, y1, z1) = measure.start, measure.end
    return (
        axis is not None
        and abs(z1 - z0) < _SAME
        and abs((x0 + x1) / 2.0 - axis[0]) < _SAME
        and abs((y0 + y1) / 2.0 - axis[1]) < _SAME
    )


def wanted(measure: Measure, frame: Frame, axis: tuple[float, float] | None = None) -> Wanted:
    """A measure as a dimension of a view; a diameter has its sign before the figure.

    Args:
        measure: what is measured.
        frame: of the view.
        axis: x and y of the axis that the piece is turned about: what is level and halved by it is a diameter.
    """
    sign = "Ø" if "diameter" in measure.name or _about(measure, axis) else ""
    return Wanted(measure.name, frame.flat(measure.start), frame.flat(measure.end), sign=sign)


def _notes(piece: Piece) -> list[str]:
    notes = list(piece.notes)
    notes.append(
        "Drawn as it is used." if not piece.turned_over else "Drawn as it is used; cast the other way up."
    )
    if piece.cavities > 1:
        notes.append(f"{piece.cavities} equal pieces are cast side by side in one mold; one is drawn.")
    notes.extend(f"Cast in: {e.count} x {e.name}, {e.item}." for e in piece.embedded)
    return notes
