"""The piece's own body: its envelope less every former, as disjoint cells, and its exact volume."""

from __future__ import annotations

from collections.abc import Iterable

from formwork.errors import GeometryError
from formwork.geometry.cells import Cell, cell, cut_away, volume
from formwork.geometry.planes import Planes
from formwork.geometry.vectors import Vec, dot, sub, unit
from formwork.shapes.piece import Curved, Former, Piece, planar

_LEVEL = 1e-6


def envelope(planes: Planes, piece: Piece) -> Cell:
    """The convex body that the piece's faces enclose.

    Raises:
        GeometryError: if they enclose nothing.
    """
    body = cell(planes, (face.half for face in planar(piece).faces), f"{piece.name}: envelope")
    if body is None:
        raise GeometryError(f"{piece.name}: its faces enclose no volume")
    return body


def box_round(planes: Planes, piece: Piece) -> tuple[Vec, Vec]:
    """Least and greatest corner of the box round a piece.

    Raises:
        GeometryError: if its faces enclose nothing.
    """
    return piece.form.outside.box() if isinstance(piece.form, Curved) else envelope(planes, piece).box()


def room_inside(planes: Planes, piece: Piece) -> Vec:
    """Length, width and height of a box that a straight thing cast in must keep to, m.

    Of a piece with plane faces length and width are those of the smaller of its two level ends: what is cut to the
    larger one stands out of a wall that tapers.

    Raises:
        GeometryError: if its faces enclose nothing.
    """
    low, high = box_round(planes, piece)
    length, width, height = sub(high, low)
    if isinstance(piece.form, Curved):
        return (length, width, height)
    points = envelope(planes, piece).points()
    ends = [[point for point in points if abs(point[2] - level) < _LEVEL] for level in (low[2], high[2])]
    for end in ends:
        if len(end) > 2:
            length = min(length, max(x for x, _, _ in end) - min(x for x, _, _ in end))
            width = min(width, max(y for _, y, _ in end) - min(y for _, y, _ in end))
    return (length, width, height)


def thinnest_wall(planes: Planes, piece: Piece) -> float | None:
    """Least distance of a core from a side of a piece with plane faces, m; None for what is solid or curved.

    Raises:
        GeometryError: if a core has no volume.
    """
    if isinstance(piece.form, Curved):
        return None
    sides = [face.half for face in piece.form.faces if face.role == "panel"]
    cores = [former for former in piece.form.formers if former.kind == "core"]
    points = [
        point
        for former in cores
        for point in former_cell(planes, piece, former).points()
        if -_LEVEL <= point[2] <= piece.form.fill + _LEVEL
    ]
    return min((side.depth(point) for side in sides for point in points), default=None)


def former_cell(planes: Planes, piece: Piece, former: Former) -> Cell:
    """The body of one former.

    Raises:
        GeometryError: if it has no volume.
    """
    body = cell(planes, former.halves, f"{piece.name}: {former.name}")
    if body is None:
        raise GeometryError(f"{piece.name}: there is no room for the {former.name}")
    return body


def former_cells(planes: Planes, piece: Piece) -> dict[str, Cell]:
    """The body of every former, by its name."""
    return {former.name: former_cell(planes, piece, former) for former in planar(piece).formers}


def concrete(planes: Planes, outside: Cell, formers: Iterable[Cell]) -> list[Cell]:
    """An envelope without its formers, as disjoint cells, round holes not yet taken out."""
    return cut_away(planes, [outside], formers)


def body(planes: Planes, piece: Piece) -> list[Cell]:
    """The piece's concrete as disjoint cells, its round holes not yet taken out (they are in ``piece.plugs``)."""
    return concrete(planes, envelope(planes, piece), former_cells(planes, piece).values())


def piece_volume(planes: Planes, piece: Piece) -> float:
    """Volume of all cavities of the piece together, m3; embedded things are not taken out."""
    whole = curved_volume(piece.form) if isinstance(piece.form, Curved) else volume(body(planes, piece))
    return whole - sum(plug.body.volume() for plug in piece.plugs)


def curved_volume(form: Curved) -> float:
    """Volume of a curved form, m3, its plugs not taken out."""
    return form.outside.volume() - sum(former.taken for former in form.formers)


def level_width(body: Cell, reference: int, normal: Vec) -> float:
    """Greatest level width of a body's facet on the plane of a reference, m.

    Args:
        body: the body.
        reference: the facet's plane, as signed in the body.
        normal: of that plane; not upright.
    """
    along = unit((-normal[1], normal[0], 0.0))
    reach = [dot(along, point) for point in body.facets[reference]]
    return max(reach) - min(reach)
