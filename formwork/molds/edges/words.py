"""What a person must know to set up, fill and clean a mold of edge forms, in the order in which it is needed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos
from typing import Protocol

from formwork.geometry.prisms import Prism
from formwork.molds.assembly import Told, numbered, of_role, steps_of
from formwork.molds.bearers import ON_TRESTLES, Bearers, setting_down
from formwork.molds.casting_in import casting_in
from formwork.molds.choice import FEW_USES
from formwork.molds.edges.edging import Edge, Locate, joint, pairs
from formwork.molds.label import label, lift_lines
from formwork.molds.load import Load
from formwork.molds.mold import AssemblyStep, Part
from formwork.shapes.piece import Piece
from formwork.strength.working import Unjudged
from formwork.units import show
from formwork.units.show import UnitSystem

_JOINED = (
    "Where its boards meet, screw a batten over the joint from below, a row into each board, sealant in the joint and "
    "tape over it; bearers are then as thick as the battens and end at one that crosses them."
)


class Edged(Protocol):
    """What the words need to know of a mold of edge forms."""

    @property
    def piece(self) -> Piece:
        """As the strips form it."""

    @property
    def outside(self) -> Prism:
        """Its envelope."""

    @property
    def load(self) -> Load:
        """The mix."""

    @property
    def edges(self) -> tuple[Edge, ...]:
        """The strips in order."""

    @property
    def formers(self) -> tuple[Part, ...]:
        """Cores and edge strip."""

    @property
    def lean(self) -> float:
        """Of the strips outward, going up, rad."""

    @property
    def locate(self) -> Locate:
        """Says where a place of the mold lies on the good face."""

    @property
    def uses(self) -> int:
        """Fillings the mold is built for."""

    @property
    def owned(self) -> bool:
        """The shop has the mold already."""

    @property
    def units(self) -> UnitSystem:
        """How a person here reads a length."""


def assembly(lined: Edged, under: Bearers | Unjudged, parts: Sequence[Part]) -> tuple[AssemblyStep, ...]:
    """The steps of setting up.

    Args:
        lined: the mold.
        under: what the base may lie on.
        parts: everything cut.
    """
    boards = sum(part.role == "base" for part in parts)
    joined = f" {_JOINED}" if boards > 1 else ""
    return steps_of((Told(f"{ON_TRESTLES}{joined}", of_role("base")), *_setting_up(lined, under)), parts)


def instructions(lined: Edged, steps: Sequence[AssemblyStep], *, screws: bool) -> tuple[str, ...]:
    """The mold's label, then setting up, filling, striking and cleaning, a line each.

    Args:
        lined: the mold.
        steps: of setting up.
        screws: there are some.
    """
    return (
        label(lined.load, lined.units, owned=lined.owned),
        *lift_lines(lined.load, lined.units),
        "Before the first filling seal every cut edge and every face the mix touches and let it dry; mark inside, "
        "outside and up on every part. Good faces go towards the mix.",
        *numbered(steps),
        *_filling(lined),
        "After each use scrape and wash the parts, dry them flat, seal bare wood, oil thinly before the next; keep "
        "bent strips on their blocks, so that they keep their curve.",
        *(("Move screws that turn loose in the blocks.",) if lined.uses > FEW_USES and screws else ()),
    )


def _setting_up(lined: Edged, under: Bearers | Unjudged) -> Iterator[Told]:
    units = lined.units
    high = show.length(lined.outside.height / cos(lined.lean), units)
    turned = lined.piece.turned_over
    yield Told(
        "Draw the outline on the base: it is among the full-size templates, to be laid down as it is printed"
        + (" (it reads mirrored, because the good face lies down). " if turned else ". ")
        + "Try the strips on that line before you screw anything."
    )
    cores = [part for part in lined.formers if part.role == "board"]
    if cores:
        yield Told(
            "Screw each core to the base from below, its wide end down, before the strips close it in.",
            of_role("board"),
        )
    yield Told(
        f"Stand the strips on the line in their order round it. Rip them exactly {high} wide, for their "
        "height is the thickness of the piece: lumber measures less than its name (a 2 x 4 on edge is 3 1/2 in).",
        of_role("panel", "skin"),
    )
    yield from map(Told, _bending_lines(lined))
    yield Told(
        "Set the blocks hard against the backs of the strips, one at each end and the others evenly between; screw "
        "them through the base from below, then the strips to them.",
        of_role("cleat"),
    )
    if any(part.role == "strip" for part in lined.formers):
        yield Told(
            "Glue and pin the edge strip to the base along the feet of the strips, mitred at the corners.",
            of_role("strip"),
        )
    yield Told(setting_down(under, lined.units, "the mold"))
    yield Told(
        "Run a bead of sealant along every seam, smooth it and let it skin; a fluid mix finds the smallest gap."
    )
    yield Told(
        "Only now wipe release agent on everything the mix touches, thin, and wipe off what stands: sealant does not "
        "stick where it has been."
    )
    yield from casting_in(lined.piece, (), units)


def _bending_lines(lined: Edged) -> Iterator[str]:
    """How bent strips are bent, where they join and where one closes."""
    bent = [edge for edge in lined.edges if edge.stretch.bent and not edge.kerfs]
    if any(edge.kerfs for edge in lined.edges):
        yield (
            "Saw the kerfs of the kerfed strips on a trial piece first, and set the depth until they close just as it "
            "lies on the line; then brush glue into them, bend the strip against its blocks and let it set."
        )
    if not bent:
        yield from _butts(lined)
        return
    edge = min(bent, key=lambda one: one.stretch.tightest.arc().radius)
    radius = show.length(edge.stretch.tightest.arc().radius, lined.units)
    grain = "face grain upright, " if edge.upright else ""
    yield (
        f"Bend the strips of {edge.stock.name} round the line, dry, {grain}to {radius} at the tightest, from one end "
        "to the other, a block at a time; wet the outside of one that creaks."
    )
    yield from _butts(lined)


def _butts(lined: Edged) -> Iterator[str]:
    places = [
        f"{edge.name} and {after.name} at {lined.locate(edge.stretch.foot[-1].end)}"
        for edge, after in pairs(lined.edges)
        if joint(edge, after) == "butt" and len(lined.edges) > 1
    ]
    if places:
        yield (
            f"Where strips run on smoothly they butt, and a block holds each end: {'; '.join(places)}. Screw a lap of "
            "the thinner strip behind such a joint, packed out to the back of the thinner one."
        )
    if len(lined.edges) == 1:
        where = lined.locate(lined.edges[0].stretch.foot[0].start)
        yield f"The bent strip closes on itself at {where}: screw a lap of the same sheet behind its two ends."


def _filling(lined: Edged) -> Iterator[str]:
    if any(part.role == "board" for part in lined.formers):
        yield "Pour round the cores evenly, so that they are not pushed aside."
    done = "Do not vibrate cellular mix; tap the strips."
    if not lined.load.cellular:
        done = "Rod or vibrate it well along the strips."
    yield f"{done} Watch the feet of the strips while it is wet: a strip that moves is wedged from outside at once."
    yield "Strike off level with the strips."
