"""The watch over the search for fewer sheets: an end by the clock, an end by Ctrl-C, and a plan that says so."""

from __future__ import annotations

import json
import signal

import pytest

from formwork.cli.commands import commands
from formwork.cli.outcome import run
from formwork.cli.watch import Watch, watched

BIG = """
title = "tubs"
units = "mm"
[mix]
wet_density = "800 kg/m3"
[[piece]]
name = "tub"
shape = "planter"
length = 900
width = 900
height = 600
base_length = 500
base_width = 500
wall = 40
floor = 40
"""
"""A mold whose sheets are not proven to be the fewest."""


@pytest.fixture
def project(tmp_path):
    path = tmp_path / "tubs.toml"
    path.write_text(BIG, encoding="utf-8")
    return str(path)


def bound(capfd, *arguments: str) -> dict[str, object]:
    run(commands, ["plan", "--json", *arguments])
    (found,) = json.loads(capfd.readouterr().out)["bounds"]["sheets"].values()
    return found


def test_a_plan_that_was_stopped_says_so_and_is_whole(project, capfd) -> None:
    stopped = bound(capfd, project, "--effort", "50", "--seconds", "0")
    usual = bound(capfd, project)
    assert stopped["stopped"]
    assert not usual["stopped"]
    assert usual["used"] <= stopped["used"]
    run(commands, ["plan", project, "--effort", "50", "--seconds", "0"])
    assert "looking for less was stopped before its work was done" in " ".join(capfd.readouterr().out.split())


@pytest.mark.parametrize(
    "wrong",
    [("--effort", "0"), ("--effort", "nan"), ("--effort", "much"), ("--seconds", "-1"), ("--seconds", "nan")],
)
def test_what_makes_no_sense_is_refused(project, capfd, wrong) -> None:
    assert run(commands, ["plan", project, *wrong]) == 2
    assert wrong[0] in capfd.readouterr().err


def test_time_runs_out() -> None:
    assert not Watch(3600.0)()
    assert Watch(0.0)()
    assert not Watch(None)()


def test_the_first_interruption_takes_the_best_so_far_and_the_second_ends() -> None:
    before = signal.getsignal(signal.SIGINT)
    with watched(2.0, None) as search:
        assert search.effort == 2.0
        assert not search.stopped()
        signal.raise_signal(signal.SIGINT)
        assert search.stopped()
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) == before
