"""How much of a piece is cast when its mold is filled up to a height, and so what each lift of it takes."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from formwork.geometry.level_cuts import below
from formwork.geometry.planes import Planes
from formwork.shapes.body import body
from formwork.shapes.piece import Curved, Piece


def shares(piece: Piece, tops: Sequence[float]) -> tuple[float, ...]:
    """Share of a piece's concrete that each lift takes; they come to 1.

    Args:
        piece: as cast.
        tops: height of each lift's upper face above the base, the lowest first, m; the last is the fill plane.
    """
    filled = [0.0, *_up_to(piece, tops)]
    return tuple((high - low) / filled[-1] for low, high in pairwise(filled))


def _up_to(piece: Piece, heights: Sequence[float]) -> list[float]:
    """Volume of a piece below each height above the base, m3."""
    if isinstance(piece.form, Curved):
        held = _curved(piece.form, heights)
    else:
        cells = body(Planes(), piece)
        held = [sum(below(cell, height) for cell in cells) for height in heights]
    plugs = [[below(plug.body, height) for height in heights] for plug in piece.plugs]
    return [whole - sum(holes) for whole, *holes in zip(held, *plugs, strict=True)]


def _curved(form: Curved, heights: Sequence[float]) -> list[float]:
    """The same of a curved form; what a former takes lies between the foot of the form and its fill plane."""
    foot = form.outside.box()[0][2]
    held = [below(form.outside, height) for height in heights]
    for former in form.formers:
        start, end = (below(former.body, height) for height in (foot, form.fill))
        taken = [former.taken * (below(former.body, height) - start) / (end - start) for height in heights]
        held = [whole - part for whole, part in zip(held, taken, strict=True)]
    return held
