"""The strength of a person's own sheets: read as written, and every contradiction named with its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from formwork.errors import InputError
from formwork.project.shop import read_shop
from formwork.stock.records import SheetStrength, StickStrength

pytestmark = pytest.mark.usefixtures("shapes")
BOARD = """
[[sheet]]
name = "MDF 18"
material = "MDF"
nominal = "18 mm"
length = 2440
width = 1220
"""
PLY = BOARD.replace("MDF", "overlaid plywood", 1).replace('"MDF"', '"overlaid plywood"')


def read(text: str, folder: Path, name: str = "shop.toml"):
    path = folder / name
    path.write_text('units = "mm"\n' + text, encoding="utf-8")
    return read_shop(path)


def faults(text: str, folder: Path) -> list[str]:
    with pytest.raises(InputError) as refused:
        read(text, folder)
    return [str(one) for one in refused.value.faults]


def test_a_makers_declaration_in_any_unit(tmp_path):
    shop = read(
        BOARD + 'bending = "3000 psi"\nmodulus = "2.2 kN/m2"\n'.replace("2.2 kN/m2", "2200 N/mm2"), tmp_path
    )
    strength = shop.sheets[0].strength
    assert strength == SheetStrength(pytest.approx(3000 * 6894.757, rel=1e-6), modulus=2.2e9)


def test_a_grade(tmp_path):
    assert read(PLY + 'grade = "Class I"\n', tmp_path).sheets[0].grade == "Class I"


def test_an_offcut_bears_what_the_sheet_bears_that_it_is_left_from(tmp_path):
    shop = read(f'{PLY}grade = "Class I"\n{PLY}offcut = true\n', tmp_path)
    assert [sheet.grade for sheet in shop.sheets] == ["Class I", "Class I"]


def test_two_strengths_under_one_name(tmp_path):
    [said] = faults(f'{PLY}grade = "Class I"\n{PLY}grade = "Class II"\n', tmp_path)
    assert "strength" in said


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ('grade = "Class I"', ("grade", "only plywood")),
        ('grade = "Class 1"', ("grade", "Class I")),
        ('modulus = "2 GPa"', ("modulus",)),
        ('modulus = "2000 MPa"', ("bending beside it",)),
        ('shear = "1 MPa"', ("bending beside it",)),
        ("wet = true", ("bending beside it",)),
        ('bending = "20 MPa"\nbending_across = "20 MPa"', ("same both ways",)),
        ('bending = "20 MPa"\nmodulus_across = "900 MPa"', ("same both ways",)),
        ("bending = 20", ("bending", "unit")),
        ('bending = "0 MPa"', ("bending", "1 to 2000 MPa")),
        ('bending = "-20 MPa"', ("bending", "1 to 2000 MPa")),
        ("bending = nan", ("bending",)),
        ('bending = "9e99 MPa"', ("bending",)),
        ('bending = "20 mm"', ("bending",)),
        ("bending = true", ("bending",)),
        ('bending = "20 MPa"\nsafety = 0', ("safety", "1 to 10")),
        ('bending = "20 MPa"\nsafety = "a"', ("safety",)),
        ('bending = "20 MPa"\nwet = "yes"', ("wet",)),
    ],
)
def test_what_is_wrong_is_named_with_its_line(keys, words, tmp_path):
    said = "\n".join(faults(BOARD + keys + "\n", tmp_path))
    assert "shop.toml:" in said
    for word in words:
        assert word in said, said


def test_grade_and_bending_contradict(tmp_path):
    [said] = faults(PLY + 'grade = "Class I"\nbending = "20 MPa"\n', tmp_path)
    assert "not both" in said


STICK = """
[[stick]]
name = "larch 45x95"
material = "larch"
thickness = 45
width = 95
lengths = [3000]
"""
VALUES = 'bending = "9 MPa"\nshear = "1.2 MPa"\nbearing = "3.8 MPa"\nmodulus = "11000 MPa"\n'


def test_a_stick_by_the_values_of_its_grade(tmp_path):
    stick = read(STICK + VALUES + "gravity = 0.5\n", tmp_path).sticks[0]
    assert stick.strength == StickStrength(9e6, 1.2e6, 3.8e6, 11e9)
    assert stick.gravity == 0.5
    assert read(STICK, tmp_path).sticks[0].strength is None


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ('bending = "9 MPa"', ("bending alone", "shear, bearing, modulus beside it")),
        ('crushing = "9 MPa"', ("crushing alone", "bending")),
        (VALUES.replace("9 MPa", "0 MPa"), ("bending", "0.5 to 100 MPa")),
        (VALUES.replace("9 MPa", "-9 MPa"), ("bending",)),
        (VALUES.replace("11000 MPa", "11 m"), ("modulus",)),
        ("gravity = nan", ("gravity",)),
        ("gravity = 0", ("gravity", "0.31 to 0.73")),
        ('gravity = "pine"', ("gravity",)),
        ("shear = true", ("shear",)),
    ],
)
def test_what_is_wrong_with_a_stick_is_named_with_its_line(keys, words, tmp_path):
    said = "\n".join(faults(STICK + keys + "\n", tmp_path))
    assert "shop.toml:" in said
    for word in words:
        assert word in said, said
