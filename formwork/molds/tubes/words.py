"""What a person must know to set up, fill and strip a tube mold, in the order in which it is needed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from formwork.molds.assembly import Told, all_of, any_of, numbered, of_group, of_role, steps_of
from formwork.molds.casting_in import casting_in
from formwork.molds.foot_strip import BEND_IT
from formwork.molds.label import label, lift_lines
from formwork.molds.load import Load
from formwork.molds.mold import AssemblyStep, Part
from formwork.molds.tubes.cage import Cage
from formwork.molds.tubes.lifts import Lifts
from formwork.molds.tubes.lining import BASE, CAGE, CORE, TUBE, Choice
from formwork.molds.tubes.straight import Straight
from formwork.molds.tubes.strip import core_rises
from formwork.strength.customary import GRAVITY
from formwork.units import show
from formwork.units.show import UnitSystem

_LAYER = 0.3
_PLUGS = "Screw the drain plugs to {} from behind, each with its wide end on what holds it."


def words(
    choice: Choice, steps: Sequence[AssemblyStep], load: Load, volume: float, *, owned: bool
) -> tuple[str, ...]:
    """The mold's label, then measuring, setting up, filling and stripping, a line each.

    Args:
        choice: of tube and core.
        steps: of setting up.
        load: the mix.
        volume: of the piece, m3.
        owned: the shop has the mold.
    """
    return (
        label(load, choice.units, owned=owned),
        *lift_lines(load, choice.units),
        "Before the first filling seal every cut edge and every wooden face the mix touches, and let it dry.",
        *numbered(steps),
        *_filling(choice, load),
        *_stripping(choice, load, volume),
    )


def assembly(
    choice: Choice,
    cage: Cage,
    lifts: Lifts,
    parts: Sequence[Part],
    *,
    straps: str = "",
    owned: bool = False,
) -> tuple[AssemblyStep, ...]:
    """The steps of measuring and setting up; none at the bench for a mold that the shop has.

    Args:
        choice: of tube and core.
        cage: round it.
        lifts: what lifts and pushes it.
        parts: everything cut.
        straps: how high those round a slit tube stand, as a person reads it.
        owned: the shop has the mold.
    """
    told = (*map(Told, _measuring(choice)), *_at_the_bench(choice), *_setting_up(choice, cage, lifts, straps))
    return steps_of((one for one in told if not (owned and one.bench)), parts)


def _measuring(choice: Choice) -> Iterator[str]:
    units, fitted = choice.units, choice.tube
    size = show.length(fitted.inside, units, exact=True)
    if fitted.exact:
        yield f"Measure the tube inside, both ways across, at both ends: it must be {size}."
    else:
        yield (
            f"Measure it: nobody has measured {fitted.tube.name}, and its label says {fitted.tube.nominal} only. Both "
            f"ways across, at both ends, it must be {size} inside; if it is not, write what you measured in the shop "
            "file (inside = ...), give the piece that diameter and plan again."
        )
    if choice.core is not None and not choice.core.exact:
        yield (
            f"Measure {choice.core.stock} outside: it must be {show.length(choice.core.outside, units, exact=True)}, "
            "and nobody has measured it."
        )


def _at_the_bench(choice: Choice) -> Iterator[Told]:
    """What is reached from below only as long as the plate does not lie on the ground; what is made beforehand."""
    core, work = choice.work.core, choice.work
    yield Told(
        "Draw the circles of the tube, outside and inside, on the plate and screw the foot frame together round them; "
        "turn both over and screw the plate to the frame from below.",
        all_of(of_group(BASE), of_role("base", "cleat")),
        bench=True,
    )
    if work.piece.plugs and not _stands(choice):
        yield Told(_PLUGS.format("the plate"), of_role("plug"), bench=True)
    if core is not None and core.low > 1e-9:
        yield Told(
            "Draw the core together with the rod: the disc over its cap, the tube, the brim disc and the hold-down bar "
            "over it. Screw the cap on from below, sink the heads and fill them; the core hangs from the bar, in the "
            "middle, and goes in with it.",
            any_of(of_group(CORE), of_role("bar", "core rib")),
            bench=True,
        )
    if _stands(choice) and work.through:
        yield Told(
            "Screw the brim disc under the middle of the hold-down bar: it goes into the core tube with the bar.",
            any_of(of_role("bar"), all_of(of_group(CAGE), of_role("core rib"))),
            bench=True,
        )
    elif _stands(choice) and work.piece.plugs:
        yield Told(_PLUGS.format("the cap of the core"), of_role("plug", "core cap"), bench=True)


def _stands(choice: Choice) -> bool:
    """There is a core, and it stands on the plate."""
    core = choice.work.core
    return core is not None and core.low < 1e-9


def _setting_up(choice: Choice, cage: Cage, lifts: Lifts, straps: str) -> Iterator[Told]:
    """The steps of every filling: nobody reaches the foot of a tall tube from inside once it stands."""
    yield from _core_on(choice)
    on_it = " with the core on it" if _stands(choice) else ""
    yield Told(
        f"Lay the plate{on_it} level both ways on firm ground or floor, where the piece can stay until it is stripped.",
        all_of(of_group(BASE), lambda part: part.role in ("base", "cleat", "plug")),
    )
    if lifts.thrust is not None:
        yield Told(
            "Screw the plate to the floor beside the foot frame, or stake it down, at all four corners: pushed while "
            f"it is still empty, a brace lifts it with {show.force(lifts.thrust.upright, choice.units)}."
        )
    if choice.work.strips:
        yield Told(BEND_IT.replace("the circle", "the inner circle"), of_role("strip"))
    if choice.off == "slit":
        yield Told(
            "While the tube lies, tape its slit from outside, from end to end, and draw the straps round it, their "
            f"middles {straps} above its foot."
        )
    yield Told(
        "While the tube lies, wipe release agent thinly on its inside with a swab on a stick, and on whatever else the "
        "mix touches; keep it off the circles and off two fingers' width at the foot of the tube, for sealant does not "
        "stick where it has been."
    )
    yield Told(
        "Run a bead of sealant between the two circles, stand the tube in it, inside the foot frame, and press it "
        "down; smooth what comes out round its foot from outside and let it skin.",
        of_group(TUBE),
    )
    yield from _plumb(choice, cage, lifts)
    yield from casting_in(choice.work.piece, (), choice.units)
    both = "tube and core lifts them" if lifts.core is not None and lifts.by_bar else "the tube lifts it"
    yield Told(
        f"Last, lay the hold-down bar across the brim and screw it to both uprights: mix that gets under {both} with "
        f"{show.force(lifts.at_bar.force, choice.units)} in all, and more once it has begun to rise.",
        any_of(of_group(CORE), of_role("bar", "core rib")),
    )


def _core_on(choice: Choice) -> Iterator[Told]:
    """How a core is set that stands on the plate, before the tube closes it in; the plate is not yet down."""
    if not _stands(choice):
        return
    rod = "" if choice.work.through else ", on its edge or on two trestles, where its underside is in reach"
    yield Told(
        f"Screw the foot disc to the middle of the plate{rod}; put the core tube over it and seal round its foot.",
        any_of(all_of(of_group(BASE), of_role("core rib")), all_of(of_group(CORE), of_role("tube", "skin"))),
    )
    if not choice.work.through:
        yield Told(
            "Draw the core down with the rod, through the disc under its cap and the plate, its nut let into the "
            "underside; then screw the cap on, sink the heads and fill them.",
            of_group(CORE),
        )


def _plumb(choice: Choice, cage: Cage, lifts: Lifts) -> Iterator[Told]:
    push = lifts.thrust
    uprights = any_of(of_role("rail"), all_of(of_role("strut"), lambda part: not _braces(part)))
    if push is None:
        yield Told(
            "Stand both uprights against the foot frame and the tube, plumb both ways, and screw them on.",
            uprights,
        )
        return
    units = choice.units
    yield Told(
        f"Screw the uprights to the foot frame, and the collar together round the tube with its middle "
        f"{show.length(cage.head, units)} above the plate; plumb the tube both ways, then screw the uprights to it.",
        uprights,
    )
    yield Told(
        f"Set both braces, square to one another, from there to their blocks on the ground, "
        f"{show.length(cage.foot, units)} from the middle of the tube; plumb again and screw them on. Each block must "
        f"hold {show.force(push.level, units)} sideways, either way, and {show.force(push.upright, units)} upward: "
        "screw it to the floor, or drive two stakes.",
        any_of(_braces, of_role("cleat")),
    )


def _braces(part: Part) -> bool:
    return part.role == "strut" and part.name.startswith("brace")


def _filling(choice: Choice, load: Load) -> Iterator[str]:
    core = choice.work.core
    if core is not None:
        cover = "; cover its open end" if core.high > choice.work.height - 1e-9 else ""
        yield f"Pour round the core evenly, so that it is not pushed aside{cover}."
    else:
        yield "Pour in the middle, from as low as you can, and not against the side."
    if load.cellular:
        yield "Do not vibrate cellular mix; tap the tube."
    else:
        yield (
            f"Place the mix in layers of at most {show.length(_LAYER, choice.units)}; rod or vibrate each, a little "
            "way into the one below. A cardboard tube is torn by a vibrator that touches it."
        )
    yield "Watch the foot and the plumb line while the mix rises; stop where the foot weeps. Strike off at the brim."


def _stripping(choice: Choice, load: Load, volume: float) -> Iterator[str]:
    """In the order in which it comes off."""
    first = core_rises(choice)
    if first:
        yield from _core_out(choice, when="as soon as the mix stands by itself")
    yield {
        "cut away": "Set the saw or knife no deeper than the wall of the tube, cut it along two lines down to the foot "
        "frame and peel it off; the rest leaves with the plate. Water that stands in cardboard swells it: take it off "
        "as soon as the piece stands by itself.",
        "slit": "Loosen the straps, spread the slit with wedges and lift the tube off.",
        "drawn": "Draw the tube off upward in one piece, turning it: a straight tube grips, and comes off only where "
        "it was oiled well and is clean and smooth.",
    }[choice.off]
    if not first:
        yield from _core_out(choice, when="as soon as the plate is off, before the concrete shrinks onto it")
    yield from _standing(choice.work, load, volume, choice.units)


def _core_out(choice: Choice, *, when: str) -> Iterator[str]:
    core = choice.core
    if core is None:
        return
    yield {
        "slit": f"Draw the strip out of the slit of the core tube, {when}: the tube springs in and slides out.",
        "wrapped": f"Draw the core tube out of its wrap, {when}, then pull the wrap off the concrete.",
        "split": f"Draw the strips out of the cuts of the core tube, {when}: its halves come together and slide out.",
        "left in": f"The core tube stays in the piece: {_clear(choice)} clear inside.",
    }[core.out]
    if not choice.work.through:
        yield "Then pull the cap out by its rod."


def _clear(choice: Choice) -> str:
    """Inside diameter of the core tube as a person reads it."""
    core = choice.core
    return show.length(core.outside - 2.0 * core.wall, choice.units) if core else ""


def _standing(work: Straight, load: Load, volume: float, units: UnitSystem) -> Iterator[str]:
    """A slender piece without its cage stands by its own weight alone."""
    slim = work.height / (2.0 * work.radius)
    if slim < 2.0:
        return
    weight = load.density * GRAVITY * volume
    tips = weight * work.radius / work.height
    yield (
        f"From when the cage is off, the piece stands by its own weight: {show.plain(slim, 1)} diameters high, a push "
        f"of {show.force(tips, units)} at its top tips it over. Keep people away, and sling it before it is freed."
    )
    yield (
        "Move it lying, in two slings a fifth of its height from either end, or on skids; raise it by a sling near "
        "its top with its foot blocked, and nobody in the way it would fall."
    )
