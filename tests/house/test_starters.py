"""What is filled in or copied works as it is: every starter file and every example makes a plan that passes."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from formwork.cli.starter import SHOP
from formwork.packet.sections import passes
from formwork.plan import Plan, plan
from formwork.project.read import read_project
from formwork.shapes.register import register
from formwork.shipped import shelf
from tests.working import PROSE, closing_faults, faults


@cache
def planned(path: Path) -> Plan:
    return plan(read_project(path))


def projects(name: str) -> list[Path]:
    return [
        path for path in sorted(shelf(name).glob("*.toml")) if "[[piece" in path.read_text(encoding="utf-8")
    ]


def test_every_shape_has_its_starter_and_so_has_the_shop():
    assert {path.stem for path in projects("templates")} == set(register())
    assert (shelf("templates") / f"{SHOP}.toml").is_file()


def test_there_are_examples_of_planters_blocks_and_slabs():
    shapes = {order.shape for path in projects("examples") for order in read_project(path).orders}
    assert len(projects("examples")) >= 3 and {"planter", "block", "slab"} <= shapes


@pytest.mark.parametrize("path", projects("templates") + projects("examples"), ids=lambda path: path.name)
def test_it_makes_a_plan_and_every_check_of_it_passes(path):
    made = planned(path)
    assert made.checks
    assert passes(made), [(check.name, check.working) for check in made.checks if not check.ok]


@pytest.mark.parametrize("path", projects("templates") + projects("examples"), ids=lambda path: path.name)
def test_every_line_of_working_can_be_redone_and_ends_in_load_and_limit(path):
    """As printed, by a reader with a calculator: over every shape, every method and every frame there is."""
    found = [
        (check.name, fault)
        for check in planned(path).checks
        if check.name not in PROSE
        for fault in (*faults(check.working), *closing_faults(check))
    ]
    assert found == []
