"""Where plugs stand on the cap of a core or on the base, told from the edges of what holds them. Lengths in m."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.geometry.cells import Cell
from formwork.geometry.outlines import Point
from formwork.shapes.piece import Plug
from formwork.units import show
from formwork.units.show import UnitSystem

_ON = 1e-6
_SAME = 1e-5


def told(plugs: Sequence[Plug], holder: Sequence[Cell], units: UnitSystem) -> str:
    """The middles of plugs on the face that they stand on; empty without any.

    From the left and the front edge of a face with four corners, else from its middle.

    Args:
        plugs: on one face.
        holder: what has that face.
        units: how a person here reads a length.
    """
    if not plugs:
        return ""
    corners = _corners(holder, plugs[0].body.foot[2])
    places = [plug.body.foot[:2] for plug in plugs]
    if len(corners) == 4:
        return _from_edges(places, corners, units)
    middle = tuple(sum(values) / len(corners) for values in zip(*corners, strict=True))
    return from_middle(places, (middle[0], middle[1]), units)


def _from_edges(places: Sequence[Point], corners: Sequence[Point], units: UnitSystem) -> str:
    left, front = min(x for x, _ in corners), min(y for _, y in corners)
    moved = sorted((x - left, y - front) for x, y in places)
    across = [y for _, y in moved]
    if max(across) - min(across) < _SAME:
        along = _row([x for x, _ in moved], units)
        return f"{along} from its left edge, {show.length(across[0], units)} from its front edge"
    each = "; ".join(f"{show.length(x, units)} and {show.length(y, units)}" for x, y in moved)
    return f"from its left and its front edge {each}"


def from_middle(places: Sequence[Point], middle: Point, units: UnitSystem) -> str:
    """Where plugs stand from the middle of a face.

    Args:
        places: of their middles.
        middle: of the face.
        units: how a person here reads a length.
    """
    moved = sorted((x - middle[0], y - middle[1]) for x, y in places)
    if len(moved) == 1 and max(map(abs, moved[0])) < _SAME:
        return "in the middle of it"
    each = "; ".join(_beside(x, y, units) for x, y in moved)
    return f"from the middle of it {each}"


def _beside(x: float, y: float, units: UnitSystem) -> str:
    ways = []
    if abs(x) >= _SAME:
        ways.append(f"{show.length(abs(x), units)} to the {'right' if x > 0.0 else 'left'}")
    if abs(y) >= _SAME:
        ways.append(f"{show.length(abs(y), units)} to the {'back' if y > 0.0 else 'front'}")
    return " and ".join(ways) or "none"


def _row(values: Sequence[float], units: UnitSystem) -> str:
    """Lengths as a person lists them: the last one after an and."""
    said = [show.length(value, units) for value in values]
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"


def _corners(holder: Sequence[Cell], height: float) -> list[Point]:
    """Corners of a level face; of the box round it where it is made of several cells."""
    faces = [[point for point in cell.points() if abs(point[2] - height) < _ON] for cell in holder]
    reaching = [face for face in faces if face] or [list(cell.points()) for cell in holder]
    found = sorted({(round(x, 6), round(y, 6)) for face in reaching for x, y, _ in face})
    if len(reaching) == 1:
        return found
    (left, right), (front, back) = ((min(c), max(c)) for c in zip(*found, strict=True))
    return [(left, front), (left, back), (right, front), (right, back)]
