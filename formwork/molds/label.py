"""What is written on a mold, so that nobody fills it later with something heavier than it was built for."""

from __future__ import annotations

from formwork.molds.load import Load
from formwork.molds.mold import Limits
from formwork.strength.aci347 import DEEPEST, HOUR
from formwork.units import show
from formwork.units.show import UnitSystem


def label(load: Load, units: UnitSystem, *, owned: bool) -> str:
    """Greatest density and fill height; a mold that the shop owns has its label already, which must allow as much.

    Args:
        load: that the mold was built for.
        units: how a person here reads it.
        owned: the shop has the mold already.
    """
    said = limits(load, units)
    most, head = f"{said.density}, {said.height}, {said.rate}", said.head
    if owned:
        return f"Read the label of the mold before you fill it; it must allow this much: {most} ({head})."
    return f"Write on the mold: {most} (braced for the {head})."


def limits(load: Load, units: UnitSystem) -> Limits:
    """What a mold was built for, in words.

    Args:
        load: that the mold was built for.
        units: how a person here reads it.
    """
    return Limits(
        density=f"mix of at most {show.density(load.density, units)}",
        height=f"filled at most {show.length(load.fill, units)} high{_lifts(load, units)}",
        rate=_rate(load, units),
        head=f"{_rule(load)}, {show.pressure(load.pressure(0.0), units)} at the foot",
    )


def lift_lines(load: Load, units: UnitSystem) -> tuple[str, ...]:
    """Where a mold's lifts end, measured from the base and from the top, and how one goes on the other; none in one go.

    Args:
        load: that the mold was built for.
        units: how a person here reads it.
    """
    tops = [load.lift * number for number in range(1, load.lifts)]
    if not tops:
        return ()
    up, down = ([show.length(at, units) for at in some] for some in (tops, [load.fill - top for top in tops]))
    return (
        f"Mark the lifts with level lines all round inside, on the core too: at {_listed(up)} above the base, which is "
        f"{_listed(down)} below the top of the mold. Fill to a line and no higher, level the mix, and let it set.",
        "Each line becomes a cold joint, weaker than the rest, and water may find its way through it: leave the face "
        "rough, brush off what is loose, wet it and let no water stand on it before the next lift.",
    )


def _listed(words: list[str]) -> str:
    return " and ".join((", ".join(words[:-1]), words[-1])) if len(words) > 1 else words[0]


def _lifts(load: Load, units: UnitSystem) -> str:
    """How much of it may be fresh at once, where that is not all."""
    if load.lifts == 1:
        return ""
    return f" in lifts of at most {show.length(load.lift, units)}, each set before the next goes on"


def _rule(load: Load) -> str:
    head = "full liquid head" if load.placing is None else "pressure of vibrated concrete, ACI 347"
    return head if load.lifts == 1 else f"{head} of one lift"


def _rate(load: Load, units: UnitSystem) -> str:
    """How fast it may be filled, and what else a pressure below the full head rests on."""
    said = load.placing
    if said is None:
        return "at any rate"
    rise, slump = show.length(said.rate * HOUR, units), show.length(said.slump, units)
    return (
        f"no faster than {rise} up in an hour, at {show.temperature(said.temperature, units)} or warmer, slump of at "
        f"most {slump}, vibrated no deeper than {show.length(DEEPEST, units)} down"
    )
