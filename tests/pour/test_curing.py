"""Stripping and covering by temperature, weather as typed and as logged, surfaces that sink."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import InputError, RangeError
from formwork.pour.curing import fastest_cooling, frost, heat_and_cold, schedule
from formwork.pour.maturity import Interval
from formwork.pour.settling import settled
from formwork.pour.weather import read_hours, wind
from formwork.units.parse import QuantityError

ZERO = 273.15


def at(celsius: float, hours: float = 1.0) -> tuple[Interval, ...]:
    return (Interval(hours, ZERO + celsius),)


# when to strip and uncover


def test_at_20_c_it_is_one_to_two_days_and_a_week() -> None:
    plan = schedule(at(20.0))
    assert (plan.strip, plan.strip_with_care) == pytest.approx((24.0, 48.0))
    assert plan.uncover == pytest.approx(168.0)


def test_cold_takes_longer_and_heat_is_never_sooner_than_a_day() -> None:
    # At 10 C an hour is worth 0.5475 h at 20 C, at 30 C 1.7553 h (by hand, Q 5000 K).
    assert schedule(at(10.0)).strip == pytest.approx(24.0 / 0.5475, rel=1e-4)
    warm = schedule(at(30.0))
    assert warm.strip == 24.0 and warm.strip_with_care == pytest.approx(48.0 / 1.7553, rel=1e-4)


def test_colder_than_10_c_it_never_counts_as_cured_and_frozen_it_is_never_stripped() -> None:
    assert schedule(at(9.0)).uncover is None
    assert schedule(at(-2.0)).strip is None


def test_ordinary_concrete_has_its_own_time() -> None:
    # ACI 347R-94, as quoted: 12 cumulative hours at 10 C and more. Cellular concrete never takes it.
    nights = [Interval(6.0, ZERO + 15.0), Interval(10.0, ZERO + 4.0), Interval(8.0, ZERO + 15.0)]
    assert schedule(nights, ordinary=True).strip == pytest.approx(22.0)
    cellular = schedule(nights).strip
    assert cellular is not None and cellular >= 24.0


@given(
    degrees=st.lists(st.floats(1.0, 40.0), min_size=1, max_size=30),
    warmer=st.floats(0.0, 10.0),
)
@settings(max_examples=60)
def test_warmer_is_never_later_and_cellular_never_sooner_than_a_day(degrees, warmer) -> None:
    cool = schedule([Interval(3.0, ZERO + each) for each in degrees])
    warm = schedule([Interval(3.0, ZERO + each + warmer) for each in degrees])
    for earlier, later in ((warm.strip, cool.strip), (warm.strip_with_care, cool.strip_with_care)):
        if later is not None:
            assert earlier is not None and 24.0 <= earlier <= later + 1e-9
    if cool.strip is not None and cool.strip_with_care is not None:
        assert cool.strip <= cool.strip_with_care + 1e-9


def test_what_was_recorded_counts_first_then_the_last_day_goes_on() -> None:
    record = [Interval(1.0, ZERO + 20.0)] * 20 + [Interval(1.0, ZERO + 10.0)] * 24
    plan = schedule(record)
    assert plan.recorded == 44.0 and plan.equivalent == pytest.approx(20.0 + 24.0 * 0.5475, rel=1e-4)
    assert plan.strip == pytest.approx(20.0 + 4.0 / 0.5475, rel=1e-4)
    assert plan.strip_with_care == pytest.approx(44.0 + (48.0 - 20.0 - 24.0 * 0.54748) / 0.54748, rel=1e-4)


def test_frost_in_the_first_three_days_is_found() -> None:
    assert frost([*at(5.0, 10.0), *at(-1.0)]) == 10.0
    assert frost([*at(5.0, 72.0), *at(-1.0)]) is None


def test_cooling_is_the_greatest_fall() -> None:
    record = [Interval(0.5, ZERO + degrees) for degrees in (20, 21, 18, 17, 19, 12)]
    assert fastest_cooling(record) == pytest.approx((7.0, 9.0))
    assert fastest_cooling(at(20.0)) == (0.0, 0.0)


def test_heat_and_cold() -> None:
    assert heat_and_cold(ZERO + 20.0, ZERO + 22.0, "mm") == ()
    assert "hotter than 95 F" in heat_and_cold(ZERO + 34.0, ZERO + 36.0, "in")[0]
    cold = " ".join(heat_and_cold(ZERO + 2.0, ZERO + 12.0, "mm"))
    assert "nothing is poured below 5 C" in cold and "UFGS" in cold and "3 days" in cold
    assert "UFGS" not in " ".join(heat_and_cold(ZERO + 4.5, ZERO + 12.0, "mm"))


def test_no_temperatures_is_told() -> None:
    with pytest.raises(RangeError, match="temperatures: got none"):
        schedule([])


# weather as typed and as logged


@pytest.mark.parametrize(
    ("text", "speed"),
    [
        ("12 mph", 5.36448),
        ("18 km/h", 5.0),
        ("5 m/s", 5.0),
        ("0", 0.0),
        ("10 kn", 5.14444),
        ("7 1/2 mph", 3.3528),
    ],
)
def test_winds(text: str, speed: float) -> None:
    assert wind(text) == pytest.approx(speed, rel=1e-5)


@pytest.mark.parametrize("text", ["", "strong", "12", "12 furlongs", "1/0 mph", "9" * 100])
def test_winds_that_cannot_be_read(text: str) -> None:
    with pytest.raises(QuantityError, match="a wind such as"):
        wind(text)


def logged(tmp_path, text: str):
    path = tmp_path / "hours.csv"
    path.write_text(text, encoding="utf-8")
    return read_hours(path)


def test_a_logger_in_fahrenheit_with_lines_before_its_headings(tmp_path) -> None:
    record = logged(
        tmp_path,
        "Serial 1234\n\nDate Time,Humidity %,Temperature (°F)\n2026-11-25 14:00,50,68\n2026-11-25 15:00,51,77\n"
        "2026-11-25T17:00,50,77\n",
    )
    assert [each.hours for each in record] == pytest.approx([1.0, 2.0])
    assert [each.temperature - ZERO for each in record] == pytest.approx([22.5, 25.0])


def test_a_logger_with_semicolons_and_decimal_commas(tmp_path) -> None:
    record = logged(tmp_path, "\ufeffZeit;Temp °C\n25.11.2026 14:00;20,5\n25.11.2026 14:30;21,5\n")
    assert (record[0].hours, record[0].temperature - ZERO) == pytest.approx((0.5, 21.0))


def test_hours_as_numbers(tmp_path) -> None:
    assert logged(tmp_path, "hours\ttemperature C\n0\t20\n12\t20\n24\t30\n") == (
        Interval(12.0, ZERO + 20.0),
        Interval(12.0, ZERO + 25.0),
    )


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "want headings of a time and a temperature"),
        ("a,b\n1,2\n", "want headings of a time and a temperature"),
        ("time,temperature\n0,20\n", ':1: got a heading "temperature", want C or F in it'),
        ("time,temperature C\n0,20\n", "got 1 rows of temperatures, want at least two"),
        ("time,temperature C\n0,20\n1,warm\n", ':3: got "warm", want a temperature'),
        ("time,temperature C\n0,20\n1\n", ":3: got 1 columns"),
        ("time,temperature C\n1,20\n1,21\n", ":3: got a time that is not after the one before it"),
        ("time,temperature C\n11/25/2026 14:00,20\n", "day and month are told apart only in these"),
        ("time,temperature C\nnoon,20\n", ':2: got "noon", want a time'),
        ("time,temperature C\n0,900\n", ":2: got 900 C, want a temperature between"),
        ('time,temperature C\n0,"20\n', "want a CSV file"),
    ],
)
def test_records_that_are_wrong_name_their_line(tmp_path, text, words) -> None:
    with pytest.raises(InputError) as told:
        logged(tmp_path, text)
    assert words in str(told.value)


def test_files_that_cannot_be_read(tmp_path) -> None:
    with pytest.raises(InputError, match="no such file"):
        read_hours(tmp_path / "none.csv")
    (tmp_path / "latin.csv").write_bytes("time,temp °C\n".encode("latin-1"))
    with pytest.raises(InputError, match="UTF-8"):
        read_hours(tmp_path / "latin.csv")


# surfaces that sink


def test_600_to_650_is_a_drop_of_7_7_percent() -> None:
    found = settled(0.0769231, 1.0, 600.0)
    assert found.density == pytest.approx(650.0, abs=0.01) and found.verdict == "stop"


@given(drop=st.floats(0.0, 0.9), depth=st.floats(0.95, 3.0), density=st.floats(200.0, 1800.0))
@settings(max_examples=40)
def test_the_mass_in_the_mold_stays(drop, depth, density) -> None:
    found = settled(drop, depth, density)
    assert found.density is not None
    assert found.density * (depth - drop) == pytest.approx(density * depth, rel=1e-9)


def test_limits_of_sinking() -> None:
    assert [settled(drop, 1.0).verdict for drop in (0.0, 0.03, 0.031, 0.05, 0.051)] == [
        "go on", "go on", "watch", "watch", "stop",
    ]  # fmt: skip
    assert settled(0.01, 1.0).density is None


@pytest.mark.parametrize(("drop", "depth"), [(0.3, 0.3), (-0.01, 0.3), (0.0, 0.0), (0.1, 50.0)])
def test_surfaces_that_cannot_be(drop: float, depth: float) -> None:
    with pytest.raises(RangeError):
        settled(drop, depth)
