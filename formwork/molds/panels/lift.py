"""How hard the mix lifts the parts of a mold, what they weigh, and what one fastener holds against it."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi
from typing import Literal

from formwork.geometry.contact import contact
from formwork.molds.joints import SIDES
from formwork.molds.load import Load
from formwork.molds.mold import Part
from formwork.molds.panels.lining import Frame
from formwork.molds.strengths import grade_of_stick, gravity_of
from formwork.stock.records import StickStock
from formwork.strength.customary import GRAVITY
from formwork.strength.fasteners import Holding, screw, withdrawal
from formwork.strength.lumber import Section, Service, adjust
from formwork.strength.working import Force, given, step

WASHER = 0.020
"""Least outside diameter of the washer or tee nut under a bolt, m; 5/16 in and M8 ones are larger (from memory)."""
_BOLT_HOLE = 0.009


def core_lift(frame: Frame, load: Load, core: str) -> Force:
    """Buoyancy of a core: the mix is taken to get under it, however well it is sealed."""
    body = frame.formers[core]
    space = body.volume()
    return load.buoyed(
        space, body.in_plan(), (given("V", space, "m3", "volume of the core below the fill plane"),)
    )


def side_lift(frame: Frame, load: Load, parts: Sequence[Part]) -> Force:
    """Vertical push of the mix on every face of the sides: up where a mold narrows upward."""
    sides = [cell for part in parts if part.group.endswith(" panel") for cell in part.cells]
    patches = contact(frame.planes, frame.poured, sides)
    space = sum(one.area * (frame.fill - one.centre[2]) * one.normal[2] for one in patches)
    plan = sum(one.area * one.normal[2] for one in patches)
    said = "plan area of every face times its depth, faces pushed up less those pushed down"
    return load.buoyed(space, plan, (given("V", space, "m3", said),))


def lifted(frame: Frame, load: Load, parts: Sequence[Part], group: str) -> tuple[Force, float]:
    """What lifts the parts that the joints of a group hold down, and their dead weight, N.

    The sides carry more than their own faces are pushed with: a hung core lifts them by its bars. Where the mix
    presses the sides down, that is not counted on.

    Args:
        frame: the mold.
        load: the mix.
        parts: every part of the mold.
        group: the sides, or the name of a core.
    """
    if group != SIDES:
        return core_lift(frame, load, group), weight(frame, [part for part in parts if part.group == group])
    own = side_lift(frame, load, parts)
    hung = [former.name for former in frame.form.formers if former.kind == "core" and former.seat == "hung"]
    dead = weight(frame, [part for part in parts if part.group.endswith(" panel") or part.group in hung])
    if not hung:
        return own, dead
    cores = [core_lift(frame, load, name) for name in hung]
    pushed, pulled = max(0.0, own.force), sum(core.force for core in cores)
    force = pushed + pulled
    return Force(
        force,
        (
            *own.steps,
            given("U_c", pulled, "N", "lift of the hung cores, by their bars"),
            given("U_s", pushed, "N", "lift of the sides; nothing where the mix presses them down"),
            step("U", "U_s + U_c", force, "N", U_s=pushed, U_c=pulled),
        ),
    ), dead


def weight(frame: Frame, parts: Sequence[Part]) -> float:
    """Dead weight of parts, N; hardware is left out."""
    stocks = frame.stocks
    density = {stick.name: stick.density for stick in stocks.sticks} | {
        stocks.sheet.name: stocks.sheet.density
    }
    return sum(
        GRAVITY * density.get(part.stock, 0.0) * sum(cell.volume() for cell in part.cells) for part in parts
    )


def grip(item: Literal["screw", "bolt"], size: str, bite: float, stick: StickStock) -> Force:
    """What one fastener holds: a screw by its thread, a bolt by the wood under its washer.

    Args:
        item: screw or bolt.
        size: as printed on the box.
        bite: length of thread in the wood that holds it, m.
        stick: that wood; sheet is taken to hold no better.
    """
    if item == "screw":
        capacity = withdrawal(screw(size), Holding(gravity_of(stick)), bite)
        return Force(capacity.value, capacity.steps)
    section = Section(stick.width, stick.thickness)
    bearing = adjust(grade_of_stick(stick, section.width), section, Service()).fcp
    face = pi / 4.0 * (WASHER**2 - _BOLT_HOLE**2)
    force = bearing * face
    return Force(
        force,
        (
            given("A_w", face * 1e6, "mm2", "washer or tee nut, from memory"),
            step("R", "F_cp * A_w", force, "N", F_cp=bearing / 1e6, A_w=face * 1e6),
        ),
    )
