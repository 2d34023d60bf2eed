"""What a person must know to set up, fill and clean a mold, in the order in which it is needed."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.molds.assembly import numbered
from formwork.molds.bearers import Bearers
from formwork.molds.label import label, lift_lines
from formwork.molds.load import Load
from formwork.molds.mold import Part
from formwork.molds.panels.air_hole import AIR_HOLE
from formwork.molds.panels.core_box import stays_on_base
from formwork.molds.panels.lining import Frame
from formwork.molds.panels.putting_together import assembly, cores_of
from formwork.shapes.piece import Former
from formwork.strength.working import Unjudged
from formwork.units import show

_LAYER = 0.3
"""Deepest layer in which ordinary concrete is placed and rodded or vibrated, m (common practice, no source)."""


def instructions(
    frame: Frame, load: Load, parts: Sequence[Part], under: Bearers | Unjudged
) -> tuple[str, ...]:
    """The mold's label, then setting up, filling, drawing and cleaning, a line each."""
    cores = cores_of(frame)
    return (
        label(load, frame.units, owned=frame.options.owned is not None),
        *lift_lines(load, frame.units),
        *numbered(assembly(frame, parts, under)),
        *_filling(frame, load, cores),
        *_drawing(frame, parts, cores),
        *_looking_after(frame),
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
    late = _when_drawn(frame, cores)
    if not any(part.blank.holes for part in parts if part.role == "core cap"):
        return (late,)
    return (
        f"Each core's cap has a hole of {show.length(AIR_HOLE, frame.units)}, plugged while the mix is wet: pull the "
        "plug before the core moves, so that air breaks the suction.",
        late,
    )


def _when_drawn(frame: Frame, cores: Sequence[Former]) -> str:
    """When a core is drawn, by the way it leaves."""
    shrinks = "concrete shrinks onto a core as it dries"
    if any(core.seat == "hung" for core in cores):
        return f"Draw the core, first of all, as soon as the mix stands by itself: {shrinks}."
    if all(stays_on_base(frame, core) for core in cores):
        return f"Lift each piece straight up off its cores as soon as it bears lifting: {shrinks}."
    if frame.piece.cavities > 1:
        return (
            "The cores come out last: lift each piece off the base with its core in it, turn it over and draw the "
            f"core. Do not wait longer than the concrete needs to bear that: {shrinks}."
        )
    return (
        "The core comes out last, when the piece is turned over and the base is off. Do not wait longer than the "
        f"concrete needs to bear that: {shrinks}."
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
