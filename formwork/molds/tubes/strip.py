"""Taking a tube mold off: cage, tube, plate and core in their order, and the way each of them leaves."""

from __future__ import annotations

from math import asin, hypot, pi

from formwork.geometry.turned import Turned
from formwork.molds.mold import Strip
from formwork.molds.tubes.lining import BASE, CAGE, CORE, TUBE, Choice
from formwork.project.records import CoreOut

_UP, _DOWN = (0.0, 0.0, 1.0), (0.0, 0.0, -1.0)
_SQUARE = pi / 2.0
_SLIM = 2.0
"""Nobody turns a piece over that is higher than this many diameters (ours)."""


def stripping(choice: Choice, *, braced: bool) -> tuple[Strip, ...]:
    """Cage, tube, plate; a core that reaches the brim is drawn upward before the tube, another after the plate.

    What is cut, peeled or springs off leaves its concrete squarely everywhere; what is drawn slides along it.

    Args:
        choice: of tube and core.
        braced: the cage has braces and a collar.
    """
    cage = Strip(
        CAGE,
        _UP,
        _SQUARE,
        "undo the bar and the uprights" + (", the braces and the collar" if braced else ""),
    )
    drawn = choice.off == "drawn"
    tube = Strip(TUBE, _UP if drawn else (1.0, 0.0, 0.0), 0.0 if drawn else _SQUARE, _tube_off(choice))
    base = Strip(BASE, _DOWN, _foot_draft(choice), _base_off(choice))
    if choice.core is None:
        return (cage, tube, base)
    if core_rises(choice) and choice.core.out != "left in":
        return (cage, Strip(CORE, _UP, _SQUARE, _core_off(choice)), tube, base)
    return (cage, tube, base, Strip(CORE, _DOWN, _SQUARE, _core_off(choice)))


def core_rises(choice: Choice) -> bool:
    """The core reaches the brim and is drawn upward."""
    core = choice.work.core
    return core is not None and core.high > choice.work.height - 1e-9


def _base_off(choice: Choice) -> str:
    if choice.work.height > _SLIM * 2.0 * choice.work.radius:
        return "lift the piece off it, or lay it down"
    return "lower it, or turn all over and lift it off"


def _tube_off(choice: Choice) -> str:
    return {
        "cut away": "cut it along two lines, peel it off",
        "slit": "loosen the straps, spread the slit, lift it off",
        "drawn": "draw it off straight up",
    }[choice.off]


def _core_off(choice: Choice) -> str:
    first = "" if choice.work.through else "undo its rod, "
    ways: dict[CoreOut, str] = {
        "slit": "draw the strip out of its slit, it springs in",
        "wrapped": "draw the tube out of its wrap, pull the wrap off",
        "split": "draw the strips out of its cuts, its halves come together",
        "left in": "it stays in the piece",
    }
    return first + ways[choice.core.out] if choice.core else ""


def _foot_draft(choice: Choice) -> float:
    """Of the chamfer strip, which leaves with the plate: the lean of its slope from the way down, rad."""
    drafts = [pi / 2.0]
    for former in choice.work.strips:
        if isinstance(former.body, Turned):
            points = former.body.profile.points
            wide = max(r for r, _ in points) - min(r for r, _ in points)
            tall = max(z for _, z in points)
            drafts.append(asin(wide / hypot(wide, tall)))
    return min(drafts)
