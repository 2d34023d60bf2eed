"""How wide a text is, so that no text lies over another, whatever program draws it.

Widths are those of the Helvetica of the PostScript fonts (Adobe's metrics file), which Arial and Liberation Sans
share by design; what is drawn asks for these by name. A letter the table lacks is taken as wide as an em.
"""

from __future__ import annotations

from formwork.drawings.frames import Point

ASCENT = 0.73
"""Height of a capital over the type size."""
DESCENT = 0.21
"""What the letters of ``_HANGING`` hang below the line, over the type size; the others stay within 0.02 of it."""
_HANGING = frozenset("gjpqyQ()[]{}|,;@_$ç")

_WIDTHS = (
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556,
    556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833,
    722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556,
    556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334,
    260, 334, 584,
)  # fmt: skip
_OTHERS = {
    "×": 584,
    "°": 400,
    "±": 584,
    "–": 556,
    "½": 834,
    "¼": 834,
    "¾": 834,
    "Ø": 778,
    "ø": 611,
    "ß": 611,
    "’": 222,
}


def width(text: str, size: float) -> float:
    """Length of a text set in one line, in the unit of ``size``.

    Args:
        text: what is written.
        size: height of its capitals.

    >>> round(width("20", 0.73), 3)
    1.112
    """
    return size / ASCENT * sum(_letter(letter) for letter in text) / 1000.0


def _letter(letter: str) -> int:
    code = ord(letter)
    if 32 <= code < 127:
        return _WIDTHS[code - 32]
    if letter in _OTHERS:
        return _OTHERS[letter]
    return 722 if 192 <= code < 592 else 1000


def fitted(text: str, size: float, room: float) -> str:
    """The text, or as much of it as fits with an ellipsis.

    >>> fitted("front panel", 2.5, 100.0)
    'front panel'
    """
    if width(text, size) <= room:
        return text
    for end in range(len(text) - 1, 0, -1):
        short = text[:end].rstrip() + "..."
        if width(short, size) <= room:
            return short
    return ""


def wrapped(text: str, size: float, room: float) -> list[str]:
    """The text broken between words into lines that fit."""
    lines: list[str] = []
    for word in text.split():
        if lines and width(f"{lines[-1]} {word}", size) <= room:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(fitted(word, size, room))
    return lines


def corners(
    at: Point, text: str, size: float, anchor: str, along: Point
) -> tuple[Point, Point, Point, Point]:
    """The corners of the box round a text, counter-clockwise from where it begins.

    Args:
        at: where it is anchored on its base line.
        text: what is written.
        size: height of its capitals.
        anchor: "left", "middle" or "right" end of the base line.
        along: unit vector it reads along.
    """
    length = width(text, size)
    back = {"left": 0.0, "middle": 0.5, "right": 1.0}[anchor] * length
    up = (-along[1], along[0])
    low = (DESCENT if _HANGING.intersection(text) else 0.02) / ASCENT * size

    def corner(a: float, b: float) -> Point:
        return (at[0] + a * along[0] + b * up[0], at[1] + a * along[1] + b * up[1])

    return (
        corner(-back, -low),
        corner(length - back, -low),
        corner(length - back, size),
        corner(-back, size),
    )
