"""``formwork plan`` and ``formwork packet`` on whole projects: exit status 0, 1 and 2, and what is left on disk."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from formwork.checks.check import Check
from formwork.cli.commands import commands
from formwork.cli.outcome import run
from formwork.packet.folder import CONTENTS
from formwork.plan import Plan, plan
from formwork.shipped import shelf

SLAB = """
title = "One slab"
units = "mm"
[mix]
wet_density = "1200 kg/m3"
[[piece]]
shape = "slab"
length = {length}
width = 400
thickness = 60
"""


@pytest.fixture
def formwork(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "slab.toml").write_text(SLAB.format(length=600), encoding="utf-8")

    def call(*arguments: str) -> tuple[int, str, str]:
        status = run(commands, list(arguments))
        said = capsys.readouterr()
        assert "Traceback" not in said.out + said.err
        return status, said.out, said.err

    return call


@pytest.fixture
def failing_check(monkeypatch):
    """Plans that are made as ever, but for one check that fails."""

    def work_out(project, *how) -> Plan:
        made = plan(project, *how)
        bad = Check("panels", made.molds[0].name, 2.0, 1.0, "N", False, "a test", (), "a thicker sheet")
        return replace(made, checks=(*made.checks, bad))

    monkeypatch.setattr("formwork.plan.plan", work_out)


def test_a_packet_says_what_it_wrote_and_how_the_checks_went(formwork, tmp_path):
    status, out, _ = formwork("packet", "slab.toml", "-o", "packet", "--no-solids")
    assert status == 0
    count = len(
        [path for path in (tmp_path / "packet").rglob("*") if path.is_file() and path.name != CONTENTS]
    )
    assert f"{count} files in packet; open " in out and "checks pass" in out


def test_progress_stays_off_standard_output(formwork):
    _, out, err = formwork("packet", "slab.toml", "-o", "packet", "--no-solids")
    assert "drawing" in err and "drawing" not in out


def test_a_persons_own_files_are_kept_and_named(formwork, tmp_path):
    formwork("packet", "slab.toml", "-o", "packet", "--no-solids")
    (tmp_path / "packet" / "my notes.txt").write_text("call the yard")
    status, out, _ = formwork("packet", "slab.toml", "-o", "packet", "--no-solids")
    assert status == 0 and "kept what was not of the packet: my notes.txt" in out
    assert (tmp_path / "packet" / "my notes.txt").read_text() == "call the yard"


def test_a_failing_check_still_writes_everything_and_ends_with_1(formwork, failing_check, tmp_path):
    status, out, _ = formwork("packet", "slab.toml", "-o", "packet", "--no-solids")
    assert status == 1 and "FAIL" in out
    assert "FAIL" in (tmp_path / "packet" / "job-sheet.txt").read_text(encoding="utf-8")
    written = json.loads((tmp_path / "packet" / "plan.json").read_text(encoding="utf-8"))
    assert written["checks"][-1]["ok"] is False
    assert formwork("plan", "slab.toml")[0] == 1
    status, out, _ = formwork("plan", "slab.toml", "--json")
    assert status == 1 and json.loads(out)["checks"][-1]["utilisation"] == 2.0


def test_what_fits_no_stock_ends_with_2_and_writes_nothing(formwork, tmp_path):
    (tmp_path / "long.toml").write_text(SLAB.format(length=3900), encoding="utf-8")
    formwork("packet", "slab.toml", "-o", "packet", "--no-solids")
    before = {path: path.read_bytes() for path in (tmp_path / "packet").rglob("*") if path.is_file()}
    for command in (
        ("plan", "long.toml"),
        ("packet", "long.toml", "-o", "packet"),
        ("packet", "long.toml", "-o", "new"),
    ):
        status, out, err = formwork(*command)
        assert (status, out) == (2, "")
        assert "long.toml:6: " in err and "or two joined with a splice" in err
        assert err.endswith("formwork: this cannot be planned, and nothing was written\n")
    assert {path: path.read_bytes() for path in (tmp_path / "packet").rglob("*") if path.is_file()} == before
    assert not (tmp_path / "new").exists()


@pytest.mark.parametrize("folder", ["slab.toml", "slab.toml/packet", "."])
def test_a_folder_that_cannot_be_is_told(formwork, tmp_path, folder):
    status, out, err = formwork("packet", "slab.toml", "-o", folder, "--no-solids")
    assert (status, out) == (2, "")
    assert err.splitlines()[-1].startswith("formwork: ")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["slab.toml"]


def test_a_folder_is_asked_for(formwork):
    status, _, err = formwork("packet", "slab.toml")
    assert status == 2 and "-o" in err


@pytest.mark.parametrize("path", sorted(shelf("examples").glob("*.toml")), ids=lambda path: path.name)
def test_the_printed_plan_and_the_json_of_an_example_agree(formwork, path: Path):
    if "[[piece]]" not in path.read_text(encoding="utf-8"):
        pytest.skip("a shop file")
    printed = formwork("plan", str(path))[1]
    made = json.loads(formwork("plan", str(path), "--json")[1])
    for part in made["parts"]:
        assert part["kind"] == "hardware" or f"\n{part['label']} " in printed
    for line in made["buy"]:
        assert line["item"].split(",")[0] in printed
    placed: dict[str, int] = {}
    for sheet in made["sheets"]:
        for blank in sheet["placed"]:
            for part in blank["nested"] or [blank]:
                placed[part["label"]] = placed.get(part["label"], 0) + sheet["count"]
    cut = {part["label"]: part["quantity"] for part in made["parts"] if part["kind"] == "panel"}
    assert placed == cut
