"""Does the mold hold: panels between their rails, rails between the corners, the walls of a core."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from formwork.checks.check import Check, NotChecked
from formwork.geometry.contact import contact
from formwork.geometry.vectors import dot, unit
from formwork.molds.design import Built, longest_side, panel_section
from formwork.molds.load import PANEL_LIMIT, Load, worst_rail
from formwork.molds.mold import Part
from formwork.strength.overhang import Overhang, overhang_verdicts
from formwork.strength.panels import Bay, PanelSection, panel_verdicts
from formwork.strength.pressure import head_steps
from formwork.strength.sheets import section_for
from formwork.strength.working import Judged, Unjudged, Verdict

Found = Check | NotChecked

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
        rows = [overhang_verdicts(section, Overhang(load.pressure(top), load.fill - top), PANEL_LIMIT)]
        return _worst_of(built, "panels", rows, (top,), "a broader rail, or a thicker sheet")
    bays = [Bay(load.pressure(lower), upper - lower, 1, broad) for lower, upper in pairwise(built.rails)]
    rows = [panel_verdicts(section, bay, PANEL_LIMIT) for bay in bays]
    return _worst_of(built, "panels", rows, built.rails, "another rail, or a thicker sheet")


def core_wall_checks(built: Built) -> tuple[Found, ...]:
    """The same for the walls of the cores, which span level from corner to corner under the mix outside them."""
    walls = [part for part in built.mold.parts if part.role == "core wall" and part.layers == 1]
    if not walls:
        return ()
    load, sheet = built.lined.load, built.lined.frame.stocks.sheet
    found: list[tuple[PanelSection, Bay, float]] = []
    for wall in walls:
        level_grain = abs(wall.placement.along[2]) < 0.5
        section = section_for(sheet.material, sheet.thickness, "across" if level_grain else "along")
        if isinstance(section, Unjudged):
            return (NotChecked("core walls", built.mold.name, section.why),)
        foot = min(point[2] for cell in wall.cells for point in cell.points())
        span = _wall_span(built, wall)
        found.append((section, Bay(load.pressure(foot), span, 1, sheet.thickness), foot))
    worst = max(found, key=lambda one: one[1].pressure * one[1].span ** 3)
    rows = [panel_verdicts(worst[0], worst[1], PANEL_LIMIT)]
    return _worst_of(built, "core walls", rows, (worst[2],), "a thicker sheet")


def _wall_span(built: Built, wall: Part) -> float:
    """Level span of a core's wall between the middles of what it stands against: the next walls, or ribs between."""
    frame = built.lined.frame
    normal = wall.placement.into
    along = unit((-normal[1], normal[0], 0.0))
    reach = [dot(along, point) for point in frame.formers[wall.group].points()]
    ribs = [part for part in built.mold.parts if part.role == "core rib" and part.group == wall.group]
    touching = sum(bool(contact(frame.planes, wall.cells, rib.cells)) for rib in ribs)
    return (max(reach) - min(reach) - frame.thickness) / (touching + 1)


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
    head = head_steps(load.density, max(0.0, load.fill - foot))
    return Check(
        name=f"{name}: {verdict.name}",
        mold=built.mold.name,
        demand=verdict.load,
        capacity=verdict.limit,
        unit=verdict.unit,
        ok=verdict.ok,
        source=verdict.source,
        working=(*(str(one) for one in head), *verdict.lines),
        remedy="" if verdict.ok else remedy,
    )
