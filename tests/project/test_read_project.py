"""A project file: what it comes to, and what is said of everything wrong in it, all at once."""

from __future__ import annotations

import math
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from formwork.errors import Fault, InputError
from formwork.mix.records import CellularWanted, OrdinaryWanted
from formwork.project.read import read_project
from formwork.project.records import BatchRules, MoldOptions

pytestmark = pytest.mark.usefixtures("shapes")

GOOD = """
title = "Herb beds"
units = "in"

[mix]
wet_density = 40

[[piece]]
name = "bed"
shape = "trough"
count = 6
molds = 2
length = "2 ft 6 in"
width = 16
wall = '1-1/2"'

[piece.mold]
joint = "mitred"
sheet = "plywood 3/4"
"""


@pytest.fixture
def write(tmp_path):
    def write_file(text: str, name: str = "bed.toml") -> Path:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return write_file


@pytest.fixture
def faults(write):
    def faults_of(text: str) -> tuple[Fault, ...]:
        with pytest.raises(InputError) as caught:
            read_project(write(text))
        return caught.value.faults

    return faults_of


@pytest.fixture
def fault(faults):
    def one_fault(text: str) -> Fault:
        (one,) = faults(text)
        return one

    return one_fault


def with_piece(rows: str, top: str = 'units = "mm"') -> str:
    piece = '[mix]\nwet_density = "500 kg/m3"\n[[piece]]\nshape = "trough"\n'
    return f"{top}\n{piece}{rows}\n"


SIZES = "length = 600\nwidth = 400\n"


def test_a_project_is_read(write):
    project = read_project(write(GOOD))
    (order,) = project.orders
    assert (project.title, project.units) == ("Herb beds", "in")
    assert (order.name, order.shape, order.count, order.molds) == ("bed", "trough", 6, 2)
    sizes = (order.parameters.length, order.parameters.width, order.parameters.wall)
    assert sizes == (0.762, 0.4064, 0.0381)
    assert order.parameters.holes == 2
    assert order.mold == MoldOptions(joint="mitred", sheet="plywood 3/4")
    assert project.mix == CellularWanted(pytest.approx(40 * 16.01846, rel=1e-6), None, 0.5)
    assert project.batches == BatchRules("best", 0.03, 0.02)
    assert project.shop.units == "in" and len(project.shop.sheets) > 3
    assert any("no shop file" in note for note in project.notes)


def test_left_out_names_are_taken_from_the_file_and_the_shape(write):
    project = read_project(write(with_piece(SIZES), "yard beds.toml"))
    assert project.title == "yard beds" and project.orders[0].name == "trough"
    assert project.orders[0].count == project.orders[0].molds == 1


@pytest.mark.parametrize(("key", "head"), [("mold", "[piece.mold]"), ("embed", "[[piece.embed]]")])
def test_a_table_of_a_piece_that_stands_apart_is_sent_to_its_piece(fault, key, head):
    said = fault(with_piece(SIZES) + f"[{key}]\nuses = 4\n")
    assert (said.key, said.hint) == (key, f"write {head}, below the piece it is for")


def test_ordinary_concrete(write):
    text = '[mix]\nkind = "ordinary"\nwet_density = "2300 kg/m3"\ncement = 1\nwater = 0.5\nsand = 2\ngravel = 3\n'
    project = read_project(write(f'{text}[[piece]]\nshape = "cube"\nedge = "150 mm"\n'))
    assert project.mix == OrdinaryWanted(2300.0, 1.0, 0.5, 2.0, 3.0)


CONCRETE = (
    '[mix]\nkind = "ordinary"\nwet_density = "2300 kg/m3"\ncement = 1\nwater = 0.5\nsand = 2\ngravel = 3\n'
)
CUBE = '[[piece]]\nshape = "cube"\nedge = "150 mm"\n'


def test_ordinary_concrete_that_stiffens_while_the_forms_fill(write):
    said = 'rise_per_hour = "1.5 m"\nplaced_at = "20 C"\nslump = "100 mm"\nsetting = "retarded or blended"\n'
    found = read_project(write(f"{CONCRETE}{said}{CUBE}")).mix.vibrated
    assert found.rise == pytest.approx(1.5 / 3600.0) and found.temperature == pytest.approx(293.15)
    assert found.slump == pytest.approx(0.1) and found.setting == "retarded or blended"
    assert read_project(write(f"{CONCRETE}{CUBE}")).mix.vibrated is None


@pytest.mark.parametrize(
    ("said", "key", "want"),
    [
        ('rise_per_hour = "1.5 m"', "mix.rise_per_hour", "placed_at and slump as well"),
        ('placed_at = "20 C"\nslump = "50 mm"', "mix.placed_at", "rise_per_hour as well"),
        ('setting = "plain"', "mix.setting", "rise_per_hour and placed_at and slump as well"),
        ('slump = "200 mm"', "mix.slump", "0 to 175 mm"),
        ('rise_per_hour = "0 m"', "mix.rise_per_hour", "100 to 10000 mm"),
        ('placed_at = "2 C"', "mix.placed_at", "5 to 37.5 C"),
        ('rise_per_hour = "nan m"', "mix.rise_per_hour", "a length such as"),
    ],
)
def test_what_is_wrong_with_how_concrete_is_placed(fault, said, key, want):
    found = fault(f'units = "mm"\n{CONCRETE}{said}\n{CUBE}')
    assert (found.key, want in found.want) == (key, True), found


def test_dry_density_and_batches(write):
    text = 'units = "mm"\n[mix]\ndry_density = 500\nsand = 0.5\n[batches]\nsplit = "whole bags"\noverfill = "5 %"\nloss = 0\n'
    project = read_project(write(f'{text}[[piece]]\nshape = "cube"\nedge = 150\n'))
    assert project.mix == CellularWanted(None, 500.0, 0.5, sand=0.5)
    assert project.batches == BatchRules("whole bags", 0.05, 0.0)


def test_a_file_without_units_needs_them_on_every_size(write, faults):
    project = read_project(write(with_piece('length = "600 mm"\nwidth = "2 ft"', top="")))
    assert project.orders[0].parameters.length == 0.6 and project.units == "mm"
    assert any("declares no units" in note for note in project.notes)
    found = faults(with_piece("length = 600\nwidth = 400.0", top=""))
    assert [fault.key for fault in found] == ["piece.0.length", "piece.0.width"]
    assert all('units = "in" or "mm"' in fault.hint for fault in found)


def test_ten_mistakes_give_ten_clear_messages(faults):
    text = """title = "Beds"
units = "mm"
colour = "green"
[mix]
wet_density = "30 lb"
water_cement = 50
[batches]
split = "whole bag"
[[piece]]
shape = "trough"
length = 24
widht = 400
wall = 5
count = 0
holes = 2.5
down = "rimm"
[piece.mold]
joint = "mitered"
"""
    found = faults(text)
    assert [(fault.where.rpartition(":")[2], fault.key) for fault in found] == [
        ("3", "colour"),
        ("5", "mix.wet_density"),
        ("6", "mix.water_cement"),
        ("8", "batches.split"),
        ("11", "piece.0.length"),
        ("12", "piece.0.widht"),
        ("13", "piece.0.wall"),
        ("14", "piece.0.count"),
        ("15", "piece.0.holes"),
        ("16", "piece.0.down"),
        ("18", "piece.0.mold.joint"),
    ]
    assert all(fault.got and fault.want for fault in found)
    by_key = {fault.key: fault for fault in found}
    assert by_key["mix.wet_density"].hint == "lb measures a mass"
    assert by_key["piece.0.length"].got == "24 mm"
    assert by_key["piece.0.length"].hint == "did you mean 24 in or 24 cm? write the unit"
    assert by_key["piece.0.widht"].hint == "did you mean 'width'?"
    assert by_key["piece.0.wall"].want == "25 to 150 mm"
    assert by_key["piece.0.down"].hint == "did you mean 'rim'?"


@pytest.mark.parametrize(
    ("rows", "key", "want"),
    [
        ("length = 0\nwidth = 400", "length", "100 to 4000 mm"),
        ("length = -5\nwidth = 400", "length", "100 to 4000 mm"),
        ("length = nan\nwidth = 400", "length", "a length"),
        ("length = inf\nwidth = 400", "length", "a length"),
        ("length = 1e300\nwidth = 400", "length", "a length"),
        ('length = "600 kg"\nwidth = 400', "length", "a length"),
        ('length = "six"\nwidth = 400', "length", "a length"),
        ('length = ""\nwidth = 400', "length", "a length"),
        ("length = true\nwidth = 400", "length", "a length"),
        ("length = [600]\nwidth = 400", "length", "a length"),
        ("length = { a = 600 }\nwidth = 400", "length", "a length"),
        ("length = 1979-05-27\nwidth = 400", "length", "a length"),
        ("width = 400", "length", "100 to 4000 mm"),
        (f"{SIZES}count = -1", "count", "a whole number from 1"),
        (f"{SIZES}count = true", "count", "a whole number from 1"),
        (f"{SIZES}gang = 1.5", "gang", "a whole number from 1 to 40"),
        (f"{SIZES}gang = 99", "gang", "a whole number from 1 to 40"),
        (f"{SIZES}mold = 3", "mold", "a table"),
        (f"{SIZES}embed = 3", "embed", "a list"),
        (f"{SIZES}name = 3", "name", "a text"),
        (f'{SIZES}name = ""', "name", "a text"),
        (f'{SIZES}mold.method = "stacked"', "mold.method", "panelled"),
        (f'{SIZES}mold.uses = "many"', "mold.uses", "a whole number from 1"),
        (f'{SIZES}mold.sheet = "plywood 19"', "mold.sheet", "one of plywood 18"),
        (f'{SIZES}mold.stick = "2x2"', "mold.stick", "one of 22x45"),
        (f'{SIZES}mold.owned = "old"', "mold.owned", "none"),
        (f'{SIZES}mold.tube = "card 12"', "mold.tube", "nothing: a panelled mold has no tube"),
        (f"{SIZES}mold.ribs = 12", "mold.ribs", "it belongs to ribbed molds"),
        (f"{SIZES}mold.ribs = 2", "mold.ribs", "3 to 400"),
        (f'{SIZES}mold.skin = "hardboard 6"', "mold.skin", "wrapped and edged and ribbed molds"),
        (f'{SIZES}embed = [{{ kind = "bar", count = 2 }}]', "embed.0.diameter", "mm"),
        (f'{SIZES}embed = [{{ kind = "rope" }}]', "embed.0.kind", "one of bar"),
        (f"{SIZES}embed = [{{ count = 2 }}]", "embed.0.kind", "one of bar, mesh"),
        (f"{SIZES}embed = [3]", "embed.0", "a table"),
        (
            f'{SIZES}embed = [{{ kind = "fibres", dose = "1 kg/m3", doze = 1 }}]',
            "embed.0.doze",
            "one of kind, dose",
        ),
    ],
)
def test_one_thing_wrong_in_a_piece(fault, rows, key, want):
    found = fault(with_piece(rows))
    assert found.key == f"piece.0.{key}"
    assert want in found.want
    assert found.where.rpartition(":")[2].isdigit() and found.got


@pytest.mark.parametrize(
    ("text", "key", "want"),
    [
        ("", "mix", "a [mix] table"),
        ("# nothing\n", "piece", "at least one [[piece]]"),
        ('[mix]\nwet_density = "600 kg/m3"\n', "piece", "at least one [[piece]]"),
        ('[mix]\nwet_density = "600 kg/m3"\n[piece]\nshape = "trough"\n', "piece", "tables headed [[piece]]"),
        ('piece = [3]\n[mix]\nwet_density = "600 kg/m3"\n', "piece.0", "a table"),
        ('piece = []\n[mix]\nwet_density = "600 kg/m3"\n', "piece", "at least one [[piece]]"),
        (with_piece(SIZES).replace('shape = "trough"', ""), "piece.0.shape", "trough, cube"),
        (with_piece(SIZES).replace('"trough"', '"through"'), "piece.0.shape", "one of trough, cube"),
        (with_piece(SIZES).replace('"trough"', "7"), "piece.0.shape", "one of trough, cube"),
        (with_piece(SIZES, 'units = "mm"\ntitle = 5'), "title", "a text"),
        (with_piece(SIZES, 'units = "mm"\nbatches = 5'), "batches", "a table"),
        (
            with_piece(SIZES, 'units = "inches"').replace("600", "24").replace("400", "12"),
            "units",
            '"in" or "mm"',
        ),
        (
            with_piece(SIZES, "units = 3").replace("600", '"24 in"').replace("400", '"12 in"'),
            "units",
            '"in" or "mm"',
        ),
        (with_piece(SIZES, 'units = "mm"\nshop = "none.toml"'), "shop", "a shop file"),
        (with_piece(SIZES, 'units = "mm"\nshop = 3'), "shop", "a text"),
        (
            with_piece(SIZES).replace("wet_density", "sand = 0.5\n#"),
            "mix",
            "one of wet_density, dry_density, aim_class, aim_strength, aim_conductivity",
        ),
        (
            with_piece(SIZES).replace("[mix]", "[mix]\ndry_density = 500"),
            "mix.dry_density",
            "one of wet_density",
        ),
        (
            with_piece(SIZES).replace("[mix]", '[mix]\nkind = "celular"'),
            "mix.kind",
            "one of cellular, ordinary",
        ),
        (with_piece(SIZES).replace("[mix]", "[mix]\nkind = 3"), "mix.kind", "one of cellular, ordinary"),
        (with_piece(SIZES).replace("[mix]", "[mix]\ngravel = 3"), "mix.gravel", "one of kind, wet_density"),
        (f"mix = 3\n{with_piece(SIZES).replace('[mix]', '')}".replace("wet_density", "#"), "mix", "a table"),
    ],
)
def test_one_thing_wrong_elsewhere(faults, text, key, want):
    found = {fault.key: fault for fault in faults(text)}
    assert want in found[key].want
    assert set(found) <= {key, "mix", "piece"}


def test_a_name_twice(fault):
    piece = f'[[piece]]\nshape = "trough"\nname = "bed"\n{SIZES}'
    found = fault(f'units = "mm"\n[mix]\nwet_density = 600\n{piece}{piece}')
    assert (found.key, found.where.rpartition(":")[2]) == ("piece.1.name", "11")
    assert found.want == "a name of its own for each piece"


def test_keys_of_a_misspelt_shape_are_checked_as_the_shape_it_was_meant_to_be(faults):
    found = faults(with_piece("length = 600\nwidth = 400\nwall = 900").replace("trough", "trogh"))
    assert [fault.key for fault in found] == ["piece.0.shape", "piece.0.wall"]


def test_a_misspelt_table_is_one_fault(fault):
    assert fault(with_piece(SIZES).replace("[[piece]]", "[[pieces]]")).hint == "did you mean 'piece'?"
    assert fault(with_piece(SIZES).replace("[mix]", "[Mix]")).hint == "did you mean 'mix'?"


def test_lines_that_are_no_toml_stand_beside_other_faults(faults):
    found = faults(with_piece("length = 24 in\nwidth = 400\nwall = 900"))
    assert [fault.key for fault in found] == ["length", "piece.0.wall"]
    assert 'length = "24 in"' in found[0].hint


def test_faults_of_the_shop_file_come_with_those_of_the_project(write, faults):
    write('units = "in"\n[saw]\nkerf = 3\n[[sheet]]\nname = "ply"\n', "shop.toml")
    found = faults(with_piece("length = 5\nwidth = 400", 'units = "mm"\nshop = "shop.toml"'))
    names = [(Path(fault.where.rpartition(":")[0]).name, fault.key) for fault in found]
    assert names == [
        ("bed.toml", "piece.0.length"),
        ("shop.toml", "saw.kerf"),
        ("shop.toml", "sheet.0.nominal"),
        ("shop.toml", "sheet.0.length"),
        ("shop.toml", "sheet.0.width"),
    ]


def test_a_shop_that_is_a_folder_or_broken(write, faults, tmp_path):
    (tmp_path / "yard").mkdir()
    found = faults(with_piece(SIZES, 'units = "mm"\nshop = "yard"'))
    assert [fault.key for fault in found] == ["shop"] and "a folder" in found[0].got
    write("[saw\n", "shop.toml")
    found = faults(with_piece(SIZES, 'units = "mm"\nshop = "shop.toml"'))
    assert [Path(fault.where).name for fault in found] == ["shop.toml:1"]


def test_an_owned_mold_must_be_of_the_same_shape(write, fault):
    write('units = "mm"\n[[owned_mold]]\nname = "box"\nshape = "cube"\nedge = 150\n', "shop.toml")
    text = with_piece(f'{SIZES}mold.owned = "box"', 'units = "mm"\nshop = "shop.toml"')
    assert fault(text).want == "a trough mold"
    good = text.replace('"trough"', '"cube"').replace("length = 600\nwidth = 400", "edge = 150")
    assert read_project(write(good)).orders[0].mold.owned == "box"


def test_a_second_method_of_a_shape_can_be_asked_for(write):
    text = 'units = "mm"\n[mix]\nwet_density = 600\n[[piece]]\nshape = "cube"\nedge = 150\nmold.method = "stacked"\n'
    assert read_project(write(text)).orders[0].mold.method == "stacked"


def test_a_shop_file_for_a_project_and_a_project_for_a_shop(write, fault):
    with pytest.raises(InputError) as caught:
        read_project(write('units = "in"\n[saw]\nkerf = 0.1\n', "yard.toml"))
    (found,) = caught.value.faults
    assert (found.got, found.want) == ("a shop file", "a project file")
    assert found.hint == 'name it in a project file: shop = "yard.toml"'
    itself = fault(with_piece(SIZES, 'units = "mm"\nshop = "bed.toml"'))
    assert (itself.key, itself.got, itself.want) == (
        "shop",
        '"bed.toml", which is a project file',
        "a shop file",
    )


def test_control_signs_do_not_reach_the_terminal(faults):
    text = with_piece(
        'length = "\\u001b[31m"\nwidth = "5 \\u0007"\n"wal\\u0000l" = 3\nshape = 1\nname = "a\\nb"'
    )
    assert all(str(fault).isprintable() for fault in faults(text.replace('shape = "trough"\n', "")))


def test_a_missing_project_file_is_one_clear_fault(tmp_path):
    with pytest.raises(InputError) as caught:
        read_project(tmp_path / "none.toml")
    assert str(caught.value) == f"{tmp_path / 'none.toml'}: got no such file, want a file that exists"


def test_the_message_has_a_line_for_each_fault(faults, write):
    with pytest.raises(InputError) as caught:
        read_project(write(with_piece("length = 5\nwidth = 5")))
    assert str(caught.value).count("\n") == 1


TYPED = st.one_of(
    st.integers(-(10**20), 10**20),
    st.floats(allow_nan=False, allow_infinity=False).map(
        lambda value: repr(value) if "e" not in repr(value) else "1.5"
    ),
    st.sampled_from(
        ["true", '"x"', "[]", "{}", "inf", "nan", "[[]]", '"1/0 in"', '"9 ft"', '"5 %"', "2020-01-01"]
    ),
)
KEYS = st.sampled_from(
    [
        "title",
        "units",
        "shop",
        "mix.wet_density",
        "mix.kind",
        "mix.sand",
        "batches.split",
        "batches.loss",
        "wall",
        "x",
    ]
)


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.dictionaries(KEYS, TYPED, max_size=4),
    st.dictionaries(
        st.sampled_from(
            ["length", "width", "wall", "count", "name", "down", "mold.uses", "mold.sheet", "embed", "y"]
        ),
        TYPED,
        max_size=4,
    ),
)
def test_no_values_make_it_fail(write, top, piece):
    rows = "\n".join(f"{key} = {value}" for key, value in top.items())
    own = "\n".join(f"{key} = {value}" for key, value in piece.items())
    try:
        project = read_project(write(f'{rows}\n[[piece]]\nshape = "trough"\n{own}\n'))
        assert all(math.isfinite(order.parameters.length) for order in project.orders)
    except InputError as error:
        assert all(fault.where and fault.want for fault in error.faults)


def test_reading_imports_nothing_heavy(write):
    path = write(
        'units = "in"\n[mix]\nwet_density = 40\n[[piece]]\nshape = "slab"\nlength = 16\nwidth = 16\nthickness = 2\n'
    )
    code = (
        "import sys; from pathlib import Path; from formwork.project.read import read_project;"
        "read_project(Path(sys.argv[1]));"
        "sys.exit(any(name in sys.modules for name in ('pint', 'cadquery', 'ezdxf', 'shapely', 'numpy', 'rich', 'difflib')))"
    )
    assert subprocess.run([sys.executable, "-c", code, str(path)], check=False).returncode == 0
