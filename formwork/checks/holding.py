"""Does the mold hold: panels between their rails, rails between the corners, the walls of a core."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

from formwork.checks.check import Check, Found, NotChecked, told
from formwork.geometry.contact import contact
from formwork.geometry.vectors import dot
from formwork.molds.load import PANEL_LIMIT, Load, panel_span, worst_rail
from formwork.molds.mold import Part
from formwork.molds.panelled import Built, longest_side, panel_section
from formwork.molds.panels.core_ribs import along_wall, level_plates
from formwork.molds.panels.rib_places import gaps, middle_along
from formwork.molds.strengths import section_of
from formwork.record import record
from formwork.shapes.body import level_width
from formwork.strength.overhang import Overhang, overhang_verdicts
from formwork.strength.panels import Bay, PanelSection, panel_verdicts
from formwork.strength.working import Judged, Unjudged, Verdict

_NO_REACH = 1e-6


def panel_checks(built: Built) -> tuple[Found, ...]:
    """Bending, rolling shear and bulge of the panels in the bay between two rails where each is worst.

    A side so low that it has a single rail stands free above it.
    """
    section = panel_section(built.lined)
    if isinstance(section, Unjudged):
        return (NotChecked("panels", built.mold.name, section.why),)
    load, broad = built.lined.load, built.lined.frame.stocks.broad
    if len(built.rails) < 2:
        top = built.rails[0] + broad / 2.0
        if load.fill - top <= _NO_REACH:
            return ()
        rows = [overhang_verdicts(section, Overhang(load.weight(top), load.fill - top), PANEL_LIMIT)]
        return _worst_of(built, "panels", rows, (top,), "a broader rail, or a thicker sheet")
    open_bays = [(low, high) for low, high in pairwise(built.rails) if high - low > broad + _NO_REACH]
    if not open_bays:
        return ()
    bays = [Bay(load.pressure(low), high - low, 1, broad) for low, high in open_bays]
    rows = [panel_verdicts(section, bay, PANEL_LIMIT) for bay in bays]
    feet = [low for low, _ in open_bays]
    return _worst_of(built, "panels", rows, feet, "another rail, or a thicker sheet")


def core_wall_checks(built: Built) -> tuple[Found, ...]:
    """The same for the walls of the cores, under the mix outside them.

    They span level from corner to corner, or from rib to rib; upright from plate to plate where that is less.
    """
    walls = [part for part in built.mold.parts if part.role == "core wall" and part.layers == 1]
    if not walls:
        return ()
    found = [bay for bay in (_wall_bay(built, wall) for wall in walls) if bay is not None]
    if not found:
        return ()
    sound = [one for one in found if not isinstance(one, Unjudged)]
    if len(sound) < len(found):
        return (
            NotChecked("core walls", built.mold.name, next(o.why for o in found if isinstance(o, Unjudged))),
        )
    worst = max(sound, key=lambda one: one.strain)
    rows = [panel_verdicts(worst.section, worst.bay, PANEL_LIMIT)]
    return _worst_of(built, "core walls", rows, (worst.foot,), "a thicker sheet")


@record
class _WallBay:
    """How a core's wall carries the mix: the bay, its strip of sheet, its span over the span allowed, its foot (m)."""

    section: PanelSection
    bay: Bay
    strain: float
    foot: float


def _wall_bay(built: Built, wall: Part) -> _WallBay | Unjudged | None:
    """The better of the two ways in which a wall carries the mix: level, or upright where plates hold it.

    None where it is so narrow that its supports meet.
    """
    sheet, load = built.lined.frame.stocks.sheet, built.lined.load
    level_grain = abs(wall.placement.along[2]) < 0.5
    foot = min(point[2] for cell in wall.cells for point in cell.points())
    ways: list[_WallBay] = []
    for span, level_span in _wall_spans(built, wall):
        if span <= sheet.thickness + _NO_REACH:
            continue
        grain: Literal["across", "along"] = "across" if level_grain == level_span else "along"
        section = section_of(sheet, grain)
        if isinstance(section, Unjudged):
            return section
        allowed = panel_span(section, load.pressure(foot), sheet.thickness) or span
        ways.append(
            _WallBay(section, Bay(load.pressure(foot), span, 1, sheet.thickness), span / allowed, foot)
        )
    return min(ways, key=lambda way: way.strain, default=None)


def _wall_spans(built: Built, wall: Part) -> list[tuple[float, bool]]:
    """Spans of a core's wall between the middles of what it stands against, m, and whether each runs level."""
    frame = built.lined.frame
    core = frame.formers[wall.group]
    outer = next(
        ref
        for ref in core.facets
        if abs(dot(frame.planes.normal(ref), wall.placement.into)) > 1.0 - 1e-9
        and any(ref in cell.facets for cell in wall.cells)
    )
    own = [part for part in built.mold.parts if part.role == "core rib" and part.group == wall.group]
    ribs = [part for part in own if contact(frame.planes, wall.cells, part.cells)]
    plates = level_plates(ribs)
    width = level_width(core, outer, frame.planes.normal(outer)) - frame.thickness
    along = along_wall(frame.planes.half(outer))
    reach = [dot(along, point) for point in core.points()]
    middle = (min(reach) + max(reach)) / 2.0
    stood = [middle_along(rib, along) - middle for rib in ribs if rib not in plates]
    return [(max(gaps(width, stood)), True), *((span, False) for span in _upright_span(built, wall, plates))]


def _upright_span(built: Built, wall: Part, plates: Sequence[Part]) -> tuple[float, ...]:
    """Greatest span of a wall between the cap and the plates; what stands out beyond the last one counts double.

    A cantilever bends as much as a simple span of twice its length. Nothing where there are no plates.
    """
    if not plates:
        return ()
    hung = any(one.name == wall.group and one.seat == "hung" for one in built.lined.frame.form.formers)
    foot, head = _levels(wall)
    cap, mouth = (foot, head) if hung else (head, foot)
    middles = sorted((sum(_levels(plate)) / 2.0 for plate in plates), key=lambda z: abs(z - cap))
    gaps = [abs(upper - lower) for upper, lower in pairwise((cap, *middles))]
    return (max(*gaps, 2.0 * abs(mouth - middles[-1])),)


def _levels(part: Part) -> tuple[float, float]:
    """Lowest and highest point of a part, m."""
    heights = [point[2] for cell in part.cells for point in cell.points()]
    return min(heights), max(heights)


def _worst_of(
    built: Built, name: str, rows: Sequence[tuple[Judged, ...]], feet: Sequence[float], remedy: str
) -> tuple[Found, ...]:
    """For each of the three limits, the bay in which it is worst; ``feet`` are the low edges of the bays, m."""
    found: list[Found] = []
    for kind in zip(*rows, strict=True):
        missing = [verdict for verdict in kind if isinstance(verdict, Unjudged)]
        if missing:
            found.append(NotChecked(f"{name}: {missing[0].name}", built.mold.name, missing[0].why))
            continue
        index, verdict = max(enumerate(_verdicts(kind)), key=lambda pair: pair[1].utilisation)
        found.append(_check(built, name, verdict, built.lined.load, feet[index], remedy))
    return tuple(found)


def _verdicts(kind: Sequence[Judged]) -> list[Verdict]:
    return [verdict for verdict in kind if isinstance(verdict, Verdict)]


def rail_check(built: Built) -> Check:
    """The rail that is worst off: a stick from corner to corner under the mix between two half bays."""
    frame = built.lined.frame
    span = longest_side(frame.piece) + frame.thickness
    verdict = worst_rail(built.lined.load, built.rails, frame.stocks.stick, frame.stocks.deep, span)
    return _check(
        built,
        "rails",
        verdict,
        built.lined.load,
        built.rails[0],
        "a stouter stick, on edge, or a shorter gang",
    )


def _check(built: Built, name: str, verdict: Verdict, load: Load, foot: float, remedy: str) -> Check:
    head = load.steps(foot)
    return told(f"{name}: {verdict.name}", built.mold.name, verdict, remedy, head)
