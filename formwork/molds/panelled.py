"""The panelled method: flat panels round a convex envelope, first as a lining, which the piece decides, then braced."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.errors import GeometryError
from formwork.geometry.cavity import Cavity, Solid, enclosed, overlaps
from formwork.geometry.cells import Cell, volume
from formwork.geometry.planes import Planes
from formwork.geometry.vectors import Vec
from formwork.molds.asked import Asked
from formwork.molds.bearers import Bearers, bearers
from formwork.molds.choice import Task, choose
from formwork.molds.fastening import Fastening, fastened, fixing
from formwork.molds.hardware import consumables, fasteners, strip_pins
from formwork.molds.label import limits
from formwork.molds.levels import Levels
from formwork.molds.load import Load, sheet_section
from formwork.molds.mold import Mold, Part
from formwork.molds.panels import panelling
from formwork.molds.panels.base_boards import joint_length
from formwork.molds.panels.dividers import layers_wanted
from formwork.molds.panels.hoops import straps
from formwork.molds.panels.instructions import instructions
from formwork.molds.panels.lift import weight
from formwork.molds.panels.lining import Frame
from formwork.molds.panels.putting_together import assembly
from formwork.molds.panels.splices import splice_length
from formwork.molds.panels.strip import leaving_downward, stripping
from formwork.molds.surface import seams, wetted
from formwork.project.records import PieceOrder
from formwork.record import record
from formwork.shapes.body import envelope, level_width
from formwork.shapes.piece import Piece, planar
from formwork.strength.customary import GRAVITY
from formwork.strength.panels import PanelSection
from formwork.strength.working import Unjudged


@record
class Lined:
    """A mold's lining, before anything holds it.

    Attributes:
        order: what is wanted.
        frame: what every later stage needs to know of the mold.
        load: the mix, as the bracing must take it.
        parts: panels, formers, cores, plugs.
        uses: fillings the mold is built for.
        owned: the shop has the mold already.
    """

    order: PieceOrder
    frame: Frame
    load: Load
    parts: tuple[Part, ...]
    uses: int
    owned: bool

    @property
    def layers(self) -> int:
        """Sheets a gang's dividers must be laid up from to carry the mix with one side empty."""
        return layers_wanted(self.frame, self.load, self.parts)


@record
class Built:
    """A mold with its bracing, and what the checks must know of how it was designed.

    Attributes:
        mold: what every output reads.
        lined: the stage before.
        rails: height of the rails' middles above the base, m.
        cavity: what the parts enclose.
        fastenings: the fastener chosen for every joint; none of a mold the shop owns.
        bearers: what the base may lie on where the bench is not flat.
    """

    mold: Mold
    lined: Lined
    rails: tuple[float, ...]
    cavity: Cavity
    fastenings: tuple[Fastening, ...]
    bearers: Bearers | Unjudged

    @property
    def order(self) -> PieceOrder:
        """What is wanted."""
        return self.lined.order

    @property
    def leaks(self) -> tuple[str, ...]:
        """Every place where the mix would run out, as a line."""
        return tuple(str(leak) for leak in self.cavity.leaks)


def lined(asked: Asked) -> Lined:
    """The lining of a mold.

    Raises:
        GeometryError: where the piece or its mold cannot exist.
        StockError: where the shop has nothing to build it from.
    """
    order, piece = asked.order, asked.piece
    stocks = choose(asked.shop, order.mold, _task(asked))
    frame = panelling.frame(piece, stocks, order.mold, asked.units)
    return Lined(order, frame, asked.load, panelling.lining(frame), asked.uses, asked.owned)


def _task(asked: Asked) -> Task:
    """What sheet and stick must do, and what the person asks for of the rails."""
    options, widths = asked.order.mold, _widths(asked.piece)
    levels = Levels("rail", options.rails, options.rail_heights, asked.piece.name, asked.units)
    cleats = len(widths) * (2 if options.joint == "mitred" else 1)
    return Task(asked.load, max(widths), asked.uses, sum(widths), cleats, levels)


def longest_side(piece: Piece) -> float:
    """Length of the longest side of the mold between corners, m."""
    return max(_widths(piece))


def _widths(piece: Piece) -> list[float]:
    """Length of every side of the mold between corners, m."""
    planes = Planes()
    body = envelope(planes, piece)
    sides = [face.half for face in planar(piece).faces if face.role == "panel"]
    return [level_width(body, planes.enter(side), side.normal) for side in sides]


def brace(lined: Lined) -> Built:
    """The mold: its lining with what holds it, everything bought for it, how it closes and how it comes off.

    Raises:
        GeometryError: where a part has no room.
        StockError: where a joint finds no screw.
    """
    frame, order = lined.frame, lined.order
    heights = frame.stocks.rails
    parts = panelling.braced(frame, lined.parts, heights, lined.load)
    _refuse_clash(frame, parts)
    chosen = () if lined.owned else fastened(frame, parts, lined.load)
    cavity = enclosed(frame.planes, _solids(parts), frame.fill, _pour_points(frame.piece))
    steps, locked = stripping(frame, parts, frame.poured)
    area = wetted(
        frame.planes,
        frame.piece,
        frame.poured,
        [cell for part in parts if part.role != "bar" for cell in part.cells],
    )
    seam = (
        seams(frame.planes, frame.piece, frame.body, _standing_cores(frame))
        + joint_length(parts)
        + splice_length(parts)
    )
    nominal = _nominal(frame)
    under = bearers(frame.stocks.sheet, lined.load, frame.units)
    mold = Mold(
        name=f"{order.name} mold",
        method=order.mold.method,
        piece=frame.piece,
        planes=frame.planes,
        parts=parts,
        hardware=(
            *(() if lined.owned else fasteners(frame, parts, chosen)),
            *(() if lined.owned else straps(frame, lined.load, heights)),
            *consumables(area, seam, lined.uses),
        ),
        cavity=cavity.volume,
        nominal=nominal,
        stripping=steps,
        locked=locked,
        wetted=area,
        seams=seam,
        uses=lined.uses,
        lifts=lined.load.lifts,
        limits=limits(lined.load, frame.units),
        owned=lined.owned,
        copies=order.molds,
        instructions=instructions(frame, lined.load, parts, under),
        fixings=() if lined.owned else (*map(fixing, chosen), *strip_pins(parts)),
        mass=weight(frame, parts) / GRAVITY,
        under=weight(frame, leaving_downward(parts, steps)) / GRAVITY,
        steps=assembly(frame, parts, under),
    )
    return Built(mold, lined, heights, cavity, chosen, under)


def _nominal(frame: Frame) -> float:
    """Volume of what one filling casts, m3.

    Raises:
        GeometryError: where the formers leave nothing.
    """
    found = volume(frame.poured) - sum(plug.body.volume() for plug in frame.piece.plugs)
    if found <= 0.0:
        raise GeometryError(f"{frame.piece.name}: nothing is left to cast; the formers fill the whole piece")
    return found


def _refuse_clash(frame: Frame, parts: Sequence[Part]) -> None:
    """Small or steep molds may leave no room for two sticks.

    Raises:
        GeometryError: where two parts would fill the same space.
    """
    for one, other, shared in overlaps(frame.planes, _solids(parts)):
        raise GeometryError(
            f"{frame.piece.name}: the {one} and the {other} would need the same room ({shared * 1e6:.1f} cm3); the "
            "mold is too small or too steep for its sticks: name a thinner stick, or use the other joint"
        )


def panel_section(lined: Lined) -> PanelSection | Unjudged:
    """What the panels carry from rail to rail."""
    upright = lined.frame.fill > longest_side(lined.frame.piece)
    return sheet_section(lined.frame.stocks.sheet, upright)


def _solids(parts: Sequence[Part]) -> list[Solid]:
    """The parts as the cavity sees them; bars stand above the fill plane."""
    return [Solid(part.name, part.cells, part.rounds, part.holes) for part in parts if part.role != "bar"]


def _pour_points(piece: Piece) -> tuple[Vec, ...]:
    if not piece.pour_points:
        raise GeometryError(f"{piece.name}: the shape names no place to pour")
    return piece.pour_points


def _standing_cores(frame: Frame) -> list[Cell]:
    """Bodies of the cores that stand on the base."""
    return [
        frame.formers[former.name]
        for former in frame.form.formers
        if former.kind == "core" and former.seat == "base"
    ]
