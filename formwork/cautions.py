"""Cautions that belong to a plan as a whole; those of the mix stand in ``mix.cautions``.

All of them are common practice unless a line says otherwise; local codes and licensed practice come first.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import dist

from formwork.checks.handling import handling
from formwork.checks.in_use import in_use
from formwork.checks.releasing import draft_cautions
from formwork.mix.cautions import cautions as mix_cautions
from formwork.mix.placing import placing_cautions
from formwork.mix.records import Mix, Mixer
from formwork.molds.mold import Mold
from formwork.shapes.piece import Curved

_OF_POLYESTER = "keep the mix off it"
"""How a line of what is bought says that a strap is woven of polyester."""
_HIGH_LIFT = 0.6
_LIGHT = 800.0
_POROUS = 1400.0

_DESIGN = (
    "This is not an engineered design. Anything people stand under or lean on, anything that retains soil or carries "
    "load, and whatever your local code regulates belongs to a licensed professional."
)
_STAND_CLEAR = (
    "A side that lets go does so at once: stand clear of the long sides while filling, fill slowly, and stop at the "
    "first sign of movement."
)
_FRAME = (
    "A frame of pipe stands by all of its struts together: keep people out from under it until the last bolt is in, "
    "and prop what is open."
)
_DOME = (
    "A dome stands by its closed rings and by what holds its foot: nobody goes under it or onto it before it has the "
    "strength its designer asks. Ease its form all the way round, a little at a time, and watch it before a section "
    "comes out."
)
_COLD_JOINT = (
    "Filled in lifts: {}. Each lift ends in a cold joint, which is weaker than the rest and may let water through: "
    "keep it away from where the piece is bent, lifted or must hold water. Never put a next lift on before the one "
    "below has set: the mold is braced for one lift alone."
)
_POLYESTER = (
    "Fresh mix is alkaline and attacks straps of polyester, polyamide it does not (strap makers): hang film between "
    "strap and mold, wash off what splashes at once, and throw away a strap that has gone stiff or lost its label."
)
_CORE = "A core floats: never fill before its hold-downs are in, and watch them as the level rises."
_STEEL = (
    "Bare steel rusts in porous low-density concrete, whatever the cover: "
    "use glass, basalt or stainless, or coat it."
)


def cautions(
    mix: Mix | None, mixer: Mixer, molds: Sequence[Mold], *, frames: bool = False
) -> tuple[str, ...]:
    """What to print with the numbers, the gravest first.

    Args:
        mix: the mix; None where nothing is cast.
        mixer: at hand.
        molds: every mold.
        frames: something is built that is not cast.
    """
    return (
        _DESIGN,
        *((_FRAME,) if frames else ()),
        *(_casting(mix, mixer, molds) if mix and molds else ()),
    )


def _casting(mix: Mix, mixer: Mixer, molds: Sequence[Mold]) -> tuple[str, ...]:
    lines = [_STAND_CLEAR]
    if any(former.kind == "core" for mold in molds for former in mold.piece.form.formers):
        lines.append(_CORE)
    if any(line.item == "strap" and _OF_POLYESTER in line.use for mold in molds for line in mold.hardware):
        lines.append(_POLYESTER)
    lines.extend(draft_cautions(molds))
    lines.extend(_domes(molds))
    lines.extend(_lifts(mix, molds))
    lines.extend(handling(mix, molds))
    if mix.wet_density < _POROUS and any(thing.metal for mold in molds for thing in mold.piece.embedded):
        lines.append(_STEEL)
    return (*lines, *_placing(mix, molds), *in_use(mix, molds), *mix_cautions(mix, mixer))


def _domes(molds: Sequence[Mold]) -> tuple[str, ...]:
    """What to mind under a dome."""
    forms = [mold.piece.form for mold in molds]
    return (_DOME,) if any(isinstance(form, Curved) and form.shell for form in forms) else ()


def _lifts(mix: Mix, molds: Sequence[Mold]) -> tuple[str, ...]:
    """What may settle in one go, and what a joint between two lifts is."""
    parted = [mold.name for mold in molds if mold.lifts > 1]
    joints = [_COLD_JOINT.format(", ".join(parted))] if parted else []
    tall = [mold for mold in molds if _depth(mold) > _HIGH_LIFT]
    if mix.kind != "cellular" or mix.wet_density > _LIGHT or not tall:
        return tuple(joints)
    names = ", ".join(mold.name for mold in tall)
    return (
        f"Mix lighter than {_LIGHT:.0f} kg/m3 may settle in a lift higher than {_HIGH_LIFT * 1000:.0f} mm: {names}. "
        f'Write lift = "{_HIGH_LIFT * 1000:.0f} mm" into its mold table: each lift then sets before the next goes on, '
        "and the mold is braced for that.",
        *joints,
    )


def _placing(mix: Mix, molds: Sequence[Mold]) -> tuple[str, ...]:
    """How far each mold's filling settles and its piece shrinks; a line of equal words is said once."""
    lines = [
        f"{mold.piece.name}: {line}"
        for mold in molds
        for line in placing_cautions(mix, _depth(mold), _length(mold))
    ]
    return tuple(dict.fromkeys(lines))


def _length(mold: Mold) -> float:
    """Greatest size of one piece, along any of its measures, m."""
    return max((dist(m.start, m.end) for m in mold.piece.measures), default=0.0)


def _depth(mold: Mold) -> float:
    """Depth of mix that is fresh at once, m."""
    return mold.piece.form.fill / mold.lifts
