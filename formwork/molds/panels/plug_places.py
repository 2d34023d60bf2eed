"""Where plugs stand on the cap of a core or on the base, told from the edges of what holds them. Lengths in m."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.geometry.cells import Cell
from formwork.shapes.piece import Plug
from formwork.units import show
from formwork.units.show import UnitSystem

_ON = 1e-6
_SAME = 1e-5


def told(plugs: Sequence[Plug], holder: Sequence[Cell], units: UnitSystem) -> str:
    """The middles of plugs from the left and the front edge of the face that they stand on; empty without any.

    Args:
        plugs: on one face.
        holder: what has that face.
        units: how a person here reads a length.
    """
    if not plugs:
        return ""
    left, front = _edges(holder, plugs[0].body.foot[2])
    places = sorted((plug.body.foot[0] - left, plug.body.foot[1] - front) for plug in plugs)
    across = [y for _, y in places]
    if max(across) - min(across) < _SAME:
        along = _row([x for x, _ in places], units)
        return f"{along} from its left edge, {show.length(across[0], units)} from its front edge"
    each = "; ".join(f"{show.length(x, units)} and {show.length(y, units)}" for x, y in places)
    return f"from its left and its front edge {each}"


def _row(values: Sequence[float], units: UnitSystem) -> str:
    """Lengths as a person lists them: the last one after an and."""
    said = [show.length(value, units) for value in values]
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"


def _edges(holder: Sequence[Cell], height: float) -> tuple[float, float]:
    """Least x and y of a level face."""
    points = [point for cell in holder for point in cell.points()]
    face = [point for point in points if abs(point[2] - height) < _ON] or points
    return min(x for x, _, _ in face), min(y for _, y, _ in face)
