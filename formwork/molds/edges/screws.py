"""The screws of a mold of edge forms, joint by joint, and what else is bought for it by the piece."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.geometry.outlines import perimeter
from formwork.molds.edges.backing import (
    SCREWS,
    Bite,
    Block,
    Timber,
    screw_for,
)
from formwork.molds.edges.edging import (
    Edge,
    joint,
    pairs,
)
from formwork.molds.edges.lining import Lined, space_of
from formwork.molds.edges.parts import (
    former_size,
)
from formwork.molds.gluing import glue_line, layers, strips
from formwork.molds.hardware import gathered, strip_pins
from formwork.molds.mold import Fixing, Hardware, Part
from formwork.molds.weighing import mass, part_in_plan, part_volume
from formwork.record import record
from formwork.strength.customary import GRAVITY
from formwork.strength.fasteners import Holding, gravity, needed, screw, withdrawal
from formwork.strength.uplift import hold_down
from formwork.strength.working import Force, given
from formwork.units import show


@record
class Screwed:
    """A joint of a mold of edge forms: what it joins, its screw, how many in all, at how many places."""

    use: str
    bite: Bite
    count: int
    places: int
    comes_off: bool


def screwed(lined: Lined, found: Sequence[Block], timber: Timber) -> dict[str, Screwed]:
    """The screws of every joint: as many as the rule of the joint, more where the mix pulls more."""
    shop, name, base = lined.shop, lined.piece.name, lined.sheet.thickness
    count = SCREWS * len(found)
    up = screw_for(shop.hardware, base, timber.high, "base to blocks, from below", name)
    made = {"base": Screwed("base to blocks, from below", up, count, len(found), comes_off=True)}
    for thickness in sorted({edge.thickness for edge in lined.edges}):
        held = [block for block in found if lined.edges[block.edge].thickness == thickness]
        if held:
            use = f"strips of {show.length(thickness, lined.units)} to their blocks"
            bite = screw_for(shop.hardware, thickness, timber.deep, use, name)
            made[f"strip {thickness:.4f}"] = Screwed(
                use, bite, SCREWS * len(held), len(held), comes_off=False
            )
    laps = [_past(*pair) for pair in pairs(lined.edges) if joint(*pair) in ("lap", "lap back")]
    if laps:
        thick = laps[0].thickness
        bite = screw_for(shop.hardware, thick, 0.045, "strips to one another at corners", name)
        made["corner"] = Screwed(
            "strips to one another at corners", bite, 2 * len(laps), len(laps), comes_off=True
        )
    cores = [part for part in lined.formers if part.role == "board"]
    if cores:
        made["core"] = _core_screws(lined, cores)
    return made


def _past(before: Edge, after: Edge) -> Edge:
    """The strip that runs past at a lap."""
    return after if joint(before, after) == "lap back" else before


def _core_screws(lined: Lined, cores: Sequence[Part]) -> Screwed:
    """Screws up into every core: two, or what its buoyancy asks."""
    use = "base to cores, from below"
    bite = screw_for(lined.shop.hardware, lined.sheet.thickness, lined.load.fill, use, lined.piece.name)
    each = withdrawal(screw(bite.size), Holding(gravity("")), bite.into).value
    counts = [max(2, needed(core_pull(lined, core), each)) for core in cores]
    return Screwed(use, bite, max(counts) * len(cores), len(cores), comes_off=True)


def core_pull(lined: Lined, core: Part) -> float:
    """What the screws of a core must hold, N: its buoyancy, less its own weight."""
    return hold_down(core_lift(lined, core).force, GRAVITY * mass([core], lined.shop))


def core_lift(lined: Lined, core: Part) -> Force:
    """Buoyancy of a core: the mix is taken to get under it."""
    space = part_volume(core)
    known = given("V", space, "m3", f"volume of the {core.name}")
    return lined.load.buoyed(space, part_in_plan(core), (known,))


def fixing(one: Screwed) -> Fixing:
    """What a builder must know of a joint's screws."""
    return Fixing(one.use, "screw", one.bite.size, one.count, one.places, one.comes_off)


def bought(lined: Lined, screws: dict[str, Screwed]) -> tuple[Hardware, ...]:
    """Screws, pins and chamfer strip of one mold."""
    lines = [Hardware("screw", one.bite.size, float(one.count), "piece", one.use) for one in screws.values()]
    pins = strip_pins(lined.formers)
    lines += [Hardware(pin.item, pin.size, float(pin.count), "piece", pin.use) for pin in pins]
    for former in lined.form.formers:
        if former.kind == "strip":
            size = show.length(former_size(former), lined.units)
            long = perimeter(space_of(former).outline)
            lines.append(
                Hardware("chamfer strip", f"{size} x {size}", long, "m", "round the foot of the strips")
            )
    glued = {"strips": strips(lined.formers), "layers of cores": layers(lined.formers)}
    return (*gathered(lines), *glue_line(glued))
