"""What a piece and its mold weigh to the hands: how many people lift it, or what aid, and where they hold it.

Advice, not a check: a heavy piece is no fault of its plan, and the plan names the way to lift it.

Source: 23 kg for one person, the load constant of the revised NIOSH lifting equation (Canadian Centre for
Occupational Health and Safety, "NIOSH Lifting Equation": 23 kg, safe under ideal conditions for 75 % of women and
90 % of men). Two people manage two thirds of the sum of what each could lift, three people half of it: HSE, Manual
handling, guidance on regulations (L23), paragraph 120, which finds teams of more than four unlikely to work; it
gives no share for four.
"""

from __future__ import annotations

from collections.abc import Sequence

from formwork.errors import RangeError
from formwork.mix.records import Mix
from formwork.molds.mold import Mold
from formwork.units import show

LOAD_CONSTANT = 23.0
"""The most one person should lift under ideal conditions, kg."""
SHARES = {1: 1.0, 2: 2.0 / 3.0, 3: 0.5}
"""What a team lifts, as a share of the sum of its people."""
_NUMBER = {1: "one person", 2: "two people together", 3: "three people together"}


def team_lifts(people: int) -> float:
    """The most that people should lift together, kg.

    Args:
        people: 1 to 3.

    Raises:
        RangeError: for any other number.

    Source: module docstring.

    >>> [round(team_lifts(people), 1) for people in (1, 2, 3)]
    [23.0, 30.7, 34.5]
    """
    if people not in SHARES:
        raise RangeError(f"people who lift together: got {people}, want 1 to {max(SHARES)}")
    return LOAD_CONSTANT * people * SHARES[people]


def people_for(mass: float) -> int | None:
    """How many people lift a mass (kg) by hand; None where it takes an aid.

    >>> people_for(23.0), people_for(30.0), people_for(40.0)
    (1, 2, None)
    """
    return next((people for people in sorted(SHARES) if mass <= team_lifts(people) + 1e-9), None)


def piece_volume(mold: Mold) -> float:
    """Concrete in one piece of a mold, m3: what is cast in taken out."""
    piece = mold.piece
    return mold.nominal / piece.cavities - sum(thing.volume for thing in piece.embedded)


def stripped_mass(mold: Mold, mix: Mix) -> float:
    """Mass of one piece as it leaves the mold, kg: as poured, since little water has left, with what is cast in."""
    return piece_volume(mold) * mix.wet_density + sum(thing.mass for thing in mold.piece.embedded)


def filled_mass(mold: Mold, mix: Mix) -> float:
    """Mass of a mold with its filling, kg; screws and bolts are left out."""
    return mold.mass + mold.piece.cavities * stripped_mass(mold, mix)


def turned_mass(mold: Mold, mix: Mix) -> float:
    """Mass of what is turned over together, kg: the piece with the base and the cores it stands on.

    The pieces of a gang are lifted off the base and turned over one by one.
    """
    alone = stripped_mass(mold, mix)
    return alone + mold.under if mold.piece.cavities == 1 else alone


def handling(mix: Mix, molds: Sequence[Mold]) -> tuple[str, ...]:
    """How to lift the pieces and whether to move their molds, then the rule that says so; nothing without molds.

    Of the pieces that as many people lift the heaviest is told, and of the molds alike.
    """
    if not molds:
        return ()
    pieces = _heaviest([(stripped_mass(mold, mix), mold) for mold in molds])
    empty = _heaviest([(mold.mass, mold) for mold in molds])
    return (*(_piece(mold, mix) for mold in pieces), *(_mold(mold, mix) for mold in empty), _rule())


def _heaviest(weighed: Sequence[tuple[float, Mold]]) -> list[Mold]:
    """The mold behind the greatest mass for each number of people, in the order in which they were given."""
    worst: dict[int | None, tuple[float, Mold]] = {}
    for mass, mold in weighed:
        people = people_for(mass)
        if people not in worst or mass > worst[people][0]:
            worst[people] = (mass, mold)
    return [mold for _, mold in worst.values()]


def _piece(mold: Mold, mix: Mix) -> str:
    mass = stripped_mass(mold, mix)
    hold = "from below at two opposite sides, never by a rim or a thin wall"
    over = _turning(mold, mix) if mold.piece.turned_over else ""
    return (
        f"{mold.piece.name}: a piece weighs {_both(mass)} as it leaves the mold: {_way(mass)}, {hold}.{over}"
    )


def _way(mass: float) -> str:
    people = people_for(mass)
    if people is not None:
        return f"{_NUMBER[people]} may lift it"
    most = f"{_NUMBER[max(SHARES)]} should lift no more than {_both(team_lifts(max(SHARES)))}"
    return (
        f"too heavy to lift by hand ({most}, and more people are no safer team); use a hoist with slings, a lifting "
        "table or skids"
    )


def _turning(mold: Mold, mix: Mix) -> str:
    turned = turned_mass(mold, mix)
    if mold.piece.cavities > 1:
        return (
            " Lift each straight up off the base and turn it over by itself, on sand or foam, not on an edge."
        )
    under = "the base and the core that it stands on" if _stands_on_core(mold) else "the base that it lies on"
    return f" Turn it over on sand or foam, not on an edge; with {under}, that is {_both(turned)}: {_way(turned)}."


def _stands_on_core(mold: Mold) -> bool:
    """A core leaves with the base or after it, out of the piece's underside."""
    cores = {former.name for former in mold.piece.form.formers if former.kind == "core"}
    return any(step.way[2] < -0.98 and step.group in cores for step in mold.stripping)


def _mold(mold: Mold, mix: Mix) -> str:
    empty, full = mold.mass, filled_mass(mold, mix)
    people = people_for(empty)
    carried = "takes a cart or a hoist" if people is None else f"is carried by {_NUMBER[people]}"
    still = (
        "fill it where it stays until it is stripped"
        if full > LOAD_CONSTANT
        else "do not jolt it before it has set"
    )
    return f"{mold.name}: put together it weighs {_both(empty)} empty and {carried}; filled {_both(full)}: {still}."


def _rule() -> str:
    return (
        f"By hand: {_both(LOAD_CONSTANT)} for one person at best, held close, at waist height, with a good grip and no "
        "twist (load constant of the NIOSH lifting equation); two people lift two thirds of their sum, three half "
        "of it (HSE guidance L23). Less from the ground, at arm's length, on steps or often."
    )


def _both(mass: float) -> str:
    return f"{show.mass(mass, 'mm')} ({show.mass(mass, 'in')})"
