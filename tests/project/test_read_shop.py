"""A shop file, or none: what the shop then is, what was assumed, and what is said of mistakes."""

from __future__ import annotations

from pathlib import Path

import pytest

from formwork.errors import Fault, InputError
from formwork.project.shop import read_shop
from formwork.stock import catalogue
from formwork.stock.records import StickLength
from formwork.strength.tables import rows

pytestmark = pytest.mark.usefixtures("shapes")
INCH = 0.0254

SHOP = """
name = "Back yard"
units = "in"
currency = "$"
[saw]
kerf = "1/8 in"
trim = 0
end_trim = 0.5
[mixer]
kind = "tilting drum"
rated = "5 ft3"
rating = "whole drum"
[foam]
density = 5
output = "3 ft3/min"
price = "$9.50"
[cement]
bag = 47
price = 14.25
[[sheet]]
name = "ply"
nominal = "23/32 in"
length = 96
width = 48
price = "$48"
[[sheet]]
name = "ply"
nominal = "23/32 in"
length = 30
width = 20
offcut = true
[[sheet]]
name = "mdo"
material = "overlaid plywood"
nominal = "3/4 in"
measured = 0.73
length = 96
width = 48
limit = 4
[[stick]]
name = "2x4"
lengths = ["8 ft", { length = "10 ft", price = 6.20 }, { length = 40, offcut = true }]
[[stick]]
name = "batten"
thickness = 1.5
width = 0.75
lengths = [72]
[[hardware]]
item = "screw"
size = "#8 x 2 in"
unit = "box of 50"
per = 50
price = 6
[[owned_mold]]
name = "old trough mold"
shape = "trough"
length = 24
width = 12
"""


@pytest.fixture
def write(tmp_path):
    def write_file(text: str) -> Path:
        path = tmp_path / "shop.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write_file


@pytest.fixture
def faults(write):
    def faults_of(text: str) -> tuple[Fault, ...]:
        with pytest.raises(InputError) as caught:
            read_shop(write(text))
        return caught.value.faults

    return faults_of


def test_no_shop_file_is_a_usual_yard_and_says_so():
    for units in ("in", "mm"):
        shop = read_shop(None, units)
        assert shop.units == units
        assert shop.sheets == catalogue.sheets(units) and shop.sticks == catalogue.sticks(units)
        assumed = "\n".join(shop.assumed)
        for word in ("sheets", "sticks", "saw kerf", "trim", "mixer", "foam", "cement bag"):
            assert word in assumed
    assert read_shop(None, "in").saw.kerf == pytest.approx(INCH / 8)
    assert read_shop(None, "mm").saw.kerf == 0.003
    assert read_shop(None, "in").cement.bag == pytest.approx(42.6, abs=0.05)
    assert read_shop(None, "mm").cement.bag == 25.0


def test_a_shop_is_read(write):
    shop = read_shop(write(SHOP))
    assert (shop.name, shop.units, shop.currency) == ("Back yard", "in", "$")
    assert (shop.saw.kerf, shop.saw.trim, shop.saw.end_trim) == (0.003175, 0.0, 0.0127)
    assert shop.foam.density == pytest.approx(5 * 16.01846, rel=1e-6)
    assert shop.foam.output == pytest.approx(3 * 4.719474e-4, rel=1e-6) and shop.foam.price == 9.5
    assert shop.cement.bag == pytest.approx(47 * 0.45359237) and shop.cement.price == 14.25
    (mold,) = shop.owned
    assert (mold.name, mold.shape, mold.parameters.length) == ("old trough mold", "trough", 0.6096)


@pytest.mark.parametrize(
    ("units", "item", "per", "si"),
    [
        ("in", "sealant", 40, 40 * 0.3048),
        ("mm", "sealant", 12, 12.0),
        ("in", "release agent", 100, 100 * 0.09290304),
        ("in", "sand", 50, 50 * 0.45359237),
        ("mm", "sand", 25, 25.0),
        ("in", "washer", 100, 100.0),
    ],
)
def test_what_a_unit_gives_is_in_the_units_of_the_file(write, units, item, per, si):
    row = f'[[hardware]]\nitem = "{item}"\nunit = "pack"\nper = {per}\nprice = 4\n'
    (own,) = [one for one in read_shop(write(f'units = "{units}"\n{row}')).hardware if one.unit == "pack"]
    assert own.per == pytest.approx(si, rel=1e-12)


@pytest.mark.parametrize(
    ("item", "hint"),
    [("screws", "did you mean 'screw'?"), ("cheese", ""), ("Sealent", "did you mean 'sealant'?")],
)
def test_a_thing_that_is_never_bought_is_named(faults, item, hint):
    (found,) = faults(f'units = "mm"\n[[hardware]]\nitem = "{item}"\nsize = "x"\nunit = "piece"\n')
    assert (found.key, found.got) == ("hardware.0.item", f'"{item}"')
    assert found.want.startswith("one of: screw, bolt") and found.hint == hint


def test_three_thicknesses_of_a_sheet(write):
    ply, offcut, mdo = read_shop(write(SHOP)).sheets
    assert ply.nominal == "23/32 in" and not ply.measured
    assert ply.thickness == pytest.approx((0.688 + 0.750) / 2 * INCH)
    assert mdo.measured and mdo.thickness == pytest.approx(0.73 * INCH) and mdo.limit == 4
    assert offcut.offcut and offcut.limit == 1 and offcut.thickness == ply.thickness
    assert (ply.grain, ply.good_faces, mdo.good_faces) == (True, 1, 2)
    assert (ply.price, offcut.price) == (48.0, None)


def test_a_sheet_without_a_standard_is_as_thick_as_its_tag_says(write):
    row = '[[sheet]]\nname = "m"\nmaterial = "melamine board"\nnominal = "16 mm"\nlength = "2.8 m"\nwidth = "2.07 m"\n'
    (sheet,) = read_shop(write(f'units = "mm"\n{row}')).sheets
    assert sheet.thickness == 0.016 and not sheet.grain and not sheet.measured


def test_sticks_take_the_dressed_size_of_their_name_or_what_they_say(write):
    two_by_four, batten = read_shop(write(SHOP)).sticks
    assert (two_by_four.thickness, two_by_four.width) == (0.0381, 0.0889)
    assert (batten.thickness, batten.width) == pytest.approx((0.75 * INCH, 1.5 * INCH))
    assert two_by_four.lengths == (
        StickLength(2.4384),
        StickLength(3.048, 6.2),
        StickLength(1.016, None, 1, offcut=True),
    )


def test_hardware_of_the_file_stands_over_the_yards_list(write):
    rows = read_shop(write(SHOP)).hardware
    (screw,) = [row for row in rows if (row.item, row.size) == ("screw", "#8 x 2 in")]
    assert (screw.unit, screw.per, screw.price) == ("box of 50", 50.0, 6.0)
    assert len(rows) == len(catalogue.hardware("in"))


@pytest.mark.parametrize(
    ("kind", "rating", "share"),
    [
        ("tilting drum", "whole drum", 0.6),
        ("paddle", "whole drum", 0.8),
        ("tilting drum", "mixed output", 1.0),
    ],
)
def test_usable_volume_follows_from_what_the_rating_means(write, kind, rating, share):
    mixer = read_shop(write(f'[mixer]\nkind = "{kind}"\nrated = "120 L"\nrating = "{rating}"\n'), "mm").mixer
    assert mixer.usable == pytest.approx(share * 0.12)
    assert 0 < mixer.residue < 0.005


def test_everything_that_was_not_in_the_file_is_listed(write):
    assumed = "\n".join(read_shop(write(SHOP)).assumed)
    for word in (
        "thickness of sheet ply",
        "section of stick 2x4",
        "finished mix",
        "left in the mixer",
        "foam's air",
    ):
        assert word in assumed
    for word in ("saw kerf", "mdo", "cement bag", "batten", "foam density"):
        assert word not in assumed
    assert assumed.count("thickness of sheet ply") == 1


def test_units_of_the_project_hold_where_the_shop_declares_none(write):
    path = write('[saw]\nkerf = "3 mm"\n')
    assert read_shop(path, "mm").sheets == catalogue.sheets("mm")
    assert read_shop(path, "in").sheets == catalogue.sheets("in")
    with pytest.raises(InputError, match="units"):
        read_shop(write("[saw]\nkerf = 3\n"), "mm")


@pytest.mark.parametrize(
    ("text", "key", "want"),
    [
        ("[saws]\n", "saws", "one of name, units, currency, saw"),
        ('units = "cm"\n', "units", '"in" or "mm"'),
        ("[saw]\nkerf = -1\n", "saw.kerf", "0 to 3/8 in"),
        ("[saw]\nkerf = 3\n", "saw.kerf", "0 to 3/8 in"),
        ('[mixer]\nkind = "drum"\nrated = "5 ft3"\nrating = "whole drum"\n', "mixer.kind", "one of tilting drum"),
        ('[mixer]\nkind = "paddle"\nrated = 5\nrating = "whole drum"\n', "mixer.rated", "a volume with its unit"),
        ('[mixer]\nkind = "paddle"\nrated = "5 ft3"\nrating = "whole drum"\nusable = "6 ft3"\n', "mixer.usable", "at most the rated"),
        ('[mixer]\nkind = "paddle"\nrated = "5 gal"\nrating = "whole drum"\nleast = "4.5 gal"\n', "mixer.least", "less than the usable"),
        ('[mixer]\nkind = "paddle"\nrated = "5 gal"\nrating = "whole drum"\nleast_slurry = "4.5 gal"\n', "mixer.least_slurry", "less than the usable"),
        ('[mixer]\nkind = "paddle"\nrated = "5 gal"\nrating = "whole drum"\nleast_slurry = "-1 gal"\n', "mixer.least_slurry", "0 to"),
        ('[mixer]\nkind = "paddle"\nrated = "5 gal"\nrating = "whole drum"\nleast = "2 gal"\ntub = "1 gal"\n', "mixer.least", "less than the second tub"),
        ('[mixer]\nkind = "paddle"\nrated = "5 gal"\nrating = "whole drum"\ntub = "5 lb"\n', "mixer.tub", "a volume"),
        ('[mixer]\nkind = "paddle"\nrated = "5 gal"\nrating = "whole drum"\nheaviest = "-1 lb"\n', "mixer.heaviest", "0 to"),
        ('[mixer]\nkind = "paddle"\nrated = "5 gal"\nrating = "whole drum"\nheaviest = nan\n', "mixer.heaviest", "lb"),
        ("[foam]\nsurvival = 95\n", "foam.survival", "30 to 100 %"),
        ('[cement]\nprice = "14 GBP"\n', "cement.price", "an amount such as"),
        ("[cement]\nprice = -1\n", "cement.price", "a price from 0"),
        ("sheet = 3\n", "sheet", "a list"),
        ("sheet = [3]\n", "sheet.0", "a table"),
        ('[[sheet]]\nname = "a"\nnominal = "thick"\nlength = 96\nwidth = 48\n', "sheet.0.nominal", "a size as on the price tag"),
        ('[[sheet]]\nname = "a"\nnominal = "9 in"\nlength = 96\nwidth = 48\n', "sheet.0.nominal", "a size as on the price tag"),
        ('[[sheet]]\nname = "a"\nmaterial = "ply"\nnominal = "3/4 in"\nlength = 96\nwidth = 48\n', "sheet.0.material", "one of plywood"),
        ('[[stick]]\nname = "2x4"\nlengths = []\n', "stick.0.lengths", "a list of at least 1"),
        ('[[stick]]\nname = "2x4"\nlengths = 8\n', "stick.0.lengths", "a list"),
        ('[[stick]]\nname = "2x4"\nlengths = ["8 kg"]\n', "stick.0.lengths.0.length", "a length"),
        ('[[stick]]\nname = "2x4"\nlengths = [{ length = "8 ft", prise = 3 }]\n', "stick.0.lengths.0.prise", "one of length, price"),
        ('[[stick]]\nname = "thing"\nlengths = ["8 ft"]\n', "stick.0.thickness", "a nominal size such as"),
        ('[[stick]]\nname = "9x9"\nlengths = ["8 ft"]\n', "stick.0.thickness", "a nominal size such as"),
        ('[[hardware]]\nitem = "screw"\nunit = "box"\n', "hardware.0.size", '"#8 x 2 in"'),
        ('[[hardware]]\nitem = "screw"\nsize = "#8 x 2"\nunit = "box"\n', "hardware.0.size", '"#8 x 2 in"'),
        ('[[hardware]]\nitem = "bolt"\nsize = "long"\nunit = "piece"\n', "hardware.0.size", '"M8 x 80 mm"'),
        ("owned_mold = 3\n", "owned_mold", "tables headed [[owned_mold]]"),
        ('[[owned_mold]]\nname = "a"\nshape = "sphere"\n', "owned_mold.0.shape", "one of trough, cube"),
        ('[[owned_mold]]\nname = "a"\nshape = "cube"\nedge = 900\n', "owned_mold.0.edge", "2 to 39 5/16 in"),
        ('[[owned_mold]]\nshape = "cube"\nedge = 9\n', "owned_mold.0.name", "a text"),
    ],
)  # fmt: skip
def test_one_thing_wrong(faults, text, key, want):
    head = "" if text.startswith("units") else 'units = "in"\n'
    (found,) = faults(f"{head}{text}")
    assert found.key == key
    assert want in found.want
    assert found.where.rpartition(":")[2].isdigit() and found.got


@pytest.mark.parametrize(
    ("row", "key"),
    [
        ('[[stick]]\nname = "2x4"\nlengths = ["8 ft"]\n', "stick.1.name"),
        ('[[hardware]]\nitem = "washer"\nunit = "box"\n', "hardware.1.item"),
        ('[[owned_mold]]\nname = "a"\nshape = "cube"\nedge = 9\n', "owned_mold"),
    ],
)
def test_the_same_thing_twice(faults, row, key):
    (found,) = faults(f'units = "in"\n{row}{row}')
    assert found.key == key


def test_one_name_for_two_thicknesses(faults):
    row = '[[sheet]]\nname = "a"\nmaterial = "MDF"\nnominal = "{}"\nlength = 96\nwidth = 48\n'
    (found,) = faults(f'units = "in"\n{row.format("3/4 in")}{row.format("1/2 in")}')
    assert found.key == "sheet.1.name" and "another thickness" in found.want


def test_empty_and_missing_files(write, tmp_path):
    assert read_shop(write(""), "mm").sheets == catalogue.sheets("mm")
    with pytest.raises(InputError, match="no such file"):
        read_shop(tmp_path / "none.toml")


LEFTOVER = """
units = "mm"
[[leftover_mold]]
name = "edging"
volume = "2.5 L"
count = 4
[[leftover_mold]]
name = "brick"
volume = "1500 cm3"
"""


def test_leftover_molds_are_read_in_their_order(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text(LEFTOVER, encoding="utf-8")
    first, second = read_shop(path).leftover_molds
    assert (first.name, first.count, second.name, second.count) == ("edging", 4, "brick", 1)
    assert (first.volume, second.volume) == pytest.approx((0.0025, 0.0015), rel=1e-12)


def test_a_leftover_mold_named_twice_is_told(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text(LEFTOVER.replace("brick", "edging"), encoding="utf-8")
    with pytest.raises(InputError) as refused:
        read_shop(path)
    (fault,) = refused.value.faults
    assert (fault.key, fault.got, fault.want) == (
        "leftover_mold",
        '"edging" more than once',
        "a name of its own",
    )


def test_times_are_read_and_those_left_out_are_told(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text('units = "mm"\n[times]\nmixing = "3 min"\nworkable = "20 min"\n', encoding="utf-8")
    shop = read_shop(path)
    assert (shop.times.mixing, shop.times.workable, shop.times.placing) == (180.0, 1200.0, 300.0)
    (line,) = [line for line in shop.assumed if line.startswith("times:")]
    assert "placing it 5 min" in line and "workable" not in line


def test_a_workable_time_of_days_is_refused(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text('[times]\nworkable = "2 days"\n', encoding="utf-8")
    with pytest.raises(InputError) as refused:
        read_shop(path)
    assert [fault.key for fault in refused.value.faults] == ["times.workable"]


STRAPPED = """
units = "mm"
[[sheet]]
name = "bent"
material = "bending plywood"
nominal = "5 mm"
length = 2440
width = 1220
bend_radius = 120
tension = "2 MPa"
[[strap]]
name = "web"
lashing = "2.5 kN"
length = "4 m"
price = 7.5
"""


def test_straps_and_sheets_to_bend(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text(STRAPPED, encoding="utf-8")
    shop = read_shop(path)
    assert [(one.name, one.lashing, one.length) for one in shop.straps] == [("web", 2500.0, 4.0)]
    assert (shop.sheets[0].bend_radius, shop.sheets[0].tension) == pytest.approx((0.12, 2e6))
    assert [one.price for one in shop.hardware if one.item == "strap"] == [7.5]


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('lashing = "2.5 kN"\n', "", "lashing or breaking"),
        ('lashing = "2.5 kN"', 'lashing = "2.5 kg"', "lashing"),
        (
            "[[strap]]",
            '[[strap]]\nname = "web"\nlashing = "1 kN"\nlength = "2 m"\n[[strap]]',
            "a name of its own",
        ),
        ("bend_radius = 120", "bend_radius = 0", "bend_radius"),
        ('tension = "2 MPa"', "tension = 2", "tension"),
    ],
)
def test_wrong_straps_and_bends_are_said_in_words(tmp_path, old, new, words):
    path = tmp_path / "shop.toml"
    path.write_text(STRAPPED.replace(old, new), encoding="utf-8")
    with pytest.raises(InputError, match=words):
        read_shop(path)


@pytest.mark.parametrize("written", ['"mud"', '""', "3", "true"])
def test_a_ground_that_no_table_has_is_named_with_those_there_are(tmp_path, written):
    path = tmp_path / "shop.toml"
    path.write_text(f'units = "mm"\nground = {written}\n', encoding="utf-8")
    with pytest.raises(InputError) as refused:
        read_shop(path)
    [said] = map(str, refused.value.faults)
    assert "shop.toml:2" in said
    assert "gravel" in said and "clay" in said


def test_a_ground_is_kept_and_none_is_none(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text('units = "mm"\nground = "clay"\n', encoding="utf-8")
    assert read_shop(path).ground == "clay"
    assert read_shop(None).ground is None


@pytest.mark.parametrize(
    ("item", "size", "want"),
    [
        ("screw", "8 x 120 mm", "3 to 6.9 mm"),
        ("screw", "2.5 x 30 mm", "3 to 6.9 mm"),
        ("screw", "#4 x 1 in", "#6 to #14"),
        ("screw", "#11 x 1 in", "#6 to #14"),
        ("bolt", "M30 x 100 mm", "M6 to M25"),
        ("bolt", "3/16 x 2 in", "1/4 to 1 in"),
    ],
)
def test_a_screw_that_no_table_knows_is_named_with_those_it_knows(tmp_path, item, size, want):
    path = tmp_path / "shop.toml"
    path.write_text(
        f'units = "mm"\n[[hardware]]\nitem = "{item}"\nsize = "{size}"\nunit = "piece"\n', encoding="utf-8"
    )
    with pytest.raises(InputError) as refused:
        read_shop(path)
    [said] = map(str, refused.value.faults)
    assert "shop.toml:4" in said
    assert want in said


@pytest.mark.parametrize("number", [row["number"] for row in rows("nds_wood_screws")])
def test_every_screw_of_the_table_may_stand_in_a_shop_file(tmp_path, number):
    path = tmp_path / "shop.toml"
    line = f'[[hardware]]\nitem = "screw"\nsize = "#{number} x 2 in"\nunit = "piece"\n'
    path.write_text(f'units = "in"\n{line}', encoding="utf-8")
    assert any(one.size == f"#{number} x 2 in" for one in read_shop(path).hardware)
