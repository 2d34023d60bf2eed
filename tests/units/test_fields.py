"""Fields of models: what they take, and what they say to what they do not."""

from __future__ import annotations

import math
from typing import Annotated, Literal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from formwork.units.fields import Money, nearest, number, quantity, text, whole
from formwork.units.notes import describe


class Bar(BaseModel):
    kind: Literal["bar"] = Field(description="straight bars")
    diameter: Annotated[float, quantity("length", 0.003, 0.04)] = Field(description="bar diameter")


class Mesh(BaseModel):
    kind: Literal["mesh"] = Field(description="flat mesh")
    pitch: Annotated[float, quantity("length", 0.004, 0.3)] = Field(
        default=0.025, description="distance of wires"
    )


class Shared(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")
    gang: Annotated[int, Field(ge=1, le=40)] = Field(default=1, description="side by side")
    embed: tuple[Annotated[Bar | Mesh, Field(discriminator="kind")], ...] = Field(
        default=(), description="what stays in"
    )


class Trough(Shared):
    length: Annotated[float, quantity("length", 0.1, 4.0)] = Field(description="outside length")
    wall: Annotated[float, quantity("length", 0.025, 0.15)] = Field(default=0.05, description="wall")
    rim: Annotated[float, quantity("length", 0.0, 0.2)] | None = Field(default=None, description="rim")
    holes: Annotated[int, whole(0, 24)] = Field(default=2, description="holes")
    sand: Annotated[float, number(0, 5)] = Field(default=0.5, description="sand")
    tank: Annotated[float, quantity("volume", 0.001, 0.1)] | None = Field(default=None, description="tank")
    draft: Annotated[float, quantity("angle", 0.0, 0.5)] = Field(
        default=math.atan(1 / 12), description="draft"
    )
    label: Annotated[str, text(10)] | None = Field(default=None, description="label")
    price: Annotated[float, Money()] | None = Field(default=None, description="price")
    down: Literal["rim", "floor"] = Field(default="rim", description="which end is down")
    feet: bool = Field(default=False, description="on feet")


def read(data: dict[str, object], units: str | None = "mm") -> Trough:
    return Trough.model_validate({"length": "1 m", **data}, context={"units": units, "currency": "$"})


def refused(data: dict[str, object], units: str | None = "mm") -> dict[str, str]:
    with pytest.raises(ValidationError) as caught:
        read(data, units)
    (error,) = caught.value.errors()
    return error["ctx"]


def test_program_values_are_si_and_files_have_their_units():
    assert Trough(length=0.6).length == 0.6
    assert read({"length": 600}).length == 0.6
    assert read({"length": 24}, "in").length == 0.6096
    assert read({"length": "24 in", "wall": '1-1/2"', "tank": "5 gal", "price": "$4.50"}).wall == 0.0381


def test_a_bare_number_without_declared_units_is_refused():
    assert "unit" in refused({"length": 600}, None)["hint"]
    assert read({"length": "600 mm"}, None).length == 0.6


@pytest.mark.parametrize(
    ("typed", "units", "got", "want", "hint"),
    [
        (5, "mm", "5 mm", "25 to 150 mm", "did you mean 5 in or 5 cm? write the unit"),
        ("5 mm", "mm", '"5 mm"', "25 to 150 mm", "did you mean 5 in or 5 cm?"),
        (50, "in", "50 in", "1 to 5 7/8 in", "did you mean 50 mm? write the unit"),
        ("50", "in", '"50"', "1 to 5 7/8 in", "did you mean 50 mm? write the unit"),
        ("2 1/2 ft", "in", '"2 1/2 ft"', "1 to 5 7/8 in", "did you mean 2 1/2 in or 2 1/2 cm?"),
        ("2 ft 6 in", "in", '"2 ft 6 in"', "1 to 5 7/8 in", ""),
        (-5, "mm", "-5 mm", "25 to 150 mm", ""),
        (0, "mm", "0 mm", "25 to 150 mm", ""),
        (1e9, "mm", "1000000000.0 mm", "25 to 150 mm", ""),
    ],
)
def test_out_of_range_says_the_range_and_asks_about_other_units(typed, units, got, want, hint):
    assert refused({"wall": typed}, units) == {"got": got, "want": want, "hint": hint}


def test_without_units_the_range_is_given_in_both():
    assert refused({"wall": "5 mm"}, None)["want"] == "1 to 5 7/8 in (25 to 150 mm)"


@pytest.mark.parametrize(
    "typed", [True, [50], {"a": 1}, "50 kg", "nan", math.nan, math.inf, -math.inf, 1e300, "1e400 mm", ""]
)
def test_what_is_no_length(typed):
    assert refused({"wall": typed})["want"].startswith(("a length", "25 to 150 mm"))


@pytest.mark.parametrize("typed", [3, "3", 0.05])
def test_a_bare_volume_needs_its_unit(typed):
    assert "write the unit" in refused({"tank": typed})["hint"]


@pytest.mark.parametrize("typed", [25, -1, 2.0, 2.5, "2", True, [2], None])
def test_whole_numbers(typed):
    assert refused({"holes": typed})["want"] == "a whole number from 0 to 24"
    assert read({"holes": 24}).holes == 24


@pytest.mark.parametrize("typed", [5.01, -1, "2", True, math.nan, math.inf, [2], None])
def test_plain_numbers(typed):
    assert refused({"sand": typed})["want"] == "a number from 0 to 5"
    assert read({"sand": 5}).sand == 5.0


def test_a_quoted_number_is_pointed_out():
    assert refused({"holes": "2"})["hint"] == "write it without quotes"


@pytest.mark.parametrize("typed", ["", "   ", "eleven more.", "two\nlines", "bell\a", 5, True, ["a"]])
def test_texts(typed):
    assert "1 to 10 letters" in refused({"label": typed})["want"]
    assert read({"label": "  bed 1 "}).label == "bed 1"


@pytest.mark.parametrize("typed", [-1, 2e6, "12 GBP", "1,5", True, math.nan])
def test_prices(typed):
    assert refused({"price": typed})["want"].startswith(("an amount", "a price"))


@settings(max_examples=200)
@given(
    st.floats(allow_nan=True, allow_infinity=True)
    | st.integers()
    | st.text(max_size=20)
    | st.booleans()
    | st.none()
)
def test_any_value_is_taken_into_range_or_refused(typed):
    try:
        assert 0.025 <= read({"wall": typed}).wall <= 0.15
    except ValidationError as error:
        assert error.errors()[0]["ctx"]["want"]


@pytest.mark.parametrize(
    "make", [lambda: quantity("length", 2, 1), lambda: whole(2, 1), lambda: number(2, 1)]
)
def test_an_empty_range_is_refused_when_the_model_is_written(make):
    with pytest.raises(ValueError, match="least"):
        make()


def test_nearest_word():
    assert nearest("plantar", ("planter", "slab")) == "did you mean 'planter'?"
    assert nearest("mdf", ("MDF", "plywood")) == "did you mean 'MDF'?"
    assert nearest("xyz", ("planter", "slab")) == "" and nearest("x", ()) == ""


def test_description_has_every_key_its_own_first():
    notes = {note.key: note for note in describe(Trough)}
    assert next(iter(notes)) == "length" and list(notes)[-1].startswith("embed.")
    assert set(Trough.model_fields) <= set(notes)
    assert {"embed.kind", "embed.diameter", "embed.pitch"} <= set(notes)
    assert (
        notes["length"].required
        and notes["length"].default is None
        and notes["length"].meaning == "outside length"
    )
    assert (notes["wall"].kind, notes["wall"].least, notes["wall"].most) == ("length", 0.025, 0.15)
    assert notes["rim"].kind == "length" and notes["down"].choices == ("rim", "floor")
    assert (notes["gang"].least, notes["gang"].most) == (1, 40)


@pytest.mark.parametrize(
    ("key", "in_inches", "in_mm", "default_in", "default_mm"),
    [
        ("length", "3 15/16 to 157 7/16 in", "100 to 4000 mm", "", ""),
        ("wall", "1 to 5 7/8 in", "25 to 150 mm", '"50 mm"', '"50 mm"'),
        ("holes", "0 to 24", "0 to 24", "2", "2"),
        ("sand", "0 to 5", "0 to 5", "0.5", "0.5"),
        ("draft", "0 to 28.6 deg", "0 to 28.6 deg", '"4.764 deg"', '"4.764 deg"'),
        ("down", "rim or floor", "rim or floor", '"rim"', '"rim"'),
        ("feet", "true or false", "true or false", "false", "false"),
        ("label", "", "", "", ""),
    ],
)
def test_ranges_and_defaults_in_words(key, in_inches, in_mm, default_in, default_mm):
    note = next(note for note in describe(Trough) if note.key == key)
    assert (note.range_text("in"), note.range_text("mm")) == (in_inches, in_mm)
    assert (note.default_text("in"), note.default_text("mm")) == (default_in, default_mm)


def test_a_default_in_words_means_the_default():
    for note in describe(Trough):
        if note.default is not None and note.kind in ("length", "angle") and "." not in note.key:
            typed = note.default_text("in").strip('"')
            assert getattr(read({note.key: typed}), note.key) == pytest.approx(note.default, rel=1e-4)
