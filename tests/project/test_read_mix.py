"""The mix of a project file: powders, admixtures, fibres, published classes, and what is said of everything wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from formwork.errors import Fault, InputError
from formwork.mix.records import CellularWanted, Ingredient
from formwork.project.read import read_project
from formwork.project.shop import read_shop

pytestmark = pytest.mark.usefixtures("shapes")

PIECE = '[[piece]]\nshape = "trough"\nlength = 600\nwidth = 400\n'


@pytest.fixture
def wanted(tmp_path: Path):
    def read(mix: str, units: str = "mm") -> CellularWanted:
        path = tmp_path / "bed.toml"
        piece = PIECE if units == "mm" else PIECE.replace("600", "24").replace("400", "16")
        path.write_text(f'units = "{units}"\n[mix]\n{mix}\n{piece}', encoding="utf-8")
        found = read_project(path).mix
        assert isinstance(found, CellularWanted)
        return found

    return read


@pytest.fixture
def fault(wanted):
    def one(mix: str) -> Fault:
        with pytest.raises(InputError) as caught:
            wanted(mix)
        (found,) = caught.value.faults
        return found

    return one


def test_powders_admixtures_and_fibres_are_read(wanted) -> None:
    found = wanted(
        'wet_density = 700\nfibres = "1.5 lb/yd3"\n'
        '[[mix.ingredient]]\nname = "silica fume"\nshare = "8 %"\ngravity = 2.2\ncounts = "cement"\n'
        '[[mix.ingredient]]\nname = "plasticiser"\nshare = 0.01\ngravity = 1.08\ncounts = "water"'
    )
    assert found.others == (
        Ingredient("silica fume", 0.08, 2.2, "cement"),
        Ingredient("plasticiser", 0.01, 1.08, "water"),
    )
    assert found.fibres == pytest.approx(1.5 * 0.59327642, rel=1e-6)  # kg/m3 in a lb/yd3, a printed table


@pytest.mark.parametrize(
    ("mix", "units", "wet", "dry", "said"),
    [
        ('aim_class = "caltrans iii"', "in", 38.5 * 16.018463, None, "Caltrans section 19-10"),
        ('aim_strength = "1 MPa"', "mm", 641.0, None, "ASTM C869"),
        ('aim_strength = "200 psi"', "in", 641.0, None, "ASTM C869"),
        ("aim_conductivity = 0.15", "mm", None, 600.0, "British Cement Association"),
    ],
)
def test_a_density_is_taken_from_a_published_class(wanted, mix, units, wet, dry, said) -> None:
    found = wanted(mix, units)
    assert (found.wet_density, found.dry_density) == (
        wet and pytest.approx(wet, rel=1e-6),
        dry and pytest.approx(dry, rel=1e-6),
    )
    assert said in found.aim and "indicative only" in found.aim


@pytest.mark.parametrize(
    ("mix", "key", "got", "want"),
    [
        ('aim_class = "Caltrans X"', "mix.aim_class", "'Caltrans X'", "one of Caltrans I,"),
        ("aim_class = 3", "mix.aim_class", "3", "a text"),
        ('aim_strength = "0 MPa"', "mix.aim_strength", "0 MPa", "10 to 30000 kPa"),
        ('aim_strength = "-1 MPa"', "mix.aim_strength", "-1 MPa", "10 to 30000 kPa"),
        ('aim_strength = "28 MPa"', "mix.aim_strength", "28 MPa", "no more than 25 MPa"),
        ('aim_strength = "5 kg"', "mix.aim_strength", '"5 kg"', "kPa"),
        ("aim_strength = nan", "mix.aim_strength", "nan", "kPa"),
        ("aim_strength = 1", "mix.aim_strength", "1", "kPa"),
        ("aim_conductivity = 0.06", "mix.aim_conductivity", "0.06", "0.1 or more"),
        ("aim_conductivity = 1e9", "mix.aim_conductivity", "1000000000.0", "0.05 to 1"),
        ('aim_class = "C869"\nwet_density = 600', "mix.aim_class", "both wet_density and aim_class", "one of wet"),
        ('wet_density = 600\nfibres = "-1 kg/m3"', "mix.fibres", '"-1 kg/m3"', "0 to 200 kg/m3"),
        ("wet_density = 600\nfibres = inf", "mix.fibres", "inf", "kg/m3"),
        ('wet_density = 600\nfibres = "1 kg"', "mix.fibres", '"1 kg"', "kg/m3"),
        ("wet_density = 600\nfibre_gravity = 0", "mix.fibre_gravity", "0", "0.8 to 9"),
        ("wet_density = 600\ningredient = 3", "mix.ingredient", "3", "list"),
        ('wet_density = 600\ningredient = [{ name = "x", share = 0.1 }]', "mix.ingredient.0.gravity", "nothing", "0.5 to 9"),
        ('wet_density = 600\ningredient = [{ name = "x", share = 0, gravity = 2 }]', "mix.ingredient.0.share", "0", "%"),
        ('wet_density = 600\ningredient = [{ name = "x", share = "1 kg", gravity = 2 }]', "mix.ingredient.0.share",
         '"1 kg"', "%"),
        ('wet_density = 600\ningredient = [{ name = "x", share = 0.1, gravity = nan }]', "mix.ingredient.0.gravity", "nan",
         "0.5 to 9"),
        ('wet_density = 600\ningredient = [{ name = "x", share = 0.1, gravity = 2, counts = "ash" }]',
         "mix.ingredient.0.counts", '"ash"', "one of cement, filler, water"),
        ('wet_density = 600\ningredient = [{ name = "mortar mix", share = 0.1, gravity = 2.6 }]',
         "mix.ingredient.0.name", '"mortar mix"', "a ready-bagged mix holds sand or gravel"),
        ('wet_density = 600\ningredient = [{ name = "a", share = 0.1, gravity = 2 }, { name = "a", share = 0.1, gravity = 2 }]',
         "mix.ingredient.1.name", '"a" again', "a name of its own"),
    ],
)  # fmt: skip
def test_one_thing_wrong_in_the_mix(fault, mix, key, got, want) -> None:
    found = fault(mix)
    assert (found.key, found.where.rpartition(":")[2].isdigit()) == (key, True)
    assert got in found.got and want in found.want


def test_a_ready_bagged_mix_is_no_cement_and_its_line_is_named(tmp_path: Path) -> None:
    path = tmp_path / "shop.toml"
    path.write_text('[cement]\nname = "Concrete mix 5000"\nbag = "80 lb"\n', encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_shop(path)
    (found,) = caught.value.faults
    assert (found.key, found.where.rpartition(":")[2]) == ("cement.name", "2")
    assert "plain cement" in found.want and "portland" in found.hint


BAGGED = 'kind = "bagged"\nname = "concrete mix"\nbag = "80 lb"\nwater = "3 qt"\nyields = "0.6 ft3"'


def read_any(path: Path, mix: str):
    path.write_text(f'units = "mm"\n[mix]\n{mix}\n{PIECE}', encoding="utf-8")
    return read_project(path).mix


def test_a_ready_bagged_mix_by_what_its_bag_says(tmp_path: Path) -> None:
    found = read_any(tmp_path / "p.toml", BAGGED + "\nprice = 6.5")
    assert (found.name, found.price) == ("concrete mix", 6.5)
    assert (found.bag, found.water) == pytest.approx((36.287, 2.839), abs=5e-4)
    assert found.yields == pytest.approx(0.6 * 0.3048**3)


def test_proportions_may_leave_the_density_out(tmp_path: Path) -> None:
    found = read_any(tmp_path / "p.toml", 'kind = "ordinary"\ncement = 1\nwater = 0.5\nsand = 2')
    assert found.wet_density is None


@pytest.mark.parametrize(
    ("old", "new", "key", "want"),
    [
        ('bag = "80 lb"', "", "mix.bag", "kg"),
        ('"80 lb"', '"0 lb"', "mix.bag", "kg"),
        ('"80 lb"', '"-80 lb"', "mix.bag", "kg"),
        ('"80 lb"', '"80 ft3"', "mix.bag", "a mass"),
        ('"3 qt"', '"3 lb"', "mix.water", "a volume"),
        ('"3 qt"', "3", "mix.water", "a volume with its unit"),
        ('"0.6 ft3"', "nan", "mix.yields", "a volume"),
        ('"0.6 ft3"', '"600 ft3"', "mix.yields", "L"),
        ('"concrete mix"', "7", "mix.name", "a text"),
        ("[mix]", "[mix]\nslump = 0.1", "mix.slump", "rise_per_hour and placed_at as well"),
        ('yields = "0.6 ft3"', 'yields = "0.6 ft3"\nsand = 2', "mix.sand", "one of kind, name"),
    ],
)
def test_one_thing_wrong_on_the_bag(tmp_path: Path, old, new, key, want) -> None:
    with pytest.raises(InputError) as caught:
        read_any(tmp_path / "p.toml", f"[mix]\n{BAGGED}".replace(old, new).removeprefix("[mix]\n"))
    (found,) = caught.value.faults
    assert found.key == key and want in found.want
