"""Densities taken from published classes: the figures of the documents, and never a promise."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from formwork.errors import RangeError
from formwork.mix.aims import class_named, class_of_conductivity, class_of_strength, classes
from formwork.mix.indicative import CAVEAT

POUND = 16.018463
PSI = 6894.757


@pytest.mark.parametrize(
    ("name", "low", "high", "psi"),
    [
        ("Caltrans I", 24, 29, 10), ("Caltrans II", 30, 35, 40), ("Caltrans III", 36, 41, 80),
        ("Caltrans IV", 42, 49, 120), ("Caltrans V", 50, 79, 160), ("Caltrans VI", 80, 90, 300),
    ],
)  # fmt: skip
def test_caltrans_classes(name: str, low: float, high: float, psi: float) -> None:
    """Caltrans section 19-10 (2013): cast density, lb/ft3, and least strength at 28 days."""
    found = class_named(name)
    assert (found.least / POUND, found.most / POUND) == pytest.approx((low, high))
    assert found.strength[0] / PSI == pytest.approx(psi, rel=1e-6) and found.strength[1] is None
    assert found.least < found.density < found.most


@pytest.mark.parametrize(("name", "most", "psi"), [("Indiana III", 36, 80), ("Indiana IV", 42, 120)])
def test_indiana_classes(name: str, most: float, psi: float) -> None:
    """Indiana DOT 215-R-189 (1996): greatest cast density, lb/ft3, and least strength."""
    found = class_named(name)
    assert found.most / POUND == pytest.approx(most) and found.density < found.most
    assert found.strength[0] / PSI == pytest.approx(psi, rel=1e-6)


def test_the_standard_batch_of_c869() -> None:
    """ASTM C869-91(1999), Table 1: 641 kg/m3 after pumping, 1.4 MPa at least."""
    assert (class_named("C869").density, class_named("C869").strength) == (641.0, (1.4e6, None))


@pytest.mark.parametrize(
    ("name", "dry", "strength"), [("IS A", 1800, 25.0), ("IS B", 1000, 3.5), ("IS C", 600, 1.0)]
)
def test_a_block_makers_table(name: str, dry: float, strength: float) -> None:
    """A block maker's table, which follows IS 2185-4, as read."""
    found = class_named(name)
    assert (found.basis, found.density, found.strength[0]) == ("dry", dry, strength * 1e6)


def test_every_class_says_its_source_and_that_it_is_no_promise() -> None:
    for each in classes():
        assert each.source in each.said() and CAVEAT in each.said()
        assert ("from memory" in each.said()) == (each.certainty == "from memory")


def test_letters_of_any_case_and_a_name_nearly_right() -> None:
    assert class_named("  bca   600 ").name == "BCA 600"
    with pytest.raises(RangeError, match="did you mean 'Caltrans III'"):
        class_named("caltrns iii")


@given(st.floats(1e4, 2.5e7))
def test_the_lightest_class_that_is_strong_enough_was_read(strength: float) -> None:
    found = class_of_strength(strength)
    assert found.strength[0] >= strength and found.certainty == "read"
    lighter = [
        each for each in classes()
        if each.certainty == "read" and each.basis == found.basis and each.density < found.density
    ]  # fmt: skip
    assert all(each.strength[0] < strength for each in lighter)


def test_strengths_by_hand() -> None:
    assert class_of_strength(50 * PSI).name in ("Caltrans III", "Indiana III")  # 80 psi, the first over 50
    assert class_of_strength(203 * PSI).name == "C869"
    assert class_of_strength(3.0e6).name == "IS B"


def test_conductivities_by_hand() -> None:
    """British Cement Association (1994), from memory: 0.10, 0.11, 0.17 to 0.23 W/mK at 400, 600, 800 kg/m3."""
    assert [class_of_conductivity(k).name for k in (0.10, 0.15, 0.23, 0.9)] == [
        "BCA 400",
        "BCA 600",
        "BCA 800",
        "BCA 1600",
    ]


@pytest.mark.parametrize("strength", [0.0, -1.0, float("nan"), 3e7])
def test_strengths_of_no_class(strength: float) -> None:
    with pytest.raises(RangeError, match="no more than 25 MPa"):
        class_of_strength(strength)


@pytest.mark.parametrize("conductivity", [0.0, 0.05, float("nan")])
def test_conductivities_of_no_class(conductivity: float) -> None:
    with pytest.raises(RangeError, match=r"want 0\.1 or more"):
        class_of_conductivity(conductivity)
