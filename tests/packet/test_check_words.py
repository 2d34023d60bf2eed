"""What is said of a check where load and limit would mislead; the JSON keeps its figures."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.checks.check import Check
from formwork.packet.check_words import load_and_limit
from formwork.packet.document import document
from formwork.packet.sections import sections
from formwork.plan import Plan, plan
from formwork.project.read import read_project

EXAMPLES = Path(__file__).parents[2] / "examples"
CAVITY = Check("cavity against piece", "slab mold", 2e-13, 1.2e-8, "m3", True, "two routes", ())
COMES_OFF = Check("comes off in order", "slab mold", 0.0, 0.0, "locked groups", True, "swept", ())
DRAFT = Check("draft of core", "slab mold", 2.0, 3.0, "deg", True, "common practice", ())


@cache
def planter() -> Plan:
    return plan(read_project(EXAMPLES / "tapered-planter.toml"))


def test_a_least_value_is_called_so_and_has_no_percent_of_a_limit():
    assert load_and_limit(DRAFT, "mm") == ("has 3 deg", "least 2 deg", "")


def test_a_mold_that_closes_says_within_what():
    """1.2e-8 m3 = 0.012 mL = 0.00073 in3 (1 in = 25.4 mm), each rounded up to its first digit."""
    assert load_and_limit(CAVITY, "mm") == ("closes to within 0.02 mL", "", "")
    assert load_and_limit(CAVITY, "in") == ("closes to within 0.0008 in3", "", "")


def test_a_mold_that_does_not_close_says_how_far_off_or_that_it_leaks():
    off = replace(CAVITY, demand=0.001, ok=False)
    assert load_and_limit(off, "mm") == ("off by 1 L", "", "")
    assert load_and_limit(replace(CAVITY, ok=False), "mm") == ("leaks", "", "")


def test_a_mold_that_comes_off_says_yes_and_a_locked_one_how_many():
    assert load_and_limit(COMES_OFF, "mm") == ("yes", "", "")
    locked = replace(COMES_OFF, demand=2.0, ok=False)
    assert load_and_limit(locked, "mm") == ("no: 2 parts locked", "", "")


@settings(max_examples=80, deadline=None)
@given(st.floats(1e-12, 1e-4), st.sampled_from(["mm", "in"]))
def test_what_it_closes_within_is_never_less_than_the_limit(limit, units):
    told = load_and_limit(replace(CAVITY, capacity=limit), units)[0]
    number, unit = told.removeprefix("closes to within ").split(" ")
    value = float(number.replace(",", "")) * {"mL": 1e-6, "in3": 0.0254**3}[unit]
    assert limit * (1 - 1e-6) <= value <= 2.0 * limit * (1 + 1e-6)


def test_of_an_example_these_three_are_in_words_and_no_other():
    made = planter()
    rows = next(one for one in sections(made) if one.name == "checks").blocks[0].rows
    words = {row[0]: row[1] for row in rows if not row[3]}
    assert list(words) == ["cavity against piece", "comes off in order", "draft of core"]
    assert words["comes off in order"] == "yes" and words["cavity against piece"].startswith("closes to")


def test_the_json_keeps_figures(make_plan):
    told = document(make_plan(checks=(CAVITY, COMES_OFF, DRAFT)))["checks"]
    assert [(one["demand"], one["capacity"]) for one in told] == [(2e-13, 1.2e-8), (0.0, 0.0), (2.0, 3.0)]
