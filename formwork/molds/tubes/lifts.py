"""What lifts the parts of a tube mold, what a push puts into its braces, and what its bar and its joints must hold.

Mix that gets under the wall of a tube presses on its ring; mix that gets under a core floats all of it. What lifts
them presses as hard on the plate below, so that tube, core and plate, once tied together, stay where they are.
"""

from __future__ import annotations

from math import pi

from formwork.molds.load import Load
from formwork.molds.tubes.cage import SLOPE, Cage
from formwork.molds.tubes.lining import Choice
from formwork.record import record
from formwork.strength.customary import GRAVITY
from formwork.strength.props import Thrust, thrust
from formwork.strength.uplift import hold_down
from formwork.strength.working import Force, given, step

PUSH = 450.0
"""Sideways at the top of a tube, N: a person who leans or stumbles against it (ours; 100 lb)."""


@record
class Lifts:
    """What the parts of a tube mold are lifted and pushed with.

    Attributes:
        tube: mix under the ring of its wall.
        core: mix under all of the core; None where there is none.
        by_bar: the core reaches the brim, so that the bar holds it too.
        tube_weight: N.
        core_weight: of the core's parts, N.
        thrust: of a push at the top into a brace; None where there are no braces.
    """

    tube: Force
    core: Force | None
    by_bar: bool
    tube_weight: float
    core_weight: float
    thrust: Thrust | None

    @property
    def at_bar(self) -> Force:
        """What the bar is lifted with, before any safety."""
        return self.tube if self.core is None or not self.by_bar else together(self.tube, self.core)

    @property
    def bar_weight(self) -> float:
        """Dead weight of what the bar holds, N."""
        return self.tube_weight + (self.core_weight if self.by_bar else 0.0)

    @property
    def bar(self) -> float:
        """What the bar must hold, safety in, N."""
        return hold_down(self.at_bar.force, self.bar_weight)

    @property
    def rod(self) -> float:
        """What must hold a core that ends below the brim, safety in, N."""
        return 0.0 if self.core is None or self.by_bar else hold_down(self.core.force, self.core_weight)

    @property
    def upright(self) -> float:
        """Pull in the upright that is worst off, N: half of the bar's, and the lift of a brace beside it."""
        return self.bar / 2.0 + (self.thrust.upright if self.thrust else 0.0)


def together(one: Force, other: Force) -> Force:
    """Two lifts as one."""
    force = one.force + other.force
    return Force(
        force, (*one.steps, *other.steps, step("U", "U_t + U_c", force, "N", U_t=one.force, U_c=other.force))
    )


def tube_lift(load: Load, inner: float, outer: float) -> Force:
    """Lift of mix that gets under the wall of a tube: the head at its foot on the ring that it stands on.

    Args:
        load: the mix.
        inner: radius of its inside, m.
        outer: radius of its outside, m.

    Source: University of Florida construction lecture notes, week 8: force = pressure times area; a column form that
    begins to rise opens more area to the pressure.
    """
    pressure, ring = load.head(0.0), pi * (outer**2 - inner**2)
    force = pressure * ring
    return Force(
        force,
        (
            *load.head_steps(0.0),
            step(
                "A_t", "pi * (2 * r_i + t) * t", ring * 1e6, "mm2", r_i=inner * 1e3, t=(outer - inner) * 1e3
            ),
            step("U_t", "P / 1000 * A_t", force, "N", P=pressure / 1e3, A_t=ring * 1e6),
        ),
    )


def core_lift(load: Load, choice: Choice) -> Force | None:
    """Buoyancy of the core: the mix is taken to get under it, however well it is sealed."""
    core = choice.work.core
    if core is None:
        return None
    body = core.former.body
    space = body.volume()
    return load.buoyed(space, body.in_plan(), (given("V", space, "m3", "volume of the core"),), "U_c")


def lifts(load: Load, choice: Choice, cage: Cage, tube_mass: float, core_mass: float) -> Lifts:
    """What lifts and pushes a tube mold.

    Args:
        load: the mix.
        choice: of tube and core.
        cage: where its sticks stand.
        tube_mass: kg.
        core_mass: of the core's parts, kg.
    """
    core = choice.work.core
    return Lifts(
        tube=tube_lift(load, choice.tube.inside / 2.0, choice.tube.outer),
        core=core_lift(load, choice),
        by_bar=core is not None and core.high > choice.work.height - 1e-9,
        tube_weight=tube_mass * GRAVITY,
        core_weight=core_mass * GRAVITY,
        thrust=thrust(PUSH, cage.height, cage.head, SLOPE) if cage.braced else None,
    )
