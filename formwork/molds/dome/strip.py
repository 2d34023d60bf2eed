"""Taking a dome's form off and out: in which order, by which way, and what has to pass an opening."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, pi, sin

from formwork.geometry.prisms import Prism
from formwork.geometry.vectors import Vec
from formwork.molds.dome.choice import passes
from formwork.molds.dome.form import DomeForm, Section
from formwork.molds.dome.openings import Opening, openings, way_out
from formwork.molds.dome.rings import BASE, CURB, WEDGES
from formwork.molds.mold import Part, Strip
from formwork.shapes.piece import curved
from formwork.units import show

_DOWN: Vec = (0.0, 0.0, -1.0)
_UP: Vec = (0.0, 0.0, 1.0)


def ways_out(form: DomeForm) -> tuple[Opening, ...]:
    """The openings of the dome as formed."""
    return openings(curved(form.piece), cos(form.half))


def stripping(form: DomeForm, parts: Sequence[Part]) -> tuple[tuple[Strip, ...], tuple[tuple[str, str], ...]]:
    """The order in which the groups leave; and those that no opening lets out, with what would."""
    groups = {part.group for part in parts}
    steps = tuple(step for step in _steps(form, groups) if step.group in groups)
    return steps, tuple(_locked(form, parts))


def _steps(form: DomeForm, groups: set[str]) -> Iterator[Strip]:
    crown = "hub" if form.closed else "ring"
    if form.fluid:
        yield Strip(f"outer crown {crown}", _UP, 0.0, "lift it off, once the tie rods are slack")
        for one in form.outer:
            yield Strip(one.name, _level(form, one), 0.0, "unbolt its seams and pull it straight out")
    for door in curved(form.piece).formers:
        if door.name in groups and isinstance(door.body, Prism):
            yield Strip(door.name, door.body.axis, 0.0, "take its boards out one by one, the head last")
    if not ways_out(form):
        yield from _lifted(form, crown)
        return
    yield Strip(f"inner crown {crown}", _DOWN, 0.0, "prop it, unscrew the ribs, lower it")
    yield Strip(CURB, _DOWN, 0.0, "pull the boards inward and down, one by one")
    yield Strip(
        WEDGES,
        _DOWN,
        0.0,
        "drive them back a little at a time, going round, until the whole form is loose; take the packing from under "
        "one section after another",
    )
    for rib in form.key_ribs:
        yield Strip(f"inner form key rib {rib + 1}", _towards(form.bearing(rib)), 0.0, "draw it inward")
    first, *rest = form.inner
    yield Strip(first.name, _level(form, first, -1.0), 0.0, _down_and_in(form, "inward"))
    for one in rest:
        # along the plane of the seam that still stands, away from which the section was just freed
        yield Strip(
            one.name,
            _towards(form.bearing(one.first + one.bays)),
            0.0,
            _down_and_in(form, "inward along the seam that still stands"),
        )
    yield Strip(BASE, _DOWN, 0.0, "it stays under the dome until that is lifted, or for good")


def _down_and_in(form: DomeForm, way: str) -> str:
    return f"let it down {show.length(form.drop, form.units)} on props, then draw it {way} and carry it out"


def _lifted(form: DomeForm, crown: str) -> Iterator[Strip]:
    """Without an opening the dome leaves its form, not the form the dome."""
    yield Strip(
        WEDGES,
        _DOWN,
        0.0,
        "drive them back until the form is loose, then lift the dome straight off its form",
    )
    names = [f"inner crown {crown}", CURB, *(f"inner form key rib {rib + 1}" for rib in form.key_ribs)]
    for name in (*names, *(one.name for one in form.inner)):
        yield Strip(name, _DOWN, 0.0, "it stays behind when the dome is lifted off")
    yield Strip(BASE, _DOWN, 0.0, "it stays behind when the dome is lifted off")


def _level(form: DomeForm, one: Section, sign: float = 1.0) -> Vec:
    """Outward in the middle of a section."""
    middle = form.bearing(one.first + one.bays / 2.0)
    return sign * cos(middle), sign * sin(middle), 0.0


def _towards(bearing: float) -> Vec:
    """From a direction straight to the axis."""
    return cos(bearing + pi), sin(bearing + pi), 0.0


def _locked(form: DomeForm, parts: Sequence[Part]) -> Iterator[tuple[str, str]]:
    """Sections that pass no opening whole and have a part that passes none by itself."""
    ways = ways_out(form)
    if not ways:
        return
    for name, (_, way) in passes(form, "inner").items():
        if way:
            continue
        stuck = [part for part in parts if part.group == name and not way_out(ways, part_box(part))]
        if stuck:
            size = " x ".join(
                show.length(side, form.units) for side in sorted(part_box(stuck[0]), reverse=True)
            )
            yield (
                name,
                f"{name}: its {stuck[0].name} ({size}) passes no opening of the dome; make the oculus or a door "
                "larger, or take a smaller sheet for ribs and skin",
            )


def part_box(part: Part) -> tuple[float, float, float]:
    """The box round a part as it is cut."""
    blank = part.blank
    return blank.length, blank.width, blank.thickness * part.layers
