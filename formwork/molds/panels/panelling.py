"""The panelled method: flat panels on every side of a convex envelope, formers inside it, sticks outside it."""

from __future__ import annotations

from formwork.errors import StockError
from formwork.geometry.planes import Planes
from formwork.molds.choice import Stocks
from formwork.molds.load import Load
from formwork.molds.mold import Part
from formwork.molds.panels.air_hole import with_air_holes
from formwork.molds.panels.base_boards import base
from formwork.molds.panels.bracing import bars, cleats, rails
from formwork.molds.panels.core import cores
from formwork.molds.panels.core_ribs import core_ribs
from formwork.molds.panels.corners import corners
from formwork.molds.panels.lining import Frame, panels, plugs, solid_formers
from formwork.molds.panels.splices import splice_battens, spliced
from formwork.project.records import MoldOptions
from formwork.shapes.body import concrete, envelope, former_cells
from formwork.shapes.piece import Piece, planar
from formwork.units.show import UnitSystem


def frame(piece: Piece, stocks: Stocks, options: MoldOptions, units: UnitSystem) -> Frame:
    """What every stage of the mold needs to know."""
    planes = Planes()
    body = envelope(planes, piece)
    formers = former_cells(planes, piece)
    sides = [face for face in planar(piece).faces if face.role == "panel"]
    meeting = corners(sides, planes, body, options.joint, options.sides)
    lapped = any(corner.rule == "runs past" for pair in meeting.values() for corner in pair)
    return Frame(
        planes=planes,
        piece=piece,
        body=body,
        formers=formers,
        poured=tuple(concrete(planes, body, formers.values())),
        corners=meeting,
        stocks=stocks,
        options=options,
        lap=stocks.deep if lapped else 0.0,
        fill=max(point[2] for point in body.points()),
        units=units,
    )


def lining(at: Frame) -> tuple[Part, ...]:
    """Everything the mix touches, the base excepted: panels, formers, cores, plugs."""
    boards = (board for panel in panels(at) for board in spliced(at, panel))
    return (*boards, *solid_formers(at), *cores(at), *plugs(at))


def braced(at: Frame, lined: tuple[Part, ...], heights: tuple[float, ...], load: Load) -> tuple[Part, ...]:
    """The lining with what holds it: cleats, rails, ribs inside the cores, bars, and the base under it all.

    Args:
        at: the mold so far.
        lined: its lining.
        heights: of the rails' middles, m.
        load: the mix.

    Raises:
        StockError: where a part has the name of another (two formers alike).
    """
    outside = (*cleats(at), *rails(at, heights), *splice_battens(at, lined, heights), *core_ribs(at, load))
    standing = with_air_holes(at, (*lined, *outside))
    parts = (*standing, *bars(at, standing), *base(at, standing))
    names = [part.name for part in parts]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise StockError(f"{at.piece.name}: two parts bear the name {twice[0]}")
    return parts
