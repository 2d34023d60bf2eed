"""The drawing of an arch's centre: front view, top view and side view, its parts labelled as in the cut list."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from formwork.cutting.cut_list import CutLine
from formwork.drawings.arrange import Pane, compose
from formwork.drawings.balloons import with_balloons
from formwork.drawings.dimensioning import dimensioned
from formwork.drawings.extents import parts_box
from formwork.drawings.frames import FRONT, LEFT, RIGHT, TOP
from formwork.drawings.lists import notes_under, part_list
from formwork.drawings.mold import bodies_of, labelled
from formwork.drawings.page import Angle, Titles, angle_for
from formwork.drawings.piece import bare_views, figures, wanted
from formwork.drawings.projection import project
from formwork.drawings.scene import Scene
from formwork.drawings.views import titled, view_items
from formwork.geometry.vectors import Vec
from formwork.molds.structure import BuiltCentre
from formwork.project.records import Project
from formwork.shapes.piece import Measure, View
from formwork.units import show as shown

_LEAST = 75.0
_GRID = {"top": (0, 1), "front": (0, 0), "side": (1, 0)}
_NAMES = {"top": "top view", "front": "front view", "side": "side view"}
_NOWHERE = -1e6
"""A section's line that no view has, m: no label has to keep off it."""


def centre_drawing(
    built: BuiltCentre,
    cut_list: Sequence[CutLine],
    project_file: Project,
    *,
    number: str = "",
    page: str = "1 / 1",
    angle: Angle | None = None,
) -> Scene:
    """The drawing of one centre.

    Args:
        built: as designed.
        cut_list: of the whole plan; gives the labels.
        project_file: its project: title, units, shop.
        number: identification number for the title block.
        page: "1 / 3" for the title block.
        angle: projection; by the units where None.
    """
    units = project_file.units
    way = angle or angle_for(units)
    lines = [line for line in cut_list if line.mold == built.name]
    pictures = _Pictures(built, lines, way)
    titles = Titles(project_file.shop.name, built.name, project_file.title, "centre drawing", number, page)
    notes = (
        f"Tops of the ribs struck to {shown.length(built.radius, units)}; every stone lies on its battens, its flat "
        "soffit on their tops.",
        *built.instructions[-2:],
    )
    return compose(
        f"centre-{built.name}", titles, units, way, (), _LEAST,
        bare_views(pictures.views, _GRID), lambda n: pictures.panes(n, figures(units), notes),
    )  # fmt: skip


class _Pictures:
    """The views of one centre, projected once and annotated for any scale."""

    def __init__(self, built: BuiltCentre, lines: Sequence[CutLine], angle: Angle) -> None:
        bodies = bodies_of(built)
        self.lines, self.copies = lines, built.copies
        across = RIGHT if angle == "third" else LEFT
        frames = {"top": TOP, "front": FRONT, "side": across}
        self.views = {key: project(bodies, frame, spots=True) for key, frame in frames.items()}
        self.labels = labelled(lines, self.views, _NOWHERE)
        self.measures = _measures(built)

    def panes(self, n: float, show: Callable[[float], str], notes: Sequence[str]) -> tuple[Pane, ...]:
        """The views and the list of parts at a scale of 1:n."""
        panes = [self._pane(key, n, show) for key in self.views]
        listed = part_list(self.lines, self.copies, show)
        return (*panes, Pane("parts", 1, 1, notes_under(listed, list(notes)), aligned=False, paper=True))

    def _pane(self, key: str, n: float, show: Callable[[float], str]) -> Pane:
        view = self.views[key]
        dims = [wanted(m, view.frame) for m in self.measures if m.view == key]
        drawn = with_balloons(dimensioned(view_items(view), dims, n, show), self.labels.get(key, ()), n)
        return Pane(_NAMES[key], *_GRID[key], titled(drawn, _NAMES[key].upper(), n))


def _measures(built: BuiltCentre) -> tuple[Measure, ...]:
    """Overall sizes, span and depth of the ribs, height of the ties."""
    low, high = parts_box(built.parts)
    half = built.span / 2.0
    ties = parts_box([part for part in built.parts if part.role == "tie"])
    top = max(part.prisms[0].box()[1][2] for part in built.parts if part.prisms)

    def measure(name: str, view: View, start: Vec, end: Vec) -> Measure:
        return Measure(name, view, start, end)

    return (
        measure("overall length", "top", (low[0], low[1], 0.0), (high[0], low[1], 0.0)),
        measure("overall width", "top", (low[0], low[1], 0.0), (low[0], high[1], 0.0)),
        measure("overall height", "front", (low[0], 0.0, low[2]), (low[0], 0.0, high[2])),
        measure("foot to foot", "front", (-half, 0.0, 0.0), (half, 0.0, 0.0)),
        measure("depth of a rib", "front", (0.0, 0.0, top - built.depth), (0.0, 0.0, top)),
        measure("height of a tie", "side", (0.0, ties[0][1], ties[0][2]), (0.0, ties[0][1], ties[1][2])),
    )
