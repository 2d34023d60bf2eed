"""What a file declares: which kind of file it is, its units, and the shape that keys of a table belong to."""

from __future__ import annotations

from pathlib import PurePath
from typing import Any, Literal

from pydantic import BaseModel

from formwork.errors import Fault
from formwork.project.faults import fault, unknown
from formwork.project.load import Source
from formwork.project.locate import Path
from formwork.shapes.register import register
from formwork.shapes.shape import Shape
from formwork.units.show import UnitSystem
from formwork.units.wording import written

_PROJECT_TABLES = frozenset({"mix", "piece", "batches"})
_SHOP_TABLES = frozenset(
    {
        "saw",
        "mixer",
        "foam",
        "cement",
        "sheet",
        "stick",
        "pipe",
        "tube",
        "strap",
        "hardware",
        "leftover_mold",
        "owned_mold",
        "times",
    }
)

_MEANT: dict[str, UnitSystem] = {
    "inch": "in",
    "inches": "in",
    "imperial": "in",
    '"': "in",
    "ft": "in",
    "feet": "in",
    "lb": "in",
    "metric": "mm",
    "millimeter": "mm",
    "millimeters": "mm",
    "millimetre": "mm",
    "millimetres": "mm",
    "cm": "mm",
    "m": "mm",
    "kg": "mm",
    "si": "mm",
}
"""What a person who writes another word may have meant; bare numbers are then read so, lest each be a fault too."""


def mistaken_file(source: Source, wanted: Literal["project", "shop"]) -> tuple[Fault, ...]:
    """The one fault of a shop file given for a project file, or the other way round.

    Args:
        source: the file.
        wanted: what it should be.
    """
    ours, theirs = _PROJECT_TABLES, _SHOP_TABLES
    hint = f'name it in a project file: shop = "{PurePath(source.path).name}"'
    if wanted == "shop":
        ours, theirs, hint = theirs, ours, ""
    if source.data.keys() & ours or not source.data.keys() & theirs:
        return ()
    other = "a shop file" if wanted == "project" else "a project file"
    return (Fault(source.path, "", other, f"a {wanted} file", hint),)


def declared_units(source: Source) -> tuple[UnitSystem | None, tuple[Fault, ...]]:
    """The units a file declares, and the fault of a declaration that is none.

    Args:
        source: the file.
    """
    given = source.data.get("units")
    match given:
        case None:
            return None, ()
        case "in" | "mm":
            return given, ()
    meant = _MEANT.get(given.strip().casefold()) if isinstance(given, str) else None
    hint = f'did you mean "{meant}"?' if meant else ""
    return meant, (fault(source, ("units",), written(given), '"in" or "mm"', hint),)


def named_shape(row: Any, at: Path, source: Source) -> tuple[Shape | None, tuple[Fault, ...]]:
    """The shape that a table names, and what is wrong with the name.

    A name that is nearly right gives both, so that the table's other keys can be checked too.

    Args:
        row: the table's raw values.
        at: its path.
        source: the file.
    """
    if not isinstance(row, dict):
        return None, (fault(source, at, written(row), "a table"),)
    shapes = register()
    name = row.get("shape")
    if isinstance(name, str) and name in shapes:
        return shapes[name], ()
    if name is None:
        want = f"the name of a shape: {', '.join(shapes)}"
        return None, () if source.faults else (fault(source, (*at, "shape"), "nothing", want),)
    wrong = unknown(source, (*at, "shape"), name, shapes)
    return next((shape for shape in shapes.values() if f"'{shape.name}'" in wrong.hint), None), (wrong,)


def split_keys(row: Any, model: type[BaseModel]) -> tuple[dict[str, Any], dict[str, Any]]:
    """A table's values of a model's own keys, and the rest, which are its shape's.

    Args:
        row: the table's raw values.
        model: whose keys come first.
    """
    if not isinstance(row, dict):
        return {}, {}
    own = {key: value for key, value in row.items() if key in model.model_fields}
    return own, {key: value for key, value in row.items() if key not in own}
