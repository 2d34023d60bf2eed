"""When a mold comes off, what holds it, and what stays on: advice beside the order in which its parts leave.

No honest number tells how hard a mold grips, but for one: a part with no air behind it is held by the air's own weight,
and that is more than anybody pulls.

Source: 24 to 48 hours for cellular concrete: common practice, no source. Wall forms of ordinary concrete after air of
10 C (50 F) or more for 12 hours in all: ACI 347R-94 as quoted by Concrete Construction; columns and walls after two
days where nothing loads them: Unified Facilities Guide Specification 03311. 1:12: precast practice, from memory;
1:6 for projections of precast facades, "otherwise suction forces bind": a precast guide.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan, degrees, tan

from formwork.geometry.cells import Cell
from formwork.geometry.outlines import area
from formwork.geometry.prisms import Prism
from formwork.geometry.turned import Turned
from formwork.mix.pour_records import Times
from formwork.mix.records import Mix
from formwork.molds.mold import Mold, Part, Strip
from formwork.shapes.piece import Curved
from formwork.units import show
from formwork.units.show import UnitSystem

EASY = atan(1.0 / 12.0)
"""Draft from which a captive core leaves easily (precast practice, from memory)."""
AIR = 101_325.0
"""Greatest pressure that suction can hold a part with, Pa: the standard atmosphere."""
_LEAST = 1e-3
_GRIP = (
    "How hard a mold holds nobody can say in numbers: it grips by suction and, once the concrete shrinks, by "
    "friction. Oil and draft take away the friction; only air takes away the suction, so open one corner and work "
    "round it, and never pry against the piece."
)
_LEFT = (
    "Leave on: the base under the piece until it may be carried, film over every face that is bare, and round thin "
    "rims whatever keeps knocks off."
)


def draft_cautions(molds: Sequence[Mold]) -> tuple[str, ...]:
    """A line for every mold with a core that is drawn with less draft than 1:12."""
    return tuple(
        f"{mold.name}: {step.group} is drawn with a draft of {ratio(step.draft)} ({degrees(step.draft):.1f} deg), less "
        "than the 1:12 with which a core leaves easily: oil it well, draw it as soon as the concrete bears it, and "
        "give the core more draft where the piece allows it."
        for mold in molds
        for step in _tightest(mold)
    )


def _tightest(mold: Mold) -> Iterator[Strip]:
    """The core of a mold that drags most on its way, where it drags at all."""
    cores = {former.name for former in mold.piece.form.formers if former.kind == "core"}
    drawn = [step for step in mold.stripping if step.group in cores and step.draft < EASY - 1e-9]
    if drawn:
        yield min(drawn, key=lambda step: (step.draft, step.group))


def ratio(draft: float) -> str:
    """A draft (rad) as people say it.

    >>> ratio(EASY), ratio(0.0)
    ('1:12', 'nothing')
    """
    return f"1:{1.0 / tan(draft):.0f}" if draft > _LEAST else "nothing"


def releasing(molds: Sequence[Mold], mix: Mix, times: Times, units: UnitSystem) -> tuple[str, ...]:
    """When molds come off, what holds them, and what is left on; what holds for several is said once.

    Args:
        molds: as designed.
        mix: what is in them.
        times: of the shop.
        units: of the person.
    """
    when = dict.fromkeys(_when(mix, times, _carries(mold)) for mold in molds)
    left = () if all(map(_carries, molds)) else (_LEFT,)
    return (*when, _GRIP, *_sucked(molds, units), *left)


def _carries(mold: Mold) -> bool:
    """The form carries a shell that stands by itself only when it is strong."""
    form = mold.piece.form
    return isinstance(form, Curved) and form.shell is not None


def _when(mix: Mix, times: Times, carries: bool) -> str:
    if carries:
        return (
            "When: not by the clock. What carries the shell stays until its designer's strength is reached and shown "
            "by specimens cast with it."
        )
    if mix.kind == "cellular":
        return (
            f"When: after {show.time(times.strip)} (your shop's time; 24 to 48 h is common practice, longer below "
            "15 C), and not before a nail drawn over an edge that will not be seen leaves a scratch and no furrow. The "
            "shorter times that are printed for ordinary concrete do not hold for this mix."
        )
    return (
        "When: sides that carry nothing, once the air has been at 10 C (50 F) or more for 12 h in all (ACI 347R-94 as "
        "quoted by Concrete Construction); two days by the Unified Facilities Guide Specifications. Thin walls and "
        "rims want the longer time."
    )


def _sucked(molds: Sequence[Mold], units: UnitSystem) -> tuple[str, ...]:
    faces = [face for mold in molds for step in mold.stripping for face in _faces(mold, step.group)]
    if not faces:
        return ()
    size, bored = max(faces)
    way = "let air in by the hole in the cap, blow some in if it sticks"
    if not bored:
        way = "blow air in along its edge, all round"
    return (
        f"A core with no air behind its face is held with up to {show.force(AIR * size, units)}, the weight of the air "
        f"on it: {way}, and do not pull harder.",
    )


def _faces(mold: Mold, group: str) -> Iterator[tuple[float, bool]]:
    """Areas of a core that only air frees, m2, and whether there is a hole to let it in by.

    That is its cap where its sides are walls, and its largest disc where it is a stack that widens to the rim; nothing
    where it reaches the fill plane, and air stands on its cap.
    """
    own = [part for part in mold.parts if part.group == group]
    caps = [part for part in own if part.role == "core cap" and "end plate" not in part.name]
    caps = [cap for cap in caps if _covered(mold, cap)]
    if not caps:
        return
    discs = (
        own if all(part.role in ("core cap", "core rib", "plug", "bar", "template") for part in own) else caps
    )
    flat = [part for part in discs if part.role in ("core cap", "core rib")]
    yield max(area(part.blank.edge) for part in flat), any(part.blank.holes for part in caps)


def _covered(mold: Mold, cap: Part) -> bool:
    """Mix lies against it: it does not end at the fill plane."""
    bodies: tuple[Cell | Turned | Prism, ...] = (*cap.cells, *cap.turned, *cap.prisms)
    return all(body.box()[1][2] < mold.piece.form.fill - _LEAST for body in bodies)
