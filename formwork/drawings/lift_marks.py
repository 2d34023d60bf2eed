"""Where the lifts of a mold end, in its section: a dashed line across the mix for each, and its height to measure."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise

from formwork.drawings.extents import Reach, level_reach
from formwork.drawings.frames import Frame
from formwork.drawings.layers import CAST_HIDDEN
from formwork.drawings.scene import Line
from formwork.geometry.cells import Cell
from formwork.geometry.planes import Planes
from formwork.molds.mold import Mold
from formwork.shapes.body import envelope
from formwork.shapes.piece import Curved, Measure

NOTE = "Dashed across the section: where each lift ends, marked inside the mold."


def lift_lines(mold: Mold, cut_at: float, frame: Frame) -> tuple[Line, ...]:
    """A dashed line from side to side at the top of every lift but the last.

    Args:
        mold: the mold.
        cut_at: x of the section, m.
        frame: that the section is drawn in.
    """
    return tuple(
        Line(CAST_HIDDEN, frame.flat((cut_at, y[0], z)), frame.flat((cut_at, y[1], z)))
        for z, y in _marks(mold, cut_at)
    )


def lift_measures(mold: Mold, cut_at: float) -> tuple[Measure, ...]:
    """The height of each of those lines above the base.

    Args:
        mold: the mold.
        cut_at: x of the section, m.
    """
    return tuple(
        Measure(f"lift {number}", "side", (cut_at, y[0], 0.0), (cut_at, y[0], z))
        for number, (z, y) in enumerate(_marks(mold, cut_at), start=1)
    )


def _marks(mold: Mold, cut_at: float) -> Iterator[tuple[float, Reach]]:
    """Height of each line, m, and from where to where it runs across the section."""
    form = mold.piece.form
    for z in mold.lift_tops:
        if isinstance(form, Curved):
            found = level_reach(form.outside, z)
            reach = found[1] if found else None
        else:
            reach = _across(envelope(Planes(), mold.piece), cut_at, z)
        if reach is not None:
            yield z, reach


def _across(body: Cell, x: float, z: float) -> Reach | None:
    """How far a cell reaches across at a place and a level; None where it does not come there."""
    edges = {
        (one, other)
        for polygon in body.facets.values()
        for one, other in pairwise((*polygon, polygon[0]))
        if one[2] <= z < other[2]
    }
    shares = [((z - one[2]) / (other[2] - one[2]), one, other) for one, other in edges]
    corners = [
        tuple(a + share * (b - a) for a, b in zip(one, other, strict=True)) for share, one, other in shares
    ]
    crossed = [
        one[1] + (other[1] - one[1]) * (x - one[0]) / (other[0] - one[0])
        for one, other in combinations(sorted(corners), 2)
        if one[0] <= x <= other[0] and other[0] - one[0] > 1e-9
    ]
    return (min(crossed), max(crossed)) if crossed else None
