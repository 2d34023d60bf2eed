"""Rails mitred into hoops round a mold too narrow for cleats, and what a strap round each of them must carry."""

from __future__ import annotations

from formwork.molds.load import Load, rail_load
from formwork.molds.mold import Hardware
from formwork.molds.panels.bracing import hooped
from formwork.molds.panels.corner_pull import corner_pull
from formwork.molds.panels.lining import Frame
from formwork.molds.straps import TAIL, strap_for, strap_lines
from formwork.shapes.body import level_width
from formwork.stock.records import StrapStock
from formwork.strength.working import Force, given, step


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
    pull = strap_pull(frame, load, heights).force
    found = hoop_strap(frame, load, heights)
    return strap_lines(found, pull, len(heights), "round each hoop of rails", frame.units)


def hoop_strap(frame: Frame, load: Load, heights: tuple[float, ...]) -> StrapStock | None:
    """The strap of the shop that goes round each hoop; None where it lists none that reaches."""
    pull = strap_pull(frame, load, heights).force
    return strap_for(frame.stocks.straps, None, pull, way_round(frame), frame.piece.name, frame.units)


def way_round(frame: Frame) -> float:
    """Length that a strap takes at most, m: round the outside of the rails, and through its ratchet.

    A polygon of four sides or more that is moved outward by d grows by no more than 8 d round.
    """
    sides = [face.half for face in frame.form.faces if face.role == "panel"]
    inside = sum(level_width(frame.body, frame.planes.enter(side), side.normal) for side in sides)
    return inside + 8.0 * (frame.thickness + frame.stocks.deep) + TAIL
