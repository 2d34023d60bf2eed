"""What of a mold the mix touches: area for release agent and sealer, and length of seam to seal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot, pi

from formwork.geometry.cells import Cell
from formwork.geometry.contact import contact
from formwork.geometry.planes import Planes
from formwork.geometry.vectors import Vec, length, sub
from formwork.shapes.piece import Piece, planar


def wetted(planes: Planes, piece: Piece, poured: Sequence[Cell], parts: Iterable[Cell]) -> float:
    """Area where the mix lies against the mold's parts, m2: what takes release agent."""
    flat = sum(patch.area for patch in contact(planes, poured, parts))
    return flat + sum(_plug_gain(piece, index) for index in range(len(piece.plugs)))


def _plug_gain(piece: Piece, index: int) -> float:
    """Side of a plug, less the two ends it takes from floor and core."""
    body = piece.plugs[index].body
    a, b = body.foot_radius, body.head_radius
    side = pi * (a + b) * hypot(body.length, a - b)
    return side - pi * (a * a + b * b)


def seams(planes: Planes, piece: Piece, body: Cell, feet: Sequence[Cell]) -> float:
    """Length of seam the mix could leave by, m: corners of the envelope, its foot, and the foot of each core.

    Args:
        planes: the register.
        piece: what is cast.
        body: the envelope.
        feet: bodies of the cores that stand on the base.
    """
    fill = {planes.enter(face.half) for face in planar(piece).faces if face.role == "fill"}
    base = {planes.enter(face.half) for face in planar(piece).faces if face.role == "base"}
    corner_edges = sum(
        _edges(polygon) for reference, polygon in body.facets.items() if reference not in fill | base
    )
    foot = sum(_edges(body.facets[reference]) for reference in base)
    rim = sum(_edges(body.facets[reference]) for reference in fill)
    upright = (corner_edges - foot - rim) / 2.0
    round_cores = sum(
        _edges(polygon) for core in feet for reference, polygon in core.facets.items() if reference in base
    )
    return upright + foot + round_cores


def _edges(polygon: tuple[Vec, ...]) -> float:
    return sum(length(sub(p, polygon[i - 1])) for i, p in enumerate(polygon))
