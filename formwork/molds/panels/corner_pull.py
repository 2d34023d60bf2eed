"""How hard the mix pulls the corners of a mold apart, and what one fastener holds against it.

Each end of a panel hands half of its load to the corner, square to the panel. What the corner passes from one panel to
the other follows from both: at a corner that turns by e it lies along the mitre's normal where the panels are equal.
In a lapped corner the fasteners pass square through the panel that runs past into the cleat of the one that stops:
they are pulled along their axis by the first panel's load, and across it by both. In a mitred corner they stand square
to the mitre, and both loads draw them along their axis.
"""

from __future__ import annotations

from math import acos, cos, degrees, hypot, sin

from formwork.errors import RangeError
from formwork.geometry.vectors import length, sub
from formwork.molds.load import Load
from formwork.molds.panels.lining import Frame
from formwork.molds.strengths import gravity_of
from formwork.record import record
from formwork.stock.records import StickStock
from formwork.strength.bands import corner_tension
from formwork.strength.bolts import Bolted, bolt_across, bolt_diameter
from formwork.strength.dowels import Joint, lateral
from formwork.strength.fasteners import Where, screw
from formwork.strength.working import Force, Step, given, step


@record
class Pull:
    """What the fasteners of one corner must hold at the foot of the mold, N for each m of its height.

    Attributes:
        along: along their axis.
        across: across it.
        steps: how both were found.
    """

    along: float
    across: float
    steps: tuple[Step, ...]


@record
class _Corner:
    """The pull at one corner, N/m, and how each way of it was found."""

    along: float
    across: float
    drawn: tuple[Step, ...]
    pushed: tuple[Step, ...]


def corner_pull(frame: Frame, load: Load) -> Pull:
    """The pull at the foot of the corners; where they differ, the worst along and the worst across."""
    pressure = load.pressure(0.0)
    found = [_at_corner(frame, pressure, name) for name in frame.corners]
    along, across = max(found, key=lambda one: one.along), max(found, key=lambda one: one.across)
    pushed = across.pushed if across.across > 0.0 else ()
    return Pull(along.along, across.across, (_pressure(pressure), *along.drawn, *pushed))


def _at_corner(frame: Frame, pressure: float, name: str) -> _Corner:
    """The pull at the right corner of a panel, seen from outside."""
    corner = frame.corners[name][1]
    mine, beside = _width(frame, name), _width(frame, corner.neighbour.name)
    turn = _turn(frame, name, corner.neighbour.name)
    told = f"turn of the corner in plan, {degrees(turn):.4g} deg"
    if corner.rule == "mitred":
        along = pressure * (mine + beside) / (4.0 * sin(turn / 2.0))
        mitre = step("t", "p * (B_1 + B_2) / (4 * sin(e_m / 2))", along / 1000.0, "N/mm", p=pressure / 1e6,
                     B_1=mine * 1000.0, B_2=beside * 1000.0, e_m=turn)  # fmt: skip
        return _Corner(along, 0.0, (given("e_m", turn, "rad", told), mitre), ())
    over, stopped = (mine, beside) if corner.rule == "runs past" else (beside, mine)
    along = corner_tension(pressure, over, 1.0)
    across = pressure * (stopped + over * cos(turn)) / (2.0 * sin(turn))
    return _Corner(
        along,
        abs(across),
        (step("t", "p * B_1 / 2", along / 1000.0, "N/mm", p=pressure / 1e6, B_1=over * 1000.0),),
        (
            given("e", turn, "rad", told),
            step("v", "p * (B_s + B_p * cos(e)) / (2 * sin(e))", across / 1000.0, "N/mm", p=pressure / 1e6,
                 B_p=over * 1000.0, B_s=stopped * 1000.0, e=turn),
        ),
    )  # fmt: skip


def panel_tension(frame: Frame, load: Load) -> Pull:
    """What the neighbours of a panel draw it with, lengthwise, by its cleats: the worst, at the foot of the mold.

    A cleat that its own panel presses outward from behind needs no screw for that; but the other panel's load reaches
    it along its panel, across the screws between the two.
    """
    pressure = load.pressure(0.0)
    ends = ((name, corner) for name, pair in frame.corners.items() for corner in pair)
    cleated = [(name, one.neighbour.name) for name, one in ends if one.rule != "runs past"]
    found = [_tension(frame, pressure, *pair) for pair in cleated]
    return max(found, key=lambda one: one.across)


def _tension(frame: Frame, pressure: float, own: str, other: str) -> Pull:
    """Along the panel that bears the cleat, from the balance of the other panel square to itself."""
    turn, mine, beside = _turn(frame, own, other), _width(frame, own), _width(frame, other)
    across = pressure * (beside + mine * cos(turn)) / (2.0 * sin(turn))
    found = step("s", "p * (B_2 + B_1 * cos(e)) / (2 * sin(e))", across / 1000.0, "N/mm", p=pressure / 1e6,
                 B_1=mine * 1000.0, B_2=beside * 1000.0, e=turn)  # fmt: skip
    said = given("e", turn, "rad", f"turn of the corner in plan, {degrees(turn):.4g} deg")
    return Pull(0.0, abs(across), (_pressure(pressure), said, found))


def _turn(frame: Frame, one: str, other: str) -> float:
    """By how much the mold's outline turns from one side to the next, in plan, rad."""
    (ax, ay, _), (bx, by, _) = (frame.form.face(name).half.normal for name in (one, other))
    return acos(max(-1.0, min(1.0, (ax * bx + ay * by) / (hypot(ax, ay) * hypot(bx, by)))))


def _pressure(pressure: float) -> Step:
    return given("p", pressure / 1e6, "MPa", "pressure at the foot, taken over the whole height")


def _width(frame: Frame, name: str) -> float:
    """Longest level edge of a side, m: the inside width of its panel."""
    face = frame.form.face(name)
    polygon = frame.body.facets[frame.planes.enter(face.half)]
    edges = [sub(point, polygon[i - 1]) for i, point in enumerate(polygon)]
    return max(length(edge) for edge in edges if abs(edge[2]) < 1e-9)


def sideways(
    size: str, side: float, bite: float, stick: StickStock, where: Where = "side grain"
) -> Force | None:
    """What one screw holds across its axis; None where its point is not deep enough for the formula.

    Args:
        size: as printed on the box.
        side: wood under its head, m.
        bite: length in the stick that holds its point, m.
        stick: that wood; sheet is taken to hold no better.
        where: its grain; the edge of a sheet is taken as end grain.
    """
    wood = gravity_of(stick)
    try:
        capacity = lateral(screw(size), Joint(side, bite, wood, wood, where))
    except RangeError:
        return None
    return Force(capacity.value, capacity.steps)


def bolt_sideways(size: str, side: float, main: float, stick: StickStock) -> Force | None:
    """What one bolt holds across its axis; None where the formula does not speak of such a bolt.

    Args:
        size: as printed on the box.
        side: wood under its head, m.
        main: wood under its nut, m.
        stick: that wood; sheet is taken to hold no better.
    """
    try:
        capacity = bolt_across(Bolted(bolt_diameter(size), side, main, gravity_of(stick)))
    except RangeError:
        return None
    return Force(capacity.value, capacity.steps)
