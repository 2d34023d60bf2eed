"""Where screws and bolts go: the printed places add up to what is bought, and what comes off is undone first."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.molds.mold import Fixing
from formwork.packet.blocks import Line, Points, Table
from formwork.packet.document import document
from formwork.packet.fastenings import at_each_place, fastenings, gathered, out_first
from formwork.packet.sections import sections
from formwork.plan import Plan, plan
from formwork.project.read import read_project

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("tapered-planter", "eight-sided-planter", "hollow-blocks", "garden-slabs", "gate-arch")
CORNERS = Fixing("corners of the mold", "bolt", "M8 x 80 mm", 16, 4, comes_off=True)
RAILS = Fixing("cleats and rails to panels", "screw", "5 x 60 mm", 28, 12, comes_off=False)


@cache
def planned(name: str) -> Plan:
    return plan(read_project(EXAMPLES / f"{name}.toml"))


@pytest.mark.parametrize("name", NAMES)
def test_fastenings_of_a_mold_add_up_to_its_hardware(name):
    """Two routes: joint by joint as printed, and the list of what is bought for the mold."""
    made = planned(name)
    told = {one["name"]: one["fixings"] for one in document(made)["molds"]}
    for mold in made.molds:
        bought = {
            (one.item, one.size): one.quantity
            for one in mold.hardware
            if one.item in ("screw", "bolt", "pin")
        }
        placed: Counter[tuple[str, str]] = Counter()
        for fixing in told[mold.name]:
            placed[fixing["item"], fixing["size"]] += fixing["count"]
        assert dict(placed) == bought
        heads = fastenings(mold).headings
        printed = [dict(zip(heads, row, strict=True)) for row in fastenings(mold).rows]
        assert sum(int(row["in all"]) for row in printed) == sum(bought.values())


@pytest.mark.parametrize("name", NAMES)
def test_every_mold_has_its_table_under_the_molds(name):
    made = planned(name)
    blocks = next(one for one in sections(made) if one.name == "molds").blocks
    for mold in made.molds:
        at = blocks.index(Line(f"Fastenings of the {mold.name}:"))
        table = blocks[at + 1]
        assert isinstance(table, Table) and len(table.rows) == len(gathered(mold.fixings))


def test_a_joint_is_printed_with_its_fasteners_places_and_whether_it_is_undone(plan):
    (corners, rails) = fastenings(replace(plan.molds[0], fixings=(CORNERS, RAILS))).rows
    assert corners == (
        "corners of the mold", "bolt M8 x 80 mm", "16", "4 at each of 4 places", "at every filling",
    )  # fmt: skip
    assert rails == ("cleats and rails to panels", "screw 5 x 60 mm", "28", "2 or 3 at each of 12 places", "")


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 500), st.integers(2, 60))
def test_so_many_at_each_place_can_add_up_to_all(count, places):
    least, *more = at_each_place(count, places).partition(" at ")[0].split(" or ")
    most = int(more[0]) if more else int(least)
    assert int(least) * places <= count <= most * places


def test_equal_joints_of_several_cores_are_one_row():
    caps = Fixing("core caps to walls", "screw", "4 x 50 mm", 8, 4, comes_off=False)
    assert gathered([caps, CORNERS, caps]) == (replace(caps, count=16, places=8), CORNERS)


@pytest.mark.parametrize(
    ("fixings", "words"),
    [
        ((CORNERS, RAILS), "bolts"),
        ((CORNERS, replace(RAILS, comes_off=True)), "bolts and screws"),
        ((replace(RAILS, comes_off=True),), "screws"),
        ((), "bolts and screws"),
    ],
)
def test_what_comes_off_is_named_before_the_parts(plan, fixings, words):
    mold = replace(plan.molds[0], fixings=fixings)
    assert out_first(mold) == words
    blocks = next(one for one in sections(replace(plan, molds=(mold,))) if one.name == "stripping").blocks
    assert blocks[0] == Line(f"slab mold, {words} out first:")


def test_taking_off_tells_equal_steps_once_and_every_group_of_the_mold():
    """From the plan's own order: the first and the last of each run are named, and a gang's pieces go up, not down."""
    made = planned("hollow-blocks")
    section = next(one for one in sections(made) if one.name == "stripping")
    [points] = [block for block in section.blocks if isinstance(block, Points) and block.numbered]
    [mold] = made.molds
    assert len(points.lines) < len(mold.stripping)
    base = next(line for line in points.lines if line.startswith("base:"))
    assert "straight up" in base and "straight down" not in base
    cores = [step.group for step in mold.stripping if "core" in step.group]
    assert any(line.startswith(f"{cores[0]} to {cores[-1]}: left on the base") for line in points.lines)
