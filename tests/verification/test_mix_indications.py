"""Published strengths, conductivity and shrinkage by density.

Read: ASTM C869-91(1999), Table 1 (least compressive strength 200 psi, 1.4 MPa, at 40 lb/ft3 wet); Caltrans section
19-10, Cellular Concrete (2013), classes I to VI; Indiana DOT 215-R-189 (1996), classes III and IV, which prints "552
MPa / 827 MPa" for what is 80 and 120 psi, that is kPa; abstract of the British Cement Association's "Foamed concrete:
composition and properties" (1994): 400 to 1600 kg/m3 dry, 7-day strengths of about 1 to 10 N/mm2.

From memory: the inner table of that publication; Valore's conductivity in ACI 122R-02.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from formwork.errors import RangeError
from formwork.mix.cellular import design
from formwork.mix.indicative import CAVEAT, Indication, conductivity, strength_indications
from formwork.mix.ordinary import design_ordinary
from formwork.mix.records import CellularWanted, Cement, Foam, OrdinaryWanted
from formwork.mix.shrinkage import shrinkage

CEMENT = Cement("portland", 3.15, 42.638)
FOAM = Foam(45.0, 1.0, 40.0)


def indications(pounds: float, sand: float = 0.0) -> tuple[Indication, ...]:
    return strength_indications(design(CellularWanted(pounds * 16.018463, None, 0.5, sand), CEMENT, FOAM))


def least(pounds: float, document: str) -> list[float]:
    return [one.low for one in indications(pounds) if one.source.startswith(document)]


# class bounds lb/ft3, least psi, MPa worked from psi
CALTRANS = [
    (24, 29, 0.069),
    (30, 35, 0.276),
    (36, 41, 0.552),
    (42, 49, 0.827),
    (50, 79, 1.103),
    (80, 90, 2.068),
]


@pytest.mark.parametrize(("lightest", "heaviest", "mpa"), CALTRANS)
def test_caltrans_classes(lightest: int, heaviest: int, mpa: float) -> None:
    for pounds in (lightest, heaviest):
        assert least(float(pounds), "Caltrans") == [pytest.approx(mpa * 1e6, abs=510.0)]


def test_no_class_outside_the_table() -> None:
    assert least(22.0, "Caltrans") == []
    assert least(92.0, "Caltrans") == []


@pytest.mark.parametrize(("pounds", "kpa"), [(36.0, 552.0), (42.0, 827.0)])
def test_indiana_classes_in_kilopascals(pounds: float, kpa: float) -> None:
    assert least(pounds, "Indiana") == [pytest.approx(kpa * 1e3, abs=500.0)]
    assert least(pounds + 2.0, "Indiana") == []


def test_c869_speaks_of_its_own_batch_only() -> None:
    assert least(40.0, "ASTM C869") == [
        pytest.approx(200.0 * 6894.757, rel=0.02)
    ]  # printed as 200 psi (1.4 MPa)
    assert least(50.0, "ASTM C869") == []
    assert not any(one.source.startswith("ASTM") for one in indications(40.0, sand=0.3))


# dry density, 7-day N/mm2, shrinkage %: from memory
ASSOCIATION = [
    (400.0, (0.5, 1.0), (0.30, 0.35)),
    (600.0, (1.0, 1.5), (0.22, 0.25)),
    (800.0, (1.5, 2.0), (0.20, 0.22)),
    (1000.0, (2.5, 3.0), (0.15, 0.18)),
    (1200.0, (4.5, 5.5), (0.09, 0.11)),
    (1400.0, (6.0, 8.0), (0.07, 0.09)),
    (1600.0, (7.5, 10.0), (0.06, 0.07)),
]


@pytest.mark.parametrize(("dry", "strength", "percent"), ASSOCIATION)
def test_association_table_from_memory(
    dry: float, strength: tuple[float, float], percent: tuple[float, float]
) -> None:
    assert shrinkage(dry) == pytest.approx((percent[0] / 100.0, percent[1] / 100.0), rel=1e-12)
    mix = design(CellularWanted(None, dry, 0.5, 2.0 if dry >= 800.0 else 0.0), CEMENT, FOAM)
    [one] = [one for one in strength_indications(mix) if one.certainty == "from memory"]
    assert (one.low, one.high) == pytest.approx((strength[0] * 1e6, strength[1] * 1e6), rel=1e-9)


def test_association_ends_agree_with_its_abstract() -> None:
    # the abstract, read: "approximately 1 to 10 N/mm2" for 400 to 1600 kg/m3
    for dry, sand, newtons in ((400.0, 0.0, 1.0), (1600.0, 2.0, 10.0)):
        mix = design(CellularWanted(None, dry, 0.5, sand), CEMENT, FOAM)
        assert strength_indications(mix)[-1].high == pytest.approx(newtons * 1e6, rel=1e-9)


def test_denser_shrinks_less() -> None:
    steps = [shrinkage(400.0 + 10.0 * step) for step in range(121)]
    assert all(b[0] <= a[0] and b[1] <= a[1] for a, b in pairwise(steps))
    assert all(low <= high for low, high in steps)


@pytest.mark.parametrize("dry", [399.0, 1601.0, float("nan")])
def test_shrinkage_is_not_guessed_outside_its_table(dry: float) -> None:
    with pytest.raises(RangeError, match="400 to 1600"):
        shrinkage(dry)


# Valore, oven-dry kg/m3 -> W/mK, worked from the equation (from memory) by hand
VALORE = [
    (400.0, 0.1187),
    (500.0, 0.1345),
    (600.0, 0.1524),
    (800.0, 0.1957),
    (1000.0, 0.2513),
    (1200.0, 0.3227),
    (1600.0, 0.5320),
]


@pytest.mark.parametrize(("dry", "printed"), VALORE)
def test_conductivity(dry: float, printed: float) -> None:
    assert conductivity(dry) == pytest.approx(printed, abs=5.1e-5)


@pytest.mark.parametrize(("pounds", "us"), [(20, 0.746), (30, 0.911), (50, 1.359), (80, 2.477), (99, 3.621)])
def test_conductivity_agrees_with_its_us_form(pounds: int, us: float) -> None:
    # 0.5*exp(0.02*w) Btu in/(h ft2 F), w in lb/ft3; times 0.14423 for W/mK; the SI form has rounded constants
    assert conductivity(pounds * 16.018463) == pytest.approx(us * 0.14423, rel=3e-3)


def test_conductivity_is_not_guessed_outside_its_limits() -> None:
    assert conductivity(320.0) < conductivity(1600.0)
    for dry in (319.0, 1601.0):
        with pytest.raises(RangeError):
            conductivity(dry)


def test_every_indication_carries_source_and_caveat() -> None:
    for pounds in (24.0, 36.0, 40.0, 60.0, 90.0):
        found = indications(pounds)
        assert found
        for one in found:
            assert one.source in str(one)
            assert CAVEAT in str(one)
            assert ("from memory" in str(one)) == (one.certainty == "from memory")


def test_an_indication_reads_as_its_document_says_it() -> None:
    band = Indication("7-day compressive strength", 0.5e6, 1.0e6, "Pa", "a table", "from memory")
    assert str(band) == f"7-day compressive strength: 0.50 to 1.00 MPa (a table; from memory; {CAVEAT})"
    least_value = Indication("conductivity", 0.1, None, "W/mK", "a page", "read")
    assert str(least_value) == f"conductivity: 0.10 W/(m K) or more (a page; {CAVEAT})"


def test_nothing_is_said_of_ordinary_concrete() -> None:
    assert strength_indications(design_ordinary(OrdinaryWanted(2350.0, 1.0, 0.5, 2.0, 3.0), CEMENT)) == ()
