"""What joins the parts of a stacked mold, and how hard the mix pulls at each joint."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil, pi

from formwork.errors import GeometryError, StockError
from formwork.geometry.outlines import perimeter
from formwork.geometry.prisms import Prism
from formwork.geometry.turned import Turned
from formwork.molds.fastening import Fastening, fasten
from formwork.molds.joints import CLOSE, WIDE, Joint, along
from formwork.molds.load import Load
from formwork.molds.mold import Part
from formwork.molds.stacks.rings import EAR_DEEP
from formwork.molds.stacks.stack import Core, Course, Stack
from formwork.molds.weighing import mass
from formwork.project.records import Shop
from formwork.strength.customary import GRAVITY
from formwork.strength.uplift import hold_down
from formwork.strength.working import Force, given, step

EARS = "ears"
"""The group of all the ears together."""
LAYERS = "layers"
"""The group of all the layers of the wall."""
WALLS = "wall"
"""The group of the wall as the base holds it."""
PROUD = 0.02
"""How far screws stand out of the base for a struck core to grip them, m (common practice, no source)."""
STANDING = "screws standing in the base, for the core to grip"
_LEAST_PITCH = 0.05
_DEEP = 3
"""Screws into a stack are let this many layers deep at most."""


def stack_fastenings(
    stack: Stack, load: Load, shop: Shop, ear_bolts: int | None = None
) -> tuple[Fastening, ...]:
    """Every joint with its fastener.

    Args:
        stack: the mold.
        load: the mix.
        shop: what it is built from.
        ear_bolts: in each row of ears, as the person asks; None: as many as hold.

    Raises:
        GeometryError: where so many bolts find no room, or there are no ears.
        StockError: where the shop lists none that fits.
    """
    if ear_bolts is not None and not stack.parted:
        raise GeometryError(
            f"{stack.piece.name}: mold.ear_bolts: got {ear_bolts}, want nothing: its rings come off whole and have no "
            "ears"
        )
    return tuple(_all(stack, load, shop, ear_bolts))


def _as_asked(stack: Stack, found: Fastening, each: int) -> Fastening:
    most = found.joint.most // 2
    if each > most:
        raise GeometryError(
            f"{stack.piece.name}: mold.ear_bolts: got {each}, want at most {most}: more find no room in a row of ears"
        )
    return replace(found, count=2 * each)


def _all(stack: Stack, load: Load, shop: Shop, asked: int | None) -> Iterator[Fastening]:
    stocks, t = stack.stocks, stack.stocks.sheet.thickness
    yield from (fasten(stocks, joint) for joint in _glued(stack, t))
    lift, dead = wall_lift(stack, load, shop)
    yield fasten(stocks, _wall_to_base(stack, t), hold_down(max(0.0, lift.force), dead))
    for core in stack.cores:
        lift, dead = core_lift(stack, core, load, shop)
        for joint in _core_joints(stack, core, t):
            found = fasten(stocks, joint, hold_down(lift.force, dead))
            if found.item == "pin":
                raise StockError(
                    f"{joint.use}: the shop lists no screw from {1000.0 * (PROUD + 0.01):.0f} to "
                    f"{1000.0 * (PROUD + t - 0.002):.0f} mm long; add one as [[hardware]] to the shop file"
                )
            yield found
    if stack.parted:
        found = fasten(stocks, _ears(stack), 2.0 * parting_pull(stack, load).force, bolts_only=True)
        yield found if asked is None else _as_asked(stack, found, asked)
    plugs = [part for part in stack.parts if part.role == "plug"]
    if plugs:
        deep = min(part.blank.length for part in plugs)
        yield fasten(
            stocks,
            Joint(
                "drain plugs, from behind",
                len(plugs),
                t,
                max(deep, 0.012),
                comes_off=False,
                places=len(plugs),
            ),
        )


def _glued(stack: Stack, t: float) -> Iterator[Joint]:
    """Each layer to those below, while the glue sets and for good; from the third on screws reach two layers down."""
    rings = [part for part in stack.parts if part.role == "ring"]
    for use, deep, some in (
        ("second rings to the lowest, glued", t, [part for part in rings if 0.5 * t < _foot(part) < 1.5 * t]),
        ("rings to the two below, glued", 2.0 * t, [part for part in rings if _foot(part) > 1.5 * t]),
    ):
        count = sum(max(4, along(_round(part), CLOSE)) for part in some)
        if count:
            group = LAYERS if deep > t else ""
            yield Joint(use, count, t, deep, comes_off=False, group=group, places=len(some))
    discs = sum(max(0, core.discs - 1) for core in stack.cores)
    if discs:
        yield Joint("core discs to one another, glued", 4 * discs, t, t, comes_off=False, places=discs)


def _round(part: Part) -> float:
    """Length of the way that a ring's screws go, m: all round a whole one, along a segment."""
    return perimeter(part.blank.edge) if part.blank.openings else part.blank.length


def _foot(part: Part) -> float:
    """Height of a part's lowest point, m."""
    bodies: tuple[Turned | Prism, ...] = (*part.turned, *part.prisms)
    return min(body.box()[0][2] for body in bodies)


def _wall_to_base(stack: Stack, t: float) -> Joint:
    first = stack.courses[0]
    round_ = 2.0 * pi * (first.half + first.width / 2.0)
    deep = min(_DEEP, len(stack.courses)) * t
    count = max(4, ceil(round_ / WIDE))
    return Joint(
        "base to the lowest rings, from below",
        count,
        t,
        deep,
        comes_off=True,
        group=WALLS,
        places=1,
        most=max(count, int(round_ / _LEAST_PITCH)),
    )


def _core_joints(stack: Stack, core: Core, t: float) -> Iterator[Joint]:
    deep = min(_DEEP, core.discs) * t
    if core.discs == 0:
        most = max(4, int(pi * core.top**2 / _LEAST_PITCH**2))
        yield Joint(STANDING, 4, PROUD, t, comes_off=False, group=core.name, most=most)
        return
    if core.seat == "base":
        most = max(4, int(2.0 * pi * 0.7 * core.top / _LEAST_PITCH))
        yield Joint(
            f"base to {core.name}, from below", 4, t, deep, comes_off=True, group=core.name, most=most
        )
        return
    bars = [part for part in stack.parts if part.role == "bar" and part.group == core.name]
    through, ends = stack.stocks.stick.thickness, 2 * len(bars)
    rim = min(_DEEP, len(stack.courses)) * t
    yield Joint("bars to the top ring", 2 * ends, through, rim, comes_off=True, group=core.name, places=ends,
                most=4 * ends)  # fmt: skip
    yield Joint(f"bars to {core.name}", 2 * ends, through, deep, comes_off=True, group=core.name, places=ends,
                most=4 * ends)  # fmt: skip


def _ears(stack: Stack) -> Joint:
    height = stack.courses[-1].high
    each = max(2, ceil(height / CLOSE))
    most = max(each, int(height / _LEAST_PITCH))
    return Joint(
        "ears across the parting plane",
        2 * each,
        EAR_DEEP,
        EAR_DEEP,
        comes_off=True,
        group=EARS,
        places=2,
        most=2 * most,
    )


def parting_pull(stack: Stack, load: Load) -> Force:
    """What the mix pulls one side of the parting plane apart with: p D / 2 over the whole height."""
    force = sum(_mean(load, course) * course.half * (course.high - course.low) for course in stack.courses)
    return Force(
        force,
        (
            given("n", len(stack.courses), "", "layers; p in the middle of each, D its clear diameter"),
            given("F", force, "N", "sum over the layers of p * D / 2 * t, one side of the parting plane"),
        ),
    )


def _mean(load: Load, course: Course) -> float:
    return load.pressure((course.low + course.high) / 2.0)


def wall_lift(stack: Stack, load: Load, shop: Shop) -> tuple[Force, float]:
    """What lifts the wall off the base, and what it weighs, N; a hung core pulls it up by its bars."""
    own, dead = stack.lift, weight(stack, stack.walls, shop)
    hung = [core for core in stack.cores if core.seat == "hung"]
    if not hung:
        return own, dead
    pushed = max(0.0, own.force)
    pulled = sum(buoyed(core, load).force for core in hung)
    dead += weight(stack, [core.name for core in hung], shop)
    return Force(
        pushed + pulled,
        (
            *own.steps,
            given("U_c", pulled, "N", "lift of the hung core, by its bars"),
            given("U_s", pushed, "N", "lift of the rings; nothing where the mix presses them down"),
            step("U", "U_s + U_c", pushed + pulled, "N", U_s=pushed, U_c=pulled),
        ),
    ), dead


def core_lift(stack: Stack, core: Core, load: Load, shop: Shop) -> tuple[Force, float]:
    """Buoyancy of a core and its weight, N."""
    return buoyed(core, load), weight(stack, (core.name,), shop) + GRAVITY * core.mortar


def buoyed(core: Core, load: Load) -> Force:
    """Buoyancy of a core: the mix is taken to get under it."""
    known = given("V", core.volume, "m3", "volume of the core below the fill plane")
    return load.buoyed(core.volume, core.plan, (known,))


def weight(stack: Stack, groups: Sequence[str], shop: Shop) -> float:
    """Dead weight of groups of parts, N; hardware and mortar are left out."""
    return GRAVITY * mass((part for part in stack.parts if part.group in groups), shop)
