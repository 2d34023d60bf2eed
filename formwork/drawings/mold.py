"""The drawing of a mold: top view, front view and a section, its parts labelled as in the cut list, and dimensioned."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from formwork.cutting.cut_list import CutLine
from formwork.drawings.arrange import Pane, compose
from formwork.drawings.balloons import Target, with_balloons
from formwork.drawings.bodies import Body
from formwork.drawings.dimensioning import Wanted, dimensioned
from formwork.drawings.frames import FRONT, LEFT, RIGHT, TOP
from formwork.drawings.layers import BARS, BASE, CAST, CLEAT, CORE, PANEL, STRIP, Layer
from formwork.drawings.lists import notes_under, part_list
from formwork.drawings.mold_measures import mold_measures
from formwork.drawings.page import Angle, Titles, angle_for
from formwork.drawings.piece import bare_views, clear_of_planes, figures
from formwork.drawings.projection import View, project
from formwork.drawings.scene import Item, Scene
from formwork.drawings.sight import Spot
from formwork.drawings.views import centre_lines, section_marks, titled, view_items
from formwork.geometry.cells import Cell
from formwork.geometry.planes import HalfSpace, Planes
from formwork.molds.mold import Mold, Part, PartRole
from formwork.project.records import Project
from formwork.shapes.body import body as cells_of
from formwork.shapes.body import former_cell
from formwork.shapes.piece import planar

_LEAST = 75.0
_OFF_LINE = 0.02
_GRID = {"top": (0, 1), "front": (0, 0), "side": (1, 0)}
_NAMES = {"top": "top view", "front": "front view", "side": "section A-A"}
_LOOKS: dict[PartRole, tuple[Layer, str]] = {
    "panel": (PANEL, "rising"),
    "divider": (PANEL, "falling"),
    "base": (BASE, "falling"),
    "core wall": (CORE, "falling"),
    "core cap": (CORE, "rising"),
    "core rib": (CORE, "close falling"),
    "rail": (CLEAT, "close falling"),
    "cleat": (CLEAT, "close rising"),
    "bar": (CLEAT, "close rising"),
    "strip": (STRIP, "close rising"),
    "board": (STRIP, "close rising"),
    "liner": (STRIP, "close falling"),
    "plug": (STRIP, "close rising"),
    "embedded": (BARS, "close falling"),
    "strut": (CLEAT, "close falling"),
    "skin": (PANEL, "rising"),
    "ring": (CLEAT, "close rising"),
    "rib": (CLEAT, "close falling"),
    "tube": (PANEL, "falling"),
    "template": (STRIP, "falling"),
}


def mold_drawing(
    mold: Mold,
    cut_list: Sequence[CutLine],
    project_file: Project,
    *,
    number: str = "",
    page: str = "1 / 1",
    angle: Angle | None = None,
) -> Scene:
    """The drawing of one mold, empty in the views, filled in the section.

    Args:
        mold: as designed.
        cut_list: of the whole plan or of this mold; gives the labels.
        project_file: its project: title, units, shop.
        number: identification number for the title block.
        page: "1 / 3" for the title block.
        angle: projection; by the units where None.
    """
    units = project_file.units
    way = angle or angle_for(units)
    own = {part.name for part in mold.parts}
    lines = [line for line in cut_list if line.mold == mold.name and own.issuperset(line.names)]
    pictures = _Pictures(mold, lines, way)
    titles = Titles(project_file.shop.name, mold.name, project_file.title, "mold drawing", number, page)
    show = figures(units)
    return compose(
        f"mold-{mold.name}", titles, units, way, (), _LEAST,
        bare_views(pictures.views, _GRID), lambda n: pictures.panes(n, show),
    )  # fmt: skip


def bodies_of(mold: Mold) -> list[Body]:
    """The mold's parts as bodies to draw."""
    bodies = []
    for part in mold.parts:
        layer, pattern = looks(part.role)
        bodies.append(
            Body(part.name, layer.name, mold.planes, part.cells, part.rounds, part.holes, "", pattern)
        )
    return bodies


def looks(role: PartRole) -> tuple[Layer, str]:
    """The layer of a part by its role, and how its cut face is hatched."""
    return _LOOKS[role]


def _concrete(mold: Mold) -> Body:
    planes = Planes()
    holes = tuple(plug.body for plug in mold.piece.plugs)
    return Body("concrete", CAST.name, planes, tuple(cells_of(planes, mold.piece)), (), holes, "", "stipple")


def section_place(mold: Mold) -> float:
    """Where along x the section is taken: through the most parts, then nearest the middle; never along a face."""
    planes = Planes()
    low, high = _reach([cell for part in mold.parts if part.role != "base" for cell in part.cells])
    middle = (low + high) / 2.0
    places = [middle]
    places += [plug.body.foot[0] for plug in mold.piece.plugs]
    for former in planar(mold.piece).formers:
        if former.kind == "core":
            a, b = _reach([former_cell(planes, mold.piece, former)])
            places.append((a + b) / 2.0)
    best = min(places, key=lambda x: (-_parts_at(mold.parts, x), round(abs(x - middle), 6), x))
    cells = [cell for part in mold.parts for cell in part.cells]
    cut = clear_of_planes(mold.planes, cells, HalfSpace((1.0, 0.0, 0.0), best, "section"))
    return cut.offset


def _reach(cells: Sequence[Cell]) -> tuple[float, float]:
    boxes = [cell.box() for cell in cells]
    return min(b[0][0] for b in boxes), max(b[1][0] for b in boxes)


def _parts_at(parts: Sequence[Part], x: float) -> int:
    """How many parts a plane across the mold cuts."""
    count = 0
    for part in parts:
        reaches = [_reach([cell]) for cell in part.cells]
        reaches += [(r.foot[0] - r.foot_radius, r.foot[0] + r.foot_radius) for r in part.rounds]
        count += any(a < x < b for a, b in reaches)
    return count


class _Pictures:
    """The views of one mold, projected once and annotated for any scale."""

    def __init__(self, mold: Mold, lines: Sequence[CutLine], angle: Angle) -> None:
        bodies = bodies_of(mold)
        self.bodies = bodies
        self.mold = mold
        self.lines = lines
        self.across = RIGHT if angle == "third" else LEFT
        place = section_place(mold)
        eye = self.across.toward
        self.cut = HalfSpace(eye, place * eye[0], "section")
        self.views = {
            "top": project(bodies, TOP, spots=True),
            "front": project(bodies, FRONT, spots=True),
            "side": project([*bodies, _concrete(mold)], self.across, self.cut, spots=True),
        }
        self.measures = mold_measures(mold, place)
        self.labels = _labels(lines, self.views, TOP.flat((place, 0.0, 0.0))[0])

    def panes(self, n: float, show: Callable[[float], str]) -> tuple[Pane, ...]:
        """The views and the list of parts at a scale of 1:n."""
        marks = section_marks(TOP, self.across, self.cut, self.views["top"].box(), "A", n)
        top = (*view_items(self.views["top"]), *centre_lines(self.bodies, TOP, n), *marks)
        drawn = {
            "top": top,
            "front": view_items(self.views["front"]),
            "side": view_items(self.views["side"]),
        }
        panes = [self._pane(key, items, n, show) for key, items in drawn.items()]
        listed = part_list(self.lines, self.mold.copies, show)
        panes.append(Pane("parts", 1, 1, notes_under(listed, _notes(self.mold)), aligned=False, paper=True))
        return tuple(panes)

    def _pane(self, key: str, items: Sequence[Item], n: float, show: Callable[[float], str]) -> Pane:
        frame = self.views[key].frame
        wanted = [
            Wanted(m.name, frame.flat(m.start), frame.flat(m.end)) for m in self.measures if m.view == key
        ]
        drawn = with_balloons(dimensioned(items, wanted, n, show), self.labels.get(key, ()), n)
        return Pane(_NAMES[key], *_GRID[key], titled(drawn, _NAMES[key].upper(), n))


def _labels(lines: Sequence[CutLine], views: dict[str, View], cut_at: float) -> dict[str, list[Target]]:
    """Each label once, in the view that shows the most of one of its parts; the section goes before the others."""
    spots = {key: dict(view.spots) for key, view in views.items()}
    found: dict[str, list[Target]] = {key: [] for key in views}
    for line in lines:
        best: tuple[float, str, Target] | None = None
        for key, weight in (("side", 2.0), ("top", 1.0), ("front", 1.0)):
            for name in line.names:
                spot = _spot(spots[key].get(name, ()), cut_at if key == "top" else None)
                if spot is not None and (best is None or spot[0] * weight > best[0] + 1e-9):
                    best = (spot[0] * weight, key, Target(line.label, spot[1]))
        if best is not None:
            found[best[1]].append(best[2])
    return found


def _spot(spots: Sequence[Spot], cut_at: float | None) -> Spot | None:
    """The roomiest spot; one that keeps off the section's line, if it has half as much room."""
    if not spots:
        return None
    if cut_at is not None:
        apart = [s for s in spots if abs(s[1][0] - cut_at) > _OFF_LINE and s[0] > 0.5 * spots[0][0]]
        return (apart or spots)[0]
    return spots[0]


def _notes(mold: Mold) -> list[str]:
    notes = []
    if mold.copies > 1:
        notes.append(f"{mold.copies} equal molds are built; the list counts the parts of one.")
    if mold.owned:
        notes.append("The shop has this mold already.")
    if mold.piece.cavities > 1:
        notes.append(f"{mold.piece.cavities} pieces are cast in one filling.")
    notes.extend(mold.piece.notes)
    notes.append("Views show the mold empty, the section shows it filled to the fill plane.")
    return notes
