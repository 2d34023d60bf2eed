"""``formwork batch`` from outside: mixes of a project, published classes, powders, leftover, the cup."""

from __future__ import annotations

from pathlib import Path

import pytest

from formwork.cli.commands import commands
from formwork.cli.outcome import run


@pytest.fixture
def batch(capsys):
    def call(*arguments: str) -> tuple[int, str, str]:
        status = run(commands, ["batch", *arguments])
        said = capsys.readouterr()
        assert "Traceback" not in said.out + said.err
        return status, " ".join(said.out.split()), " ".join(said.err.split())

    return call


BAGGED = """
units = "in"
[mix]
kind = "bagged"
name = "concrete mix"
bag = "80 lb"
water = "3 qt"
yields = "0.6 ft3"
[batches]
split = "whole bags"
[[piece]]
shape = "slab"
length = 24
width = 24
thickness = 2
"""


@pytest.fixture
def bagged(tmp_path: Path) -> str:
    (tmp_path / "slabs.toml").write_text(BAGGED, encoding="utf-8")
    return str(tmp_path / "slabs.toml")


def test_a_project_says_the_mix_and_how_batches_are_cut(batch, bagged):
    status, out, err = batch("3 ft3", "--project", bagged)
    assert (status, err) == (0, "")
    assert "Concrete mix, ready-bagged: 143.8 lb/ft3 as poured" in out
    assert "480 lb of concrete mix (6 bags)" in out  # 3 ft3 and the residue, in bags of 0.6 ft3: six of them
    assert "foam" not in out.partition("Wet cement")[0]


def test_a_class_or_a_strength_is_aimed_at(batch):
    by_name = batch("90 L", "--aim", "caltrans iii")[1]
    assert (
        "617 kg/m3 as poured" in by_name
        and "Aimed at Caltrans III" in by_name
        and "indicative only" in by_name
    )
    by_strength = batch("90 L", "--aim", "200 psi")[1]
    assert "641 kg/m3 as poured" in by_strength and "Aimed at C869" in by_strength


def test_what_is_published_of_such_a_mix_is_shown_and_never_promised(batch):
    """641 kg/m3 with 0.58 of water in all: the standard batch of ASTM C869, at least 1.4 MPa."""
    out = batch("90 L", "--wet", "641 kg/m3")[1]
    assert "no strength follows from a density alone" in out
    assert "28-day compressive strength, least of class III (fill): 0.55 MPa or more (Caltrans" in out
    assert (
        "28-day compressive strength, least of class III (fill): 80 psi or more"
        in batch("3 ft3", "--wet", "40 lb/ft3")[1]
    )


def test_fly_ash_by_an_option(batch):
    out = batch("1 m3", "--wet", "800 kg/m3", "--ash", "0.5")[1]
    assert "fly ash" in out and "Much fly ash can break some foams" in out


def test_leftover_and_the_cup_of_the_shop(batch, tmp_path):
    shop = tmp_path / "shop.toml"
    shop.write_text(
        'units = "mm"\n[mixer]\nkind = "paddle"\nrated = "80 L"\nrating = "mixed output"\nresidue = "0 L"\nleast = "40 L"\n'
        '[cup]\nvolume = "1 L"\ntare = "100 g"\n[[leftover_mold]]\nname = "brick"\nvolume = "2 L"\ncount = 3\n',
        encoding="utf-8",
    )
    out = batch("30 L", "--wet", "600 kg/m3", "--shop", str(shop))[1]
    assert "10 L is left over: it fills 3 brick; 4 L fits none of them" in out
    assert "100 g empty, full of this mix reads 700 g; 652 g to 748 g is in tolerance" in out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--wet", "600 kg/m3", "--aim", "C869"), "got --wet and --aim, want one of"),
        ((), "got none, want one of --wet, --dry and --aim, or a --project"),
        (("--aim", "Caltrans IX"), "did you mean 'Caltrans I"),
        (("--aim", "40 MPa"), "no more than 25 MPa"),
        (("--aim", "0 MPa"), "want more than 0"),
        (("--wet", "600 kg/m3", "--ash", "-1"), "ash over cement: got -1, want 0 or more"),
        (("--project", "none.toml"), "none.toml"),
    ],
)
def test_what_cannot_be_is_told_and_leaves_with_2(batch, arguments, words):
    status, out, err = batch("90 L", *arguments)
    assert (status, out) == (2, "") and words in err


def test_a_project_and_the_same_said_again(batch, bagged):
    status, _, err = batch("3 ft3", "--project", bagged, "--wet", "37 lb/ft3", "--sand", "1")
    assert status == 2 and "leave out --wet and --sand" in err
