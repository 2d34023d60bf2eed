"""The lining: what touches the mix. Panels on the envelope's sides, the base, and the formers made as parts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import ceil

from formwork.errors import GeometryError, StockError
from formwork.geometry.cells import Cell, box_of, cell
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.vectors import Vec, across, add, cross, dot, scale, sub, unit
from formwork.molds.blank import blank, longest_edge
from formwork.molds.choice import Stocks
from formwork.molds.mold import Blank, Part, PartRole, Placement
from formwork.molds.panels.corners import Corner, end
from formwork.project.records import MoldOptions
from formwork.record import record
from formwork.shapes.box import UP, level
from formwork.shapes.piece import Face, Former, Piece, Planar, Plug, planar
from formwork.stock.records import StickStock
from formwork.units import show
from formwork.units.show import UnitSystem

_LAYER_SLACK = 0.0008
"""A board laid up from sheets may miss its thickness by this much (1/32 in), m; common practice, no source."""
_ROLES: dict[str, PartRole] = {"strip": "strip", "board": "board", "liner": "liner", "divider": "divider"}


@record
class Frame:
    """What every stage of a panelled mold needs to know.

    Attributes:
        planes: the register.
        piece: what is cast.
        body: the envelope.
        formers: body of every former, by its name.
        poured: the concrete as disjoint cells, round holes not taken out.
        corners: the rule at both corners of each panel face, by face name.
        stocks: what it is built from.
        options: how it is to be built.
        lap: how far a panel that runs past covers the corner cleat beyond its neighbour, m.
        fill: height of the fill plane, m.
        units: how a person here reads a length, for the sizes of what is bought.
    """

    planes: Planes
    piece: Piece
    body: Cell
    formers: Mapping[str, Cell]
    poured: tuple[Cell, ...]
    corners: Mapping[str, tuple[Corner, Corner]]
    stocks: Stocks
    options: MoldOptions
    lap: float
    fill: float
    units: UnitSystem

    @property
    def form(self) -> Planar:
        """The geometry of the piece."""
        return planar(self.piece)

    @property
    def thickness(self) -> float:
        """Thickness of the panels, m."""
        return self.stocks.sheet.thickness

    @property
    def mitred(self) -> bool:
        """The panels are mitred: as asked for, or because a lap does not suit their corners."""
        return any(corner.rule == "mitred" for pair in self.corners.values() for corner in pair)


def body_of(frame: Frame, halves: tuple[HalfSpace, ...], what: str) -> Cell:
    """The cell of these half-spaces.

    Raises:
        GeometryError: where they enclose nothing.
    """
    found = cell(frame.planes, halves, f"{frame.piece.name}: {what}")
    if found is None:
        raise GeometryError(f"{frame.piece.name}: there is no room for the {what}")
    return found


def foot(frame: Frame) -> float:
    """Height at which the panels end below: on the base, or at its underside, m."""
    return 0.0 if frame.options.base == "stands on" else -frame.thickness


def panel_ends(frame: Frame, name: str, half: HalfSpace) -> tuple[HalfSpace, ...]:
    """What ends a panel, and everything that runs its whole length, at its two corners."""
    return tuple(end(half, corner, frame.thickness, frame.lap) for corner in frame.corners[name])


def panels(frame: Frame) -> tuple[Part, ...]:
    """One panel on each side of the envelope."""
    made = []
    for face in frame.form.faces:
        if face.role != "panel":
            continue
        halves = (
            face.half.flipped(),
            face.half.moved(frame.thickness, f"back of {face.name}"),
            *panel_ends(frame, face.name, face.half),
            level("foot", foot(frame), up=False),
            level("fill", frame.fill, up=True),
        )
        body = body_of(frame, halves, f"{face.name} panel")
        made.append(
            sheet_part(
                frame,
                f"{face.name} panel",
                "panel",
                f"{face.name} panel",
                body,
                frame.planes.enter(face.half),
            )
        )
    return tuple(made)


def panel_along(face: Face) -> Vec:
    """The level way along a panel."""
    return unit(cross(UP, face.half.normal))


def sheet_part(
    frame: Frame, name: str, role: PartRole, group: str, body: Cell, face: int, layers: int = 1
) -> Part:
    """A part cut from the mold's sheet; ``face`` is the plane of its good side (either sign)."""
    cut, placement = blank(frame.planes, body, flat_on=face)
    seen = abs(frame.planes.half(face).depth(placement.origin)) < 1e-7
    return Part(
        name=name,
        role=role,
        kind="panel",
        stock=frame.stocks.sheet.name,
        group=group,
        cells=(body,),
        blank=replace(cut, thickness=frame.thickness) if layers > 1 else cut,
        placement=placement,
        good_face="both" if role == "divider" else "outline" if seen else "far",
        layers=layers,
    )


def base_sides(frame: Frame, outside: Sequence[Part]) -> tuple[HalfSpace, ...]:
    """What ends the base at its edges: it lies under everything that stands on it, or between the panels."""
    if frame.options.base != "stands on":
        return tuple(face.half for face in frame.form.faces if face.role == "panel")
    low, high = box_of([body for part in outside for body in part.cells])
    return tuple(
        HalfSpace(normal, dot(normal, corner), "edge of base")
        for normal, corner in (
            ((1.0, 0.0, 0.0), high),
            ((-1.0, 0.0, 0.0), low),
            ((0.0, 1.0, 0.0), high),
            ((0.0, -1.0, 0.0), low),
        )
    )


def solid_formers(frame: Frame) -> tuple[Part, ...]:
    """Strips, boards, liners and dividers: everything that is one solid body."""
    return tuple(_solid(frame, former) for former in frame.form.formers if former.kind != "core")


def _solid(frame: Frame, former: Former) -> Part:
    body = frame.formers[former.name]
    role = _ROLES[former.kind]
    group = group_of(frame.piece, former)
    if former.kind in ("liner", "divider"):
        face = frame.planes.enter(former.lead or former.halves[0])
        layers = _layers(frame, former, body, face)
        return sheet_part(frame, former.name, role, group, body, face, layers)
    return _from_stick(frame, former, body, role, group) or laminated(frame, former, body, role, group)


def group_of(piece: Piece, former: Former | Plug) -> str:
    """Name of the group a former leaves the mold with: what it is fastened to, or itself."""
    if isinstance(former, Former) and former.kind in ("core", "divider"):
        return former.name
    if former.seat == "base":
        return "base"
    owner = next((other for other in planar(piece).formers if other.name == former.on), None)
    if owner is not None:
        return group_of(piece, owner)
    return f"{former.on} panel"


def _layers(frame: Frame, former: Former, body: Cell, face: int) -> int:
    """How many sheets make up the thickness of a board that lies flat on ``face``.

    Raises:
        StockError: where no whole number of sheets comes near enough.
    """
    normal = frame.planes.normal(face)
    reach = [dot(normal, p) for p in body.points()]
    thick = max(reach) - min(reach)
    sheet = frame.thickness
    count = max(1, round(thick / sheet))
    if abs(count * sheet - thick) > _LAYER_SLACK:
        fits = " or ".join(
            f"{n * sheet * 1000:.1f} mm ({n * sheet / 0.0254:.3f} in)" for n in (count, count + 1)
        )
        raise StockError(
            f"{frame.piece.name}: the {former.name} is {thick * 1000:.1f} mm ({thick / 0.0254:.3f} in) thick; "
            f"sheets of {frame.stocks.sheet.name} lay up to {fits}; make it one of these or name another sheet"
        )
    return count


def _from_stick(frame: Frame, former: Former, body: Cell, role: PartRole, group: str) -> Part | None:
    """The former ripped from the smallest stick that holds its section; None where no stick does."""
    along = longest_edge(body)
    cut, placement = blank(frame.planes, body, along=along)
    section = sorted((cut.width, cut.thickness))
    holds = [stick for stick in frame.stocks.sticks if _holds(stick, section, cut.length)]
    if not holds:
        return None
    stick = min(holds, key=lambda one: (one.thickness * one.width, one.name))
    return Part(
        name=former.name,
        role=role,
        kind="stick",
        stock=stick.name,
        group=group,
        cells=(body,),
        blank=cut,
        placement=placement,
    )


def _holds(stick: StickStock, section: list[float], length: float) -> bool:
    longest = max(one.length for one in stick.lengths)
    return (
        stick.thickness >= section[0] - 1e-6 and stick.width >= section[1] - 1e-6 and length <= longest + 1e-9
    )


def stick_part(
    frame: Frame,
    stick: StickStock,
    name: str,
    role: PartRole,
    group: str,
    body: Cell,
    along: Vec,
    flat: HalfSpace,
) -> Part:
    """A part cut from a stick, running ``along``, one of its flat sides on the plane of ``flat``."""
    cut, placement = blank(frame.planes, body, along=along, flat_on=frame.planes.enter(flat))
    return Part(
        name=name,
        role=role,
        kind="stick",
        stock=stick.name,
        group=group,
        cells=(body,),
        blank=cut,
        placement=placement,
    )


def laminated(frame: Frame, former: Former, body: Cell, role: PartRole, group: str) -> Part:
    """The former glued up from sheet and planed down to its thickness."""
    cut, placement = blank(frame.planes, body)
    layers = max(1, ceil(cut.thickness / frame.thickness - 1e-6))
    return Part(
        name=former.name,
        role=role,
        kind="panel",
        stock=frame.stocks.sheet.name,
        group=group,
        cells=(body,),
        blank=replace(cut, thickness=frame.thickness),
        placement=placement,
        layers=layers,
    )


def plugs(frame: Frame) -> tuple[Part, ...]:
    """Round plugs for drain holes: bought as dowel or stopper, each in the group of what it is fastened to."""
    return tuple(_plug(frame, plug) for plug in frame.piece.plugs)


def _plug(frame: Frame, plug: Plug) -> Part:
    body = plug.body
    wide = 2.0 * max(body.foot_radius, body.head_radius)
    u, v = across(body.axis)
    corner = sub(body.foot, scale(add(u, v), wide / 2.0))
    return Part(
        name=plug.name,
        role="plug",
        kind="hardware",
        stock="dowel or stopper",
        group=group_of(frame.piece, plug),
        cells=(),
        blank=Blank(
            body.length,
            wide,
            wide,
            ((0.0, 0.0), (body.length, 0.0), (body.length, wide), (0.0, wide)),
            (0.0,) * 4,
        ),
        placement=Placement(corner, body.axis, u, v),
        rounds=(body,),
        work=_taper(frame, plug),
    )


def _taper(frame: Frame, plug: Plug) -> str:
    """Both diameters of a plug that is not the same all along."""
    narrow, wide = (
        show.length(2.0 * r, frame.units) for r in sorted((plug.body.foot_radius, plug.body.head_radius))
    )
    return "" if narrow == wide else f"taper it: {wide} across at the screwed end, {narrow} at the other"
