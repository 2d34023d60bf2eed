"""Weighing cups: what they hold, by several ways, and how well that is known."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.pour.measure import (
    against_belief,
    by_pipe,
    by_print,
    by_sizes,
    by_water,
    named_pipe,
    on_scale,
    pipe_inside,
    wanted_net,
    weighing_spread,
)

INCH, POUND = 0.0254, 0.45359237
FT3 = (12 * INCH) ** 3


def test_a_cup_meant_as_a_tenth_of_a_cubic_foot_is_told_what_it_holds() -> None:
    # Common practice, no source: 6.112 in measured across, 6 in deep; 3.00 lb net in it is 29.4, not 30.0 lb/ft3.
    cup = by_sizes(6.112 * INCH, 6.0 * INCH)
    assert cup.volume / FT3 == pytest.approx(0.1019, abs=5e-5)
    told = against_belief(cup, 0.1 * FT3, 3.00 * POUND, "in").notes[0]
    assert "not 0.1 ft3: it holds 0.1019 ft3, 1.9 % more" in told
    assert "29.4 lb/ft3, and not the 30.0 lb/ft3" in told


def test_a_cup_that_is_as_meant_is_told_nothing() -> None:
    cup = by_sizes(0.1, 0.1)
    assert against_belief(cup, cup.volume * 1.004, 0.5, "mm") == cup
    assert against_belief(cup, cup.volume * 1.01, None, "mm").notes[0].startswith("This cup is not ")


def test_pipe_cups_of_a_tenth_of_a_cubic_foot() -> None:
    # 6 in schedule 40: 6.049 in deep at the average inside diameter 6.031, 5.981 in at 6.065 (outside less least walls).
    average, least = pipe_inside("6")
    assert (average / INCH, least / INCH) == pytest.approx((6.031, 6.065), abs=5e-4)
    assert by_pipe("6", 6.049 * INCH).volume / FT3 == pytest.approx(0.1, abs=2e-5)
    assert by_sizes(least, 5.981 * INCH).volume / FT3 == pytest.approx(0.1, abs=2e-5)
    assert "Measure the pipe" in by_pipe("6", 6.0 * INCH).notes[0]


def test_a_pipe_of_schedule_80_by_hand() -> None:
    # 4 in: outside 4.500, least wall 0.337, tolerance 12 % of it: 4.500 - 2*(0.337 + 0.0202) = 3.7856 in.
    average, least = pipe_inside("4", 80)
    assert (average / INCH, least / INCH) == pytest.approx((3.7856, 3.826), abs=5e-5)


def test_a_thicker_pipe_holds_less() -> None:
    assert by_pipe("4 in", 0.1, 80).volume < by_pipe("4", 0.1).volume
    assert by_pipe("1 1/2", 0.1).volume == by_pipe("1-1/2 in", 0.1).volume


def test_water_in_the_cup() -> None:
    # Worked by hand with the table of water densities: 0.9987 kg at 23 C (997.54 kg/m3) is 1001.2 mL.
    assert by_water(1.1087, 0.11, 273.15 + 23.0).volume * 1e6 == pytest.approx(1001.2, abs=0.05)
    assert by_water(31.150 * POUND, 0.0, 273.15 + 21.111).volume / FT3 == pytest.approx(0.49999, abs=2e-5)


@given(across=st.floats(0.05, 0.4), slender=st.floats(0.8, 1.5), temperature=st.floats(274.0, 312.0))
@settings(max_examples=30)
def test_sizes_and_water_agree_on_one_cup(across: float, slender: float, temperature: float) -> None:
    from formwork.pour.water import water_density  # noqa: PLC0415 - the second route of this test

    cup = by_sizes(across, slender * across)
    water = by_water(cup.volume * water_density(temperature) + 0.2, 0.2, temperature)
    assert water.volume == pytest.approx(cup.volume, rel=1e-12)
    assert 0.0 < water.spread < cup.spread


def test_a_mass_is_told_as_the_scale_shows_it() -> None:
    assert on_scale(0.7111, 0.001, "mm") == "711 g" and on_scale(1.8126, 0.005, "mm") == "1813 g"
    assert on_scale(0.7111, 0.0001, "mm") == "711.1 g"
    assert on_scale(3.9123 * 0.45359237, 0.01 * 0.45359237, "in") == "3.91 lb"
    assert on_scale(3.9123 * 0.45359237, 0.001, "in") == "3.912 lb"


def test_pipes_as_they_are_written() -> None:
    assert (named_pipe("6 in"), named_pipe("4 in schedule 80")) == (("6 in", 40), ("4 in", 80))
    with pytest.raises(RangeError, match="want schedule 40 or 80"):
        named_pipe("4 in schedule thick")


def test_readings_to_look_for() -> None:
    # Cup of a US quart, net grams, worked by hand: 400 378.5; 500 473.2; 600 567.8; 800 757.1; 1000 946.4; 1200 1135.6.
    cup = by_print(946.353e-6)
    printed = {400: 378.5, 500: 473.2, 600: 567.8, 800: 757.1, 1000: 946.4, 1200: 1135.6}
    for density, grams in printed.items():
        assert wanted_net(cup, density) * 1000.0 == pytest.approx(grams, abs=0.06)


def test_spreads_are_those_of_products_and_of_two_readings() -> None:
    cup = by_sizes(0.1, 0.1, ruled=0.001)
    volume = pi / 4.0 * 0.1**3
    assert cup.spread == pytest.approx(volume * (0.02**2 + 0.01**2 + 0.003**2) ** 0.5, rel=1e-12)
    even = [(i - 499.5) / 1000.0 for i in range(1000)]
    variance = sum(x * x for x in even) / 1000.0
    assert weighing_spread(1.0) == pytest.approx((2.0 * variance) ** 0.5, rel=1e-5)


def test_notes_on_small_cups_and_odd_ones() -> None:
    assert any("only 500 mL" in note or "only 0.5 L" in note for note in by_print(0.0005).notes)
    assert any("80 to 150 %" in note for note in by_sizes(0.2, 0.05).notes)
    assert by_sizes(0.12, 0.12).notes == ()


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: by_sizes(6.112, 0.15), "inside diameter of the cup: got 6112 mm"),
        (lambda: by_sizes(0.15, 0.0), "inside depth of the cup: got 0 mm"),
        (lambda: by_pipe("7", 0.1), "got trade size '7', want one of 1/2, 3/4"),
        (lambda: by_pipe("6", 0.1, 20), "schedule of the pipe: got 20, want 40 or 80"),
        (lambda: by_water(0.1, 0.2, 293.0), "want it heavier full than empty"),
        (lambda: by_water(1.2, 0.2, 349.15), "temperature of the water: got 76.0 C (169 F), want 0 to 40 C"),
        (lambda: by_print(5.0), "cup: got 5 m3"),
    ],
)
def test_bad_cups_are_told_so(make, words) -> None:
    with pytest.raises(RangeError) as told:
        make()
    assert words in str(told.value)
