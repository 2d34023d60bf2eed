"""The register of shapes: what the project file may name.

A shape of ours is one file of this folder, imported only when it is asked for, so that a plan pays for the shapes it
uses. A shape from elsewhere comes with any installed distribution that has an entry point of the group
``formwork.shapes``: its name as the project file writes it, and the ``Shape`` it stands for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from importlib import import_module

from formwork.shapes.shape import Shape

GROUP = "formwork.shapes"
_FILES = (
    "planter",
    "many-sided",
    "block",
    "block wall",
    "arch",
    "slab",
    "outline",
    "turned",
    "round planter",
    "column",
    "cast dome",
    "block dome",
    "pipe dome",
    "hoop dome",
)


class Register(Mapping[str, Shape]):
    """Every shape by the name the project file uses, ours first; looking for a name imports that shape alone."""

    def __getitem__(self, name: str) -> Shape:
        """The shape of that name.

        Raises:
            KeyError: if there is none.
        """
        if name in _FILES:
            found: Shape = import_module(f"formwork.shapes.{name.replace(' ', '_').replace('-', '_')}").SHAPE
            return found
        return _from_elsewhere()[name]

    def __iter__(self) -> Iterator[str]:
        yield from _FILES
        yield from _from_elsewhere()

    def __len__(self) -> int:
        return len(_FILES) + len(_from_elsewhere())


def register() -> Register:
    """The register of shapes."""
    return Register()


@cache
def _from_elsewhere() -> dict[str, Shape]:
    """Shapes of other distributions; a name of ours cannot be taken over."""
    from importlib.metadata import entry_points  # noqa: PLC0415 - slow, and only asked when the name is not ours

    found = {point.name: point.load() for point in entry_points(group=GROUP)}
    return {
        name: shape
        for name, shape in sorted(found.items())
        if name not in _FILES and isinstance(shape, Shape)
    }
