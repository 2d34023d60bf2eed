"""Parts at full size, to be laid on the stock and drawn round: outline, openings, holes, the blade at each edge.

A pattern shows the larger face of a part, as the cut list does. Everything here is in mm, y upward, with the longer
side level, so that patterns lie well side by side.
"""

from __future__ import annotations

from math import acos, pi
from string import digits

from formwork.cutting.curves import ONE_ARC, arcs_of_one_curve, told
from formwork.cutting.cut_list import CutLine
from formwork.geometry.outlines import Leg, Outline, Point, box, legs, scaled, shifted, turned_by
from formwork.molds.mold import Blank, Mold
from formwork.packet.cut_sections import grain, names_of
from formwork.packet.saw import SQUARE, struck_radii
from formwork.packet.wording import counted, size
from formwork.plan import Plan
from formwork.project.records import Shop
from formwork.record import record
from formwork.units import show
from formwork.units.show import UnitSystem

_SQUARE_TO = 0.1
"""A corner nearer to that of the box than this (mm) counts as being there: no pencil line is finer."""
_RISE = 1.0
"""The words along an arc stand on a chord that it rises over by no more than this, mm."""


@record
class EdgeNote:
    """What is written along an edge, from one of its ends to the other."""

    start: Point
    end: Point
    text: str


@record
class Hole:
    """A round hole: its middle, how wide it is, and the same in words."""

    at: Point
    across: float
    text: str


@record
class Pattern:
    """A part at full size.

    Attributes:
        label: its mark in the cut list.
        about: what else is written on it, line by line.
        outline: its larger face, counter-clockwise, in the box from 0, 0.
        holes: round holes through it.
        notes: what is written along its edges.
        length: of the box round it, level.
        height: of that box.
        openings: what else is cut out of it.
        radii: of a disc or a ring its outer and inner radius in words, which a trammel strikes; empty for other shapes.
    """

    label: str
    about: tuple[str, ...]
    outline: Outline
    holes: tuple[Hole, ...]
    notes: tuple[EdgeNote, ...]
    length: float
    height: float
    openings: tuple[Outline, ...] = ()
    radii: tuple[str, ...] = ()


def patterns(plan: Plan) -> tuple[Pattern, ...]:
    """A pattern for every part of sheet or stick that straight cuts do not make, in the order of the cut list.

    Then what is drawn on the bases of molds, under the letter of the mold and a nought.
    """
    units = plan.project.units
    cut = tuple(
        pattern(line, plan.project.shop, units)
        for line in plan.cut_list
        if line.part.kind in ("panel", "stick") and needs_pattern(line.part.blank)
    )
    letters = {line.mold: line.label.rstrip(digits) for line in plan.cut_list}
    drawn = (mold for mold in plan.molds if mold.setting_out)
    return (*cut, *(setting_out(f"{letters[mold.name]}0", mold, units) for mold in drawn))


def setting_out(label: str, mold: Mold, units: UnitSystem) -> Pattern:
    """What is drawn on the base of a mold, as it is seen from above."""
    whole, *holes = mold.setting_out
    (x0, y0), (x1, y1) = box(whole)
    length, height = x1 - x0, y1 - y0
    turned = height > length

    def laid(outline: Outline) -> Outline:
        here = shifted(outline, (-x0, -y0))
        upright = shifted(turned_by(here, pi / 2.0), (height, 0.0)) if turned else here
        return scaled(upright, 1000.0)

    return Pattern(
        label=label,
        about=(
            f"{mold.piece.name}: on the base, seen from above",
            f"{size(length, units)} x {show.length(height, units)}",
            "the faces of strips and cores towards the mix",
        ),
        outline=laid(whole),
        holes=(),
        notes=(),
        length=1000.0 * max(length, height),
        height=1000.0 * min(length, height),
        openings=tuple(laid(hole) for hole in holes),
    )


def needs_pattern(blank: Blank) -> bool:
    """Whether more is to be cut than a rectangle: a curve, a slant, an opening."""
    return bool(blank.openings) or not is_rectangle(blank)


def is_rectangle(blank: Blank) -> bool:
    """Whether a blank's edges are straight and run along the box round it, into each of its corners."""
    if any(blank.bulges):
        return False
    xs, ys = [x for x, _ in blank.outline], [y for _, y in blank.outline]

    def sides(value: float, along: list[float]) -> tuple[bool, bool]:
        return (value - min(along)) * 1000.0 < _SQUARE_TO, (max(along) - value) * 1000.0 < _SQUARE_TO

    at = [(*sides(x, xs), *sides(y, ys)) for x, y in blank.outline]
    corners = {sides for sides in at if sum(sides) == 2 and any(sides[:2]) and any(sides[2:])}
    return all(any(sides) for sides in at) and len(corners) == 4


def pattern(line: CutLine, shop: Shop, units: UnitSystem) -> Pattern:
    """The pattern of one line of the cut list."""
    blank = line.part.blank
    turned = blank.width > blank.length

    def at(x: float, y: float) -> Point:
        return ((blank.width - y) * 1000.0, x * 1000.0) if turned else (x * 1000.0, y * 1000.0)

    def laid(outline: Outline) -> Outline:
        return Outline(tuple(at(x, y) for x, y in outline.points), outline.bulges)

    outline = laid(blank.edge)
    wide, long = sorted((blank.length, blank.width))
    return Pattern(
        label=line.label,
        about=_about(line, shop, units, "\u2195" if turned else "\u2194"),
        outline=outline,
        holes=tuple(
            Hole(at(x, y), across * 1000.0, f"{show.length(across, units)} hole")
            for x, y, across in blank.holes
        ),
        notes=_edge_notes(outline, blank, units),
        length=long * 1000.0,
        height=wide * 1000.0,
        openings=tuple(laid(opening) for opening in blank.openings),
        radii=tuple(show.length(radius, units, exact=units == "in") for radius in struck_radii(blank)),
    )


def _about(line: CutLine, shop: Shop, units: UnitSystem, arrow: str) -> tuple[str, ...]:
    blank = line.part.blank
    lines = (
        names_of(line),
        f"{size(blank.length, units)} x {show.length(blank.width, units)}",
        f"{counted(line.quantity, 'piece')} from {line.part.stock}",
    )
    return (*lines, f"grain {arrow}") if grain(line, shop) == "lengthwise" else lines


def _edge_notes(outline: Outline, blank: Blank, units: UnitSystem) -> tuple[EdgeNote, ...]:
    """Along every edge its radius where it is an arc, and the tilt of the blade where it is not square."""
    notes = []
    along = list(legs(outline))
    alike = {number: len(numbers) for numbers in arcs_of_one_curve(along) for number in numbers}
    worded = told(along)
    for number, (leg, tilt) in enumerate(zip(along, blank.bevels, strict=True)):
        one_radius = leg.bulge != 0.0 and alike[number] <= ONE_ARC
        words = [f"radius {show.length(leg.arc().radius / 1000.0, units)}"] if one_radius else []
        if abs(tilt) >= SQUARE and number in worded:
            words.append(f"{show.angle(abs(tilt))} {'in' if tilt > 0.0 else 'out'}")
        if words:
            notes.append(EdgeNote(*_nearly_straight(leg), ", ".join(words)))
    return tuple(notes)


def _nearly_straight(leg: Leg) -> tuple[Point, Point]:
    """The ends of an edge; of an arc those of a piece about its middle that rises over its chord by little."""
    if leg.bulge == 0.0:
        return leg.start, leg.end
    arc = leg.arc()
    half = min(0.5, acos(max(-1.0, 1.0 - _RISE / arc.radius)) / abs(arc.sweep))
    return arc.at(0.5 - half), arc.at(0.5 + half)
