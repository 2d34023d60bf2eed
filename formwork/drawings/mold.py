"""The drawing of a mold: top view, front view and a section, its parts labelled as in the cut list, and dimensioned."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence

from formwork.cutting.cut_list import CutLine
from formwork.drawings.arrange import Pane, compose
from formwork.drawings.balloons import Target, with_balloons
from formwork.drawings.bodies import Body, Shell, shell
from formwork.drawings.dimensioning import dimensioned
from formwork.drawings.extents import body_box, part_box, parts_box, standing
from formwork.drawings.frames import FRONT, LEFT, RIGHT, TOP, Point
from formwork.drawings.layers import BARS, BASE, CLEAT, CORE, PANEL, STRIP, Layer
from formwork.drawings.lift_marks import NOTE, lift_lines, lift_measures
from formwork.drawings.lists import notes_under, part_list
from formwork.drawings.mold_measures import mold_measures
from formwork.drawings.page import Angle, Titles, angle_for
from formwork.drawings.piece import bare_views, clear_of_planes, concrete, figures, wanted
from formwork.drawings.projection import View, project
from formwork.drawings.scene import Item, Scene
from formwork.drawings.sight import Spot
from formwork.drawings.views import centre_lines, section_marks, titled, view_items
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.turned import Turned
from formwork.molds.mold import Mold, PartRole
from formwork.molds.structure import BuiltCentre
from formwork.project.records import Project
from formwork.shapes.body import former_cell
from formwork.shapes.piece import Curved, Piece

_LEAST = 75.0
_OFF_LINE = 0.02
_AS_GOOD = 0.6
_CROWD = 24
"""More labels than this crowd a view."""
_Seen = tuple[float, str, Point]
"""How roomy a spot of a part is, the view that shows it, and where it is."""
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
    "tie": (BARS, "close rising"),
    "batten": (CLEAT, "close falling"),
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


def bodies_of(mold: Mold | BuiltCentre) -> list[Body]:
    """The parts of a mold or a centre as bodies to draw."""
    bodies = []
    for part in standing(mold.parts):
        layer, pattern = looks(part.role)
        bodies.append(
            Body(part.name, layer.name, mold.planes, part.cells, part.rounds, part.holes, "", pattern,
                 part.turned, part.prisms)
        )  # fmt: skip
    return bodies


def looks(role: PartRole) -> tuple[Layer, str]:
    """The layer of a part by its role, and how its cut face is hatched."""
    return _LOOKS[role]


def section_place(mold: Mold) -> float:
    """Where along x the section is taken; never along a face.

    Through the axis of what is turned; else through the most parts, then nearest the middle.
    """
    return _section_place(mold, [shell(body) for body in bodies_of(mold)])


def _section_place(mold: Mold, shells: Sequence[Shell]) -> float:
    parts = standing(mold.parts)
    low, high = parts_box([part for part in parts if part.role != "base"])
    middle = (low[0] + high[0]) / 2.0
    spans = [(box[0][0], box[1][0]) for box in map(part_box, parts)]
    places = list(_places(mold.piece, middle))
    best = min(places, key=lambda x: (-sum(a < x < b for a, b in spans), round(abs(x - middle), 6), x))
    return clear_of_planes(shells, HalfSpace((1.0, 0.0, 0.0), best, "section")).offset


def _places(piece: Piece, middle: float) -> Iterator[float]:
    """Where a section may be worth while."""
    form = piece.form
    if isinstance(form, Curved) and isinstance(form.outside, Turned):
        yield form.outside.axis[0]
        return
    yield middle
    yield from (plug.body.foot[0] for plug in piece.plugs)
    planes = Planes()
    if isinstance(form, Curved):
        boxes = [body_box(one.body) for one in form.formers if one.kind == "core"]
    else:
        boxes = [former_cell(planes, piece, one).box() for one in form.formers if one.kind == "core"]
    yield from ((low[0] + high[0]) / 2.0 for low, high in boxes)


class _Pictures:
    """The views of one mold, projected once and annotated for any scale."""

    def __init__(self, mold: Mold, lines: Sequence[CutLine], angle: Angle) -> None:
        bodies = bodies_of(mold)
        self.bodies = bodies
        self.mold = mold
        self.lines = lines
        self.across = RIGHT if angle == "third" else LEFT
        shells = [shell(body) for body in bodies]
        place = _section_place(mold, shells)
        eye = self.across.toward
        self.cut = HalfSpace(eye, place * eye[0], "section")
        self.views = {
            "top": project(shells, TOP, spots=True),
            "front": project(shells, FRONT, spots=True),
            "side": project(
                [*shells, concrete(Planes(), mold.piece, "concrete")], self.across, self.cut, spots=True
            ),
        }
        self.measures = (*mold_measures(mold, place), *lift_measures(mold, place))
        self.lifts = lift_lines(mold, place, self.across)
        self.labels = labelled(lines, self.views, TOP.flat((place, 0.0, 0.0))[0])

    def panes(self, n: float, show: Callable[[float], str]) -> tuple[Pane, ...]:
        """The views and the list of parts at a scale of 1:n."""
        marks = section_marks(TOP, self.across, self.cut, self.views["top"].box(), "A", n)
        top = (*view_items(self.views["top"]), *centre_lines(self.bodies, TOP, n), *marks)
        drawn = {
            "top": top,
            "front": view_items(self.views["front"]),
            "side": (*view_items(self.views["side"]), *self.lifts),
        }
        panes = [self._pane(key, items, n, show) for key, items in drawn.items()]
        listed = part_list(self.lines, self.mold.copies, show)
        panes.append(Pane("parts", 1, 1, notes_under(listed, _notes(self.mold)), aligned=False, paper=True))
        return tuple(panes)

    def _pane(self, key: str, items: Sequence[Item], n: float, show: Callable[[float], str]) -> Pane:
        frame = self.views[key].frame
        dims = [wanted(m, frame) for m in self.measures if m.view == key]
        drawn = with_balloons(dimensioned(items, dims, n, show), self.labels.get(key, ()), n)
        return Pane(_NAMES[key], *_GRID[key], titled(drawn, _NAMES[key].upper(), n))


def labelled(lines: Sequence[CutLine], views: dict[str, View], cut_at: float) -> dict[str, list[Target]]:
    """Each label once, in the view that shows the most of one of its parts; the section goes before the others."""
    spots = {key: dict(view.spots) for key, view in views.items()}
    seen: dict[str, list[_Seen]] = {}
    for line in lines:
        shown = [
            (spot[0] * weight, key, spot[1])
            for key, weight in (("side", 2.0), ("top", 1.0), ("front", 1.0))
            if key in spots
            for name in line.names
            if (spot := _spot(spots[key].get(name, ()), cut_at if key == "top" else None)) is not None
        ]
        if shown:
            seen[line.label] = sorted(shown, key=lambda one: -round(one[0], 9))
    found: dict[str, list[Target]] = {key: [] for key in views}
    for label, key in shared_out({label: _best_of_each(shown) for label, shown in seen.items()}).items():
        room, _, point = next(one for one in seen[label] if one[1] == key)
        others = tuple(
            at for size, view, at in seen[label] if view == key and at != point and size > _AS_GOOD * room
        )
        found[key].append(Target(label, point, others))
    return found


def _best_of_each(shown: Sequence[_Seen]) -> dict[str, float]:
    """The most room a part has in each view that shows it, the roomiest view first."""
    best: dict[str, float] = {}
    for room, key, _ in shown:
        best.setdefault(key, room)
    return best


def shared_out(rooms: dict[str, dict[str, float]]) -> dict[str, str]:
    """The view of each label: the roomiest, but what a crowded one can best spare goes where there is a place."""
    chosen = {label: next(iter(views)) for label, views in rooms.items()}
    count = Counter(chosen.values())
    spare = sorted(
        (views[chosen[label]] / room, label, key)
        for label, views in rooms.items()
        for key, room in views.items()
        if key != chosen[label]
    )
    for _, label, key in spare:
        if count[chosen[label]] > _CROWD > count[key]:
            count[chosen[label]] -= 1
            count[key] += 1
            chosen[label] = key
    return chosen


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
    if mold.lifts > 1:
        notes.append(NOTE)
    notes.append("Views show the mold empty, the section shows it filled to the fill plane.")
    return notes
