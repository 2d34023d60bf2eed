"""The built-in yards: complete, without prices, nominal and actual thickness told apart."""

from __future__ import annotations

import csv
from itertools import product
from pathlib import Path
from typing import get_args

import pytest

from formwork.stock import catalogue
from formwork.stock.records import Material
from formwork.units.parse import read

UNITS = ("in", "mm")
TABLES = Path(catalogue.__file__).parent


@pytest.mark.parametrize("units", UNITS)
def test_every_sheet_is_possible_and_has_a_name_of_its_own(units):
    sheets = catalogue.sheets(units)
    assert len({sheet.name for sheet in sheets}) == len(sheets)
    for sheet in sheets:
        assert 0.0008 < sheet.thickness < 0.04 < sheet.width <= sheet.length
        metal = sheet.material == "sheet steel"
        assert sheet.density == 7850.0 if metal else sheet.thickness > 0.002 and 400 < sheet.density < 1100
        assert sheet.price is None and not sheet.measured and not sheet.offcut


@pytest.mark.parametrize("units", UNITS)
def test_the_kinds_a_mold_maker_asks_for_are_there(units):
    kinds = {sheet.material for sheet in catalogue.sheets(units)}
    assert kinds >= {"plywood", "overlaid plywood", "birch plywood", "melamine board", "MDF"}
    assert kinds <= set(get_args(Material))


@pytest.mark.parametrize("units", UNITS)
def test_nominal_and_actual_thickness_differ_where_a_standard_says_so(units):
    for sheet in catalogue.sheets(units):
        nominal = read(sheet.nominal, "length", None)
        assert abs(nominal - sheet.thickness) < 0.0011
        usual = catalogue.usual_thickness(sheet.nominal, sheet.material)
        assert sheet.thickness == pytest.approx(nominal if usual is None else usual, abs=1e-12)


@pytest.mark.parametrize("units", UNITS)
def test_sticks_have_their_lesser_side_first_and_rising_lengths(units):
    sticks = catalogue.sticks(units)
    assert len({stick.name for stick in sticks}) == len(sticks)
    for stick in sticks:
        lengths = [length.length for length in stick.lengths]
        assert 0 < stick.thickness <= stick.width
        assert lengths == sorted(set(lengths)) and lengths
        assert all(length.price is None for length in stick.lengths)


@pytest.mark.parametrize("units", UNITS)
def test_hardware_covers_what_molds_use(units):
    rows = catalogue.hardware(units)
    assert len({(row.item, row.size) for row in rows}) == len(rows)
    assert {row.item for row in rows} >= {"screw", "bolt", "tee nut", "washer", "sealant", "release agent"}
    assert all(row.per > 0 and row.price is None for row in rows)


def test_every_row_of_the_yard_tables_says_its_source():
    for name in ("yard_sheets", "yard_sticks", "yard_hardware"):
        with (TABLES / f"{name}.csv").open(encoding="utf-8", newline="") as table:
            for row in csv.DictReader(table):
                assert row["source"] and None not in row, (name, row)


@pytest.mark.parametrize(
    ("nominal", "material"), list(product(["3/4 in", "18 mm", "17 mm", "0.7 in"], get_args(Material)))
)
def test_usual_thickness_is_near_the_nominal_one_or_unknown(nominal, material):
    usual = catalogue.usual_thickness(nominal, material)
    assert usual is None or usual == pytest.approx(read(nominal, "length", None), abs=0.0011)


def test_board_is_as_thick_as_it_says_and_plywood_is_not():
    assert catalogue.usual_thickness("3/4 in", "MDF") is None
    assert catalogue.usual_thickness("18 mm", "plywood") == pytest.approx(0.0179)
    assert catalogue.usual_thickness("1 1/8 in", "plywood") == catalogue.usual_thickness(
        "1-1/8 in", "plywood"
    )
    assert catalogue.usual_thickness("3/4", "plywood") is None
