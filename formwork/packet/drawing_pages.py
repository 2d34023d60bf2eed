"""Drawings on the paper of the job sheets: the whole drawing reduced to the page, and its views at their own scale.

A drawing is made on the size of paper that suits it. Where the job sheets are printed on smaller paper, its figures
would become too small to read by, so that each view is shown again as it was drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from formwork.packet.papers import Paper
from formwork.record import record

if TYPE_CHECKING:
    from formwork.drawings.frames import Point
    from formwork.drawings.scene import Scene

SIDE, TOP, BOTTOM = 8.0, 16.0, 13.0
"""Margins of a lying page, mm: narrow at the sides, so that a sheet of 2440 mm at 1:10 fits A4 and Letter."""
TITLE = 12.0
"""What the heading of a lying page takes, mm."""
STRIP = 13.0
"""What the strip of title fields takes at the foot of a page of views, mm."""
_CAPTION = 6.0
_GAP = 6.0
_READABLE = 0.75
"""A drawing reduced below this has its views shown again: figures 2.5 mm high become 1.9 mm."""


@record
class Drawing:
    """A drawing of the packet.

    Attributes:
        name: of its file, without ending: ``sheets/sheet-1``.
        about: what it shows, in words.
        scene: the drawing itself.
        svg: the same as SVG.
    """

    name: str
    about: str
    scene: Scene
    svg: str


@record
class Shown:
    """A picture on a page of the job sheets.

    Attributes:
        svg: the picture.
        width: on paper, mm.
        height: on paper, mm.
        caption: what stands under it; may be empty.
    """

    svg: str
    width: float
    height: float
    caption: str


def room(paper: Paper) -> tuple[float, float]:
    """Width and height that a picture may take on a lying page with its heading, mm."""
    return paper.height - 2 * SIDE, paper.width - TOP - BOTTOM - TITLE


def whole(drawing: Drawing, paper: Paper) -> Shown:
    """The whole drawing within its frame, reduced where the page is smaller."""
    from formwork.drawings.page import BIND, MARGIN  # noqa: PLC0415 - drawings are slow to load

    sheet = drawing.scene.sheet
    low = (BIND - 1.0, MARGIN - 1.0)
    high = (sheet.length - MARGIN + 1.0, sheet.height - MARGIN + 1.0)
    return _fitted(drawing.scene, low, high, room(paper))


def views(drawing: Drawing, paper: Paper) -> list[Shown]:
    """Each view and list of a drawing that the page reduces too far; none where it can be read as a whole."""
    scene = drawing.scene
    if whole(drawing, paper).width / (scene.sheet.length - 28.0) >= _READABLE:
        return []
    wide, high = room(paper)
    seen, listed = (
        [_fitted(scene, one.low, one.high, (wide, high - STRIP)) for one in some]
        for some in (scene.windows, scene.lists)
    )
    return seen + [replace(each, caption="") for each in listed]


@record
class Page:
    """Pictures set out on one page.

    Attributes:
        lying: the page lies.
        width: that the pictures take together, mm.
        height: that they take with their captions, mm.
        placed: x and y of the upper left corner of each, mm, and the picture.
    """

    lying: bool
    width: float
    height: float
    placed: tuple[tuple[float, float, Shown], ...]


def spread(shown: Sequence[Shown], paper: Paper) -> list[Page]:
    """Pictures on as few pages as they need, the pages standing or lying, each with its title fields at the foot."""
    standing = (paper.width - 2 * SIDE, paper.height - TOP - BOTTOM - TITLE - STRIP)
    wide, high = room(paper)
    lying = [_set_out(columns, lying=True) for columns in _packed(shown, (wide, high - STRIP))]
    if any(one.width > standing[0] for one in shown):
        return lying
    upright = [_set_out(columns, lying=False) for columns in _packed(shown, standing)]
    return upright if len(upright) < len(lying) else lying


_Column = list[Shown]


def _packed(shown: Sequence[Shown], space: tuple[float, float]) -> list[list[_Column]]:
    """Pages of columns of pictures: tallest first, each under another where it fits, else beside, else overleaf."""
    pages: list[list[_Column]] = []
    for one in sorted(shown, key=lambda picture: -picture.height):
        if not any(_finds_room(one, columns, space) for columns in pages):
            pages.append([[one]])
    return pages


def _finds_room(one: Shown, columns: list[_Column], space: tuple[float, float]) -> bool:
    """Put a picture into a page's columns, or into a new one beside them; whether there was room."""
    total = sum(_width(column) for column in columns) + _GAP * (len(columns) - 1)
    for column in columns:
        wider = max(0.0, one.width - _width(column))
        if _height([*column, one]) <= space[1] and total + wider <= space[0]:
            column.append(one)
            return True
    if total + _GAP + one.width <= space[0]:
        columns.append([one])
        return True
    return False


def _width(column: _Column) -> float:
    return max(one.width for one in column)


def _height(column: _Column) -> float:
    return sum(one.height + _CAPTION for one in column)


def _set_out(columns: list[_Column], *, lying: bool) -> Page:
    placed = []
    x = 0.0
    for column in columns:
        y = 0.0
        for one in column:
            placed.append((x + (_width(column) - one.width) / 2.0, y, one))
            y += one.height + _CAPTION
        x += _width(column) + _GAP
    return Page(lying, x - _GAP, max(_height(column) for column in columns), tuple(placed))


def first_view(drawing: Drawing, paper: Paper) -> Shown:
    """The first view of a drawing alone, to its own scale where the page has room."""
    view = drawing.scene.windows[0]
    return _fitted(drawing.scene, view.low, view.high, room(paper))


def _fitted(scene: Scene, low: Point, high: Point, space: tuple[float, float]) -> Shown:
    from formwork.drawings.svg import svg  # noqa: PLC0415 - drawings are slow to load

    width, height = high[0] - low[0], high[1] - low[1]
    factor = min(1.0, space[0] / width, (space[1] - _CAPTION) / height)
    part = crop(scene, low, high)
    scale = f"scale 1:{scene.scale:g}" if factor == 1.0 else "reduced, not to scale: go by the figures"
    caption = scale.capitalize()
    return Shown(svg(part), width * factor, height * factor, caption)


def crop(scene: Scene, low: Point, high: Point) -> Scene:
    """What lies wholly within a rectangle of the page, as a scene of that size.

    Args:
        scene: the drawing.
        low: lower left corner of the rectangle, mm on the page.
        high: upper right corner.
    """
    from formwork.drawings.scene import Sheet, bounds, placed  # noqa: PLC0415 - drawings are slow to load

    kept = []
    for item in scene.on_page():
        (x0, y0), (x1, y1) = bounds([item])
        if x0 >= low[0] - 1e-6 and y0 >= low[1] - 1e-6 and x1 <= high[0] + 1e-6 and y1 <= high[1] + 1e-6:
            kept.append(placed(item, 1.0, (-low[0], -low[1])))
    size = Sheet("part of a page", high[0] - low[0], high[1] - low[1])
    name = f"{scene.name} {low[0]:.0f} {low[1]:.0f}"
    bare = replace(scene, origin=(0.0, 0.0), model=(), windows=(), lists=())
    return replace(bare, name=name, sheet=size, paper=tuple(kept))
