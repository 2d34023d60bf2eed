"""Taking a tube mold off: cage, tube, plate and core in their order, and the way each of them leaves."""

from __future__ import annotations

from dataclasses import replace
from math import asin, hypot, pi

from formwork.geometry.turned import Turned
from formwork.molds.mold import Strip
from formwork.molds.tube_lining import BASE, CAGE, CORE, TUBE, Choice
from formwork.project.records import CoreOut


def stripping(choice: Choice) -> tuple[Strip, ...]:
    """Cage, tube, plate, core; a core that hangs from the bar leaves with it, before the tube.

    What is cut, peeled or springs off leaves its concrete squarely everywhere; what is drawn slides along it.
    """
    up, square = (0.0, 0.0, 1.0), pi / 2.0
    core = choice.work.core
    cage = Strip(CAGE, up, square, "undo bar, braces and collar, lift the rest off")
    drawn = choice.off == "drawn"
    tube = Strip(TUBE, up if drawn else (1.0, 0.0, 0.0), 0.0 if drawn else square, _tube_off(choice))
    base = Strip(BASE, (0.0, 0.0, -1.0), _foot_draft(choice), "lower it, or turn all over and lift it off")
    if core is None or choice.core is None:
        return (cage, tube, base)
    out = Strip(CORE, up if core.low > 1e-9 else (0.0, 0.0, -1.0), square, _core_off(choice.core.out))
    if core.low > 1e-9:
        return (cage, replace(out, note=f"{out.note}, lift it straight up"), tube, base)
    return (cage, tube, base, out)


def _tube_off(choice: Choice) -> str:
    return {
        "cut away": "cut it along two lines, peel it off",
        "slit": "loosen the straps, spread the slit, lift it off",
        "drawn": "draw it off straight up",
    }[choice.off]


def _core_off(out: CoreOut) -> str:
    return {
        "slit": "draw the strip out of its slit, it springs in",
        "wrapped": "draw the tube out of its wrap, pull the wrap off",
        "split": "draw the strips out of its cuts, its halves come together",
        "left in": "it stays in the piece",
    }[out]


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
