"""``formwork weigh`` from outside."""

from __future__ import annotations

import subprocess
import sys

import pytest

from formwork.cli.commands import commands
from formwork.cli.outcome import run


@pytest.fixture
def weigh(capsys):
    def call(*arguments: str) -> tuple[int, str, str]:
        status = run(commands, ["weigh", *arguments])
        said = capsys.readouterr()
        assert "Traceback" not in said.out + said.err
        return status, " ".join(said.out.split()), " ".join(said.err.split())

    return call


CUP = ("--cup", "1 L", "--tare", "70 g", "--wet", "600 kg/m3")


def test_too_heavy_says_the_foam_and_leaves_with_1(weigh):
    status, out, err = weigh("720 g", *CUP, "--batch", "75 kg")
    assert (status, err) == (1, "")
    assert "TOO HEAVY by 50 kg/m3 (8.3 %)" in out
    # Foam of 50 kg/m3, 95 % of it staying: 11.063 litres into 75 kg, which then are 125.92 litres (worked by hand).
    assert "foam 11.1 L 1 full bucket of 10 L and a bucket up to its 1.06 L mark" in out
    assert "The batch then is 126 L" in out and "DOES NOT FIT the mixer" in out


def test_too_light_says_the_slurry(weigh):
    status, out, _ = weigh("610 g", *CUP, "--batch", "138.889 L")
    assert status == 1 and "TOO LIGHT by 60 kg/m3 (10 %)" in out
    for part in ("slurry 6.75 L", "cement 8.25 kg", "water 4.13 kg", "never dry cement"):
        assert part in out


def test_a_reading_far_off_is_doubted_first(weigh):
    assert "weigh again first" in weigh("470 g", *CUP)[1]
    assert "weigh again first" not in weigh("720 g", *CUP)[1]


def test_in_tolerance_and_as_wanted_leave_with_0(weigh):
    status, out, _ = weigh("710 g", *CUP)
    assert status == 0 and "In tolerance, a little heavy: off by 40 kg/m3" in out
    assert "for each 100 L in the mixer" in out
    status, out, _ = weigh("671 g", *CUP)
    assert (
        status == 0 and "As wanted: off by 1 kg/m3" in out and "less than this cup and scale can tell" in out
    )
    assert "To add" not in out


def test_seconds_of_the_generator_and_the_remaining_batches(weigh, tmp_path):
    shop = tmp_path / "shop.toml"
    shop.write_text(
        'units = "mm"\n[mixer]\nkind = "paddle"\nrated = "200 L"\nrating = "mixed output"\nresidue = "2 L"\n'
        '[foam]\ndensity = 50\nsurvival = 1.0\noutput = "30 L/min"\n',
        encoding="utf-8",
    )
    status, out, _ = weigh("720 g", *CUP, "--batch", "75 kg", "--shop", str(shop), "--still", "300 L")
    assert status == 1
    assert "foam 10.5 L 21 s of the generator" in out and "It fits the mixer" in out
    # 300 L less the 125.874 - 2 L that leave the mixer: 176.126 L, and 178.126 with the residue in one batch.
    assert "the molds need 176 L more: 1 batch of 178 L" in out


def test_enough_is_said(weigh):
    _, out, _ = weigh("720 g", *CUP, "--batch", "40 kg", "--still", "50 L")
    assert "This batch is enough" in out


def test_the_foam_that_stayed(weigh):
    # 25 kg of cement, 12.5 of water, 51.193 L of foam at 50 kg/m3 are 40.06 kg; at 600 kg/m3 90 % stayed.
    _, out, _ = weigh(
        "600 g", "--cup", "1 L", "--wet", "650 kg/m3", "--batch", "40.0597 kg", "--foam-in", "51.193 L"
    )
    assert "Foam: 90 % of its air stayed" in out
    _, out, _ = weigh(
        "600 g", "--cup", "1 L", "--wet", "650 kg/m3", "--batch", "400 kg", "--foam-in", "51.193 L"
    )
    assert "beyond belief" in out


def test_a_cup_that_is_not_what_its_owner_believes(weigh):
    status, out, _ = weigh(
        "3.00 lb",
        "--cup-across",
        "6.112 in",
        "--cup-deep",
        "6 in",
        "--cup-meant",
        "0.1 ft3",
        "--wet",
        "30 lb/ft3",
    )
    assert status == 0 and "it holds 0.1019 ft3" in out and "29.4 lb/ft3, and not the 30.0 lb/ft3" in out


def test_cups_by_pipe_and_by_water(weigh):
    status, out, _ = weigh(
        "3 lb", "--cup-pipe", "6 in schedule 40", "--cup-deep", "6.049 in", "--wet", "30 lb/ft3"
    )
    assert status == 0 and "Measure the pipe" in out
    status, out, _ = weigh(
        "720 g", "--tare", "110 g", "--cup-water", "1108.7 g", "--water-at", "23 C", "--wet", "600 kg/m3"
    )
    assert status == 0 and "it holds 999 g (2.202 lb)" in out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("60 g", *CUP), "want the full cup to weigh more"),
        (("100 g", *CUP), "want more than the foam's own 50 kg/m3"),
        (("3 kg", *CUP), "the slurry before any foam"),
        (("720", *CUP), "got \"720\", want a mass with its unit"),
        (("720 g", "--wet", "600 kg/m3"), "the cup: got none, want one of --cup"),
        (("720 g", *CUP, "--cup-pipe", "6"), "the cup: got --cup and --cup-pipe, want one"),
        (("720 g", "--cup-across", "10 cm", "--wet", "600 kg/m3"), "its inside depth is missing"),
        (("720 g", "--cup-water", "1 kg", "--wet", "600 kg/m3"), "needs the water's temperature"),
        (("720 g", "--cup-pipe", "6 schedule x", "--cup-deep", "6 in", "--wet", "600 kg/m3"), "want schedule 40 or 80"),
        (("720 g", *CUP, "--batch", "lots"), "want a mass"),
        (("720 g", *CUP, "--foam-in", "50 L"), "only with the batch's mass"),
        (("720 g", *CUP, "--foam-in", "50 L", "--batch", "2 kg"), "weighs more than the whole batch"),
        (("720 g", *CUP, "--still", "50 L"), "--still needs the batch"),
        (("720 g", *CUP, "--tolerance", "0 kg/m3"), "tolerance: got 0"),
        (("720 g", *CUP, "--batch", "0 kg"), "mass of the batch: got 0, want more than 0"),
        (("720 g", *CUP, "--bucket", "0 L"), 'got "0 L", want more than 0'),
        (("720 g", *CUP, "--scale", "-1 g"), 'got "-1 g", want more than 0'),
        (("720 g", *CUP, "--water-cement", "0"), "water-cement ratio: got 0, want 0.2 to 3"),
        (("720 g", *CUP, "--sand", "-1"), "sand over cement: got -1"),
        (("720 g", "--cup", "1 L", "--wet", "60 kg/m3"), "one and a half times the foam's density"),
        (("720 g", "--cup", "1 L", "--wet", "1900 kg/m3"), "the slurry's own density"),
        (("720 g", "--cup", "1 m3", "--wet", "600 kg/m3"), "cup: got 1 m3"),
        (("720 g", "--cup", "1 L"), "say what density is wanted"),
        (("720 g", *CUP, "--shop", "none.toml"), "none.toml"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told_and_leaves_with_2(weigh, arguments, words):
    status, out, err = weigh(*arguments)
    assert (status, out) == (2, "")
    assert words in err


PROJECT = """
units = "mm"
shop = "shop.toml"
[mix]
wet_density = 600
ash = 0.2
[[mix.ingredient]]
name = "silica fume"
share = "10 %"
gravity = 2.2
[[piece]]
shape = "slab"
length = 500
width = 500
thickness = 100
"""
SHOP = """
units = "mm"
[mixer]
kind = "paddle"
rated = "200 L"
rating = "mixed output"
tub = "90 L"
[foam]
survival = 1.0
[cup]
water = "1108.21 g"
water_at = "20 C"
tare = "110 g"
"""


@pytest.fixture
def project(tmp_path):
    (tmp_path / "shop.toml").write_text(SHOP, encoding="utf-8")
    (tmp_path / "tubs.toml").write_text(PROJECT, encoding="utf-8")
    return str(tmp_path / "tubs.toml")


def test_a_project_says_the_mix_and_its_shop_the_cup(weigh, project):
    """Water of 20 C weighs 998.21 kg/m3: 998.21 g of it fill a litre. 50 kg at 550 kg/m3 are 90.91 L; with slurry of
    (1 + 0.5 + 0.2 + 0.1)/(1/3.15 + 0.5 + 0.3/2.2)*1000 = 1887.1 kg/m3 to 600: 3.532 L, of 3.703 kg of cement."""
    status, out, err = weigh("660 g", "--project", project, "--batch", "50 kg")
    assert (status, err) == (1, "") and "550 g of mix in a cup of 1 L (it holds 998 g" in out
    assert "on the scale 710 g with the cup" in out and "TOO LIGHT by 50 kg/m3" in out
    for part in ("slurry 3.53 L", "cement 3.7 kg", "fly ash 0.741 kg", "silica fume 370 g"):
        assert part in out
    assert "DOES NOT FIT the second tub (mixer: 90 L)" in out


def test_a_cup_that_is_typed_goes_before_the_shops(weigh, project):
    _, out, _ = weigh("660 g", "--project", project, "--cup", "2 L", "--tare", "0 g", "--wet", "600 kg/m3")
    assert not out
    _, out, _ = weigh("1320 g", "--project", project, "--cup", "2 L", "--tare", "120 g")
    assert "600 kg/m3" in out and "As wanted" in out


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (("--wet", "500 kg/m3", "--sand", "1"), "leave out --wet and --sand"),
        (("--project", "none.toml"), "none.toml: got no such file"),
    ],
)
def test_a_project_and_the_same_said_again(weigh, project, more, words):
    status, _, err = weigh("700 g", "--project", project, *more)
    assert status == 2 and words in err


def test_ordinary_concrete_has_no_foam_to_put_right(weigh, project, tmp_path):
    mix = '[mix]\nkind = "ordinary"\nwet_density = 2300\ncement = 1\nwater = 0.5\nsand = 2\ngravel = 3\n[[piece]]'
    text = PROJECT[: PROJECT.index("[mix]")] + mix + PROJECT.partition("[[piece]]")[2]
    (tmp_path / "tubs.toml").write_text(text, encoding="utf-8")
    status, _, err = weigh("700 g", "--project", project)
    assert status == 2 and "want one of cellular concrete" in err


def test_a_reading_without_a_shop_loads_nothing_heavy():
    code = (
        "import sys\nfrom formwork.cli.commands import commands\nfrom formwork.cli.outcome import run\n"
        "assert run(commands, ['weigh', '600 g', '--cup', '1 L', '--wet', '600 kg/m3']) == 0\n"
        "heavy = {'pydantic', 'pint', 'shapely', 'numpy', 'ezdxf', 'OCP', 'sqlite3'} & set(sys.modules)\n"
        "assert not heavy, heavy"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)
