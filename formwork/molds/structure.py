"""What is built and not cast: a frame of pipe, the centre of an arch. Records only."""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING

from formwork.molds.mold import AssemblyStep, Fixing, Hardware, Part
from formwork.record import record

if TYPE_CHECKING:
    from formwork.geometry.planes import Planes
    from formwork.molds.fastening import Fastening
    from formwork.molds.frames.pipework import Cut
    from formwork.project.records import PieceOrder
    from formwork.shapes.piece import Centre, Frame
    from formwork.stock.records import SheetStock, StickStock
    from formwork.strength.beams import Run
    from formwork.strength.panels import PanelSection
    from formwork.strength.working import Unjudged


@record
class BuiltFrame:
    """A frame with the pipe it is built of.

    Attributes:
        order: what is wanted.
        frame: nodes, members, hubs.
        pipe: the stock.
        cuts: its pipes, class by class.
        hardware: everything bought by the piece, for one frame.
        stack: thickness of the flattened ends on the fullest node, m; 0 where none are flattened.
        instructions: how its pipes are made and put up.
    """

    order: PieceOrder
    frame: Frame
    pipe: StickStock
    cuts: tuple[Cut, ...]
    hardware: tuple[Hardware, ...]
    stack: float
    instructions: tuple[str, ...]

    @property
    def name(self) -> str:
        """What the project calls it."""
        return self.frame.name

    @property
    def copies(self) -> int:
        """How many are built."""
        return self.order.count

    @property
    def mass(self) -> float:
        """Of the pipes of one frame as cut, bolts and sleeves left out, kg."""
        section = pi * (self.pipe.width - self.pipe.wall) * self.pipe.wall
        return section * self.pipe.density * sum(cut.each * cut.part.blank.length for cut in self.cuts)


@record
class BuiltCentre:
    """A centre as it is built.

    Attributes:
        order: of the arch.
        centre: what it must carry.
        planes: the register that its cells refer to.
        parts: everything cut, placed in space.
        hardware: everything bought by the piece, for one centre.
        fixings: where its screws and bolts go.
        instructions: how it is made, set up, loaded and struck.
        sheet: of the ribs.
        stick: of the battens.
        tie: stick of the ties.
        section: what the sheet allows in bending, or why nobody says.
        ribs: how many.
        depth: of a rib, m.
        through: layers of a rib that run through at its weakest place.
        radius: of the ribs' tops, m.
        span: between the feet of a rib, m.
        weight: of all stones, N.
        batten: what one batten carries between two ribs.
        feet: the screws that hold the feet of a rib to its ties, of all ribs.
        mass: of its parts, kg.
        steps: the instructions with the parts that they put in place.
    """

    order: PieceOrder
    centre: Centre
    planes: Planes
    parts: tuple[Part, ...]
    hardware: tuple[Hardware, ...]
    fixings: tuple[Fixing, ...]
    instructions: tuple[str, ...]
    sheet: SheetStock
    stick: StickStock
    tie: StickStock
    section: PanelSection | Unjudged
    ribs: int
    depth: float
    through: int
    radius: float
    span: float
    weight: float
    batten: Run
    feet: Fastening
    mass: float
    steps: tuple[AssemblyStep, ...] = ()

    @property
    def name(self) -> str:
        """What the project calls it."""
        return self.centre.name

    @property
    def copies(self) -> int:
        """How many are built: one, whatever the number of arches; it is struck and used again."""
        return 1

    @property
    def rib_load(self) -> float:
        """On each rib, N a metre of its span."""
        return self.weight / (self.ribs * self.span)

    @property
    def foot(self) -> float:
        """Weight on each foot of a rib, N."""
        return self.weight / (2.0 * self.ribs)


Structure = BuiltFrame | BuiltCentre
"""What is built and not cast."""
