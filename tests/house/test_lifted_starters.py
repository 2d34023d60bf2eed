"""Every starter once more, its pieces filled in lifts: it stands as well, its working can be redone, its lifts add up."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from formwork.errors import GeometryError
from formwork.plan import Plan, plan
from formwork.project.read import read_project
from formwork.shapes.register import register
from formwork.shipped import shelf
from tests.working import PROSE, closing_faults, faults

STARTERS = [path for path in sorted(shelf("templates").glob("*.toml")) if path.stem in register()]
CAST = [path for path in STARTERS if register()[path.stem].casts]
THIRDS = 2.5
"""A lift of a piece's height over this parts its filling in three."""


@cache
def planned(path: Path) -> Plan:
    """The plan of a starter in lifts."""
    project = read_project(path)
    fill = max(mold.piece.form.fill for mold in plan(project).molds)
    orders = [replace(one, mold=replace(one.mold, lift=fill / THIRDS)) for one in project.orders]
    try:
        return plan(replace(project, orders=tuple(orders)))
    except GeometryError as refused:
        assert "stiff mix" in str(refused)
        pytest.skip(str(refused))


@pytest.mark.parametrize("path", CAST, ids=lambda path: path.name)
def test_every_check_passes_and_every_line_of_its_working_can_be_redone(path: Path) -> None:
    made = planned(path)
    assert [(check.name, check.working) for check in made.checks if not check.ok] == []
    found = [
        (check.name, fault)
        for check in made.checks
        if check.name not in PROSE
        for fault in (*faults(check.working), *closing_faults(check))
    ]
    assert found == []


@pytest.mark.parametrize("path", CAST, ids=lambda path: path.name)
def test_the_label_agrees_with_the_lifts_and_the_lifts_add_up(path: Path) -> None:
    made = planned(path)
    lifted = [mold for mold in made.molds if mold.lifts > 1]
    assert lifted
    for mold in lifted:
        assert re.search(r"in lifts of at most \S.*, each set before the next goes on", mold.instructions[0])
    for pour in (pour for pour in made.pours if pour.lifts):
        assert sum(lift.volume for lift in pour.lifts) == pytest.approx(pour.volume)
        assert [lift.first for lift in pour.lifts] == [1, *(lift.last + 1 for lift in pour.lifts[:-1])]
        assert pour.lifts[-1].last == len(pour.batches)
