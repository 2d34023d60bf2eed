"""What a person must know to set up, fill and clean a mold, in the order in which it is needed."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.molds.bracing import hooped
from formwork.molds.core import AIR_HOLE
from formwork.molds.lining import Frame
from formwork.molds.load import Load
from formwork.shapes.piece import Former
from formwork.units import show


def instructions(frame: Frame, load: Load) -> tuple[str, ...]:
    """The mold's label, then setting up, filling, drawing and cleaning, a line each."""
    cores = [former for former in frame.piece.formers if former.kind == "core"]
    return (
        _label(frame, load),
        *_setting_up(frame, cores),
        *_filling(frame, cores),
        *_drawing(frame, cores),
        *_looking_after(frame),
    )


def _label(frame: Frame, load: Load) -> str:
    """What is written on the mold, so that nobody fills it later with something heavier than it was built for.

    One that the shop owns has its label already, which must allow as much.
    """
    units = frame.units
    most = f"mix of at most {show.density(load.density, units)}, filled at most {show.length(load.fill, units)} high"
    head = f"full liquid head, {show.pressure(load.pressure(0.0), units)} at the foot"
    if frame.options.owned is not None:
        return f"Read the label of the mold before you fill it; it must allow this much: {most}, at any rate ({head})."
    return f"Write on the mold: {most}, at any rate (braced for the {head})."


def _setting_up(frame: Frame, cores: Sequence[Former]) -> tuple[str, ...]:
    lines = [
        "Set the base level in both directions on a bench that carries the filled mold.",
        "Mark inside, outside and up on every part; good faces go towards the mix.",
        "Seal every cut edge and every face the mix touches, let it dry, then wipe on release agent in a thin coat.",
        _squaring(frame),
        *_hoops(frame),
        "Run a bead of sealant along every seam; a fluid mix finds the smallest gap.",
    ]
    if any(core.seat == "hung" for core in cores):
        lines.append(
            "Hang the core from its bars, centre it by measuring the wall at every corner, and screw the bars to "
            "the rim rails: the mix lifts the core with more than its weight."
        )
    if any(core.seat == "base" for core in cores):
        lines.append(
            "Screw each core to the base from below before the sides are closed, and seal round its foot."
        )
    if frame.piece.plugs:
        lines.append("Set the drain plugs with their wide end on the part they are screwed to; grease them.")
    if any(former.kind == "divider" for former in frame.piece.formers):
        lines.append("Slide the dividers down between the two sides they meet and screw through those sides.")
    return tuple(lines)


def _squaring(frame: Frame) -> str:
    """How the sides are joined and trued, and where they are joined otherwise than the project asks."""
    check = "compare the two diagonals"
    if len(frame.corners) != 4:
        check = "try them on the outline of the piece drawn full size on the base"
    line = f"Join the sides, {check}, then fasten the lowest rails to the base."
    made = "mitred" if frame.mitred else "lapped"
    if made == frame.options.joint:
        return line
    why = "turn too little for a lap" if made == "mitred" else "are too sharp for a mitre"
    return f"{line} The corners {why}: they are {made}."


def _hoops(frame: Frame) -> tuple[str, ...]:
    """What holds sides that have no cleats."""
    if not hooped(frame):
        return ()
    return (
        "The rails of each height make a hoop: screw every mitre slantwise from both outsides, and draw a strap round "
        "each hoop before filling.",
    )


def _filling(frame: Frame, cores: Sequence[Former]) -> tuple[str, ...]:
    lines = []
    if any(core.seat == "hung" for core in cores):
        lines.append(
            "Pour on one side of the core only until mix rises on the other, so that the air under the core leaves "
            "ahead of it; then fill round."
        )
    elif cores:
        lines.append("Pour round the core evenly, so that it is not pushed aside.")
    if frame.piece.cavities > 1:
        lines.append("Fill all cavities a third at a time: a divider must not have mix on one side only.")
    struck = next(face.name for face in frame.piece.faces if face.role == "fill")
    lines.append(f"Do not vibrate cellular mix; tap the sides. Strike off level with the panels ({struck}).")
    return tuple(lines)


def _drawing(frame: Frame, cores: Sequence[Former]) -> tuple[str, ...]:
    if not cores:
        return ()
    return (
        f"Each core's cap has a hole of {show.length(AIR_HOLE, frame.units)}, plugged while the mix is wet: pull the "
        "plug before the core moves, so that air breaks the suction.",
        "Draw the core as soon as the mix stands by itself: concrete shrinks onto a core as it dries.",
    )


def _looking_after(frame: Frame) -> tuple[str, ...]:
    lines = [
        "After each use scrape and wash the parts, dry them flat, seal bare wood, oil thinly before the next."
    ]
    if frame.stocks.bolted:
        lines.append("Bolts and tee nuts hold what comes off at every filling; grease the threads.")
    if any(former.kind == "divider" for former in frame.piece.formers):
        lines.append("Screws in the edges of dividers: bore for them, and move those that turn loose.")
    return tuple(lines)
