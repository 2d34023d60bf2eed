"""Bracing that the person fixes in ``[piece.mold]``: read in any unit, and a message with its line for each mistake."""

from __future__ import annotations

from pathlib import Path

import pytest

from formwork.errors import InputError
from formwork.project.read import read_project
from formwork.project.records import BRACING, METHODS_WITH, MoldOptions

KEYS = {
    "planter": 'length = "600 mm"\nwidth = "400 mm"\nheight = "400 mm"\nwall = "50 mm"\nfloor = "50 mm"\n',
    "round planter": 'diameter = "500 mm"\nheight = "400 mm"\nwall = "50 mm"\nfloor = "50 mm"\n',
    "column": 'diameter = "300 mm"\nheight = "900 mm"\n',
    "turned": "profile = [[0, 0], [160, 0], [230, 110], [0, 110]]\n",
    "outline": 'points = [{x = 0, y = 0}, {x = 700, y = 0}, {x = 0, y = 800}]\nthickness = "70 mm"\n',
    "cast dome": 'inside_span = "2400 mm"\nthickness = "60 mm"\nspringing = "level"\nplacing = "fluid between two forms"\n',
}
SHAPE_OF = {
    "panelled": "planter",
    "wrapped": "round planter",
    "tube": "column",
    "stacked": "turned",
    "edged": "outline",
    "ribbed": "cast dome",
}
LISTS = tuple(key for key in BRACING if key.endswith("_heights"))
LENGTHS = ("blocks_apart", "rib_depth")
COUNTS = tuple(key for key in BRACING if key not in (*LISTS, *LENGTHS))


def options(tmp_path: Path, method: str, keys: str) -> MoldOptions:
    shape = SHAPE_OF[method]
    file = tmp_path / "own.toml"
    file.write_text(
        'title = "Own"\nunits = "mm"\n[mix]\nkind = "cellular"\nwet_density = "700 kg/m3"\n'
        f'[[piece]]\nname = "it"\nshape = "{shape}"\n{KEYS[shape]}[piece.mold]\nmethod = "{method}"\n{keys}\n',
        encoding="utf-8",
    )
    return read_project(file).orders[0].mold


def refused(tmp_path: Path, key: str, value: str) -> str:
    with pytest.raises(InputError) as wrong:
        options(tmp_path, METHODS_WITH[key][0], f"{key} = {value}")
    said = str(wrong.value)
    assert f"piece.mold.{key}" in said or f"mold.{key}" in said
    lines = (tmp_path / "own.toml").read_text(encoding="utf-8").splitlines()
    number = 1 + next(i for i, line in enumerate(lines) if line.startswith(f"{key} ="))
    assert f"own.toml:{number}" in said
    assert "want" in said
    return said


def test_every_key_belongs_to_a_method_and_is_an_option() -> None:
    fields = MoldOptions.__dataclass_fields__
    assert set(BRACING) <= set(METHODS_WITH) & set(fields)
    assert set(COUNTS) | set(LISTS) | set(LENGTHS) == set(BRACING)


@pytest.mark.parametrize("key", COUNTS)
@pytest.mark.parametrize("value", ["-1", "nan", "1000000", '"5"', "2.5", "true", '"5 kg"', "[4]"])
def test_a_number_that_is_none_is_named(tmp_path: Path, key: str, value: str) -> None:
    assert "a whole number" in refused(tmp_path, key, value)


@pytest.mark.parametrize("key", [key for key in COUNTS if key not in ("core_ribs", "purlins")])
def test_nothing_of_what_must_be_there_is_named(tmp_path: Path, key: str) -> None:
    refused(tmp_path, key, "0")


@pytest.mark.parametrize("key", LENGTHS)
@pytest.mark.parametrize("value", ["0", "-100", "nan", "inf", '"3 kg"', '"40 m"', "true", "[300]", '"wide"'])
def test_a_length_that_is_none_is_named(tmp_path: Path, key: str, value: str) -> None:
    refused(tmp_path, key, value)


@pytest.mark.parametrize("key", LISTS)
@pytest.mark.parametrize(
    "value", ["[]", "200", '"200 mm"', "[-5]", "[nan]", "[inf]", '["2 kg"]', "[[200]]", "[99999]"]
)
def test_heights_that_are_none_are_named(tmp_path: Path, key: str, value: str) -> None:
    refused(tmp_path, key, value)


def test_all_of_it_is_read_in_the_units_of_the_file_and_in_others(tmp_path: Path) -> None:
    flat = options(tmp_path, "panelled", 'rail_heights = [200, "12 in"]\ncorner_screws = 5\ncore_ribs = 0')
    assert flat.rail_heights == pytest.approx((0.2, 0.3048))
    assert (flat.corner_screws, flat.core_ribs, flat.rails) == (5, 0, None)
    assert options(tmp_path, "edged", 'blocks_apart = "1 ft"').blocks_apart == pytest.approx(0.3048)
    dome = options(
        tmp_path, "ribbed", "rib_depth = 150\npurlins = 0\nskin_layers = 2\nrods = 12\nseam_bolts = 9"
    )
    assert (dome.rib_depth, dome.purlins, dome.skin_layers, dome.rods, dome.seam_bolts) == (0.15, 0, 2, 12, 9)


@pytest.mark.parametrize(
    ("method", "count", "heights"),
    [
        ("panelled", "rails", "rail_heights"),
        ("wrapped", "rings", "ring_heights"),
        ("tube", "straps", "strap_heights"),
    ],
)
def test_number_and_heights_say_the_same_thing_twice(
    tmp_path: Path, method: str, count: str, heights: str
) -> None:
    with pytest.raises(InputError) as wrong:
        options(tmp_path, method, f"{count} = 4\n{heights} = [200]")
    assert f"both {count} and {heights}" in str(wrong.value)


@pytest.mark.parametrize("key", BRACING)
def test_a_key_of_another_method_is_named(tmp_path: Path, key: str) -> None:
    other = next(method for method in SHAPE_OF if method not in METHODS_WITH[key])
    value = "[200]" if key in LISTS else '"200 mm"' if key in LENGTHS else "4"
    with pytest.raises(InputError) as wrong:
        options(tmp_path, other, f"{key} = {value}")
    assert f"a {other} mold has no {key}" in str(wrong.value)
