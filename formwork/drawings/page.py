"""Paper: sizes, frame, title block, projection symbol, the series of scales, and how views stand on a page.

Sizes of paper: ISO 216 and the US series. Title block: the fields of ISO 7200, 180 mm wide; scale, units and projection
symbol stand beside them. Scales: ISO 5455. In third-angle projection the top view stands above the front view and the
view from the right to its right; in first-angle the top view stands below and the view from the left to the right.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from formwork.drawings.frames import Point
from formwork.drawings.layers import CENTRE, TEXTS, TITLE, TITLE_WIDE
from formwork.drawings.lettering import fitted, wrapped
from formwork.drawings.scene import Circle, Item, Line, Polyline, Sheet, Text, Units

Angle = Literal["first", "third"]

SCALES = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
"""n of 1:n (ISO 5455, reductions)."""
SHEETS: dict[Units, tuple[Sheet, ...]] = {
    "mm": (Sheet("A3", 420.0, 297.0), Sheet("A2", 594.0, 420.0), Sheet("A1", 841.0, 594.0)),
    "in": (Sheet("ANSI B", 431.8, 279.4), Sheet("ANSI C", 558.8, 431.8), Sheet("ANSI D", 863.6, 558.8)),
}
BIND = 20.0
"""Margin on the left, for binding, mm."""
MARGIN = 10.0
BLOCK = (180.0, 36.0)
"""Length and height of the title block, mm."""
_CELLS: tuple[tuple[float, float, float, str], ...] = (
    (0, 27, 60, "legal owner"),
    (60, 27, 40, "creator"),
    (100, 27, 40, "approved by"),
    (140, 27, 40, "date of issue"),
    (0, 18, 60, "document type"),
    (60, 18, 40, "sizes in"),
    (100, 18, 40, "scale"),
    (140, 18, 40, "projection"),
    (0, 9, 120, "title"),
    (0, 0, 120, "supplementary title"),
    (120, 9, 60, "identification number"),
    (120, 0, 20, "revision"),
    (140, 0, 20, "page"),
    (160, 0, 20, "language"),
)
"""Where each field of a title block stands, how long it is (mm), and its caption."""
NOTE_SIZE = 2.5
_CAPTION = 1.8
_VALUE = 3.0


@dataclass(frozen=True, slots=True)
class Titles:
    """What a title block says; what a person must sign or date stays empty.

    Attributes:
        owner: legal owner: the shop.
        title: what is drawn.
        detail: supplementary title.
        kind: document type.
        number: identification number.
        page: segment number, "1 / 3".
    """

    owner: str
    title: str
    detail: str
    kind: str
    number: str
    page: str = "1 / 1"


def angle_for(units: Units) -> Angle:
    """The projection that readers of these units expect."""
    return "third" if units == "in" else "first"


def drawing_area(sheet: Sheet) -> tuple[Point, Point]:
    """Where views may stand: inside the frame, above title block and notes, mm."""
    return (BIND, MARGIN + BLOCK[1]), (sheet.length - MARGIN, sheet.height - MARGIN)


def frame(sheet: Sheet) -> tuple[Item, ...]:
    """The frame round the drawing area and title block."""
    x0, y0, x1, y1 = BIND, MARGIN, sheet.length - MARGIN, sheet.height - MARGIN
    return (Polyline(TITLE_WIDE, ((x0, y0), (x1, y0), (x1, y1), (x0, y1))),)


def title_fields(
    titles: Titles, scale: float, units: Units, angle: Angle | None
) -> tuple[tuple[str, str], ...]:
    """What a title block says: caption and value of each field that is not for a person to fill in."""
    return (
        ("legal owner", titles.owner),
        ("title", titles.title),
        ("supplementary title", titles.detail),
        ("document type", titles.kind),
        ("identification number", titles.number),
        ("page", titles.page),
        ("creator", "formwork"),
        ("language", "en"),
        ("sizes in", "inches" if units == "in" else "millimetres"),
        ("scale", f"SCALE 1:{scale:g}"),
        *((("projection", f"{angle} angle"),) if angle else ()),
    )


def title_block(
    sheet: Sheet, titles: Titles, scale: float, units: Units, angle: Angle | None
) -> tuple[Item, ...]:
    """The title block in the lower right corner."""
    x, y = sheet.length - MARGIN - BLOCK[0], MARGIN
    values = dict(title_fields(titles, scale, units, angle))
    items: list[Item] = []
    for cx, cy, length, caption in _CELLS:
        drawn = caption == "projection"
        value = "" if drawn else values.get(caption, "")
        items.extend(_cell((x + cx, y + cy), length, caption if not drawn or angle else "", value))
    items.append(Polyline(TITLE_WIDE, _rectangle((x, y), *BLOCK)))
    if angle is not None:
        items.extend(projection_symbol((x + 165.0, y + 20.9), angle))
    return tuple(items)


def _cell(at: Point, length: float, caption: str, value: str) -> tuple[Item, ...]:
    return (
        Polyline(TITLE, _rectangle(at, length, 9.0)),
        Text(TITLE, (at[0] + 1.2, at[1] + 6.2), caption, _CAPTION),
        Text(TITLE, (at[0] + 1.2, at[1] + 1.6), fitted(value, _VALUE, length - 2.4), _VALUE),
    )


def _rectangle(low: Point, length: float, height: float) -> tuple[Point, Point, Point, Point]:
    x, y = low
    return ((x, y), (x + length, y), (x + length, y + height), (x, y + height))


def projection_symbol(at: Point, angle: Angle) -> tuple[Item, ...]:
    """The frustum and its end view, 4 mm high.

    The small end is on the left. Its view from the left stands on the left in third angle, so beside the small end;
    on the right in first angle, so beside the large one.

    Args:
        at: middle of the symbol, mm.
        angle: the projection.
    """
    x, y = at
    near, far = (6.0, -6.0) if angle == "first" else (-6.0, 6.0)
    small, large = far - 3.0, far + 3.0
    outline = ((x + small, y - 1.0), (x + large, y - 2.0), (x + large, y + 2.0), (x + small, y + 1.0))
    return (
        Polyline(TITLE, outline),
        Circle(TITLE, (x + near, y), 1.0),
        Circle(TITLE, (x + near, y), 2.0),
        Line(CENTRE, (x + near - 2.6, y), (x + near + 2.6, y)),
        Line(CENTRE, (x + near, y - 2.6), (x + near, y + 2.6)),
        Line(CENTRE, (x + small - 1.0, y), (x + large + 1.0, y)),
    )


def notes_block(sheet: Sheet, notes: Sequence[str]) -> tuple[Item, ...]:
    """Notes to the left of the title block; many notes are written smaller."""
    room = sheet.length - MARGIN - BLOCK[0] - BIND - 8.0
    for size in (NOTE_SIZE, 2.0, 1.6):
        lines = [line for note in notes for line in wrapped(note, size, room)]
        pitch = 1.76 * size
        rows = int((BLOCK[1] - 4.0) / pitch)
        if len(lines) <= rows:
            break
    else:
        lines = [*lines[: rows - 1], "More notes: see the job sheets."]
    top = MARGIN + BLOCK[1] - 3.0 - size
    return tuple(Text(TEXTS, (BIND + 4.0, top - i * pitch), line, size) for i, line in enumerate(lines))
