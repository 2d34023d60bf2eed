"""What a person must know to lay up, set up, fill and strip a stacked mold, in the order in which it is needed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from formwork.molds.asked import Asked
from formwork.molds.assembly import Told, all_of, any_of, numbered, of_group, of_role, steps_of
from formwork.molds.bearers import ON_TRESTLES, REACHED, Bearers, setting_down
from formwork.molds.casting_in import casting_in
from formwork.molds.choice import FEW_USES
from formwork.molds.label import label, lift_lines
from formwork.molds.mold import AssemblyStep
from formwork.molds.stacks.joints import PROUD
from formwork.molds.stacks.stack import BACK, FRONT, WALL, Stack
from formwork.strength.working import Unjudged
from formwork.units import show

_STRAIGHT = 0.0174
"""A wall that leans less than this, a degree, is sawn through so that it springs open, rad (ours)."""
_LAYER = 0.3
"""Deepest layer in which ordinary concrete is placed and rodded or vibrated, m (common practice, no source)."""


def stack_instructions(asked: Asked, stack: Stack, rests: Bearers | Unjudged) -> tuple[str, ...]:
    """The mold's label, then laying up, setting up, filling, stripping and cleaning, a line each.

    Args:
        asked: what was asked for.
        stack: all that is cut.
        rests: what the base may lie on.
    """
    return (
        label(asked.load, asked.units, owned=asked.owned),
        *lift_lines(asked.load, asked.units),
        *numbered(stack_assembly(asked, stack, rests)),
        *_filling(asked, stack),
        *_stripping(stack),
        "After each use scrape and wash the parts, dry them flat, seal bare wood, oil thinly before the next.",
    )


def stack_assembly(asked: Asked, stack: Stack, rests: Bearers | Unjudged) -> tuple[AssemblyStep, ...]:
    """The steps: laying up at the bench, for a mold that the shop does not have, then setting up."""
    bench = () if asked.owned else (replace(one, bench=True) for one in _laying_up(asked, stack))
    return steps_of((*bench, *_setting_up(asked, stack, rests)), stack.parts)


def _laying_up(asked: Asked, stack: Stack) -> Iterator[Told]:
    """How the layers become a wall and a core; done once."""
    cores = of_group(*(core.name for core in stack.cores))
    yield Told(
        "Draw a centre line both ways on the base and on every layer; lay each ring up on the one below by these "
        "lines, glue all over, screw through it, the screws clear of the inner edge by two fingers and clear of "
        "those below.",
        lambda part: part.role == "ring" and not cores(part),
    )
    on_disc = all_of(of_role("plug"), of_group(*(core.name for core in stack.cores if core.discs)))
    if any(on_disc(part) for part in stack.parts):
        yield Told(
            "Screw the drain plug to the last disc of the core from behind, its wide end on the disc, before that is "
            "laid.",
            all_of(of_role("plug", "core cap"), of_group(*(core.name for core in stack.cores if core.discs))),
        )
    if any(core.discs for core in stack.cores):
        yield Told(
            "Lay the discs of the core up in the same way, the lowest first, the fixings of its open end in reach.",
            all_of(cores, lambda part: part.role not in ("plug", "bar", "template")),
        )
    if stack.segments > 1:
        yield Told(
            "Turn every second ring by half a segment, so that each joint lies over the middle of a segment."
        )
    if stack.parted:
        yield Told(
            "Lay up both halves side by side, waxed paper along the parting plane; bore for dowels and bolts through "
            "both rows of ears while they are clamped, then take them apart."
        )
    if asked.uses > FEW_USES:
        yield Told(
            "Bolts from below end in tee nuts: bore for them and let the nuts into the upper face of the third layer "
            "before the next one is laid."
        )
    for core in stack.cores:
        if core.discs == 0:
            yield Told(
                f"Strike the {core.name}: leave the standing screws {show.length(PROUD, asked.units)} proud of the "
                f"base, heap lean mortar over them, and turn the {core.name} template about a pin on the axis until it "
                "takes nothing more off; let it harden, seal it with two coats of varnish, wax it.",
                all_of(of_group(core.name), of_role("core cap")),
            )
    if not stack.parted and stack.draft < _STRAIGHT:
        yield Told(
            "The sides stand straight: once it is laid up, saw the wall through at one place and screw an offcut "
            "across the cut outside, sealant in it; take that off first, and the wall springs open."
        )
    fair = (
        "Fill the steps with filler and sand, or leave them" if _stepped(stack) else "Sand the joints flush"
    )
    boards = any(part.role == "template" for part in stack.parts)
    tried = "; try the face with the full-size template" if boards else ""
    yield Told(f"{fair}{tried}. Seal every edge the mix touches twice and let it dry.")


def _stepped(stack: Stack) -> bool:
    return stack.edge == "square" and any(part.turned for part in stack.parts)


def _setting_up(asked: Asked, stack: Stack, rests: Bearers | Unjudged) -> Iterator[Told]:
    fasten = "bolt" if asked.uses > FEW_USES else "screw"
    struck = of_group(*(core.name for core in stack.cores if not core.discs))
    yield Told(ON_TRESTLES, any_of(of_role("base"), all_of(struck, of_role("core cap"))))
    on_disc = of_group(*(core.name for core in stack.cores if core.discs))
    if any(part.role == "plug" and not on_disc(part) for part in stack.parts):
        yield Told(
            "Screw the drain plug in its place from behind, its wide end on what holds it.", of_role("plug")
        )
    for core in stack.cores:
        if core.seat == "base" and core.discs:
            yield Told(
                f"{fasten.capitalize()} the {core.name} to the base from below, on its centre lines.",
                of_group(core.name),
            )
    if stack.parted:
        yield Told(
            "Set both halves on the base, dowels in, bolt the ears from the foot up.", of_group(FRONT, BACK)
        )
    else:
        yield Told(
            "Set the rings on the base by the centre lines; with a core, measure the wall on four sides.",
            of_group(WALL),
        )
    yield Told(f"{fasten.capitalize()} the base to the lowest rings from below.")
    yield Told(f"{setting_down(rests, asked.units, 'the mold')} {REACHED}")
    yield Told(
        "Run a bead of sealant along every seam, smooth it and let it skin; a fluid mix finds the smallest gap."
    )
    yield Told(
        "Only now wipe release agent on everything the mix touches, thin, and wipe off what stands: sealant does "
        "not stick where it has been."
    )
    yield from casting_in(asked.piece, stack.parts, asked.units)
    for core in stack.cores:
        if core.seat == "hung":
            yield Told(
                f"Last, hang the {core.name} from its bars, measure the wall on four sides, and screw the bars to the "
                "top ring: the mix lifts the core with more than its weight.",
                of_group(core.name),
            )


def _filling(asked: Asked, stack: Stack) -> Iterator[str]:
    if any(core.seat == "hung" for core in stack.cores):
        yield (
            "Pour on one side of the core only until mix rises on the other, so that the air under the core leaves "
            "ahead of it; then fill round."
        )
    elif stack.cores:
        yield "Pour round the core evenly, so that it is not pushed aside."
    if asked.load.cellular:
        yield "Do not vibrate cellular mix; tap the sides. Strike off level with the top ring."
    else:
        deep = show.length(_LAYER, asked.units)
        yield (
            f"Place the mix in layers of at most {deep}; rod or vibrate each, a little way into the one below. Strike "
            "off level with the top ring."
        )


def _stripping(stack: Stack) -> Iterator[str]:
    if any(core.seat == "hung" for core in stack.cores):
        yield "Draw the core as soon as the mix stands by itself: concrete shrinks onto a core as it dries."
    elif stack.cores:
        yield (
            "The core comes out last, when the piece is turned over and the base is off. Do not wait longer than the "
            "concrete needs to bear that: concrete shrinks onto a core as it dries."
        )
    if not stack.parted:
        yield "Ease the rings off with thin wedges, a little at a time all round; never lever against the piece."
