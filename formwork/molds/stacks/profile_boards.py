"""Profiles cut full size from sheet: to try the faces of a stacked mold by, or to strike a core with. Lengths in m.

The board of the outside is half of the piece's own section: set on the base with its straight edge on the axis it turns
inside the rings. The board of a core is what stands round it: it turns on the base about the core. Both have the
profile as drawn, arcs and all, so that steps show.
"""

from __future__ import annotations

from collections.abc import Iterator

from formwork.geometry.outlines import Outline, box, shifted, transposed
from formwork.geometry.sides import Side, solid
from formwork.molds.mold import Blank, Part, Placement
from formwork.stock.records import SheetStock

ROUND = 0.08
"""Wood round a core's profile, m (common practice, no source)."""


def profile_boards(
    outer: Side, core: tuple[Side, str, bool] | None, group: str, sheet: SheetStock, trim: float
) -> Iterator[Part]:
    """The boards of a mold; none that would be larger than its sheet.

    Args:
        outer: the outside, as it lies in the mold.
        core: of its core the side, its name, and whether it hangs; None where there is none.
        group: that the rings come off in.
        sheet: that they are cut from, as the layers are: no other need be bought.
        trim: taken off each edge of it.
    """
    found = [("outside template", group, solid(outer), "turn it about the axis inside the rings")]
    if core is not None:
        side, name, hung = core
        use = f"turn it round the {name}" + (", which stands on its open end for that" if hung else "")
        found.append((f"{name} template", name, _round(side), use))
    for name, of, outline, use in found:
        board = _board(name, of, outline, use, sheet, trim)
        if board is not None:
            yield board


def _round(side: Side) -> Outline:
    """What stands round a core: from its side out to a straight back."""
    out = max(side.fine())[0] + ROUND
    points = ((out, side.foot), (out, side.head), *reversed(side.points))
    bulges = (0.0, 0.0, *(-bulge for bulge in reversed(side.bulges)), 0.0)
    return Outline(points, bulges)


def _board(name: str, group: str, outline: Outline, use: str, sheet: SheetStock, trim: float) -> Part | None:
    (x0, y0), (x1, y1) = box(outline)
    flat = shifted(outline, (-x0, -y0))
    length, width = x1 - x0, y1 - y0
    if width > length:
        flat, length, width = transposed(flat), width, length
    if length > sheet.length - 2.0 * trim or width > sheet.width - 2.0 * trim:
        return None
    return Part(
        name=name,
        role="template",
        kind="panel",
        stock=sheet.name,
        group=group,
        cells=(),
        blank=Blank(
            length, width, sheet.thickness, flat.points, (0.0,) * len(flat.points), bulges=flat.bulges
        ),
        placement=Placement((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0)),
        work=f"{use} to try the face by, or to strike it",
    )
