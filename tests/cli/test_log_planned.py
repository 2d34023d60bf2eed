"""``formwork log`` with a project or a shop: what is planned need not be typed, and a correction says how to measure it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from formwork.cli.commands import commands
from formwork.cli.outcome import run

SHOP = """
units = "mm"
[mixer]
kind = "paddle"
rated = "70 L"
rating = "mixed output"
[foam]
density = 50
survival = 1.0
output = "30 L/min"
[cup]
volume = "1 L"
tare = "110 g"
"""
PROJECT = """
title = "Stepping stones"
units = "mm"
shop = "shop.toml"
[mix]
wet_density = 600
fibres = "0.9 kg/m3"
[[mix.ingredient]]
name = "silica fume"
share = "10 %"
gravity = 2.2
[[piece]]
shape = "slab"
count = 3
molds = 2
length = 500
width = 500
thickness = 100
"""


@pytest.fixture
def log(capsys, tmp_path: Path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for name in ("FORMWORK_LOG", "FORMWORK_UNITS", "FORMWORK_SHOP", "FORMWORK_PROJECT"):
        monkeypatch.delenv(name, raising=False)
    (tmp_path / "shop.toml").write_text(SHOP, encoding="utf-8")
    (tmp_path / "stones.toml").write_text(PROJECT, encoding="utf-8")

    def call(*arguments: str) -> tuple[int, str, str]:
        status = run(commands, ["log", *arguments])
        said = capsys.readouterr()
        assert "Traceback" not in said.out + said.err
        return status, " ".join(said.out.split()), " ".join(said.err.split())

    call("start")
    return call


@pytest.fixture
def planned(capsys, log) -> list[dict]:
    run(commands, ["plan", "stones.toml", "--json"])
    return json.loads(capsys.readouterr().out)["pours"]


def test_pours_and_batches_come_from_the_plan(log, planned):
    project = ("--project", "stones.toml")
    for number, pour in enumerate(planned, start=1):
        status, out, err = log(*project, "pour")
        assert (status, err) == (0, "")
        assert "title Stepping stones, wet 600 kg/m3" in out and f"plan-pour {number}" in out
        for batch in pour["batches"]:
            out = log(*project, "batch", "--as-planned")[1]
            assert f"cement {batch['cement_kg']:.3g} kg" in out
            other = batch["others_kg"]["silica fume"] + batch["fibres_kg"]
            assert f"other {other:.3g} kg" in out
        status, _, err = log(*project, "batch", "--as-planned")
        assert status == 2 and f"the plan has {len(pour['batches'])} for pour {number}" in err


def test_what_is_typed_goes_before_what_is_planned(log, planned):
    log("--project", "stones.toml", "pour", "--title", "again", "--plan-pour", "2")
    out = log("--project", "stones.toml", "batch", "--as-planned", "--foam", "20 L")[1]
    assert "foam 20 L" in out and f"cement {planned[1]['batches'][0]['cement_kg']:.3g} kg" in out


def test_a_pour_of_another_title_takes_the_mix_and_not_the_volume(log):
    out = log("--project", "stones.toml", "pour", "--title", "trial")[1]
    assert "title trial, wet 600 kg/m3" in out and "volume" not in out and "plan-pour" not in out


def test_all_else_has_the_gravity_that_its_mass_and_volume_come_to(log, planned):
    """Fume of 2.2 and fibres of 0.91 in one cubic metre: mass over volume."""
    batch = planned[0]["batches"][0]
    fume, fibres = batch["others_kg"]["silica fume"], batch["fibres_kg"]
    mean = (fume + fibres) / (fume / 2.2 + fibres / 0.91)
    assert f"other-gravity {mean:.3f}".rstrip("0") in log("--project", "stones.toml", "pour")[1]


def test_the_shops_cup_and_generator_and_mixer_stand_in_the_correction(log):
    """25 kg of cement, 12.5 of water, 40 L of foam of 50 kg/m3: 39.5 kg; at 650 kg/m3 60.769 L of it. To 600 with the
    survival that this shows, (60.769 - 20.437 - 2)/38 = 1.0087, taken as 1: 60.769*50/550 = 5.524 L, 11 s of 30 L/min."""
    shop = ("--shop", "shop.toml")
    log(
        *shop, "pour", "--title", "p", "--wet", "600 kg/m3", "--foam-density", "50 kg/m3", "--volume", "150 L"
    )
    log(*shop, "batch", "--cement", "25 kg", "--water", "12.5 kg", "--foam", "40 L", "--planned", "65 L")
    status, out, _ = log(*shop, "reading", "--gross", "760 g")
    assert status == 1 and "gross 760 g, tare 110 g, cup 1 L" in out
    assert (
        "add 5.52 L of foam (11 s of the generator, or a bucket up to its 5.52 L mark), 100 % of its air"
        in out
    )
    assert "the batch then is 66.3 L, which fits (mixer: 70 L)" in out
    assert (
        "Made so far 60.8 L of the 150 L that the pour needs, by 1 reading; 89.2 L to go, 2 batches more"
        in log("show")[1]
    )
    out = log(*shop, "reading", "--gross", "800 g", "--tare", "0 g")[1]
    assert "too heavy" in out and "DOES NOT FIT" not in out


def test_a_batch_that_would_run_over_is_told_first(log):
    shop = ("--shop", "shop.toml")
    log(*shop, "pour", "--title", "p", "--wet", "600 kg/m3", "--foam-density", "50 kg/m3")
    log(*shop, "batch", "--cement", "30 kg", "--water", "15 kg", "--foam", "40 L")
    out = log(*shop, "reading", "--gross", "815 g")[1]
    assert "which DOES NOT FIT (mixer: 70 L): take out" in out and "of that" in out


def test_slurry_is_told_by_its_parts_and_in_buckets(log, planned):
    log("--project", "stones.toml", "pour")
    log("--project", "stones.toml", "batch", "--as-planned")
    status, out, _ = log("--project", "stones.toml", "reading", "--gross", "650 g")
    assert status == 1 and "kg of cement" in out and "of other (" in out and "mark)" in out


def test_what_does_not_go_together_is_said(log):
    log("pour", "--title", "p", "--wet", "600 kg/m3", "--volume", "100 L")
    log("batch", "--cement", "25 kg", "--water", "12.5 kg", "--foam", "20 L")
    out = log("reading", "--gross", "500 g", "--tare", "0 g", "--cup", "1 L")[1]
    assert "do not go together" in out and "do not go together" in log("show")[1]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("batch", "--as-planned"), "takes the amounts of a plan"),
        (("--project", "stones.toml", "--shop", "shop.toml", "pour"), "leave out --shop"),
        (("--project", "none.toml", "pour"), "none.toml"),
        (("--shop", "none.toml", "reading", "--gross", "1 kg"), "none.toml"),
        (("--project", "stones.toml", "pour", "--plan-pour", "9"), "want one of the 2"),
        (("--project", "stones.toml", "batch", "--as-planned"), "wants a pour first"),
    ],
)
def test_what_cannot_be_is_told_and_nothing_is_entered(log, arguments, words):
    status, _, err = log(*arguments)
    assert status == 2 and words in err
    assert "no pours yet" in log("list")[1]
