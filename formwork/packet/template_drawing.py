"""The full-size templates as a drawing for a machine: each part once, at full size, arcs as arcs.

Layers are those of the cut sheets: cut outside, cut inside, drill, and the label to engrave.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from formwork.geometry.outlines import Outline, shifted
from formwork.packet.patterns import Pattern, patterns
from formwork.packet.template_sets import one_page
from formwork.plan import Plan

if TYPE_CHECKING:
    from formwork.drawings.layers import Layer
    from formwork.drawings.scene import Item, Polyline, Scene
    from formwork.units.show import UnitSystem

_LETTER = 5.0
"""Height of a label's capitals, mm."""
_TO_M = 0.001


def template_drawing(plan: Plan) -> Scene | None:
    """Every part that has a template, side by side at full size; None where every part is a rectangle."""
    from formwork.drawings.scene import Scene, Sheet  # noqa: PLC0415 - drawings are slow to load

    wanted = patterns(plan)
    if not wanted:
        return None
    one = one_page(wanted)
    items = [item for x, y, pattern in one.placed for item in _items(pattern, (x, y), plan.project.units)]
    paper = Sheet("as long as it must be", one.width, one.height)
    return Scene(
        "templates", plan.project.title, plan.project.units, paper, 1.0, (0.0, 0.0), tuple(items), (), ()
    )


def _items(pattern: Pattern, by: tuple[float, float], units: UnitSystem) -> Iterator[Item]:
    from formwork.drawings.layers import CUT_INSIDE, CUT_OUTSIDE, LABEL  # noqa: PLC0415 - drawings are slow to load
    from formwork.drawings.scene import Circle, Text  # noqa: PLC0415 - the same
    from formwork.drawings.sheet import hole_layer  # noqa: PLC0415 - the same
    from formwork.packet.full_size import inner_point  # noqa: PLC0415 - loads polygons

    yield _closed(CUT_OUTSIDE, pattern.outline, by)
    for opening in pattern.openings:
        yield _closed(CUT_INSIDE, opening, by)
    for hole in pattern.holes:
        centre = ((hole.at[0] + by[0]) * _TO_M, (hole.at[1] + by[1]) * _TO_M)
        yield Circle(hole_layer(hole.across * _TO_M, units), centre, hole.across / 2.0 * _TO_M)
    x, y = inner_point(pattern, by)
    yield Text(LABEL, (x * _TO_M, y * _TO_M - _LETTER / 2.0 * _TO_M), pattern.label, _LETTER, "middle")


def _closed(layer: Layer, outline: Outline, by: tuple[float, float]) -> Polyline:
    from formwork.drawings.scene import Polyline  # noqa: PLC0415 - drawings are slow to load

    there = shifted(outline, by)
    points = tuple((x * _TO_M, y * _TO_M) for x, y in there.points)
    return Polyline(layer, points, bulges=there.bulges)
