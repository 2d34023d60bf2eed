"""The layers of a drawing: name, line type, width, and what is on them.

Names follow the scheme of the US National CAD Standard, discipline-major-minor in four letters each; CAST, FORM, FRAM,
STEP, PANL, BASE, CORE and CLET are codes of our own. Cut sheets have a second set, a layer for each operation of the
machine.
Line widths are two, 2:1 (ISO 128); dash lengths follow ISO 128-20 from memory: dash 12, gap 3, dot 0.5 line widths.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

LineType = Literal["solid", "dashed", "chain"]

WIDE = 0.5
"""Width of visible edges, mm on paper."""
NARROW = 0.25
"""Width of every other line, mm on paper."""
PATTERNS: dict[LineType, tuple[float, ...]] = {
    "solid": (),
    "dashed": (12 * NARROW, 3 * NARROW),
    "chain": (24 * NARROW, 3 * NARROW, 0.5 * NARROW, 3 * NARROW),
}
"""Dash, gap, dash, gap ... of each line type, mm on paper."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer.

    Attributes:
        name: as in the file; letters, digits, hyphen and point only.
        line: its line type.
        wide: its lines are wide.
        colour: AutoCAD colour index in the file; paper is black on white all the same.
        plotted: it is printed.
    """

    name: str
    line: LineType = "solid"
    wide: bool = False
    colour: int = 7
    plotted: bool = True


CAST = Layer("S-CAST-OTLN", wide=True)
CAST_HIDDEN = Layer("S-CAST-HIDN", "dashed", colour=8)
PANEL = Layer("S-FORM-PANL", wide=True)
BASE = Layer("S-FORM-BASE", wide=True)
CORE = Layer("S-FORM-CORE", wide=True)
CLEAT = Layer("S-FORM-CLET", wide=True)
STRIP = Layer("S-FORM-STRP", wide=True)
BARS = Layer("S-REIN-BARS", wide=True)
FORM_HIDDEN = Layer("S-FORM-HIDN", "dashed", colour=8)
STRUT = Layer("S-FRAM-STRT", wide=True)
HUB = Layer("S-FRAM-HUBS")
ADDED = Layer("S-STEP-ADDS", wide=True)
STANDING = Layer("S-STEP-STND")
MOST_WIDE = 150
"""A picture of more parts than this has narrow lines throughout: wide ones would run together (ours)."""
HATCH = Layer("S-DETL-PATT", colour=8)
CENTRE = Layer("S-ANNO-CNTR", "chain", colour=8)
SECTION = Layer("S-ANNO-SECT", wide=True)
DIMENSIONS = Layer("S-ANNO-DIMS", colour=5)
TEXTS = Layer("S-ANNO-TEXT")
BALLOONS = Layer("S-ANNO-SYMB", colour=5)
TITLE = Layer("G-ANNO-TTLB")
TITLE_WIDE = Layer("G-ANNO-TTLB-WIDE", wide=True)
WINDOWS = Layer("G-ANNO-NPLT", colour=8, plotted=False)

SHEET_EDGE = Layer("SHEET-EDGE", wide=True)
CUT_OUTSIDE = Layer("CUT-OUTSIDE", colour=1)
CUT_INSIDE = Layer("CUT-INSIDE", colour=3)
SAW_LINE = Layer("SAW-LINE", "dashed", colour=8)
OFFCUT = Layer("OFFCUT", "chain", colour=8)
LABEL = Layer("ENGRAVE-LABEL", colour=5)
BEVEL = Layer("BEVEL-ANGLE", colour=6)


def drill(name: str) -> Layer:
    """The layer of round holes of one drill."""
    return Layer(f"DRILL-{name}", colour=4)
