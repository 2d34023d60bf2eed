"""What the mix lifts of a wrapped mold: the core by all it displaces, the shells where they narrow upward."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from formwork.molds.mold import Part
from formwork.molds.weighing import mass
from formwork.molds.wraps.ring_ribs import SHELLS
from formwork.molds.wraps.wrapping import Lined
from formwork.strength.customary import GRAVITY
from formwork.strength.uplift import buoyancy, ring_lift
from formwork.strength.working import Force, Step, given, step


def core_lift(lined: Lined) -> Force:
    """Buoyancy of the core: the mix is taken to get under it, however well it is sealed; nothing without a core."""
    if lined.core is None:
        return Force(0.0, ())
    density, space = lined.asked.load.density, lined.core.former.body.volume()
    force = buoyancy(density, space)
    return Force(
        force,
        (
            given("V", space, "m3", "volume of the core below the fill plane"),
            step("U_c", "rho * g * V", force, "N", rho=density, g=GRAVITY, V=space),
        ),
    )


def side_lift(lined: Lined) -> Force:
    """Vertical push of the mix on the sides, up where they narrow upward, and under the edge of the skin.

    Mix is taken to get under the skin, however well it is sealed.
    """
    load, fill = lined.asked.load, lined.form.fill
    steps: list[Step] = []
    total = 0.0
    for number, side in enumerate(lined.sides, start=1):
        (a, low), (b, high) = side.foot, side.head
        lift = ring_lift(load.density, foot=a, head=b, height=high - low, cover=fill - high)
        total += lift
        steps.append(
            step(
                f"U_{number}",
                "rho * g * pi * (a^2 * (h + c) - b^2 * c - h * (a^2 + a * b + b^2) / 3)",
                lift,
                "N",
                rho=load.density,
                g=GRAVITY,
                a=a,
                b=b,
                h=high - low,
                c=fill - high,
            )
        )
    radius, thick = lined.sides[0].foot[0], lined.shell.skin.sheet.thickness
    pressure = load.pressure(0.0)
    under = pressure * pi * ((radius + thick) ** 2 - radius**2)
    steps.append(step("U_f", "p * pi * ((r + t)^2 - r^2)", under, "N", p=pressure, r=radius, t=thick))
    return Force(total + under, tuple(steps))


def shells_lift(lined: Lined) -> Force:
    """What the screws between the lowest rings and the base must hold: the sides, and a hung core by its bars.

    Where the mix presses the sides down, that is not counted on.
    """
    own = side_lift(lined)
    if lined.core is None or not lined.core.hung:
        return own
    core, pushed = core_lift(lined), max(0.0, own.force)
    force = core.force + pushed
    return Force(
        force, (*own.steps, *core.steps, step("U", "U_s + U_c", force, "N", U_s=pushed, U_c=core.force))
    )


def weight(lined: Lined, parts: Sequence[Part], groups: Sequence[str]) -> float:
    """Dead weight of the parts of some groups, N."""
    return GRAVITY * mass([part for part in parts if part.group in groups], lined.asked.shop)


def held_groups(lined: Lined) -> tuple[str, ...]:
    """Groups that the screws between the lowest rings and the base hold down."""
    core = lined.core
    return (*SHELLS, *core.groups) if core is not None and core.hung else SHELLS
