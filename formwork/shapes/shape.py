"""What a shape is: a name, its keys, the methods that suit it, and how to lay it out as cast or as built."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Literal

from formwork.record import record
from formwork.shapes.parameters import Keys, Parameters
from formwork.shapes.piece import Centre, Frame, Lot


@record
class Shape:
    """One entry of the shape register.

    Attributes:
        name: as written in the project file.
        summary: one line of what it casts.
        methods: mold methods that suit it, the first one by default.
        parameters: the model its keys are checked with.
        lay_out: from checked parameters and the name the project gives to the pieces as cast, each with how many of
            it one of the shape takes, and to the frames and centres that are built; raises GeometryError with a
            message that names the keys where the parameters contradict one another.
        samples: keys and values that give sound pieces, as a project file would have them in millimetres; between
            them they use every feature of the shape. Tests start from them.
        gang_axis: the way pieces stand side by side in a gang; None where the shape is cast alone.
    """

    name: str
    summary: str
    methods: tuple[str, ...]
    parameters: type[Keys]
    lay_out: Callable[[Any, str], tuple[Lot | Frame | Centre, ...]]
    samples: tuple[Mapping[str, object], ...]
    gang_axis: Literal["x", "y"] | None = None

    @property
    def casts(self) -> bool:
        """Some of it is cast, so that a project with it needs a mix."""
        return issubclass(self.parameters, Parameters)
