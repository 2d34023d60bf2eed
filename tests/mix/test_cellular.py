"""Properties of the cellular mix: it balances, it answers the way the material does, and it refuses what cannot be."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import InternalError, RangeError
from formwork.mix import cellular
from formwork.mix.cellular import design
from formwork.mix.records import CellularWanted, Cement, Foam, Mix

CEMENT = Cement("portland", 3.15, 42.6)
FOAM = Foam(50.0, 0.95, 40.0)


@st.composite
def asked(draw: st.DrawFn) -> tuple[CellularWanted, Cement, Foam]:
    """A mix that exists: a wet density well above the foam's and under the slurry's."""
    ratio = draw(st.floats(0.25, 1.2))
    sand, ash = draw(st.sampled_from([(0.0, 0.0), (1.0, 0.0), (0.7, 0.3), (0.0, 0.5), (3.0, 0.0)]))
    cement = Cement("portland", draw(st.floats(2.8, 3.2)), 25.0)
    foam = Foam(draw(st.floats(25.0, 100.0)), draw(st.floats(0.6, 1.0)), 40.0)
    slurry = (1.0 + ratio + sand + ash) / (1.0 / cement.gravity + ratio + sand / 2.65 + ash / 2.2) * 1000.0
    least = 2.0 * foam.density / foam.survival
    wet = least + draw(st.floats(0.0, 0.99)) * (slurry - least)
    return CellularWanted(wet, None, ratio, sand, ash), cement, foam


@settings(max_examples=150, deadline=None)
@given(asked())
def test_masses_add_up_to_the_wet_density(case: tuple[CellularWanted, Cement, Foam]) -> None:
    wanted, cement, foam = case
    mix = design(wanted, cement, foam)
    mass = mix.cement + mix.water + mix.sand + mix.ash + mix.gravel + mix.foam_mass
    assert mass == pytest.approx(wanted.wet_density, rel=1e-9)
    assert mix.foam_mass == pytest.approx(foam.density * mix.foam_volume, rel=1e-12)


@settings(max_examples=150, deadline=None)
@given(asked())
def test_volumes_add_up_to_one_cubic_metre(case: tuple[CellularWanted, Cement, Foam]) -> None:
    wanted, cement, foam = case
    mix = design(wanted, cement, foam)
    solids = mix.cement / cement.gravity + mix.sand / wanted.sand_gravity + mix.ash / wanted.ash_gravity
    liquid = mix.water + mix.foam_mass
    assert (solids + liquid) / 1000.0 + mix.air == pytest.approx(1.0, rel=1e-9)
    put_in = mix.foam_volume - mix.foam_mass / 1000.0
    assert mix.air == pytest.approx(foam.survival * put_in, rel=1e-9, abs=1e-12)


@settings(max_examples=100, deadline=None)
@given(asked())
def test_air_is_the_gravimetric_air_of_the_densities(case: tuple[CellularWanted, Cement, Foam]) -> None:
    wanted, cement, foam = case
    mix = design(wanted, cement, foam)
    solids = mix.cement / cement.gravity + mix.sand / wanted.sand_gravity + mix.ash / wanted.ash_gravity
    airless = mix.wet_density / ((solids + mix.water + mix.foam_mass) / 1000.0)
    assert mix.air == pytest.approx((airless - mix.wet_density) / airless, rel=1e-9, abs=1e-12)


@settings(max_examples=100, deadline=None)
@given(asked())
def test_asking_for_the_dry_density_comes_back_to_the_wet_one(
    case: tuple[CellularWanted, Cement, Foam],
) -> None:
    wanted, cement, foam = case
    by_wet = design(wanted, cement, foam)
    by_dry = design(replace(wanted, wet_density=None, dry_density=by_wet.dry_density), cement, foam)
    assert by_dry.wet_density == pytest.approx(by_wet.wet_density, rel=1e-9)
    assert by_dry.cement == pytest.approx(by_wet.cement, rel=1e-9)
    assert by_dry.foam_volume == pytest.approx(by_wet.foam_volume, rel=1e-9, abs=1e-12)


@settings(max_examples=80, deadline=None)
@given(asked(), st.floats(0.90, 0.999))
def test_lighter_takes_more_foam_and_less_cement(
    case: tuple[CellularWanted, Cement, Foam], less: float
) -> None:
    wanted, cement, foam = case
    least = 1.6 * foam.density
    lighter = least + less * ((wanted.wet_density or 0.0) - least)
    heavy, light = design(wanted, cement, foam), design(replace(wanted, wet_density=lighter), cement, foam)
    assert light.foam_volume > heavy.foam_volume
    assert light.cement < heavy.cement
    assert light.dry_density < heavy.dry_density


@settings(max_examples=80, deadline=None)
@given(asked(), st.floats(0.90, 0.99))
def test_more_loss_takes_more_foam(case: tuple[CellularWanted, Cement, Foam], kept: float) -> None:
    wanted, cement, foam = case
    good, poor = (
        design(wanted, cement, foam),
        design(wanted, cement, replace(foam, survival=foam.survival * kept)),
    )
    assert poor.foam_volume > good.foam_volume
    assert poor.water_cement_total > good.water_cement_total


def assert_working_holds(line: str) -> None:
    """The numbers give the result, and are the formula with a number for every symbol."""
    name, formula, numbers, result = line.split(" = ")
    assert name
    amount = r"[\d.]+(?:e-?\d+)?"
    assert re.sub(rf"[A-Za-z]\w*|{amount}", "#", formula) == re.sub(amount, "#", numbers)
    assert re.fullmatch(r"[\d.e+\-*/() ]+", numbers)
    value = eval(numbers, {"__builtins__": {}})  # only digits and signs, as just asserted
    assert value == pytest.approx(float(result.split()[0]), rel=1e-4)


@settings(max_examples=60, deadline=None)
@given(asked(), st.booleans())
def test_every_line_of_working_can_be_worked_again(
    case: tuple[CellularWanted, Cement, Foam], dry: bool
) -> None:
    wanted, cement, foam = case
    wanted = replace(wanted, wet_density=(wanted.wet_density or 0.0) * 0.9 + 0.1 * 1.6 * foam.density)
    if dry:
        density = design(wanted, cement, foam).dry_density
        wanted = replace(wanted, wet_density=None, dry_density=density)
    mix = design(wanted, cement, foam)
    for line in mix.working:
        assert_working_holds(line)
    assert f"= {mix.dry_density:.6g} kg/m3" in mix.working[-2]
    assert f"= {mix.wet_density:.6g} kg/m3" in mix.working[-1]


def mix_of(**changed: float | None) -> Mix:
    wanted = CellularWanted(600.0, None, 0.5)
    return design(replace(wanted, **changed), CEMENT, FOAM)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"dry_density": 450.0}, "either the wet or the dry density"),
        ({"wet_density": None}, "either the wet or the dry density"),
        ({"wet_density": 75.0}, "want more than 75 kg/m3"),
        ({"wet_density": -600.0}, "want more than 0"),
        ({"wet_density": float("nan")}, "want more than 0"),
        ({"wet_density": 0.0}, "got 0, want more than 0"),
        ({"wet_density": 1900.0}, "want 1835 kg/m3"),
        ({"wet_density": None, "dry_density": 1500.0}, "want 1468 kg/m3"),
        ({"wet_density": None, "dry_density": 5.0}, "dries to"),
        ({"water_cement": 0.1}, "want 0.2 to 3"),
        ({"sand": -1.0}, "sand over cement"),
        ({"ash": float("inf")}, "ash over cement"),
        ({"sand_gravity": 0.0}, "sand specific gravity"),
    ],
)
def test_a_wish_that_cannot_be_is_refused(changed: dict[str, float | None], said: str) -> None:
    with pytest.raises(RangeError, match=re.escape(said)):
        mix_of(**changed)


@pytest.mark.parametrize(
    ("foam", "said"),
    [
        (Foam(0.0, 1.0, 40.0), "foam density"),
        (Foam(1000.0, 1.0, 40.0), "less than water"),
        (Foam(50.0, 0.0, 40.0), "foam survival"),
        (Foam(50.0, 1.01, 40.0), "foam survival"),
        (Foam(50.0, 1.0, -1.0), "foam dilution"),
        (Foam(50.0, 1.0, 40.0, 0.0), "foam output"),
        (Foam(50.0, 1.0, 40.0, None, -0.1), "foam reserve"),
        (Foam(350.0, 0.1, 40.0), "comes to by itself"),
    ],
)
def test_foam_that_cannot_be_is_refused(foam: Foam, said: str) -> None:
    with pytest.raises(RangeError, match=said):
        design(CellularWanted(600.0, None, 0.5), CEMENT, foam)


@pytest.mark.parametrize(
    ("cement", "said"),
    [
        (Cement("Fence post mix", 3.15, 25.0), "ready-bagged"),
        (Cement("Ready-mix concrete", 3.15, 25.0), "ready-bagged"),
        (Cement("Concrete Mix 80 lb", 3.15, 36.3), "ready-bagged"),
        (Cement("portland", 2.5, 25.0), "specific gravity"),
        (Cement("portland", 3.15, 0.0), "bag"),
    ],
)
def test_what_is_no_cement_is_refused(cement: Cement, said: str) -> None:
    with pytest.raises(RangeError, match=said):
        design(CellularWanted(600.0, None, 0.5), cement, FOAM)


@pytest.mark.parametrize(
    "name", ["Type IL (10)", "CEM II/A-L 42.5 N", "masonry cement", "portland for concrete"]
)
def test_cements_by_their_names_are_taken(name: str) -> None:
    assert design(CellularWanted(600.0, None, 0.5), Cement(name, 3.1, 25.0), FOAM).bag == 25.0


def test_a_usual_mix_warns_of_nothing() -> None:
    assert mix_of().warnings == ()


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"water_cement": 0.40}, "plasticiser"),
        ({"water_cement": 0.85}, "0.35 to 0.80"),
        ({"water_cement": 0.78}, "above 0.80: expect it weak"),
        ({"sand": 0.5, "wet_density": 550.0}, "sinks"),
        ({"ash": 0.5}, "fly ash"),
        ({"wet_density": 250.0}, "outside what is published"),
    ],
)
def test_an_unusual_mix_says_so(changed: dict[str, float | None], said: str) -> None:
    assert any(said in line for line in mix_of(**changed).warnings)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"water_cement": 0.45}, "plasticiser"),
        ({"water_cement": 0.80}, "0.35 to 0.80"),
        ({"sand": 0.5}, "sinks"),
        ({"wet_density": 320.0}, "outside what is published"),
    ],
)
def test_the_edge_of_the_usual_is_usual(changed: dict[str, float | None], said: str) -> None:
    assert not any(said in line for line in mix_of(**changed).warnings)


def test_the_edges_of_what_can_be_are_taken() -> None:
    assert mix_of(water_cement=0.2).dry_density == pytest.approx(
        mix_of(water_cement=0.2).cement * 1.2, rel=1e-12
    )
    assert mix_of(water_cement=3.0).water_cement_total > 3.0
    for gravity in (2.6, 3.4):
        assert design(CellularWanted(600.0, None, 0.5), Cement("any", gravity, 25.0), FOAM).cement > 0.0
    for gravity in (2.59, 3.41):
        with pytest.raises(RangeError, match="specific gravity"):
            design(CellularWanted(600.0, None, 0.5), Cement("any", gravity, 25.0), FOAM)


def test_the_slurrys_own_dry_density_is_the_most_that_can_be_had() -> None:
    most = 1.2 / (1.0 / 3.15 + 0.5) * 1000.0
    mix = mix_of(wet_density=None, dry_density=most)
    assert mix.foam_volume == pytest.approx(0.0, abs=1e-9)
    assert mix.dry_density == pytest.approx(most, rel=1e-9)
    with pytest.raises(RangeError, match="dry density"):
        mix_of(wet_density=None, dry_density=most * 1.001)


def test_unusual_foam_says_so() -> None:
    weak = design(CellularWanted(600.0, None, 0.5), CEMENT, Foam(20.0, 0.65, 40.0)).warnings
    assert any("survive" in line for line in weak)
    assert any("unusual" in line for line in weak)


def test_a_wet_density_equal_to_the_slurrys_takes_no_foam_and_says_so() -> None:
    mix = design(CellularWanted(1.5 / (1.0 / 3.15 + 0.5) * 1000.0, None, 0.5), CEMENT, FOAM)
    assert mix.foam_volume == pytest.approx(0.0, abs=1e-12)
    assert any("No foam" in line for line in mix.warnings)


def test_a_mix_that_does_not_balance_is_never_handed_out(monkeypatch: pytest.MonkeyPatch) -> None:
    right = cellular.foam_needed
    monkeypatch.setattr(cellular, "foam_needed", lambda *given, **named: 1.0001 * right(*given, **named))
    with pytest.raises(InternalError, match="does not balance"):
        mix_of()
