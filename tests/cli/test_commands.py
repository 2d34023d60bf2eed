"""The console command from outside: exit status, what stands on which stream, and never a traceback."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import click
import pytest

from formwork.cli.commands import commands
from formwork.cli.outcome import _LEFT, INTERRUPTED, run
from formwork.errors import Fault, InputError, RangeError, StockError
from formwork.shapes.register import register
from formwork.shipped import shelf
from formwork.units.notes import describe

ROOT = Path(__file__).parents[2]


@pytest.fixture
def formwork(capsys, tmp_path, monkeypatch):
    """Run the command in an empty folder: status, standard output, standard error."""
    monkeypatch.chdir(tmp_path)

    def call(*arguments: str) -> tuple[int, str, str]:
        status = run(commands, list(arguments))
        said = capsys.readouterr()
        assert "Traceback" not in said.out + said.err
        return status, said.out, said.err

    return call


def process(*arguments: str, cwd: Path, **options) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-m", "formwork", *arguments],
        cwd=cwd, env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, check=False, **options,
    )  # fmt: skip


# shapes


def test_shapes_lists_every_key_of_every_shape(formwork):
    status, out, err = formwork("shapes")
    assert (status, err) == (0, "")
    for shape in register().values():
        assert shape.summary in " ".join(out.split())
        for note in describe(shape.parameters):
            assert note.key.rpartition(".")[2] in out


def test_shapes_shows_one_shape_in_the_units_asked_for(formwork):
    _, metric, _ = formwork("shapes", "slab")
    _, inches, _ = formwork("shapes", "slab", "--units", "in")
    assert " mm " in metric and " mm " not in inches
    assert "planter" not in metric


def test_a_misspelt_shape_is_asked_about(formwork):
    status, out, err = formwork("shapes", "plantar")
    assert (status, out) == (2, "")
    assert "got 'plantar', want one of planter" in err and "did you mean 'planter'?" in err


# start


def test_start_writes_a_file_named_after_the_shape(formwork, tmp_path):
    status, out, _ = formwork("start", "planter")
    assert status == 0 and "planter.toml written" in out
    assert "[[piece]]" in (tmp_path / "planter.toml").read_text(encoding="utf-8")


def test_a_shape_of_two_words_may_be_typed_with_a_hyphen(formwork, tmp_path):
    names = [name for name in register() if " " in name and (shelf("templates") / f"{name}.toml").is_file()]
    assert names
    for name in names:
        plain = name.replace(" ", "-")
        assert formwork("start", plain)[0] == 0
        assert f'shape = "{name}"' in (tmp_path / f"{plain}.toml").read_text(encoding="utf-8")
        assert formwork("shapes", plain)[1] == formwork("shapes", name)[1]


def test_start_never_overwrites(formwork, tmp_path):
    (tmp_path / "planter.toml").write_text("mine")
    status, out, err = formwork("start", "planter")
    assert (status, out) == (2, "")
    assert "planter.toml exists and is left as it is" in err
    assert (tmp_path / "planter.toml").read_text() == "mine"


@pytest.mark.parametrize(
    ("target", "words"), [("folder", "is a folder"), ("none/x.toml", "cannot write"), ("", "is a folder")]
)
def test_start_says_why_it_cannot_write(formwork, tmp_path, target, words):
    (tmp_path / "folder").mkdir()
    status, _, err = formwork("start", "slab", target or str(tmp_path))
    assert status == 2 and words in err
    assert list(tmp_path.iterdir()) == [tmp_path / "folder"]


def test_start_prints_where_that_is_asked_for(formwork, tmp_path):
    status, out, _ = formwork("start", "block", "-")
    assert status == 0 and out.startswith("#")
    assert list(tmp_path.iterdir()) == []


# plan


def test_plan_prints_what_a_person_wants(formwork):
    formwork("start", "planter")
    status, out, err = formwork("plan", "planter.toml")
    assert (status, err) == (0, "")
    for title in (
        "Pieces",
        "Molds",
        "Cut list",
        "To buy",
        "Pours and batches",
        "Taking the molds off",
        "Checks",
        "Cautions",
    ):
        assert f"\n{title}\n" in out


def test_plan_of_a_file_that_is_not_there(formwork):
    status, out, err = formwork("plan", "nowhere.toml")
    assert (status, out) == (2, "")
    assert "nowhere.toml" in err and "no such file" in err


def test_plan_of_a_folder(formwork, tmp_path):
    status, _, err = formwork("plan", str(tmp_path))
    assert status == 2 and "a folder" in err


def test_every_mistake_of_a_file_is_told_at_once(formwork, tmp_path):
    formwork("start", "slab")
    text = (tmp_path / "slab.toml").read_text(encoding="utf-8")
    spoiled = text.replace("thickness =", "thicknes =").replace("[[piece]]", "[[piece]]\ncolour = 3", 1)
    (tmp_path / "slab.toml").write_text(spoiled, encoding="utf-8")
    status, out, err = formwork("plan", "slab.toml")
    assert (status, out) == (2, "")
    assert "thicknes" in err and "colour" in err and "mistakes; nothing was planned" in err


def test_json_stands_alone_on_standard_output(tmp_path):
    assert process("start", "slab", cwd=tmp_path).returncode == 0
    ran = process("plan", "slab.toml", "--json", cwd=tmp_path)
    import json  # noqa: PLC0415 - only here

    assert ran.returncode == 0 and ran.stderr == b""
    assert json.loads(ran.stdout.decode("utf-8"))["format"] == 1
    assert process("plan", "slab.toml", "--json", cwd=tmp_path).stdout == ran.stdout


# batch


def test_a_batch_card_holds_its_mass_balance(formwork):
    """1 m3 at 600 kg/m3 is 600 kg of everything put together."""
    status, out, _ = formwork("batch", "1 m3", "--wet", "600 kg/m3")
    assert status == 0
    assert "Batch card for 1 m3" in out and "600 kg/m3 as poured" in out


def test_a_batch_card_speaks_the_units_of_its_volume(formwork):
    assert "lb/ft3" in formwork("batch", "3 ft3", "--wet", "37 lb/ft3")[1]
    assert "lb/ft3" not in formwork("batch", "85 L", "--wet", "37 lb/ft3")[1]
    assert "lb/ft3" in formwork("batch", "85 L", "--wet", "600 kg/m3", "--units", "in")[1]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("3", "--wet", "600 kg/m3"), "VOLUME"),
        (("90 L", "--wet", "600"), "--wet"),
        (("90 L", "--wet", "9 m"), "--wet"),
        (("90 L",), "want one of --wet"),
        (("90 L", "--wet", "600 kg/m3", "--dry", "500 kg/m3"), "want one of --wet"),
        (("90 L", "--wet", "600 kg/m3", "--water-cement", "0,5"), "--water-cement"),
        (("90 L", "--wet", "6000 kg/m3"), "wet density"),
        (("90 L", "--wet", "600 kg/m3", "--shop", "nowhere.toml"), "no such file"),
        (("90 L", "--wet", "600 kg/m3", "--split", "thirds"), "thirds"),
    ],
)
def test_a_batch_that_cannot_be(formwork, arguments, words):
    status, out, err = formwork("batch", *arguments)
    assert (status, out) == (2, "")
    assert words in err


# how commands end


def ends_with(error: BaseException) -> click.Command:
    def fail() -> None:
        raise error

    return click.Command("fail", callback=fail)


def test_faults_stand_each_on_its_line_with_their_number(capsys):
    faults = (
        Fault("a.toml:3", "wall", "5 mm", "25 to 150 mm"),
        Fault("a.toml:9", "", "x", "y", "did you mean y?"),
    )
    assert run(ends_with(InputError(faults)), []) == 2
    assert capsys.readouterr().err.splitlines() == [
        "a.toml:3: wall: got 5 mm, want 25 to 150 mm",
        "a.toml:9: got x, want y (did you mean y?)",
        "formwork: 2 mistakes; nothing was planned and nothing was written",
    ]


def test_stock_that_fits_nothing_is_one_clear_message(capsys):
    assert run(ends_with(StockError("A3 is longer than any stick; splice it")), []) == 2
    assert capsys.readouterr().err.splitlines() == [
        "A3 is longer than any stick; splice it",
        "formwork: this cannot be planned, and nothing was written",
    ]


@pytest.mark.parametrize("stop", [KeyboardInterrupt(), click.Abort()])
def test_ctrl_c_is_quiet(capsys, stop):
    assert run(ends_with(stop), []) == INTERRUPTED
    assert capsys.readouterr().err.strip() == "stopped"


def test_a_fault_of_the_programs_own_says_so_and_where(capsys, monkeypatch):
    monkeypatch.delenv("FORMWORK_TRACE", raising=False)
    assert run(ends_with(ZeroDivisionError("division by zero")), []) == 2
    err = capsys.readouterr().err
    assert "a fault of the program's own" in err and "test_commands.py" in err and "Traceback" not in err
    monkeypatch.setenv("FORMWORK_TRACE", "1")
    assert run(ends_with(ZeroDivisionError("division by zero")), []) == 2
    assert "Traceback" in capsys.readouterr().err


def test_a_reader_that_leaves_early_is_no_error(tmp_path):
    ran = subprocess.run(
        ["bash", "-c", f"set -o pipefail; '{sys.executable}' -m formwork shapes | head -n 1"],
        cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, check=False,
    )  # fmt: skip
    assert (ran.returncode, ran.stderr) == (0, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_a_full_drive_under_standard_output_is_told(tmp_path):
    ran = subprocess.run(
        ["bash", "-c", f"'{sys.executable}' -m formwork shapes > /dev/full"],
        cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, check=False,
    )  # fmt: skip
    assert (ran.returncode, ran.stderr) == (2, b"formwork: cannot go on: no space left on device\n")


def test_a_closed_standard_output_is_no_error(tmp_path):
    ran = subprocess.run(
        ["bash", "-c", f"'{sys.executable}' -m formwork shapes >&-"],
        cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, check=False,
    )  # fmt: skip
    assert (ran.returncode, ran.stderr) == (0, b"")


def test_a_terminal_that_knows_few_letters_still_gets_its_text(tmp_path):
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "ascii"}
    (tmp_path / "Ångström.toml").write_text("units = 'mm'\n")
    ran = subprocess.run(
        [sys.executable, "-m", "formwork", "plan", "Ångström.toml"],
        cwd=tmp_path, env=environment, capture_output=True, check=False,
    )  # fmt: skip
    assert ran.returncode == 2 and b"Traceback" not in ran.stderr and b"ngstr" in ran.stderr


@pytest.mark.parametrize(
    "arguments", [[], ["--help"], ["plan", "--help"], ["packet", "--help"], ["--version"]]
)
def test_help_never_fails(formwork, arguments):
    status, out, err = formwork(*arguments)
    assert status == (0 if arguments else 2)
    assert out + err


def test_an_unknown_command_is_told(formwork):
    status, _, err = formwork("plant", "x.toml")
    assert status == 2 and "plant" in err


@pytest.mark.parametrize(
    ("command", "mistake", "refusal"),
    [
        ("plan", "nothing was planned and nothing was written", "this cannot be planned, and nothing was written"),
        ("packet", "nothing was planned and nothing was written", "this cannot be planned, and nothing was written"),
        ("start", "no file was written", "this cannot be started, and no file was written"),
        ("batch", "no batch was worked out", "no batch can be made so"),
        ("weigh", "nothing was worked out", "nothing can be worked out from this"),
        ("cure", "nothing was worked out", "nothing can be worked out from this"),
        ("log", "nothing was written to the log", "this cannot be done, and nothing was written to the log"),
    ],
)  # fmt: skip
def test_the_last_line_fits_the_command(capsys, command, mistake, refusal):
    endings = (
        (InputError((Fault("a.toml:3", "wall", "5 mm", "25 to 150 mm"),)), f"formwork: 1 mistake; {mistake}"),
        (RangeError("1 to 2"), f"formwork: {refusal}"),
    )
    for error, last in endings:
        group = click.Group("formwork", commands={command: ends_with(error)})
        assert run(group, [command]) == 2
        assert capsys.readouterr().err.splitlines()[-1] == last


def test_every_command_has_words_of_its_own_or_makes_a_plan():
    """No command may end in words that fit another: of those not named, each makes a plan."""
    assert set(commands.commands) - set(_LEFT) == {"plan", "packet"}
    assert set(_LEFT) <= set(commands.commands)
