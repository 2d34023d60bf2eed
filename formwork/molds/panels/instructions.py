"""What a person must know to set up, fill and clean a mold, in the order in which it is needed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from formwork.molds.bearers import Bearers, setting_down
from formwork.molds.label import label
from formwork.molds.load import Load
from formwork.molds.mold import Part
from formwork.molds.panels.air_hole import AIR_HOLE
from formwork.molds.panels.bracing import hooped
from formwork.molds.panels.lining import Frame
from formwork.shapes.piece import Former, Plug
from formwork.strength.working import Unjudged
from formwork.units import show

_LAYER = 0.3
"""Deepest layer in which ordinary concrete is placed and rodded or vibrated, m (common practice, no source)."""


def instructions(
    frame: Frame, load: Load, parts: Sequence[Part], under: Bearers | Unjudged
) -> tuple[str, ...]:
    """The mold's label, then setting up, filling, drawing and cleaning, a line each."""
    cores = [former for former in frame.form.formers if former.kind == "core"]
    return (
        label(load, frame.units, owned=frame.options.owned is not None),
        *_setting_up(frame, under, cores),
        *_filling(frame, load, cores),
        *_drawing(frame, parts, cores),
        *_looking_after(frame),
    )


def _setting_up(frame: Frame, under: Bearers | Unjudged, cores: Sequence[Former]) -> tuple[str, ...]:
    """What is done once, then the steps of every filling in their order.

    Sealant comes before release agent, on which it would not stick.
    """
    steps = (
        setting_down(under, frame.units),
        *_on_the_base(frame, cores),
        _squaring(frame),
        *_hoops(frame),
        *_dividers(frame),
        "Run a bead of sealant along every seam, smooth it and let it skin; a fluid mix finds the smallest gap.",
        "Only now wipe release agent on everything the mix touches, thin, and wipe off what stands: sealant does "
        "not stick where it has been.",
        *_hanging(frame, cores),
    )
    return (
        "Before the first filling seal every cut edge and every face the mix touches and let it dry; mark inside, "
        "outside and up on every part. Good faces go towards the mix.",
        *(f"Step {number}. {step}" for number, step in enumerate(steps, start=1)),
    )


def _on_the_base(frame: Frame, cores: Sequence[Former]) -> Iterator[str]:
    """What must be in place before the sides close it in; plugs on a core before the core."""
    holders = {_holder(cores, plug) for plug in frame.piece.plugs}
    if holders:
        yield (
            f"Screw the drain plugs to {' and '.join(sorted(holders))} from behind, each with its wide end on what "
            "holds it."
        )
    if any(core.seat == "base" for core in cores):
        yield f"{_fasten(frame).capitalize()} each core to the base from below, before the sides close it in."


def _holder(cores: Sequence[Former], plug: Plug) -> str:
    if plug.seat == "base":
        return "the base"
    return "the cap of the core" if plug.on in {core.name for core in cores} else f"the {plug.on}"


def _fasten(frame: Frame) -> str:
    """The verb for what is undone at every filling."""
    return "bolt" if frame.stocks.bolted else "screw"


def _dividers(frame: Frame) -> Iterator[str]:
    if any(former.kind == "divider" for former in frame.form.formers):
        yield "Slide the dividers down between the two sides they meet and screw through those sides."


def _hanging(frame: Frame, cores: Sequence[Former]) -> Iterator[str]:
    if any(core.seat == "hung" for core in cores):
        yield (
            f"Last, hang the core from its bars, centre it by measuring the wall at every corner, and "
            f"{_fasten(frame)} the bars to the rim rails: the mix lifts the core with more than its weight."
        )


def _squaring(frame: Frame) -> str:
    """How the sides are joined and trued, and where they are joined otherwise than the project asks."""
    check = "compare the two diagonals"
    if len(frame.corners) != 4:
        check = "try them on the outline of the piece drawn full size on the base"
    held = f"{_fasten(frame)} the lowest rails to the base"
    if frame.options.base == "runs past":
        held = "screw the panels to the edges of the base"
    line = f"Join the sides, {check}, then {held}."
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


def _filling(frame: Frame, load: Load, cores: Sequence[Former]) -> tuple[str, ...]:
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
    struck = next(face.name for face in frame.form.faces if face.role == "fill")
    lines.append(f"{_compacting(frame, load)} Strike off level with the panels ({struck}).")
    return tuple(lines)


def _compacting(frame: Frame, load: Load) -> str:
    """Vibration breaks foam; without it ordinary concrete stays full of holes."""
    if load.cellular:
        return "Do not vibrate cellular mix; tap the sides."
    deep = show.length(_LAYER, frame.units)
    return f"Place the mix in layers of at most {deep}; rod or vibrate each, a little way into the one below."


def _drawing(frame: Frame, parts: Sequence[Part], cores: Sequence[Former]) -> tuple[str, ...]:
    if not cores:
        return ()
    late = "Draw the core as soon as the mix stands by itself: concrete shrinks onto a core as it dries."
    if not any(part.blank.holes for part in parts if part.role == "core cap"):
        return (late,)
    return (
        f"Each core's cap has a hole of {show.length(AIR_HOLE, frame.units)}, plugged while the mix is wet: pull the "
        "plug before the core moves, so that air breaks the suction.",
        late,
    )


def _looking_after(frame: Frame) -> tuple[str, ...]:
    lines = [
        "After each use scrape and wash the parts, dry them flat, seal bare wood, oil thinly before the next."
    ]
    if frame.stocks.bolted:
        lines.append("Bolts and tee nuts hold what comes off at every filling; grease the threads.")
    if any(former.kind == "divider" for former in frame.form.formers):
        lines.append("Screws in the edges of dividers: bore for them, and move those that turn loose.")
    return tuple(lines)
