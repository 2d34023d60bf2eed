"""What the mix lifts of a wrapped mold: the core by all it displaces, the shells where they narrow upward."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from formwork.molds.load import Load
from formwork.molds.mold import Part
from formwork.molds.weighing import mass
from formwork.molds.wraps.cones import Cone
from formwork.molds.wraps.ring_ribs import SHELLS
from formwork.molds.wraps.wrapping import Lined
from formwork.strength.customary import GRAVITY
from formwork.strength.uplift import ring_lift
from formwork.strength.working import Force, Step, given, step


def core_lift(lined: Lined) -> Force:
    """Buoyancy of the core: the mix is taken to get under it, however well it is sealed; nothing without a core."""
    if lined.core is None:
        return Force(0.0, ())
    body = lined.core.former.body
    space = body.volume()
    known = given("V", space, "m3", "volume of the core below the fill plane")
    return lined.asked.load.buoyed(space, body.in_plan(), (known,), "U_c")


def side_lift(lined: Lined) -> Force:
    """Vertical push of the mix on the sides, up where they narrow upward, and under the edge of the skin.

    Mix is taken to get under the skin, however well it is sealed.
    """
    load, fill = lined.asked.load, lined.form.fill
    own = _on_cones(lined.sides, load, fill)
    radius, thick = lined.sides[0].foot[0], lined.shell.skin.sheet.thickness
    pressure = load.head(0.0)
    under = pressure * pi * ((radius + thick) ** 2 - radius**2)
    last = step(
        "U_f", "P / 1000 * pi * (2 * r_f + t) * t", under, "N",
        P=pressure / 1e3, r_f=radius * 1e3, t=thick * 1e3,
    )  # fmt: skip
    return Force(own.force + under, (*own.steps, *load.head_steps(0.0), last))


def _on_cones(sides: Sequence[Cone], load: Load, fill: float) -> Force:
    """What the mix pushes the faces of the cones up with; in lifts no cone that widens upward is counted on.

    Such a one may stay dry while a lift stands against one that narrows.
    """
    counted = [side for side in sides if load.lifts == 1 or side.foot[0] > side.head[0]]
    steps: list[Step] = []
    spaces = []
    for number, side in enumerate(counted, start=1):
        (a, low), (b, high) = side.foot, side.head
        space = ring_lift(1.0, foot=a, head=b, height=high - low, cover=fill - high) / GRAVITY
        spaces.append(space)
        steps.append(
            step(
                f"V_{number}",
                "pi * (a^2 * (h + c) - b^2 * c - h * (a^2 + a * b + b^2) / 3)",
                space,
                "m3",
                a=a,
                b=b,
                h=high - low,
                c=fill - high,
            )
        )
    plan = sum(pi * (side.foot[0] ** 2 - side.head[0] ** 2) for side in counted)
    space = sum(spaces)
    known = given("V_s", space, "m3", "between the sides and the fill plane, all of V_1 and so on")
    return load.buoyed(space, plan, (*steps, known), "U_s")


def shells_lift(lined: Lined) -> Force:
    """What the screws between the lowest rings and the base must hold: the sides, and a hung core by its bars.

    Where the mix presses the sides down, that is not counted on.
    """
    own = side_lift(lined)
    if lined.core is None or not lined.core.hung:
        return own
    core, pushed = core_lift(lined), max(0.0, own.force)
    force = core.force + pushed
    pushes = {one.symbol: one.value for one in own.steps}
    return Force(
        force,
        (
            *own.steps,
            *core.steps,
            step(
                "U",
                "max(U_s + U_f, 0) + U_c",
                force,
                "N",
                U_s=pushes["U_s"],
                U_f=pushes["U_f"],
                U_c=core.force,
            ),
        ),
    )


def weight(lined: Lined, parts: Sequence[Part], groups: Sequence[str]) -> float:
    """Dead weight of the parts of some groups, N."""
    return GRAVITY * mass([part for part in parts if part.group in groups], lined.asked.shop)


def held_groups(lined: Lined) -> tuple[str, ...]:
    """Groups that the screws between the lowest rings and the base hold down."""
    core = lined.core
    return (*SHELLS, *core.groups) if core is not None and core.hung else SHELLS
