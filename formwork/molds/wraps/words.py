"""What a person must know to build, set up, fill, strip and clean a wrapped mold, in the order of need."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import degrees

from formwork.molds.assembly import (
    Takes,
    Told,
    all_of,
    any_of,
    nothing,
    numbered,
    of_group,
    of_role,
    steps_of,
)
from formwork.molds.bearers import ON_TRESTLES, Bearers, setting_down
from formwork.molds.casting_in import casting_in
from formwork.molds.foot_strip import BEND_IT
from formwork.molds.label import label, lift_lines
from formwork.molds.mold import AssemblyStep, Part
from formwork.molds.panels.air_hole import AIR_HOLE
from formwork.molds.panels.plug_places import from_middle
from formwork.molds.wraps.ring_ribs import BACK, FRONT
from formwork.molds.wraps.round_core import RoundCore
from formwork.molds.wraps.wrapping import Lined, foot_strips, slender
from formwork.strength.working import Unjudged
from formwork.units import show

_of_shells: Takes = of_group(FRONT, BACK)
_LAYER = 0.3
"""Deepest layer in which ordinary concrete is placed and rodded or vibrated, m (common practice, no source)."""


def wrapped_assembly(
    lined: Lined, heights: Sequence[Sequence[float]], under: Bearers | Unjudged, parts: Sequence[Part]
) -> tuple[AssemblyStep, ...]:
    """The steps: building at the bench, for a mold that the shop does not have, then setting up."""
    bench = () if lined.asked.owned else (replace(one, bench=True) for one in _building(lined, heights))
    return steps_of((*bench, *_setting_up(lined, under)), parts)


def wrapped_instructions(lined: Lined, steps: Sequence[AssemblyStep]) -> tuple[str, ...]:
    """The mold's label, then the steps, filling, drawing and cleaning, a line each."""
    asked = lined.asked
    return (
        label(asked.load, asked.units, owned=asked.owned),
        *lift_lines(asked.load, asked.units),
        *numbered(steps),
        *_filling(lined),
        *_drawing(lined),
        "After each use scrape and wash the parts, stand the shells together so that they keep their round, seal bare "
        "wood, oil thinly before the next.",
    )


def _building(lined: Lined, heights: Sequence[Sequence[float]]) -> Iterator[Told]:
    units, skin = lined.asked.units, lined.shell.skin
    upright = "its length upright" if skin.upright else "its length round the mold"
    yield Told(
        "Glue and screw the two layers of each half ring together so that their joints never meet, then true the "
        f"hollow edge. The skin is {skin.sheet.name} with {upright}: its least radius is "
        f"{show.length(skin.bend.radius, units)} ({skin.bend.source}).",
        of_role("ring"),
    )
    for number, some in enumerate(heights, start=1):
        of = "" if len(heights) == 1 else f" of side {number}"
        marks = ", ".join(show.length(height, units) for height in some)
        yield Told(f"Mark the middles of the rings{of} on every seam batten, from its lower end: {marks}.")
    yield Told(
        "Stand the half rings and seam battens of a shell on a flat bench, spring the skin into them from one batten "
        "to the other, glue it to the rings and screw its edges to the battens; plane both ends level. Cover every "
        "other joint of panels with its strip from behind.",
        _of_shells,
    )
    if lined.core is not None and not lined.core.hung:
        yield from _plugs(lined)
    core_of = _core_made(lined)
    if lined.core is not None and lined.core.apart:
        core = lined.core.skin
        yield Told(
            f"Screw the core's ribs to their stringers and rub candle wax on their edges; bend the skin "
            f"({core.sheet.name}, least radius {show.length(core.bend.radius, units)}, {core.bend.source}) round "
            "them and tape its joints on the face: it is not fastened, so that the ribs slide out of it.",
            core_of,
        )
    elif lined.core is not None:
        core = lined.core.skin
        yield Told(
            f"Bend the core's skin ({core.sheet.name}, least radius {show.length(core.bend.radius, units)}, "
            f"{core.bend.source}) round its ribs, cover its joints from inside, then screw on the cap, whose edge "
            "covers the end of the skin.",
            core_of,
        )
    yield Told(
        "Before the first filling seal every cut edge and every face the mix touches and let it dry; mark inside, "
        "outside and up on every part."
    )


def _setting_up(lined: Lined, under: Bearers | Unjudged) -> Iterator[Told]:
    core, units = lined.core, lined.asked.units
    standing = core is not None and not core.hung
    below = standing or bool(lined.asked.piece.plugs)
    yield Told(ON_TRESTLES if below else setting_down(under, units), of_role("base"))
    round_it = show.length(2.0 * lined.sides[0].foot[0], units)
    yield Told(
        f"Draw a circle of {round_it} round the middle of the base: the skin stands on it, its inside on the line."
    )
    if core is None or core.hung:
        yield from _plugs(lined)
    if core and not core.hung:
        yield Told(
            "Screw the core to the base from below, in the middle of the circle, before the shells close it in.",
            any_of(_core_made(lined), all_of(of_role("plug"), lambda part: part.group != "base")),
        )
    if below:
        yield Told(setting_down(under, units, "the base with the core on it" if standing else "the base"))
    if foot_strips(lined.form):
        yield Told(BEND_IT, of_role("strip"))
    yield Told(
        "Set both shells on the circle, bolt their seam battens together, draw a strap round every ring until the "
        "seams close, then screw the lowest rings to the base.",
        _of_shells,
    )
    if slender(lined):
        yield Told(
            "Prop the upper ring from three sides and set the mold plumb in both directions before it is filled."
        )
    yield Told("Run a bead of sealant round the foot and up every seam, smooth it and let it skin.")
    yield Told(
        "Only now wipe release agent on everything the mix touches, thin, and wipe off what stands: sealant does not "
        "stick where it has been."
    )
    yield from casting_in(lined.asked.piece, (), units)
    if core and core.hung:
        yield Told(
            "Last, hang the core from its bars, centre it by measuring the wall in four places, and screw the bars to "
            "the upper rings: the mix lifts the core with more than its weight.",
            any_of(_core_made(lined), of_role("bar")),
        )


def _core_made(lined: Lined) -> Takes:
    """Takes what the core is made of at the bench: all but its bars and plugs."""
    if lined.core is None:
        return nothing
    return all_of(of_group(*lined.core.groups), lambda part: part.role not in ("bar", "plug"))


def _plugs(lined: Lined) -> Iterator[Told]:
    core = lined.core
    if lined.asked.piece.plugs:
        holder = "the cap of the core, before it goes on," if core and not core.hung else "the base"
        places = [plug.body.foot[:2] for plug in lined.asked.piece.plugs]
        where = from_middle(places, (0.0, 0.0), lined.asked.units)
        yield Told(
            f"Screw the drain plugs to {holder} from behind, the heads sunk, each with its wide end on what holds it; "
            f"their middles {where}.",
            of_role("plug", "core cap") if core and not core.hung else of_role("plug"),
        )


def _filling(lined: Lined) -> Iterator[str]:
    core, load = lined.core, lined.asked.load
    if core and core.hung:
        yield (
            "Pour on one side of the core only until mix rises on the other, so that the air under the core leaves "
            "ahead of it; then fill round."
        )
    elif core:
        yield "Pour round the core evenly, so that it is not pushed aside."
    deep = show.length(_LAYER, lined.asked.units)
    placed = (
        "Do not vibrate cellular mix; tap the rings."
        if load.cellular
        else f"Place the mix in layers of at most {deep}; rod or vibrate each, a little way into the one below."
    )
    yield f"{placed} Strike off level with the upper edge of the skin."


def _drawing(lined: Lined) -> Iterator[str]:
    core = lined.core
    if core is None:
        return
    yield _way_out(core)
    if any(True for _ in lined.asked.piece.plugs) or core.inside.narrowest > 0.1:
        yield (
            f"The core's cap has a hole of {show.length(AIR_HOLE, lined.asked.units)} where it has room for one, "
            "plugged while the mix is wet: pull the plug before the core moves, so that air breaks the suction."
        )
    shrinks = "concrete shrinks onto a core as it dries"
    if core.hung:
        yield f"Draw the core as soon as the mix stands by itself: {shrinks}."
    else:
        yield f"Do not leave the core in longer than the concrete needs to bear being turned over: {shrinks}."


def _way_out(core: RoundCore) -> str:
    """How the core leaves, and with which draft."""
    lean = show.plain(abs(degrees(core.face.lean)), 1)
    turned = "" if core.hung else " once the shells are off and the piece is turned over with base and core"
    if core.apart:
        slight = f"leans only {lean} degrees" if float(lean) else "stands upright"
        return (
            f"The side of the core {slight}, so it comes out in parts{turned}: undo the screws "
            "of the cap from inside, draw the ribs by their stringers, take off the tape, spring an edge of the "
            "skin inward and roll it up, then knock the cap loose."
        )
    draft = f"its side leans {lean} degrees, so it is free as soon as it moves"
    if core.hung:
        return f"The core comes out upward in one piece, by its bars: {draft}."
    return f"The core comes out in one piece at the rim,{turned}: {draft}."
