"""What the mix does to a dome's form: what it weighs on the inner form, lifts of the outer, and pulls at its seams."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, pi, sin, tau

from formwork.geometry.gores import polygon_share
from formwork.geometry.meridians import outlined
from formwork.geometry.outlines import Leg, Outline, area, moment, transposed
from formwork.geometry.quadrature import integral
from formwork.molds.dome.form import DomeForm
from formwork.molds.dome.formed import formed_room, formed_volume
from formwork.molds.dome.skin import skin_pressure
from formwork.molds.load import Load
from formwork.molds.strengths import grade_of_stick
from formwork.strength.customary import GRAVITY
from formwork.strength.lumber import Section, Service, adjust
from formwork.strength.pressure import liquid_head
from formwork.strength.uplift import hold_down
from formwork.strength.working import Force, given, step

ROD_WASHERS = (0.06, 0.08, 0.1)
"""Sides of the square washers under a tie rod's nut, m; one over the first is no broader than the stick under it."""
BOLT_WASHERS = (0.04, 0.05, 0.06, 0.08)
"""Sides of the square washers under a seam bolt, m; one over the first is no broader than a third of a rib's depth."""
_HOLE = 0.013
_LEAST_RODS = 8
_BOLTS_APART = 0.3
_CLOSEST = 0.08
"""Least distance between two seam bolts, m (common practice, no source)."""


def above(legs: Sequence[Leg], fill: float, *, closed: bool) -> Outline:
    """What stands between a form's face and the fill plane, in half a section: the face's legs from the foot up."""
    foot, top = legs[0].start, legs[-1].end
    over = ((0.0, top[1]), (0.0, fill)) if closed else ((top[0], fill),)
    path = [top, *over, (foot[0], fill), foot]
    around = tuple(Leg(a, b, 0.0) for a, b in pairwise(path) if a != b)
    return outlined(tuple(legs), around)


def _stands_on(legs: Sequence[Leg], fill: float, count: int, *, closed: bool) -> float:
    """Volume between a face and the fill plane, m3."""
    return abs(tau * moment(above(legs, fill, closed=closed))) * polygon_share(count)


def lift(form: DomeForm, load: Load) -> Force:
    """Lift of the mix on the outer form: its pressure on every face, upward, up to the fill plane."""
    legs = formed_room(form).outer
    space = _stands_on(legs, form.fill, form.count, closed=form.closed)
    top = 0.0 if form.closed else legs[-1].end[0]
    widest = max(leg.end[0] for leg in legs)
    plan = pi * (max(widest, legs[0].start[0]) ** 2 - top**2)
    return load.buoyed(
        space, plan, (given("V", space, "m3", "between the outer form's face and the fill plane"),)
    )


def weight_on(form: DomeForm, load: Load) -> Force:
    """What stands on the inner form, N: all mix over it up to the fill plane, or the wet shell."""
    if form.fluid:
        space = _stands_on(formed_room(form).inner, form.fill, form.count, closed=form.closed)
        what = "between the inner form's face and the fill plane"
    else:
        space, what = formed_volume(form), "the wet shell"
    force = liquid_head(load.density, 1.0) * space
    return Force(
        force,
        (
            given("V", space, "m3", what),
            step("W", "rho * g * V", force, "N", rho=load.density, g=GRAVITY, V=space),
        ),
    )


def seam_pull(form: DomeForm, load: Load) -> Force:
    """What one seam of the outer form must hold: half of the mix's push on an upright plane through the axis."""
    legs = formed_room(form).outer
    foot, top = legs[0].start, legs[-1].end
    corners = [top, (0.0, top[1]), (0.0, foot[1]), foot]
    half = outlined(legs, tuple(Leg(a, b, 0.0) for a, b in pairwise(corners) if a != b))
    size, first = area(half), moment(transposed(half))
    force = liquid_head(load.density, 1.0) * (form.fill * size - first)
    return Force(
        force,
        (
            given("A", size, "m2", "half of the section through the axis, inside the outer form"),
            given("z", first / size, "m", "height of its centroid"),
            given("h", form.fill, "m", "height of the fill plane"),
            step(
                "T",
                "rho * g * A * (h - z)",
                force,
                "N",
                rho=load.density,
                g=GRAVITY,
                A=size,
                h=form.fill,
                z=first / size,
            ),
        ),
    )


def washer_grip(form: DomeForm, side: float) -> Force:
    """What the wood under a square washer bears."""
    stick = form.stick
    section = Section(stick.width, stick.thickness)
    bearing = adjust(grade_of_stick(stick, section.width), section, Service()).fcp
    face = side * side - pi / 4.0 * _HOLE**2
    force = bearing * face
    return Force(
        force,
        (
            given("A_w", face * 1e6, "mm2", f"square washer of {1000 * side:.0f} mm, less its hole"),
            step("R", "F_cp * A_w", force, "N", F_cp=bearing / 1e6, A_w=face * 1e6),
        ),
    )


def rods(form: DomeForm, load: Load, weight: float) -> int:
    """How many tie rods hold the outer form down: enough for the lift with its factor, less the form's weight (N).

    There is one at each rib at the most; as many as the person asks for where that is said.
    """
    if form.rods is not None:
        return form.rods
    asked = hold_down(lift(form, load).force, weight)
    each = washer_grip(form, rod_washer(form, load, weight)).force
    return min(form.count, max(_LEAST_RODS, ceil(asked / each - 1e-9)))


def rod_washer(form: DomeForm, load: Load, weight: float) -> float:
    """Side of the washers under the tie rods, m: the least with which enough rods find room; the largest else."""
    asked, count = hold_down(lift(form, load).force, weight), form.rods or form.count
    sizes = [side for side in ROD_WASHERS if side <= max(ROD_WASHERS[0], form.stick.width)]
    return next((side for side in sizes if count * washer_grip(form, side).force >= asked), sizes[-1])


def rod_force(form: DomeForm, load: Load, weight: float) -> float:
    """What each rod and its anchor must hold, N."""
    return hold_down(lift(form, load).force, weight) / rods(form, load, weight)


def seam_bolts(form: DomeForm, load: Load) -> int:
    """Bolts in each seam of the outer form: as the push asks, no further apart than ``_BOLTS_APART``, as find room."""
    if form.seam_bolts is not None:
        return form.seam_bolts
    by_force = ceil(seam_pull(form, load).force / washer_grip(form, bolt_washer(form, load)).force - 1e-9)
    return min(max(by_force, ceil(_seam(form) / _BOLTS_APART) + 1), most_bolts(form))


def bolt_washer(form: DomeForm, load: Load) -> float:
    """Side of the washers under the seam bolts, m: the least with which bolts enough find room; the largest else."""
    pull, count = seam_pull(form, load).force, form.seam_bolts or most_bolts(form)
    sizes = [side for side in BOLT_WASHERS if side <= max(BOLT_WASHERS[0], form.depth / 3.0)]
    return next((side for side in sizes if count * washer_grip(form, side).force >= pull), sizes[-1])


def most_bolts(form: DomeForm) -> int:
    """How many bolts find room in a seam of the outer form."""
    return int(_seam(form) / _CLOSEST) + 1


def _seam(form: DomeForm) -> float:
    """Length of a seam of the outer form, m."""
    face = form.face("outer")
    return face.length(face.at_radius(form.top), face.springing)


def bay_width(form: DomeForm, radius: float, bays: int = 1) -> float:
    """Distance between two ribs at a radius, m."""
    return 2.0 * radius * sin(bays * form.half)


def foot_force(form: DomeForm, load: Load) -> float:
    """Thrust along a rib at its foot, N: its share of what stands on the form, by the slope of its meridian."""
    return weight_on(form, load).force / form.count / sin(form.shell.inside.springing)


def crown_thrust(form: DomeForm, load: Load) -> Force:
    """Level thrust of a rib against the crown, N, as if no purlin held it: an arch hinged at foot and crown.

    What presses on its bay turns it about its foot; the thrust at the height of its upper end holds it.
    """
    inside = form.shell.inside
    foot, _ = inside.point(inside.springing)
    top = inside.at_radius(form.top)

    def turning(polar: float) -> float:
        (r, z), (across, up) = inside.point(polar), inside.normal(polar)
        pressure = pressure_at(form, load, z)
        lever = z * across + (foot - r) * up if form.fluid else foot - r
        return pressure * lever * r * inside.bend(polar)

    moment_at_foot = 2.0 * form.half * integral(turning, top, inside.springing, 1e-6)
    rise = inside.z(top)
    force = moment_at_foot / rise
    return Force(
        force,
        (
            given("M", moment_at_foot, "N m", "of what presses on a bay, about the rib's foot"),
            given("h", rise, "m", "height of the rib's upper end"),
            step("H", "M / h", force, "N", M=moment_at_foot, h=rise),
        ),
    )


def pressure_at(form: DomeForm, load: Load, z: float) -> float:
    """Pressure on the inner skin at a height, Pa: all mix over it lies on it, whatever of it has set."""
    return load.weight(z) if form.fluid else skin_pressure(form.shell, load)
