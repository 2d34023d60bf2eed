"""How hard the mix pulls the corners of a square mold apart, and what one fastener holds against it.

Each end of a panel hands half of its load to the corner. In a lapped corner the fasteners pass through the panel that
runs past into the cleat of the one that stops: the first panel pulls them along their axis, the second one across it.
In a mitred corner they stand square to the mitre, and both pulls draw them along their axis.
"""

from __future__ import annotations

from math import sqrt

from formwork.errors import RangeError
from formwork.geometry.vectors import length, sub
from formwork.molds.lining import Frame
from formwork.molds.load import Load
from formwork.record import record
from formwork.stock.records import StickStock
from formwork.strength.dowels import Joint, lateral
from formwork.strength.fasteners import gravity, screw
from formwork.strength.working import Step, given, step

_SQUARE = 4


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
class Sideways:
    """What one fastener holds across its axis, N, and how it was found."""

    force: float
    steps: tuple[Step, ...]


def corner_pull(frame: Frame, load: Load) -> Pull | None:
    """The pull at the foot of the corners; None for a mold that has not four sides: its corners share it otherwise."""
    sides = [face for face in frame.piece.faces if face.role == "panel"]
    if len(sides) != _SQUARE:
        return None
    widths = {face.name: _width(frame, face.name) for face in sides}
    pressure = load.pressure(0.0)
    if frame.mitred:
        pairs = [(width, widths[frame.corners[name][1].neighbour.name]) for name, width in widths.items()]
        near, far = max(pairs, key=sum)
        along = pressure * (near + far) / 2.0 / sqrt(2.0)
        mitre = (
            _pressure(pressure),
            step("t", "p * (B_1 + B_2) / 2 / sqrt(2)", along / 1000.0, "N/mm", p=pressure / 1e6, B_1=near * 1000.0,
                 B_2=far * 1000.0),
        )  # fmt: skip
        return Pull(along, 0.0, mitre)
    past = {name for name, corners in frame.corners.items() if corners[0].rule == "runs past"}
    over = max(width for name, width in widths.items() if name in past)
    stopped = max(width for name, width in widths.items() if name not in past)
    along, across = pressure * over / 2.0, pressure * stopped / 2.0
    steps = (
        _pressure(pressure),
        step("t", "p * B_1 / 2", along / 1000.0, "N/mm", p=pressure / 1e6, B_1=over * 1000.0),
        step("v", "p * B_2 / 2", across / 1000.0, "N/mm", p=pressure / 1e6, B_2=stopped * 1000.0),
    )
    return Pull(along, across, steps)


def _pressure(pressure: float) -> Step:
    return given("p", pressure / 1e6, "MPa", "pressure at the foot, taken over the whole height")


def _width(frame: Frame, name: str) -> float:
    """Longest level edge of a side, m: the inside width of its panel."""
    face = frame.piece.face(name)
    polygon = frame.body.facets[frame.planes.enter(face.half)]
    edges = [sub(point, polygon[i - 1]) for i, point in enumerate(polygon)]
    return max(length(edge) for edge in edges if abs(edge[2]) < 1e-9)


def sideways(size: str, side: float, bite: float, stick: StickStock) -> Sideways | None:
    """What one screw holds across its axis; None where its point is not deep enough for the formula.

    Args:
        size: as printed on the box.
        side: wood under its head, m.
        bite: length in the stick that holds its point, m.
        stick: that wood; sheet is taken to hold no better.
    """
    wood = gravity(stick.material)
    try:
        capacity = lateral(screw(size), Joint(side, bite, wood, wood))
    except RangeError:
        return None
    return Sideways(capacity.value, capacity.steps)
