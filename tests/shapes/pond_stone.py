"""The drawing of ``examples/pond-stone.dxf``: a stepping stone like a pebble, with a hole for a lamp.

``python -m tests.shapes.pond_stone`` writes it; a test holds the file in ``examples/`` to this drawing.
"""

from __future__ import annotations

from pathlib import Path

import ezdxf
from ezdxf.document import Drawing

FILE = Path(__file__).parents[2] / "examples" / "pond-stone.dxf"
CONTROL = ((0, 0), (260, -60), (520, 40), (560, 280), (380, 420), (120, 400), (-60, 210))
"""Control points of a closed cubic spline, mm."""
LAMP = (260.0, 180.0, 45.0)
"""Middle and radius of the hole, mm."""


def drawing() -> Drawing:
    """The stone: its edge as a spline, the hole as a circle, a line of text that bounds nothing."""
    document = ezdxf.new("R2000", units=4)
    space = document.modelspace()
    space.add_spline(dxfattribs={"layer": "EDGE"}).set_closed([(x, y, 0) for x, y in CONTROL])
    space.add_circle(LAMP[:2], LAMP[2], dxfattribs={"layer": "EDGE"})
    space.add_text("POND STONE", dxfattribs={"layer": "NOTES", "height": 20})
    return document


if __name__ == "__main__":
    drawing().saveas(FILE)
