"""The weighing cup of a shop file, by each way in which its volume may be known, and what is said of a wrong one."""

from __future__ import annotations

from pathlib import Path

import pytest

from formwork.errors import Fault, InputError
from formwork.pour.measure import Cup
from formwork.project.shop import read_shop

FT3 = 0.3048**3


@pytest.fixture
def cup(tmp_path: Path):
    def read(rows: str) -> Cup | None:
        path = tmp_path / "shop.toml"
        path.write_text(f'units = "in"\n[cup]\n{rows}\n', encoding="utf-8")
        return read_shop(path).cup

    return read


@pytest.fixture
def fault(cup):
    def one(rows: str) -> Fault:
        with pytest.raises(InputError) as caught:
            cup(rows)
        (found,) = caught.value.faults
        return found

    return one


def test_a_shop_without_a_cup_has_none(tmp_path: Path) -> None:
    path = tmp_path / "shop.toml"
    path.write_text('units = "in"\n[saw]\nkerf = "1/8 in"\n', encoding="utf-8")
    assert read_shop(path).cup is None and read_shop(None).cup is None


@pytest.mark.parametrize(
    ("rows", "volume"),
    [
        (
            'across = 6.112\ndeep = 6\nmeant = "0.1 ft3"',
            0.1019,
        ),  # 6.112 in across and 6 in deep hold 0.1019 ft3
        ('pipe = "6 in"\ndeep = 6.049', 0.1000),
        (
            'water = "7.08 lb"\ntare = "0.85 lb"\nwater_at = "70 F"',
            0.1000,
        ),  # 6.23 lb of water of 62.301 lb/ft3
        ('volume = "1 qt"', 0.0334),
    ],
)
def test_each_way_gives_the_volume(cup, rows, volume) -> None:
    assert cup(rows).holds.volume / FT3 == pytest.approx(volume, abs=5e-5)


def test_a_cup_that_is_not_what_its_owner_believes_says_so(cup) -> None:
    found = cup('across = 6.112\ndeep = 6\nmeant = "0.1 ft3"\ntare = "0.85 lb"\nscale = "0.01 lb"')
    assert any("This cup is not 0.1 ft3: it holds 0.1019 ft3" in note for note in found.holds.notes)
    assert (found.tare, found.step) == pytest.approx((0.85 * 0.45359237, 0.0045359237))


@pytest.mark.parametrize(
    ("rows", "key", "got", "want"),
    [
        ('tare = "1 lb"', "cup", "no volume", "one of volume, across, pipe, water"),
        ('volume = "1 qt"\npipe = "6 in"\ndeep = 6', "cup.pipe", "both volume and pipe", "one of volume"),
        ("across = 6", "cup.deep", "nothing", "deep with across"),
        ('water = "7 lb"', "cup.water_at", "nothing", "water_at with water"),
        ('volume = "1 qt"\ndeep = 6', "cup.deep", "a value", "does not go with volume"),
        ("across = 0\ndeep = 6", "cup.across", "0", "13/16 to 39 5/16 in"),
        ("across = -6\ndeep = 6", "cup.across", "-6", "in"),
        ("across = nan\ndeep = 6", "cup.across", "nan", "in"),
        ("across = 6\ndeep = 600", "cup.deep", "600", "in"),
        ('across = "6 lb"\ndeep = 6', "cup.across", '"6 lb"', "length"),
        ('pipe = "7 in"\ndeep = 6', "cup.pipe", "7", "one of"),
        ('pipe = "6 in schedule thick"\ndeep = 6', "cup.pipe", "'schedule thick'", "schedule 40 or 80"),
        ('water = "0.8 lb"\ntare = "0.85 lb"\nwater_at = "70 F"', "cup.water", "full", "heavier full than empty"),
        ('water = "7 lb"\nwater_at = "212 F"', "cup.water_at", "212 F", "32 to 104 F"),
        ('volume = "1 qt"\nscale = "0 lb"', "cup.scale", "0 lb", "lb"),
        ("volume = 3", "cup.volume", "3", "a volume with its unit"),
        ('volume = "1 qt"\nwide = 3', "cup.wide", "an unknown key", "one of"),
    ],
)  # fmt: skip
def test_one_thing_wrong_with_the_cup(fault, rows, key, got, want) -> None:
    found = fault(rows)
    assert (found.key, found.where.rpartition(":")[2].isdigit()) == (key, True)
    assert got in found.got and want in found.want
