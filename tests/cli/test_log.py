"""``formwork log`` from outside."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from contextlib import closing
from xml.etree import ElementTree

import pytest

from formwork.cli.commands import commands
from formwork.cli.outcome import run
from formwork.pour.log.kinds import KINDS


@pytest.fixture
def log(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("FORMWORK_LOG", raising=False)
    monkeypatch.delenv("FORMWORK_UNITS", raising=False)

    def call(*arguments: str) -> tuple[int, str, str]:
        status = run(commands, ["log", *arguments])
        said = capsys.readouterr()
        assert "Traceback" not in said.out + said.err
        return status, " ".join(said.out.split()), " ".join(said.err.split())

    return call


@pytest.fixture
def day(log):
    """A pour of two batches, the first corrected."""
    for arguments in (
        ("start",),
        ("pour", "--title", "planters", "--wet", "600 kg/m3", "--volume", "130 L"),
        ("batch", "--cement", "25 kg", "--water", "12.5 kg", "--foam", "51.193 L", "--planned", "65 L"),
        ("reading", "--gross", "770 g", "--tare", "110 g", "--cup", "1 L"),
        ("added", "--foam", "7 L"),
        ("reading", "--gross", "715 g"),
        ("batch", "--cement", "25 kg", "--water", "12.5 kg", "--foam", "51.193 L"),
        ("reading", "--gross", "710 g"),
    ):
        status, _, err = log(*arguments)
        assert status in (0, 1) and not err
    return log


def test_a_day_is_entered_and_shown(day):
    status, out, _ = day("show")
    assert status == 0 and "Pour 1" in out and "planters" in out
    # 40.0597 kg and 0.35 kg of foam at 605 kg/m3: 66.8 L of the 65 L planned (worked by hand).
    assert "660 kg/m3 605 kg/m3 foam 7 L 66.8 L 1.028" in out
    # Of the second batch 90 % of the air stayed (25 kg, 51.193 L of foam, 600 kg/m3), of the first less.
    assert "of the foam's air stayed, by 2 batches. Another batch like 6 takes" in out
    status, out, _ = day("list")
    assert "planters 600 kg/m3 2 603 kg/m3" in out


def test_a_reading_says_what_to_add_and_leaves_with_1(day):
    status, out, err = day("reading", "--gross", "780 g")
    assert (status, err) == (1, "")
    assert "reading 8 of batch 6 entered" in out and "tare 0.11 kg" in out.replace("110 g", "0.11 kg")
    assert "670 kg/m3, wanted 600 kg/m3: too heavy; add" in out and "Weigh again" in out
    status, out, _ = day("reading", "--gross", "640 g")
    assert status == 1 and "too light; add a slurry of" in out and "kg of cement" in out


@pytest.mark.parametrize(
    ("gross", "words"), [("155 g", "the foam's own 50 kg/m3"), ("2.2 kg", "the slurry before any foam")]
)
def test_a_density_that_no_mix_can_have_is_entered_and_doubted(day, gross, words):
    status, out, _ = day("reading", "--gross", gross)
    assert status == 1 and words in out and "strike it out if it is wrong: formwork log strike 8" in out


def test_a_cup_lighter_than_the_tare_of_before_says_both(day):
    status, _, err = day("reading", "--gross", "50 g")
    assert (
        status == 2 and "got 50 g for the full cup and 110 g for the empty one" in err and "--tare 0" in err
    )


def test_foam_that_is_heavier_than_the_pour_says(day):
    status, out, _ = day("reading", "--what", "foam", "--gross", "166 g")
    assert status == 1 and "foam 56 kg/m3, the pour says 50 kg/m3: put it right" in out
    status, out, _ = day("pour", "--instead-of", "1", "--foam-density", "56 kg/m3")
    assert status == 0 and "pour 1 corrected" in out and "foam-density 56 kg/m3" in out and "planters" in out


def test_corrections_and_strikes_are_shown_with_what_was_there(day):
    day("reading", "--instead-of", "7", "--gross", "705 g")
    status, _, _ = day("strike", "7", "--why", "wrong cup")
    assert status == 0
    _, out, _ = day("show", "7")
    assert "gross 710 g" in out and "gross 705 g" in out and "struck out wrong cup" in out
    status, _, err = day("reading", "--instead-of", "7", "--gross", "700 g")
    assert status == 2 and "number 7 was struck out: wrong cup" in err


def test_everything_that_belongs_to_a_pour_is_shown(day):
    assert day("surface", "--depth", "30 cm", "--drop", "20 mm")[0] == 1
    assert day("weather", "--air", "20 C", "--humidity", "50 %", "--wind", "12 mph")[0] == 0
    assert day("piece", "--name", "north", "--mass", "9.6 kg", "--volume", "20 L", "--batch", "2")[0] == 0
    assert day("photo", "--path", "photos/1.jpg", "--note", "after striking off")[0] == 0
    _, out, _ = day("show")
    for part in (
        "drop 20 mm",
        "wind 5.4 m/s",
        "piece 10",
        "density 480 kg/m3",
        "photos/1.jpg (after striking off)",
    ):
        assert part in out
    _, out, _ = day("--units", "in", "show")
    assert "lb/ft3" in out and "kg/m3" not in out and "12 mph" in out


def test_bare_numbers_take_the_units_that_are_asked_for(log):
    log("start")
    assert log("pour", "--title", "t", "--wet", "37")[0] == 2
    status, out, _ = log("--units", "in", "pour", "--title", "t", "--wet", "37")
    assert status == 0 and "wet 37.0 lb/ft3" in out


def test_the_chart_in_the_terminal_and_as_a_picture(day, tmp_path):
    for grams in (715, 705, 712, 708, 713, 706, 790):
        day("batch", "--cement", "25 kg", "--water", "12.5 kg", "--foam", "51 L")
        day("reading", "--gross", f"{grams} g")
    status, out, err = day("chart", "--corrected", "-o", "chart.svg")
    assert (status, err) == (1, "")
    assert "Last reading of 9 batches wanted at 600 kg/m3" in out and "batch 20: above its limit" in out
    assert "only a first guess" in out
    assert len(ElementTree.parse(tmp_path / "chart.svg").getroot()) > 30
    status, out, _ = day("chart", "--count", "5", "--wet", "600 kg/m3")
    assert "First reading of 5 batches" in out
    assert day("chart", "-o", "none/chart.svg")[0] == 2


def test_dry_against_wet(day):
    for i, (wet, dry) in enumerate(((500, 390), (600, 468), (700, 549), (800, 625))):
        number = 8 + 3 * i
        day("batch", "--cement", "25 kg", "--water", "12.5 kg")
        day("reading", "--gross", f"{110 + wet} g")
        day("piece", "--name", f"p{i}", "--state", "oven-dry", "--mass", f"{dry} g", "--volume", "1 L",
            "--batch", str(number))  # fmt: skip
    status, out, _ = day("dry", "--wet", "650 kg/m3")
    # By hand: slope (3*(625-390) + (549-468))/1000 = 0.786, mean 508 at 650.
    assert (
        status == 0
        and "4 pieces oven-dry: density = 0.786 x wet density" in out
        and ": 508 kg/m3 oven-dry" in out
    )
    assert "do not rely on it" in day("dry", "--wet", "900 kg/m3")[1]
    status, _, err = day("dry", "--state", "air-dry")
    assert status == 2 and "got 0 pieces, want 4 or more" in err


def test_out_back_copied_and_checked(day, tmp_path):
    assert day("export", "out")[1] == "7 entries in out"
    assert day("--file", "b.db", "import", "out")[1] == "7 entries in b.db"
    assert day("--file", "b.db", "show")[1] == day("show")[1]
    assert day("backup", "c.db")[0] == 0
    assert day("--file", "c.db", "list")[1] == day("list")[1]
    assert day("check") == (0, "pour-log.db is sound", "")
    for again in (("export", "out"), ("backup", "c.db"), ("--file", "b.db", "import", "out"), ("start",)):
        status, _, err = day(*again)
        assert status == 2 and "exists and is left as it is" in err


def test_a_damaged_file_is_told_with_status_1_or_2(day, tmp_path):
    path = tmp_path / "pour-log.db"
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        pages = raw.execute("PRAGMA page_count").fetchone()[0]
    spoilt = bytearray(path.read_bytes())
    spoilt[4096 * (pages - 2) : 4096 * pages] = b"\x7f" * 8192
    path.write_bytes(spoilt)
    status, out, err = day("check")
    assert status in (1, 2) and "damaged" in out + err


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("reading", "--gross", "60 g"), "want the full cup to weigh more"),
        (("reading",), "gross: got nothing, want"),
        (("reading", "--gross", "heavy"), "want a mass"),
        (("reading", "--gross", "700 g", "--batch", "77"), "number 77: there is none in"),
        (("reading", "--gross", "700 g", "--batch", "1"), "got number 1, a pour, want the number of a batch"),
        (("reading", "--gross", "700 g", "--batch", "x"), "got 'x', want a whole number from 1"),
        (("reading", "--gross", "700 g", "--what", "soup"), "want one of mix, slurry, foam"),
        (("reading", "--gross", "700 g", "--at", "noon"), "want one such as 2026-11-25T14:00"),
        (("weather", "--air", "20 C", "--humidity", "120 %"), "humidity: got 120 %, want 0 % to 100 %"),
        (
            ("weather", "--air", "20 C", "--wind", "99 m/s"),
            "wind: got 99 m/s (221 mph), want 0 m/s (0 mph) to 60 m/s",
        ),
        (("weather", "--air", "20 C", "--wind", "12"), "want a wind such as"),
        (("pour", "--title", "t", "--wet", "600 kg/m3", "--cement-gravity", "heavy"), "want a number"),
        (("batch", "--instead-of", "1"), "number 1 is a pour, and not a batch"),
        (("show", "99"), "number 99: there is none in"),
        (("strike", "99", "--why", "x"), "number 99: there is none in"),
        (("strike", "7"), "Missing option '--why'"),
        (("--file", "none.db", "list"), "want a log (make one: formwork log start)"),
        (("chart", "--wet", "900 kg/m3"), "got 0 readings, want 5 or more"),
        (("chart", "--count", "501"), "got 501 batches, want 500 or fewer"),
        (("shake",), "No such command"),
    ],
)
def test_what_cannot_be_is_told_and_nothing_is_entered(day, tmp_path, arguments, words):
    before = day("show")[1]
    status, out, err = day(*arguments)
    assert (status, out) == (2, "") and words in err
    assert day("show")[1] == before


def test_every_kind_has_its_command_and_every_command_its_help(log):
    _, out, _ = log("--help")
    for kind in KINDS.values():
        assert f" {kind.name} " in out
        status, told, _ = log(kind.name, "--help")
        assert status == 0 and all(f"--{field.name} " in told for field in kind.fields)
        assert all(field.meaning[1:].split(";")[0] in told for field in kind.fields)


def test_an_empty_log_says_how_to_begin(log):
    log("start")
    assert "no pours yet: formwork log pour" in log("list")[1]
    assert "no pours yet" in log("show")[1]
    assert "there are no pours" in log("chart")[2]


def test_the_file_by_its_variable(log, tmp_path, monkeypatch):
    monkeypatch.setenv("FORMWORK_LOG", str(tmp_path / "mine.db"))
    assert log("start")[0] == 0 and (tmp_path / "mine.db").exists()


def test_other_commands_do_not_load_the_log():
    code = (
        "import sys\nfrom formwork.cli.commands import commands\nfrom formwork.cli.outcome import run\n"
        "assert run(commands, ['shapes', 'slab']) == 0\n"
        "assert not {'sqlite3', 'formwork.pour.log.file'} & set(sys.modules)"
    )
    subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)
