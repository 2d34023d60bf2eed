"""Whatever is typed for batch, weigh, cure and log, it is answered: never with a fault of the program's own."""

from __future__ import annotations

import contextlib
import io
from pathlib import Path

import click
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from formwork.cli.commands import commands
from formwork.cli.log_commands import log_commands
from formwork.cli.outcome import run
from formwork.pour.log.file import create

WORDS = (
    "", "0", "-1", "1e9", "nan", "inf", "0 g", "700 g", "1 lb 9 oz", "-3 kg", "1/0 kg", "1 L", "0 L", "5 gal", "1e9 m3",
    "600 kg/m3", "37 lb/ft3", "0 kg/m3", "50 %", "120 %", "20 C", "-300 C", "90 F", "9999 F", "12 mph", "5 m/s", "300 mm",
    "1 in", "0 mm", "6 in schedule 40", "6", "soup", "mix", "oven-dry", "2", "7", "999999999999", "2026-11-25T14:00", "é\u2028",
)  # fmt: skip
SOUND = {
    "batch": ["90 L", "--wet", "600 kg/m3"],
    "weigh": ["720 g", "--tare", "110 g", "--cup", "1 L", "--wet", "600 kg/m3", "--batch", "75 kg"],
    "cure": ["--air", "20 C", "--humidity", "50 %", "--wind", "5 mph", "--drop", "1 mm", "--depth", "1 in"],
}
OPTIONS = {
    name: [p.opts[-1] for p in commands.commands[name].params if not getattr(p, "is_flag", False)]
    for name in SOUND
}


def answered(arguments: list[str]) -> None:
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = run(commands, arguments)
    said = out.getvalue() + err.getvalue()
    assert status in (0, 1, 2), arguments
    assert "fault of the program" not in said and "Traceback" not in said, (arguments, said)
    assert status != 2 or err.getvalue().strip(), arguments


@pytest.mark.parametrize("name", sorted(SOUND))
@given(data=st.data())
@settings(max_examples=150)
def test_batch_weigh_and_cure(name: str, data) -> None:
    changes = data.draw(
        st.dictionaries(st.sampled_from(OPTIONS[name]), st.sampled_from(WORDS), min_size=1, max_size=3)
    )
    arguments = list(SOUND[name])
    for option, word in changes.items():
        if not option.startswith("-"):
            arguments[0] = word
        elif option in arguments:
            arguments[arguments.index(option) + 1] = word
        else:
            arguments += [option, word]
    answered([name, *arguments])


@pytest.fixture(scope="module")
def path(tmp_path_factory) -> Path:
    path = tmp_path_factory.mktemp("log") / "log.db"
    create(path)
    for entered in (
        ["pour", "--title", "t", "--wet", "600 kg/m3"],
        ["batch", "--cement", "25 kg", "--water", "12 kg"],
        ["reading", "--gross", "700 g", "--cup", "1 L"],
    ):
        answered(["log", "--file", str(path), *entered])
    return path


@given(data=st.data())
@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_log(path: Path, data) -> None:
    files = ("start", "export", "import", "backup")
    name = data.draw(st.sampled_from([each for each in log_commands() if each not in files]))
    command = log_commands()[name]
    options = [
        p.opts[-1]
        for p in command.params
        if isinstance(p, click.Option) and not p.is_flag and "-o" not in p.opts
    ]
    arguments = [data.draw(st.sampled_from(WORDS)) for p in command.params if isinstance(p, click.Argument)]
    chosen = data.draw(st.lists(st.sampled_from(options), unique=True, max_size=6)) if options else []
    for option in chosen:
        arguments += [option, data.draw(st.sampled_from(WORDS))]
    answered(["log", "--file", str(path), name, *arguments])
