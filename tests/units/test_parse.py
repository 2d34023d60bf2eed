"""Quantities as people of the trade write them, and everything that is refused."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import FormworkError
from formwork.units.numbers import number, number_part
from formwork.units.parse import QuantityError, read, read_money
from formwork.units.table import SI_UNIT, TABLE
from formwork.units.wording import written

INCH = Fraction(254, 10000)

LENGTHS = {
    "23 1/2 in": Fraction(47, 2),
    '23-1/2"': Fraction(47, 2),
    '23 1/2"': Fraction(47, 2),
    "23½ in": Fraction(47, 2),
    "23 ½ inches": Fraction(47, 2),
    "½ in": Fraction(1, 2),
    "1/2 in": Fraction(1, 2),
    "5/8”": Fraction(5, 8),
    "2 ft 6 in": 30,
    "2 ft. 6 in.": 30,
    "2 feet 6 inches": 30,
    "2'-6 1/2\"": Fraction(61, 2),
    "2' 6-1/2\"": Fraction(61, 2),
    "2'6\"": 30,
    "2’ 6½″": Fraction(61, 2),
    "2' 1/2\"": Fraction(49, 2),
    "2 1/2 ft": 30,
    "0' 6\"": 6,
    "8'": 96,
    "8ft": 96,
    "1 yd": 36,
    ".5 in": Fraction(1, 2),
    "5. in": 5,
    "  7   in ": 7,
    "-3 in": -3,
    "-2 ft 6 in": -30,
    "1e1 in": 10,
}


@pytest.mark.parametrize(("text", "inches"), LENGTHS.items())
def test_lengths_in_inches_are_exact(text, inches):
    assert read(text, "length", None) == float(Fraction(inches) * INCH)


@pytest.mark.parametrize(
    ("text", "metres"),
    [("600 mm", 0.6), ("0.6 m", 0.6), ("60 cm", 0.6), ("600mm", 0.6), ("15 mm", 0.015), ("1 1/2 m", 1.5)],
)
def test_metric_lengths_are_the_float_a_person_would_write(text, metres):
    assert read(text, "length", None) == metres


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("30 lb/ft3", "density", 30 * 0.45359237 / 0.3048**3),
        ("30 lb / cu ft", "density", 30 * 0.45359237 / 0.3048**3),
        ("30 pounds per cubic foot", "density", 30 * 0.45359237 / 0.3048**3),
        ("30 lb/ft³", "density", 30 * 0.45359237 / 0.3048**3),
        ("30 lb/ft^3", "density", 30 * 0.45359237 / 0.3048**3),
        ("480 kg/m3", "density", 480.0),
        ("0.48 kg/L", "density", 480.0),
        ("70 F", "temperature", 294.2611111111111),
        ("70 °F", "temperature", 294.2611111111111),
        ("20 C", "temperature", 293.15),
        ("9 lb 4 oz", "mass", 9.25 * 0.45359237),
        ("3 1/2 lb", "mass", 3.5 * 0.45359237),
        ("25 kg", "mass", 25.0),
        ("3 cu. ft", "volume", 3 * 0.028316846592),
        ("3 cubic feet", "volume", 3 * 0.028316846592),
        ("8 fl oz", "volume", 8 * 29.5735295625e-6),
        ("32 sq ft", "area", 32 * 0.09290304),
        ("5 %", "ratio", 0.05),
        ("5%", "ratio", 0.05),
        ("5 percent", "ratio", 0.05),
        ("75 lb/ft2", "pressure", 75 * 47.88025898033584),
        ("5 deg", "angle", math.radians(5)),
        ("5°", "angle", math.radians(5)),
        ("2 h", "time", 7200.0),
    ],
)
def test_other_kinds(text, kind, value):
    assert read(text, kind, None) == pytest.approx(value, rel=1e-14)


@pytest.mark.parametrize(
    ("typed", "kind", "declared", "value"),
    [
        (24, "length", "in", 0.6096),
        ("24", "length", "in", 0.6096),
        ("23 1/2", "length", "in", 0.5969),
        (600, "length", "mm", 0.6),
        (0.6, "length", "SI", 0.6),
        (30, "density", "in", 480.5539012188042),
        (480, "density", "mm", 480.0),
        (70, "temperature", "in", 294.2611111111111),
        (20, "temperature", "mm", 293.15),
        (0.05, "ratio", "mm", 0.05),
        (45, "angle", "in", math.pi / 4),
        (0.02, "volume", "SI", 0.02),
    ],
)
def test_a_bare_number_takes_the_declared_unit(typed, kind, declared, value):
    assert read(typed, kind, declared) == pytest.approx(value, rel=1e-14)


@pytest.mark.parametrize("kind", SI_UNIT)
def test_a_bare_number_is_refused_where_nothing_is_declared(kind):
    for typed in (5, 5.0, "5"):
        with pytest.raises(QuantityError) as caught:
            read(typed, kind, None)
        assert "unit" in caught.value.hint


@pytest.mark.parametrize("kind", ["volume", "area", "pressure", "force", "flow", "time"])
def test_a_bare_number_is_refused_where_two_units_are_common(kind):
    with pytest.raises(QuantityError, match="write the unit"):
        read(5, kind, "in")


REFUSED = [
    "", " ", "in", "inf in", "nan", "-inf", "five in", "1,5 m", "1,500 mm", "6 in 2 ft", "2 ft 14 in", "2.5 ft 6 in",
    "2 ft 6", "2 ft -6 in x", "2 ft 6 mm", "2 m 6 cm", "1/0 in", "2 ft 1/0 in", "1 2 in", "1.5 1/2 in", "1/2/3 in",
    "10^3 m", "2 * 3 m", "12 in/2", "5 kg", "3 1/2 lb", "40 cubits", "5 in in", "1e300 m", "1e999 m", "1e9999 m",
    "5 m; 6 m", "in 5", "0x10 in", "1_000 mm", "٣ in x", "5 __import__('os')", "5 m3", "5 " + "m" * 90, "9" * 79 + " m",
]  # fmt: skip


@pytest.mark.parametrize("text", REFUSED)
def test_refused_texts(text):
    with pytest.raises(QuantityError):
        read(text, "length", "mm")


@pytest.mark.parametrize(
    "typed", [True, False, None, [1], {}, math.nan, math.inf, -math.inf, 1e300, 10**400, 1e13, -1e13]
)
def test_refused_values(typed):
    with pytest.raises(QuantityError):
        read(typed, "length", "SI")


def test_an_error_says_got_want_and_hint_and_is_one_of_ours():
    with pytest.raises(QuantityError) as caught:
        read("5 kg", "length", None)
    assert caught.value.got == '"5 kg"'
    assert "a length" in caught.value.want and '"23 1/2 in"' in caught.value.want
    assert caught.value.hint == "kg measures a mass"
    assert isinstance(caught.value, FormworkError) and isinstance(caught.value, ValueError)


@pytest.mark.parametrize(
    ("text", "kind", "hint"),
    [
        ("1,5 m", "length", "decimal point"),
        ("40 cubits", "length", "no unit of length"),
        ("40 lb/fr3", "density", "did you mean"),
        ("in 5", "length", "the number comes first"),
        ("2 ft 6 mm", "length", "after ft comes in"),
        ("2 ft 14 in", "length", "less than 12 in"),
        ("5 lb 20 oz", "mass", "less than 16 oz"),
    ],
)
def test_hints(text, kind, hint):
    with pytest.raises(QuantityError) as caught:
        read(text, kind, None)
    assert hint in caught.value.hint


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("3 furlongs", "length", 603.5052),
        ("2 1/2 stone", "mass", 2.5 * 14 * 0.45359237),
        ("1 cup", "volume", 236.5882365e-6),
        ("14.7 lbf/inch^2", "pressure", 101352.9),
        ("1 slug/ft3", "density", 515.3788),
    ],
)
def test_pint_reads_the_units_the_table_has_not_and_never_the_number(text, kind, value):
    assert read(text, kind, None) == pytest.approx(value, rel=3e-6)


FRACTIONS = st.builds(
    lambda whole, top, bottom: (whole, Fraction(top, bottom)),
    st.integers(0, 200), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]),
)  # fmt: skip


@settings(max_examples=200)
@given(FRACTIONS, st.sampled_from([" ", "-", " - "]), st.sampled_from(["in", '"', " inches", "''"]))
def test_mixed_fractions_are_exact(parts, gap, unit):
    whole, part = parts
    text = f"{whole}{gap}{part.numerator}/{part.denominator}{unit}"
    assert read(text, "length", None) == float((whole + part) * INCH)


@settings(max_examples=200)
@given(
    st.integers(0, 60),
    FRACTIONS,
    st.sampled_from([("'", '"'), (" ft ", " in"), ("'-", '"'), (" feet ", " inches")]),
)
def test_feet_and_inches_are_exact(feet, parts, marks):
    inches = parts[0] % 11 + parts[1] % 1
    whole, part = divmod(inches, 1)
    text = f"{feet}{marks[0]}{whole} {part.numerator}/{part.denominator}{marks[1]}"
    assert read(text, "length", None) == float((12 * feet + inches) * INCH)


@settings(max_examples=300)
@given(st.text(max_size=40), st.sampled_from(sorted(TABLE)))
def test_any_text_is_read_or_refused_with_a_reason(text, kind):
    try:
        assert math.isfinite(read(text, kind, "mm"))
    except QuantityError as error:
        assert error.got and error.want


@settings(max_examples=100)
@given(
    st.decimals(min_value="-1e6", max_value="1e6", allow_nan=False, places=4),
    st.sampled_from([(kind, name) for kind in TABLE for name in TABLE[kind] if kind != "temperature"]),
)
def test_a_number_and_a_unit_is_their_product(value, entry):
    kind, name = entry
    assert read(f"{value} {name}", kind, None) == pytest.approx(
        float(value) * float(TABLE[kind][name][1]), rel=1e-14
    )


def test_numbers():
    assert number("3") == 3 and number("2.50") == Fraction(5, 2) and number("23½") == Fraction(47, 2)
    assert number("-1 1/2") == Fraction(-3, 2)
    for text in ("", "3 in", "1,5", "x", "9" * 100):
        with pytest.raises(QuantityError):
            number(text)


@pytest.mark.parametrize(
    ("typed", "part"),
    [
        ("23 1/2 in", "23 1/2"),
        ("600", "600"),
        (600, "600"),
        ("30 lb/ft3", "30"),
        ("2 ft 6 in", ""),
        ("x", ""),
        (True, ""),
    ],
)
def test_the_number_of_a_quantity(typed, part):
    assert number_part(typed) == part


@pytest.mark.parametrize(
    ("typed", "currency", "amount"),
    [
        (42, "$", 42.0),
        (42.5, "", 42.5),
        ("$42.50", "$", 42.5),
        ("42.50 EUR", "EUR", 42.5),
        ("1,250.50", "$", 1250.5),
        ("0", "$", 0.0),
    ],
)
def test_money(typed, currency, amount):
    assert read_money(typed, currency) == amount


@pytest.mark.parametrize(
    "typed", ["", "$", "-5", "12,5", "1,25.00", "42 GBP", "£42", True, [1], math.nan, math.inf, "1e5", None]
)
def test_refused_money(typed):
    with pytest.raises(QuantityError):
        read_money(typed, "$")


def test_values_as_their_writer_knows_them():
    assert written("a") == '"a"' and written(True) == "true" and written([1, 2]) == "a list of 2"
    assert written({}) == "a table" and written(1.5) == "1.5" and len(written("x" * 500)) < 100
    assert written(10**5000) == "a number of more than 80 digits"
