"""What may be entered in the log: each kind of entry with its columns, ranges and meanings.

The columns carry their unit, in SI, as they stand in the file and in its CSV. The tables themselves are in ``schema``;
a test holds the two together.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite
from types import MappingProxyType
from typing import Literal

from formwork.errors import RangeError
from formwork.pour.evaporation import MPH
from formwork.record import record
from formwork.units import show
from formwork.units.table import Kind

Sort = Kind | Literal["number", "text", "choice", "speed"]
Value = float | str | None
Values = Mapping[str, Value]


@record
class Field:
    """One column of an entry.

    Attributes:
        name: as a person types it.
        column: in the file.
        sort: what is measured, or number, text, choice, speed.
        meaning: one line.
        least, most: range, SI; of a text, of its length.
        required: it must be there.
        default: what holds without it; None where nothing does.
        choices: the words allowed, for a choice.
        as_before: left out, it is what it was in the last entry of the kind.
    """

    name: str
    column: str
    sort: Sort
    meaning: str
    least: float = 0.0
    most: float = 1e6
    required: bool = False
    default: Value = None
    choices: tuple[str, ...] = ()
    as_before: bool = False

    def check(self, value: Value) -> Value:
        """The value, where it may stand there.

        Args:
            value: SI.

        Raises:
            RangeError: where it may not.
        """
        if value is None:
            if self.required:
                raise RangeError(f"{self.name}: got nothing, want {self.meaning}: --{self.name} VALUE")
            return self.default
        if isinstance(value, str):
            return self._text(value)
        if self.sort in ("text", "choice") or not isfinite(value) or not self.least <= value <= self.most:
            raise RangeError(f"{self.name}: got {self._shown(value)}, want {self._range()}")
        return float(value)

    def _shown(self, value: float) -> str:
        """A value as a person reads it, in both systems where they differ."""
        match self.sort:
            case "number" | "text" | "choice":
                return f"{value:g}"
            case "speed":
                return f"{value:.3g} m/s ({value / MPH:.3g} mph)"
            case kind if isfinite(value):
                metric, customary = show.quantity(value, kind, "mm"), show.quantity(value, kind, "in")
                return metric if metric == customary else f"{metric} ({customary})"
            case _:
                return f"{value}"

    def _range(self) -> str:
        """What is allowed."""
        if self.sort in ("text", "choice"):
            return "a text"
        return f"{self._shown(self.least)} to {self._shown(self.most)}"

    def _text(self, value: str) -> str:
        if self.sort == "choice":
            if value not in self.choices:
                raise RangeError(f"{self.name}: got {value!r}, want one of {', '.join(self.choices)}")
            return value
        return plain_text(self.name, value, int(self.most))


@record
class EntryKind:
    """One kind of entry.

    Attributes:
        name: of the kind, and of its table.
        meaning: one line.
        fields: its columns.
        belongs: the kind of thing it belongs to; None where to none.
        some: names of fields of which at least one must be more than 0; empty where it does not matter.
    """

    name: str
    meaning: str
    fields: tuple[Field, ...]
    belongs: str | None = None
    some: tuple[str, ...] = ()

    def check(self, values: Values) -> dict[str, Value]:
        """Every column of the kind with its value.

        Args:
            values: SI, by column.

        Raises:
            RangeError: where a value may not stand, is missing, or has no column.
        """
        unknown = sorted(set(values) - {field.column for field in self.fields})
        if unknown:
            raise RangeError(
                f"{self.name}: got {unknown[0]!r}, want {', '.join(f.column for f in self.fields)}"
            )
        checked = {field.column: field.check(values.get(field.column)) for field in self.fields}
        amounts = [checked[field.column] for field in self.fields if field.name in self.some]
        if self.some and not any(isinstance(amount, float) and amount > 0.0 for amount in amounts):
            raise RangeError(f"{self.name}: want at least one of {', '.join(self.some)}")
        if self.name == "reading" and not _number(checked, "gross_kg") > _number(checked, "tare_kg"):
            gross, tare = (f"{1000.0 * _number(checked, column):g} g" for column in ("gross_kg", "tare_kg"))
            raise RangeError(
                f"reading: got {gross} for the full cup and {tare} for the empty one, want the full cup to weigh more "
                "(a tare that is left out is the last one's; --tare 0 where the scale was set to nought with the cup)"
            )
        if self.name == "surface" and not _number(checked, "drop_m") < _number(checked, "depth_m"):
            raise RangeError("surface: want a drop less than the depth")
        return checked


def plain_text(name: str, text: str, longest: int = 500) -> str:
    """A text that may stand in the log: printable, not empty, not too long.

    Args:
        name: what it is, for the message.
        text: as typed.
        longest: most letters.

    Raises:
        RangeError: for any other.
    """
    tidy = text.strip()
    if not tidy or len(tidy) > longest or not tidy.isprintable():
        raise RangeError(f"{name}: got {text[:40]!r}, want a text of 1 to {longest} letters on one line")
    return tidy


def _number(values: Values, column: str) -> float:
    value = values[column]
    return value if isinstance(value, float) else 0.0


_CUP = "what the cup holds (or a [cup] in the shop file that --project names)"

_INGREDIENTS = (
    Field("water", "water_kg", "mass", "water, the foam's own not counted", most=5000.0, default=0.0),
    Field("sand", "sand_kg", "mass", "sand", most=5000.0, default=0.0),
    Field("ash", "ash_kg", "mass", "fly ash", most=5000.0, default=0.0),
    Field("foam", "foam_m3", "volume", "foam", most=20.0, default=0.0),
    Field(
        "other",
        "other_kg",
        "mass",
        "all else: other powders, fibres, admixtures",
        most=5000.0,
        default=0.0,
    ),
)

_KINDS = (
    EntryKind(
        "pour",
        "One filling of the molds, with the mix that is wanted.",
        (
            Field("title", "title", "text", "what is poured", most=120, required=True),
            Field("wet", "wet_density_kg_m3", "density", "wet density wanted", 100.0, 2600.0, required=True),
            Field("volume", "planned_m3", "volume", "mix that is planned", 1e-5, 1000.0),
            Field("foam-density", "foam_density_kg_m3", "density", "of the foam", 20.0, 150.0, default=50.0,
                  as_before=True),
            Field("cement-gravity", "cement_gravity", "number", "specific gravity", 2.5, 3.4, default=3.15,
                  as_before=True),
            Field("sand-gravity", "sand_gravity", "number", "specific gravity", 2.0, 3.2, default=2.65, as_before=True),
            Field("ash-gravity", "ash_gravity", "number", "specific gravity", 1.5, 3.2, default=2.2, as_before=True),
            Field("other-gravity", "other_gravity", "number", "specific gravity of all else, on average", 0.5, 9.0,
                  default=2.6, as_before=True),
            Field("plan-pour", "plan_pour", "number", "which pour of the project's plan it is", 1.0, 10_000.0),
        ),
    ),
    EntryKind(
        "batch",
        "One mixer load, as it really went in.",
        (
            Field("cement", "cement_kg", "mass", "cement", 0.01, 5000.0, required=True),
            *_INGREDIENTS,
            Field("planned", "planned_m3", "volume", "finished mix that was planned", 1e-5, 100.0),
        ),
        "pour",
    ),
    EntryKind(
        "reading",
        "A weighing cup's reading.",
        (
            Field("what", "what", "choice", "what was weighed", default="mix", choices=("mix", "slurry", "foam")),
            Field("gross", "gross_kg", "mass", "the full cup", 1e-4, 1000.0, required=True),
            Field("tare", "tare_kg", "mass", "the empty cup", 0.0, 500.0, default=0.0, as_before=True),
            Field("cup", "cup_m3", "volume", _CUP, 1e-5, 0.2, required=True, as_before=True),
        ),
        "batch",
    ),
    EntryKind(
        "added",
        "What was put into a batch afterwards, to correct it.",
        (Field("cement", "cement_kg", "mass", "cement", most=5000.0, default=0.0), *_INGREDIENTS),
        "batch",
        ("cement", "water", "sand", "ash", "foam", "other"),
    ),
    EntryKind(
        "surface",
        "A surface that sank in the mold.",
        (
            Field("depth", "depth_m", "length", "depth of the mix as poured", 0.001, 20.0, required=True),
            Field("drop", "drop_m", "length", "how far the surface sank", 0.0, 20.0, required=True),
        ),
        "pour",
    ),
    EntryKind(
        "weather",
        "The weather at the pour.",
        (
            Field("air", "air_k", "temperature", "of the air", 203.15, 343.15, required=True),
            Field("concrete", "concrete_k", "temperature", "of the concrete", 263.15, 373.15),
            Field("humidity", "humidity", "ratio", "relative humidity", 0.0, 1.0),
            Field("wind", "wind_m_s", "speed", "half a metre above the surface", 0.0, 60.0),
        ),
        "pour",
    ),
    EntryKind(
        "piece",
        "A hardened piece, stripped or dried, weighed.",
        (
            Field("name", "name", "text", "which piece", most=120, required=True),
            Field("state", "state", "choice", "how dry it is", default="as stripped",
                  choices=("as stripped", "air-dry", "oven-dry")),
            Field("mass", "mass_kg", "mass", "of the piece", 1e-4, 50_000.0, required=True),
            Field("volume", "volume_m3", "volume", "of the piece", 1e-7, 100.0, required=True),
        ),
        "batch",
    ),
    EntryKind(
        "photo",
        "A photo, by its path; the picture itself stays where it is.",
        (Field("path", "path", "text", "where the picture is", most=500, required=True),),
        "pour",
    ),
)  # fmt: skip

KINDS: Mapping[str, EntryKind] = MappingProxyType({kind.name: kind for kind in _KINDS})
"""Every kind of entry by its name, in the order in which a day brings them."""
