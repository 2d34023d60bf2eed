"""Least radii of cold bent sheets.

References: American Plywood Association, bending radii as read in a construction magazine's answer on curving plywood
forms; Federal Aviation Administration, Advisory Circular AC 43.13-1B, table of least bend radii of aircraft plywood at
10 % moisture, as read in a reprint.
"""

from __future__ import annotations

import pytest

from formwork.strength.bending import Bend, Way, published, tension
from formwork.strength.customary import FOOT, INCH
from formwork.strength.working import Unjudged

APA = [(1 / 4, 2, 5), (5 / 16, 2, 6), (3 / 8, 3, 8), (1 / 2, 6, 12), (5 / 8, 8, 16), (3 / 4, 12, 20)]
FAA = [(0.070, 5.2, 3.2), (0.100, 8.6, 5.2), (0.125, 12.0, 7.1), (0.250, 31.0, 20.0), (0.375, 54.0, 36.0)]


def radius(material: str, thickness: float, way: Way) -> float:
    found = published(material, thickness, way)
    assert isinstance(found, Bend)
    return found.radius


@pytest.mark.parametrize(("inches", "across", "along"), APA)
def test_apa(inches: float, across: float, along: float) -> None:
    assert radius("plywood", inches * INCH, "across") == pytest.approx(across * FOOT)
    assert radius("plywood", inches * INCH, "along") == pytest.approx(along * FOOT)


@pytest.mark.parametrize(("inches", "along", "across"), FAA)
def test_faa(inches: float, along: float, across: float) -> None:
    assert radius("birch plywood", inches * INCH, "along") == pytest.approx(along * INCH)
    assert radius("birch plywood", inches * INCH, "across") == pytest.approx(across * INCH)


def test_between_two_rows_the_thicker_one_holds_and_beyond_the_last_none() -> None:
    assert radius("plywood", 0.40 * INCH, "across") == pytest.approx(6 * FOOT)
    assert radius("plywood", 0.10 * INCH, "across") == pytest.approx(2 * FOOT)
    assert isinstance(published("plywood", 1.0 * INCH, "across"), Unjudged)
    assert isinstance(published("birch plywood", 0.5 * INCH, "across"), Unjudged)


@pytest.mark.parametrize(
    "material", ["hardboard", "bending plywood", "plastic sheet", "MDF", "overlaid plywood"]
)
def test_what_nobody_published_is_not_guessed(material: str) -> None:
    found = published(material, 0.003, "across")
    assert isinstance(found, Unjudged) and "bend_radius" in found.why


def test_tension_of_a_skin_is_known_of_plywood_and_steel_only() -> None:
    assert not isinstance(tension("birch plywood"), Unjudged)
    assert isinstance(tension("hardboard"), Unjudged)
    assert isinstance(tension("bending plywood"), Unjudged)
