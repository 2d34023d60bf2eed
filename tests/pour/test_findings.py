"""What the log tells, the line of dry against wet, and the drawn chart."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import numpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from formwork.errors import RangeError
from formwork.pour import findings
from formwork.pour.control import chart
from formwork.pour.control_chart import Words, to_svg, to_text
from formwork.pour.fit import fit, t_quantile
from formwork.pour.log.entries import correct_entry, current, enter, strike
from formwork.pour.log.file import create, opened

AT = "2026-11-25T14:00:00"
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def log(tmp_path: Path):
    create(tmp_path / "log.db")
    with opened(tmp_path / "log.db", write=True) as log:
        enter(log, "pour", {"title": "p", "wet_density_kg_m3": 600.0}, AT)
        yield log


def batch(log, density: float, **more: float) -> int:
    made = enter(log, "batch", {"cement_kg": 25.0, "water_kg": 12.5, "foam_m3": 0.051193, **more}, AT)
    enter(log, "reading", {"gross_kg": density / 1000.0, "cup_m3": 0.001}, AT)
    return made.number


# yields and foam


def test_relative_yield_is_yield_over_plan(log) -> None:
    # ASTM C138: yield = mass/density. 25 + 12.5 + 50*0.051193 = 40.0597 kg at 600 kg/m3: 66.766 L, worked by hand.
    batch(log, 600.0, planned_m3=0.065)
    found = findings.batches(log, current(log, 1))[0]
    assert found.mass == pytest.approx(40.05965, rel=1e-9)
    assert found.made == pytest.approx(0.066766, abs=5e-7)
    assert found.relative_yield == pytest.approx(0.066766 / 0.065, rel=1e-5)


def test_what_was_added_counts_and_the_last_reading_holds(log) -> None:
    number = batch(log, 650.0)
    enter(log, "added", {"foam_m3": 0.01}, AT, belongs=number)
    enter(log, "reading", {"gross_kg": 0.6, "cup_m3": 0.001}, AT)
    enter(log, "reading", {"gross_kg": 0.05, "cup_m3": 0.001, "what": "foam"}, AT)
    found = findings.batches(log, current(log, 1))[0]
    assert found.mass == pytest.approx(40.05965 + 0.5) and len(found.readings) == 2
    assert found.made == pytest.approx(found.mass / 600.0) and found.relative_yield is None


def test_the_days_survival_is_learnt_from_first_readings(log) -> None:
    # 25 kg of cement, wc 0.5, 51.193 L of foam at 50 kg/m3 to 600 kg/m3: 90 % of the air stayed (worked by hand).
    for density in (600.0, 600.0):
        number = batch(log, density)
        enter(log, "added", {"foam_m3": 0.01}, AT, belongs=number)
        enter(log, "reading", {"gross_kg": 0.5, "cup_m3": 0.001}, AT)
    learnt = findings.survival(log, current(log, 1))
    assert learnt is not None and learnt.count == 2
    assert learnt.mean == pytest.approx(0.90, abs=2e-5) and learnt.spread == pytest.approx(0.0, abs=1e-9)


def test_the_next_batch_takes_the_foam_of_the_days_survival(log) -> None:
    # 25 kg of cement, wc 0.5, foam of 50 kg/m3, to 600 kg/m3: at 0.95 it takes 48.395 L, at 0.90 51.193 (by hand).
    number = batch(log, 600.0)
    for survival, litres in ((0.95, 48.395), (0.90, 51.193), (1.0, 45.887)):
        assert findings.next_foam(current(log, 1), current(log, number), survival) * 1e3 == pytest.approx(
            litres, abs=1e-3
        )


def test_all_else_has_its_place_in_the_slurry(log) -> None:
    """Fume of a tenth of the cement, specific gravity 2.2: the survival that its batch was made with is found again."""
    pour = enter(log, "pour", {"title": "p", "wet_density_kg_m3": 600.0, "other_gravity": 2.2}, AT)
    mass, volume = 27.5 + 12.5, 25.0 / 3150.0 + 2.5 / 2200.0 + 0.0125
    foam = 0.05
    made = volume + (0.9 * 0.95 + 0.05) * foam
    enter(log, "batch", {"cement_kg": 25.0, "water_kg": 12.5, "other_kg": 2.5, "foam_m3": foam}, AT)
    enter(log, "reading", {"gross_kg": (mass + 50.0 * foam) / made / 1000.0, "cup_m3": 0.001}, AT)
    learnt = findings.survival(log, pour)
    assert learnt is not None and learnt.mean == pytest.approx(0.9, rel=1e-9)
    assert findings.batches(log, pour)[0].mass == pytest.approx(42.5)


def test_without_foam_or_reading_there_is_nothing_to_learn(log) -> None:
    batch(log, 1800.0, foam_m3=0.0)
    enter(log, "batch", {"cement_kg": 25.0, "water_kg": 12.5, "foam_m3": 0.05}, AT)
    assert findings.survival(log, current(log, 1)) is None


# the values of the chart


def test_the_chart_takes_the_newest_batches_of_the_density_wanted(log) -> None:
    early = [batch(log, 600.0 + i) for i in range(4)]
    enter(log, "pour", {"title": "dense", "wet_density_kg_m3": 1000.0}, AT)
    other = batch(log, 1010.0)
    enter(log, "pour", {"title": "again", "wet_density_kg_m3": 600.0}, AT)
    late = [batch(log, 620.0 + i) for i in range(2)]
    values = findings.series(log, 600.0, 5)
    assert [value.batch for value in values] == [*early[1:], *late]
    assert [value.density for value in values] == pytest.approx([601.0, 602.0, 603.0, 620.0, 621.0])
    assert [value.batch for value in findings.series(log, 1000.0, 5)] == [other]


def test_first_and_last_readings_corrections_and_struck_batches(log) -> None:
    number = batch(log, 650.0)
    enter(log, "reading", {"gross_kg": 0.6, "cup_m3": 0.001}, AT)
    assert findings.series(log, 600.0, 9)[0].density == pytest.approx(650.0)
    assert findings.series(log, 600.0, 9, "last")[0].density == pytest.approx(600.0)
    correct_entry(log, number + 1, {"gross_kg": 0.64}, AT)
    assert findings.series(log, 600.0, 9)[0].density == pytest.approx(640.0)
    strike(log, number, AT, "never mixed")
    assert findings.series(log, 600.0, 9) == ()


def test_pieces_stand_against_the_last_reading_of_their_batch(log) -> None:
    number = batch(log, 650.0)
    enter(log, "reading", {"gross_kg": 0.6, "cup_m3": 0.001}, AT)
    for state, mass in (("oven-dry", 4.7), ("air-dry", 5.0)):
        enter(
            log,
            "piece",
            {"name": "a", "state": state, "mass_kg": mass, "volume_m3": 0.01},
            AT,
            belongs=number,
        )
    assert findings.dry_against_wet(log, "oven-dry") == (pytest.approx((600.0, 470.0)),)


# the line


@given(
    points=st.lists(
        st.tuples(st.floats(300.0, 1600.0), st.floats(200.0, 1500.0)), min_size=4, max_size=30
    ).filter(lambda points: all(max(each) - min(each) > 50.0 for each in zip(*points, strict=True)))
)
@settings(max_examples=40)
def test_the_line_is_scipys_and_its_errors_are_numpys(points) -> None:
    # scipy's own errors come from 1 - r^2, which loses its digits where the points lie nearly on the line.
    line, other = fit(points), stats.linregress(*zip(*points, strict=True))
    assert (line.slope, line.intercept) == pytest.approx((other.slope, other.intercept), rel=1e-6, abs=1e-6)
    x, y = numpy.array(points).T
    inverse = numpy.linalg.pinv(numpy.stack([numpy.ones_like(x), x], axis=1))
    intercept, slope = inverse @ y
    scatter = numpy.linalg.norm(y - intercept - slope * x) / numpy.sqrt(len(points) - 2)
    errors = scatter * numpy.linalg.norm(inverse, axis=1)
    # What is left of points that lie on the line is rounding: a millionth of their own size.
    rounding = 1e-6 * float(numpy.abs(y).max())
    assert line.intercept_error == pytest.approx(errors[0], rel=1e-6, abs=rounding)
    assert line.slope_error == pytest.approx(errors[1], rel=1e-6, abs=rounding / float(x.max() - x.min()))


def test_the_interval_of_the_next_piece_by_numpy() -> None:
    points = [(480.0, 372.0), (560.0, 441.0), (600.0, 465.0), (640.0, 506.0), (800.0, 640.0)]
    x, y = numpy.array(points).T
    design = numpy.stack([numpy.ones_like(x), x], axis=1)
    beta, (rest,), *_ = numpy.linalg.lstsq(design, y, rcond=None)
    row = numpy.array([1.0, 700.0])
    variance = rest / 3.0 * (1.0 + row @ numpy.linalg.inv(design.T @ design) @ row)
    line = fit(points)
    assert line.at(700.0) == pytest.approx(row @ beta)
    assert line.doubt(700.0) == pytest.approx(stats.t.ppf(0.975, 3) * variance**0.5)


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 10, 29, 30, 200])
@pytest.mark.parametrize("share", [0.5, 0.75, 0.975, 0.995])
def test_quantiles_of_t_are_scipys(share: float, freedom: int) -> None:
    assert t_quantile(share, freedom) == pytest.approx(stats.t.ppf(share, freedom), rel=1e-8, abs=1e-8)


def test_lines_that_cannot_be() -> None:
    with pytest.raises(RangeError, match="got 3 pieces, want 4 or more"):
        fit([(1.0, 1.0), (2.0, 2.0), (3.0, 3.0)])
    with pytest.raises(RangeError, match="got one wet density only"):
        fit([(600.0, 470.0 + i) for i in range(5)])
    with pytest.raises(RangeError, match="t distribution"):
        t_quantile(1.0, 3)


# the drawing


WORDS = Words("Densities <of> a & b", tuple(str(i) for i in range(13)), "kg/m3", lambda x: f"{x:.0f}", 600.0)
STEADY = [600.0, 604.0] * 6 + [660.0]


def test_the_picture_has_every_value_and_every_limit_where_it_belongs() -> None:
    made = chart(STEADY)
    root = ElementTree.fromstring(to_svg(made, WORDS))
    circles = root.findall(f"{SVG}circle")
    assert len(circles) == len(made.values) + len(made.ranges)
    lines = [float(line.get("y1", "")) for line in root.findall(f"{SVG}line")]
    upper, mean, wanted, lower = lines[:4]
    spots = [float(circle.get("cy", "")) for circle in circles[: len(made.values)]]
    scale = (mean - upper) / (made.upper - made.mean)
    assert lower - mean == pytest.approx(mean - upper, abs=0.02)
    assert mean - wanted == pytest.approx((600.0 - made.mean) * scale, abs=0.03)
    for spot, value in zip(spots, made.values, strict=True):
        assert mean - spot == pytest.approx((value - made.mean) * scale, abs=0.03)
    red = [i for i, circle in enumerate(circles[: len(made.values)]) if circle.get("fill") == "#c00000"]
    assert red == sorted({signal.at for signal in made.signals if not signal.of_range}) and 12 in red
    beside = [text for text in root.findall(f"{SVG}text") if float(text.get("x", "")) > 790.0]
    heights = sorted(float(text.get("y", "")) for text in beside)
    assert len(beside) == 6 and all(later - sooner > 11.9 for sooner, later in pairwise(heights))
    assert "Densities <of> a & b" in [text.text for text in root.findall(f"{SVG}text")]
    assert to_svg(made, WORDS) == to_svg(made, WORDS)


def test_the_chart_in_letters() -> None:
    made = chart(STEADY)
    drawn = to_text(made, WORDS).splitlines()
    assert drawn[0] == "Densities <of> a & b (kg/m3)"
    marks = [line.split("|", 1)[1] for line in drawn[1:]]
    assert sum(mark.count("o") + mark.count("X") for mark in marks) == len(made.values)
    top = next(mark for mark in marks if "X" in mark)
    assert top.index("X") == 24
    assert next(line for line in drawn[1:] if not line.startswith(" ")).startswith("wanted 600 |o...o")
    assert any("mean" in line and "=" in line for line in drawn)


def test_of_many_values_the_letters_show_the_last() -> None:
    made = chart([600.0, 604.0] * 40 + [700.0])
    drawn = to_text(made, WORDS).splitlines()
    assert drawn[0].endswith("the last 36 drawn") and max(len(line) for line in drawn) < 100
    assert next(line for line in drawn if "X" in line).split("|")[1].index("X") == 2 * 35


def test_equal_values_are_drawn_too() -> None:
    made = chart([600.0] * 6)
    words = Words("x", ("a",) * 6, "kg/m3", lambda x: f"{x:.0f}")
    assert to_text(made, words).count("o") == 6
    ElementTree.fromstring(to_svg(made, words))
