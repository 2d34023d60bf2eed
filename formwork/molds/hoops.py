"""Rails mitred into hoops round a mold too narrow for cleats, and what a strap round each of them must carry."""

from __future__ import annotations

from formwork.molds.bracing import hooped
from formwork.molds.corner_pull import corner_pull
from formwork.molds.lining import Frame
from formwork.molds.load import Load, rail_load
from formwork.molds.mold import Hardware
from formwork.strength.working import Force, given, step
from formwork.units import show


def strap_pull(frame: Frame, load: Load, heights: tuple[float, ...]) -> Force:
    """Tension in the strap round the hoop that is worst off, were the screws of its mitres not there.

    Args:
        frame: the mold, its corners mitred.
        load: the mix.
        heights: of the hoops, m.
    """
    pull, foot = corner_pull(frame, load), load.pressure(0.0)
    most = max(rail_load(load, heights, index) for index in range(len(heights)))
    force = pull.along * most / foot
    return Force(
        force,
        (
            *pull.steps,
            given("w", most / 1000.0, "N/mm", "load of the hoop that is worst off"),
            step("T", "t * w / p", force, "N", t=pull.along / 1000.0, w=most / 1000.0, p=foot / 1e6),
        ),
    )


def straps(frame: Frame, load: Load, heights: tuple[float, ...]) -> tuple[Hardware, ...]:
    """One strap for each hoop, by the working load that its label must give; nothing for a mold with cleats."""
    if not hooped(frame):
        return ()
    asked = show.force(strap_pull(frame, load, heights).force, frame.units)
    use = "round each hoop of rails; polyamide or steel, for alkali attacks polyester"
    return (Hardware("strap", f"for a working load of {asked} or more", float(len(heights)), "piece", use),)
