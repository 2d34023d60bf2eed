"""A mold taken apart, from the front right and above: every kind of part with its label of the cut list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from formwork.cutting.cut_list import CutLine
from formwork.drawings.apart import moved_apart
from formwork.drawings.arrange import Bare, Pane, compose
from formwork.drawings.balloons import Target, with_balloons
from formwork.drawings.bodies import Shell, carried, shell
from formwork.drawings.extents import standing
from formwork.drawings.frames import ISOMETRIC
from formwork.drawings.layers import ADDED, MOST_WIDE, STANDING
from formwork.drawings.mold import bodies_of
from formwork.drawings.page import Titles
from formwork.drawings.projection import View, project
from formwork.drawings.scene import Scene
from formwork.drawings.views import titled, view_items
from formwork.molds.mold import Mold
from formwork.molds.structure import BuiltCentre
from formwork.project.records import Project

_LEAST = 75.0
TITLE = "taken apart"
_NOTE = "Isometric: lengths along the three ways of the mold are 0.82 of what the scale makes of them."


def exploded_drawing(
    mold: Mold | BuiltCentre,
    cut_list: Sequence[CutLine],
    project_file: Project,
    *,
    number: str = "",
    page: str = "1 / 1",
) -> Scene:
    """The drawing of one mold taken apart.

    Args:
        mold: as designed.
        cut_list: of the whole plan or of this mold; gives the labels.
        project_file: its project: title, units, shop.
        number: identification number for the title block.
        page: "1 / 3" for the title block.
    """
    units = project_file.units
    own = {part.name for part in mold.parts}
    lines = [line for line in cut_list if line.mold == mold.name and own.issuperset(line.names)]
    view = project(_apart(mold), ISOMETRIC, spots=True)
    targets = labels_of(lines, view)
    titles = Titles(
        project_file.shop.name, f"{mold.name}, {TITLE}", project_file.title, "exploded view", number, page
    )
    (x0, y0), (x1, y1) = view.box()
    return compose(
        f"apart-{mold.name}", titles, units, None, (_NOTE,), _LEAST,
        [Bare(0, 0, x1 - x0, y1 - y0)], lambda n: _panes(view, targets, n),
    )  # fmt: skip


def _apart(mold: Mold | BuiltCentre) -> list[Shell]:
    moved, bodies = moved_apart(standing(mold.parts)), bodies_of(mold)
    layer = (ADDED if len(bodies) <= MOST_WIDE else STANDING).name
    return [carried(shell(replace(body, layer=layer)), moved[body.name]) for body in bodies]


def _panes(view: View, targets: Sequence[Target], n: float) -> tuple[Pane, ...]:
    return (Pane(TITLE, 0, 0, titled(with_balloons(view_items(view), targets, n), TITLE.upper(), n)),)


def labels_of(lines: Sequence[CutLine], view: View) -> list[Target]:
    """Each label once, on the part that shows most of itself; none for what is wholly out of sight."""
    spots = dict(view.spots)
    found = []
    for line in lines:
        seen = sorted(
            (spot for name in line.names for spot in spots.get(name, ())[:1]),
            key=lambda spot: (-spot[0], spot[1]),
        )
        if seen:
            found.append(Target(line.label, seen[0][1]))
    return found
