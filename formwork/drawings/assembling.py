"""A mold as it stands after each step of putting it together, from the front right and above.

What a step adds is drawn wide and labelled as in the cut list, what stood before narrow. At the bench each unit is
shown by itself, those of one step beside one another.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from formwork.cutting.cut_list import CutLine
from formwork.drawings.apart import groups_apart
from formwork.drawings.balloons import with_balloons
from formwork.drawings.bodies import Shell, carried, shell
from formwork.drawings.exploded import labels_of
from formwork.drawings.extents import standing
from formwork.drawings.frames import ISOMETRIC, Point
from formwork.drawings.layers import ADDED, MOST_WIDE, STANDING
from formwork.drawings.mold import bodies_of
from formwork.drawings.projection import View, project
from formwork.drawings.scene import Item, Scene, Sheet, Units, bounds, placed
from formwork.drawings.views import view_items
from formwork.molds.mold import AssemblyStep, Mold, Part
from formwork.molds.structure import BuiltCentre

_MOST_LABELS = 14
"""More labels than this crowd a picture of a step (ours)."""
_EDGE = 1.5
_ROUND_LABELS = 24.0
"""What labels take of a picture's length and height, mm."""


def assembling(
    mold: Mold | BuiltCentre, cut_list: Sequence[CutLine], units: Units, room: Point
) -> tuple[Scene | None, ...]:
    """A picture for each step that adds something; None for the others.

    Args:
        mold: as designed.
        cut_list: of the whole plan or of this mold; gives the labels.
        units: of the person.
        room: length and height that a picture may take on paper, mm.
    """
    shells = {body.name: shell(body) for body in bodies_of(mold)}
    parts = {part.name: part for part in standing(mold.parts)}
    lines = [line for line in cut_list if line.mold == mold.name]
    labelled: set[str] = set()
    scenes: list[Scene | None] = []
    for number, (step, before) in enumerate(_states(mold.steps), start=1):
        added = [parts[name] for name in step.parts if name in parts]
        if not added:
            scenes.append(None)
            continue
        there = [parts[name] for name in before if name in parts]
        if step.bench:
            there = [part for part in there if part.group in {one.group for one in added}]
        fresh = [line for line in _of(lines, added) if line.label not in labelled]
        labelled |= {line.label for line in fresh}
        named = fresh if len(fresh) <= _MOST_LABELS else []
        view = project(_shown(shells, there, added, apart=step.bench), ISOMETRIC, spots=bool(named))
        scenes.append(_picture(f"{mold.name} step {number}", units, view, named, room))
    return tuple(scenes)


def _states(steps: Sequence[AssemblyStep]) -> Iterator[tuple[AssemblyStep, tuple[str, ...]]]:
    """Each step with the parts that were in place before it: at the bench, or in the mold."""
    placed_so_far: dict[bool, tuple[str, ...]] = {True: (), False: ()}
    for step in steps:
        yield step, placed_so_far[step.bench]
        placed_so_far[step.bench] += step.parts


def _shown(
    shells: Mapping[str, Shell], there: Sequence[Part], added: Sequence[Part], *, apart: bool
) -> list[Shell]:
    """What is seen after a step, the wide lines of what it adds."""
    moved = groups_apart((*there, *added)) if apart else {}
    seen = []
    wide = ADDED if len(there) + len(added) <= MOST_WIDE else STANDING
    for layer, some in ((STANDING, there), (wide, added)):
        for part in some:
            one = shells[part.name]
            one = carried(one, moved[part.name]) if apart else one
            seen.append(replace(one, body=replace(one.body, layer=layer.name)))
    return seen


def _of(lines: Sequence[CutLine], added: Sequence[Part]) -> list[CutLine]:
    """The lines of the cut list that parts belong to, each with those of its parts that are there."""
    names = {part.name for part in added}
    kept = [replace(line, names=tuple(n for n in line.names if n in names)) for line in lines]
    return [line for line in kept if line.names]


def _picture(name: str, units: Units, view: View, lines: Sequence[CutLine], room: Point) -> Scene:
    """The view as large as leaves room for its labels: a picture to go by, not to measure."""
    (x0, y0), (x1, y1) = view.box()
    space = (room[0] - _ROUND_LABELS, room[1] - _ROUND_LABELS)
    scale = 1000.0 * max((x1 - x0) / space[0], (y1 - y0) / space[1])
    drawn = with_balloons(view_items(view), labels_of(lines, view), scale)
    return _cut_to(name, units, drawn, scale)


def _cut_to(name: str, units: Units, drawn: Sequence[Item], scale: float) -> Scene:
    """A page of the size of what is drawn."""
    low, high = bounds([placed(item, 1000.0 / scale, (0.0, 0.0)) for item in drawn])
    size = Sheet("part of a page", high[0] - low[0] + 2.0 * _EDGE, high[1] - low[1] + 2.0 * _EDGE)
    origin = (_EDGE - low[0], _EDGE - low[1])
    return Scene(name, name, units, size, scale, origin, tuple(drawn), (), ())
