"""What a frame's pipes come to at the bench: parts of one cut length, how many of each, and how each is shaped."""

from __future__ import annotations

from formwork.molds.mold import Hardware, Part
from formwork.record import record


@record
class Cut:
    """Equal pipes of a frame.

    Attributes:
        letter: of their class.
        part: one of them.
        each: how many are in one frame.
        length: from bolt hole to bolt hole, or of the arc along its centre line, m.
        bend: of each flattened end, or what each pipe is bent through, rad.
        radius: centre-line radius it is bent to, m; 0 for a straight one.
    """

    letter: str
    part: Part
    each: int
    length: float
    bend: float
    radius: float = 0.0


@record
class Pipework:
    """All pipes of one frame, what joins them, and how they are made and put up.

    Attributes:
        cuts: its pipes, class by class.
        hardware: everything bought by the piece, for one frame.
        stack: thickness of the flattened ends on the fullest node, m; 0 where none are flattened.
        instructions: in the order of work.
    """

    cuts: tuple[Cut, ...]
    hardware: tuple[Hardware, ...]
    stack: float
    instructions: tuple[str, ...]
