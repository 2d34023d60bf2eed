"""Ordinates of parts whose curves are told by points: they are drawn on the sheet with a bent batten, no template."""

from __future__ import annotations

from collections.abc import Iterator

from formwork.molds.mold import Blank
from formwork.packet.blocks import Block, Line, table
from formwork.packet.saw import curve_cuts
from formwork.packet.wording import size
from formwork.plan import Plan
from formwork.record import record
from formwork.units.show import UnitSystem

_SAME = 1e-4
"""Points nearer than this, m, lie at one station."""
_LEAST = 6
"""Fewer stations than this draw no curve."""
_TIPS = 2
"""Stations with one point, where both edges meet."""


@record
class Ordinates:
    """Where both edges of a part run, m.

    Attributes:
        upward: the stations go up from the lower edge and the edges lie from the left end; else the other way.
        rows: distance of a station, and where the nearer and the further edge are there.
        middle: of the part, where it is alike on both sides of a line; None where it is not.
    """

    upward: bool
    rows: tuple[tuple[float, float, float], ...]
    middle: float | None


def ordinates(blank: Blank) -> Ordinates | None:
    """The ordinates of a blank; None where no curve is told by points, or not by points across from each other."""
    if any(blank.bulges) or not any(curve.radii[1] == 0.0 for curve in curve_cuts(blank)):
        return None
    for upward in (blank.width >= blank.length, blank.width < blank.length):
        rows = _rows(blank, upward)
        if rows:
            middles = [(low + high) / 2.0 for _, low, high in rows]
            even = max(middles) - min(middles) < _SAME
            return Ordinates(upward, rows, sum(middles) / len(middles) if even else None)
    return None


def _rows(blank: Blank, upward: bool) -> tuple[tuple[float, float, float], ...]:
    """Station by station; nothing where more than the tips have not two points each."""
    stations: dict[int, list[tuple[float, float]]] = {}
    for x, y in blank.outline:
        at, across = (y, x) if upward else (x, y)
        stations.setdefault(round(at / _SAME), []).append((at, across))
    single = sum(len(points) == 1 for points in stations.values())
    if len(stations) < _LEAST or single > _TIPS or any(len(points) > 2 for points in stations.values()):
        return ()
    return tuple(
        (points[0][0], min(across for _, across in points), max(across for _, across in points))
        for _, points in sorted(stations.items())
    )


def ordinate_blocks(plan: Plan) -> Iterator[Block]:
    """A table for each part with ordinates, under a line that says how they are measured."""
    units = plan.project.units
    for line in plan.cut_list:
        found = ordinates(line.part.blank) if line.part.kind == "panel" else None
        if found is not None:
            yield Line(_how(line.label, found, units))
            yield _table(line.label, found, units)


def _how(label: str, found: Ordinates, units: UnitSystem) -> str:
    start, side = ("lower edge", "left end") if found.upward else ("left end", "lower edge")
    if found.middle is None:
        return f"Ordinates of {label}, {units}: at so far from the {start}, both edges from the {side}."
    middle = size(found.middle, units)
    return (
        f"Ordinates of {label}, {units}: at so far from the {start}, half the width to either side of a middle line "
        f"{middle} from the {side}."
    )


def _table(label: str, found: Ordinates, units: UnitSystem) -> Block:
    if found.middle is None:
        rows = [(label, *(size(value, units) for value in row)) for row in found.rows]
        return table(("mark", ">at", ">nearer edge", ">further edge"), rows)
    rows = [(label, size(at, units), size((high - low) / 2.0, units)) for at, low, high in found.rows]
    return table(("mark", ">at", ">half width"), rows)
