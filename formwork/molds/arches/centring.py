"""The centre of an arch: ribs of two layers cut from sheet, a tie across the feet of each, battens for the stones.

Every stone lies on two battens, as far from its middle as a quarter of its soffit, or on
one where it is too narrow for two: the ribs are struck to the radius that makes their tops meet its flat soffit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import atan, ceil, cos, sin

from formwork.errors import GeometryError
from formwork.geometry.planes import Planes
from formwork.geometry.ribs import greatest_turn, segment_count
from formwork.mix.records import Mix
from formwork.molds.arches.centre_parts import CentrePlan, batten_parts, rib_parts, tie_part
from formwork.molds.assembly import Told, of_role, steps_of
from formwork.molds.choice import Stocks, named, stout, usual_sheet
from formwork.molds.fastening import Fastening, fasten, fixing
from formwork.molds.hardware import gathered, lines_of
from formwork.molds.joints import Joint
from formwork.molds.load import PANEL_LIMIT, sheet_section
from formwork.molds.mold import Hardware, Part
from formwork.molds.strengths import grade_of_stick
from formwork.molds.structure import BuiltCentre
from formwork.molds.weighing import mass
from formwork.project.records import PieceOrder, Shop
from formwork.shapes.piece import Centre
from formwork.stock.records import SheetStock, StickStock
from formwork.strength.beams import Run, beam_verdicts
from formwork.strength.customary import GRAVITY
from formwork.strength.lumber import Section, Service, adjust
from formwork.strength.panels import PanelSection
from formwork.strength.sheet_ribs import least_depth
from formwork.strength.working import Unjudged, Verdict
from formwork.units import show
from formwork.units.show import UnitSystem

LEAST_DEPTH = 0.08
"""Least depth of a rib, m (ours): below it two layers cannot be screwed together."""
MOST_DEPTH = 0.3
"""A rib that would be deeper than this is given a neighbour instead, m (ours)."""
_STEP = 0.005
_LEAST_GAP = 0.03
_LEAST_BATTEN = 0.018
_CLEAR = 0.002
_MOST_RIBS = 12
_SPACING = 0.15
"""Between the screws that hold the two layers of a rib together, m (common practice, no source)."""


def centred(order: PieceOrder, centre: Centre, shop: Shop, mix: Mix, units: UnitSystem) -> BuiltCentre:
    """The centre as this shop builds it.

    Args:
        order: of the arch.
        centre: what it must carry.
        shop: what it is built from.
        mix: of the stones.
        units: how a person here reads a length.

    Raises:
        GeometryError: where the arch is too tight for ribs.
        StockError: where the shop has no sheet, no stick or no bolt that serves.
    """
    weight = mix.wet_density * centre.volume * centre.stones * GRAVITY
    found = _decide(order, centre, shop, weight)
    planes = Planes()
    ribs = [part for number in range(found.ribs) for part in rib_parts(found, centre, number)]
    ties = [tie_part(planes, found, centre, number) for number in range(found.ribs)]
    battens = batten_parts(planes, found, centre)
    parts = (*ribs, *ties, *battens)
    feet = _feet(found, shop, weight)
    joined = [_fastened(found, shop, joint) for joint in _joints(found, ribs, battens)]
    said = _instructions(found, centre, weight, units)
    return BuiltCentre(
        order=order,
        centre=centre,
        planes=planes,
        parts=parts,
        hardware=(*gathered(line for one in (feet, *joined) for line in lines_of(one)), _wedges(found)),
        fixings=tuple(fixing(one) for one in (feet, *joined)),
        instructions=said,
        sheet=found.sheet,
        stick=found.stick,
        tie=found.tie,
        section=found.section,
        ribs=found.ribs,
        depth=found.depth,
        through=1 if found.segments > 1 else 2,
        radius=found.radius,
        span=2.0 * found.radius * sin(found.turn / 2.0),
        weight=weight,
        batten=found.batten,
        feet=feet,
        mass=mass(parts, shop),
        steps=steps_of(
            (Told(said[0], of_role("rib")), Told(said[1], of_role("tie", "batten")), *map(Told, said[2:])),
            parts,
        ),
    )


def _decide(order: PieceOrder, centre: Centre, shop: Shop, weight: float) -> CentrePlan:
    """Sticks for battens and ties, and as few ribs as carry the stones at a depth that is still a rib."""
    sheet = usual_sheet(shop, order.mold, 1)
    section = sheet_section(sheet, upright_grain=True)
    turn = centre.turn * centre.stones
    sticks = [named("stick", order.mold.stick, shop.sticks)] if order.mold.stick else _flat(shop.sticks)
    tie = next((one for one in stout(shop.sticks) if one.width >= LEAST_DEPTH), stout(shop.sticks)[-1])
    most = max(1, int(centre.breadth / (2.0 * sheet.thickness + tie.thickness + _LEAST_GAP)))
    for ribs in range(min(2, most), min(most, _MOST_RIBS) + 1):
        stick, batten, beside, radius = _batten(centre, sticks, ribs, weight)
        span = 2.0 * radius * sin(turn / 2.0)
        depth, segments = _cut(section, sheet, shop.saw.trim, (weight / (ribs * span), span), (radius, turn))
        made = CentrePlan(sheet, stick, section, tie, ribs, depth, segments, radius, beside, turn, batten)
        if depth <= min(MOST_DEPTH, 0.5 * radius):
            break
    return made


def _flat(sticks: Sequence[StickStock]) -> list[StickStock]:
    """Sticks that lie flat under a stone and take a screw through them, the smallest section first."""
    laid = [stick for stick in sticks if stick.thickness >= _LEAST_BATTEN]
    return sorted(laid or sticks, key=lambda stick: (stick.thickness * stick.width, stick.name))


def _cut(
    section: PanelSection | Unjudged,
    sheet: SheetStock,
    trim: float,
    carries: tuple[float, float],
    curve: tuple[float, float],
) -> tuple[float, int]:
    """Depth of a rib (m), and in how many segments its front layer is cut: one where both layers can run through."""
    radius, turn = curve
    for layers in (2, 1):
        depth = _depth(section, sheet, layers, *carries)
        if depth >= 0.9 * radius:
            continue
        most = greatest_turn(radius, depth, sheet.width - 2.0 * trim, sheet.length - 2.0 * trim)
        segments = segment_count(turn, most)
        if layers == 1 or segments == 1:
            return depth, segments
    raise GeometryError(
        f"ribs {show.both(depth)} deep do not go under an arch of {show.both(radius)} radius; build its centre of "
        "solid blocks, and set centre = false"
    )


def _depth(
    section: PanelSection | Unjudged, sheet: SheetStock, layers: int, load: float, span: float
) -> float:
    """The least depth at which a rib carries, in whole steps; a tenth of its span where its sheet is not judged."""
    if isinstance(section, Unjudged):
        return ceil(max(LEAST_DEPTH, span / 10.0) / _STEP) * _STEP
    wanted = least_depth(section, sheet.thickness, layers, load, span)
    return ceil(max(LEAST_DEPTH, wanted) / _STEP - 1e-9) * _STEP


def _batten(
    centre: Centre, sticks: Sequence[StickStock], ribs: int, weight: float
) -> tuple[StickStock, Run, float, float]:
    """The smallest stick that carries its share of a stone from rib to rib.

    Returns:
        The stick, what it carries, how far it lies from the stone's middle (rad), the radius of the ribs under it (m).
    """
    found = [_laid(centre, stick, ribs, weight) for stick in sticks]
    for stick, run, beside, radius in found:
        if all(verdict.ok for verdict in batten_verdicts(stick, run)):
            return stick, run, beside, radius
    return found[-1]


def _laid(
    centre: Centre, stick: StickStock, ribs: int, weight: float
) -> tuple[StickStock, Run, float, float]:
    two = centre.bearing / 4.0 >= stick.width / 2.0 + _CLEAR
    beside = atan(centre.bearing / 4.0 / centre.soffit) if two else 0.0
    each = weight / (centre.stones * (2 if two else 1)) / centre.breadth
    radius = (centre.soffit - stick.width / 2.0 * sin(beside)) / cos(beside) - stick.thickness
    return stick, Run(each, centre.breadth / max(1, ribs - 1)), beside, radius


def batten_verdicts(stick: StickStock, run: Run) -> tuple[Verdict, ...]:
    """Bending, shear and sag of a batten that lies flat between two ribs.

    Args:
        stick: it is cut from.
        run: its span and load.
    """
    section = Section(breadth=stick.width, depth=stick.thickness)
    values = adjust(grade_of_stick(stick, section.width), section, Service())
    return beam_verdicts(values, section, run, PANEL_LIMIT)


def _feet(found: CentrePlan, shop: Shop, weight: float) -> Fastening:
    """The screws between a tie and the feet of its rib: as many as carry the stones across their axis."""
    thick, layers = found.tie.thickness, 2.0 * found.ply
    one = fasten(
        _stocks(found, shop), Joint("ties to the feet of the ribs", 1, thick, layers, comes_off=False)
    )
    places = 2 * found.ribs
    each = one.across.force if one.across else 0.0
    count = max(3, ceil(weight / places / each)) if each else 4
    return replace(one, count=places * count, joint=replace(one.joint, count=places * count, places=places))


def _joints(found: CentrePlan, ribs: Sequence[Part], battens: Sequence[Part]) -> tuple[Joint, ...]:
    arc = found.radius * found.turn
    layers = found.ribs * 2 * max(2, ceil(arc / _SPACING))
    crossings = len(battens) * found.ribs
    return (
        Joint("layers of the ribs, glued", layers, found.ply, found.ply, comes_off=False, places=found.ribs),
        Joint(
            "battens to the ribs, from above",
            crossings,
            found.stick.thickness,
            found.depth,
            comes_off=False,
            edge=True,
            places=crossings,
        ),
    )


def _fastened(found: CentrePlan, shop: Shop, joint: Joint) -> Fastening:
    return fasten(_stocks(found, shop), joint)


def _stocks(found: CentrePlan, shop: Shop) -> Stocks:
    deep, broad = found.tie.thickness, found.tie.width
    return Stocks(found.sheet, found.tie, deep, broad, found.tie, shop.sticks, shop.hardware, bolted=False)


def _wedges(found: CentrePlan) -> Hardware:
    use = "under both ends of every tie, to ease the centre before it is struck"
    return Hardware("folding wedges", "hardwood", float(2 * found.ribs), "pair", use)


def _instructions(found: CentrePlan, centre: Centre, weight: float, units: UnitSystem) -> tuple[str, ...]:
    """Making, setting up, loading and striking, in that order; the cautions with the step they belong to."""
    length = show.length
    stand = show.force(weight / (2.0 * found.ribs), units)
    rests = "two battens" if found.beside else "one batten"
    staggered = " with their joints staggered" if found.segments > 1 else ""
    return (
        f"Glue and screw the two layers of each rib{staggered}; strike their tops to "
        f"{length(found.radius, units)} from the arch's centre, which lies {length(-found.middle, units)} below the "
        "ties' underside.",
        "Screw a tie across the feet of each rib, on the face that looks into the wall, then the battens across all "
        "ribs; the pattern of a stone's "
        f"soffit shows where: every stone lies on {rests}.",
        f"Stand it between the jambs on posts or corbels that carry {stand} under each end of each rib, on pairs of "
        "folding wedges, its crown plumb over the middle of the span; brace it so that it cannot lean.",
        "Lay from both springings at once, never more than one stone ahead on either side: a load on one side alone "
        "bends the ribs more than they are judged for. Set the keystone last.",
        "Nobody stands or reaches under an arch that stands on its centre. Ease the wedges a little at a time when the "
        "joints are hard and the abutments stand; if anything moves, drive them back and leave it. Whether the "
        "abutments take the thrust is a licensed professional's matter.",
    )
