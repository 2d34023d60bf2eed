"""A mold taken apart, and the states it goes through as it is put together."""

from __future__ import annotations

from itertools import combinations

import pytest

from formwork.drawings.apart import groups_apart, moved_apart
from formwork.drawings.bodies import carried, shell
from formwork.drawings.extents import part_box, parts_box, standing
from formwork.drawings.frames import ISOMETRIC
from formwork.drawings.layers import ADDED, BALLOONS, STANDING
from formwork.drawings.mold import bodies_of
from formwork.drawings.projection import project
from formwork.drawings.scene import Scene, Text
from formwork.geometry.vectors import add, dot
from formwork.molds.mold import AssemblyStep, Mold
from formwork.plan import Plan

NAMES = ("planters", "wall", "terrace", "bird-bath", "boathouse-piers", "courtyard-tubs", "pond-path")


def molds(plans: dict[str, Plan]) -> list[tuple[Plan, Mold]]:
    return [(plans[name], mold) for name in NAMES for mold in plans[name].molds]


def drawn_steps(plans: dict[str, Plan], states) -> list[tuple[Mold, list[tuple[AssemblyStep, Scene | None]]]]:
    return [
        (mold, list(zip(mold.steps, states[f"{name}/{mold.name}"], strict=True)))
        for name, one in plans.items()
        for mold in one.molds
    ]


def labels(scene) -> list[str]:
    return [item.text for item in scene.model if isinstance(item, Text) and item.layer is BALLOONS]


def test_the_three_ways_of_space_are_equally_foreshortened():
    """Each unit vector falls on paper as long as the others: the square root of two thirds."""
    for axis in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)):
        x, y = ISOMETRIC.flat(axis)
        assert x * x + y * y == pytest.approx(2.0 / 3.0)
    assert ISOMETRIC.flat((0.0, 0.0, 1.0))[0] == 0.0
    assert dot(ISOMETRIC.toward, (1.0, -1.0, 1.0)) == pytest.approx(3.0**0.5)


def test_a_body_carried_away_looks_the_same_there(plans):
    for body in bodies_of(plans["planters"].molds[0]):
        one = shell(body)
        here, there = (project([each], ISOMETRIC).box() for each in (one, carried(one, (0.3, -0.2, 0.1))))
        off = ISOMETRIC.flat((0.3, -0.2, 0.1))
        for a, b in zip(here, there, strict=True):
            assert b == pytest.approx((a[0] + off[0], a[1] + off[1]), abs=1e-9)


def test_sides_that_are_taken_apart_clear_one_another_and_the_base(plans):
    for _, mold in molds(plans):
        parts = standing(mold.parts)
        moved = moved_apart(parts)
        base = next(part for part in parts if part.role == "base")
        low = part_box(base)[1][2] + moved[base.name][2]
        for part in parts:
            if part.group != base.group:
                assert part_box(part)[0][2] + moved[part.name][2] > low - 1e-9, (mold.name, part.name)


def test_units_at_the_bench_stay_whole_and_part_from_one_another(plans):
    for _, mold in molds(plans):
        moved = groups_apart(standing(mold.parts))
        for part, other in combinations(standing(mold.parts), 2):
            if part.group == other.group:
                assert moved[part.name] == moved[other.name]


def test_every_mark_stands_on_the_view_of_a_mold_taken_apart_once(plans, apart):
    """All but what nothing can show: a part wholly behind others even there."""
    for key, scene in apart.items():
        one = plans[key.partition("/")[0]]
        mold = next(mold for mold in one.molds if key.endswith(f"/{mold.name}"))
        standing_names = {part.name for part in standing(mold.parts)}
        wanted = {
            line.label for line in one.cut_list if line.mold == mold.name and standing_names & set(line.names)
        }
        found = labels(scene)
        assert len(found) == len(set(found))
        assert set(found) <= wanted
        assert len(wanted - set(found)) <= 1, (mold.name, wanted - set(found))


def test_a_picture_for_each_step_that_adds_a_part_and_for_no_other(plans, states):
    for mold, steps in drawn_steps(plans, states):
        names = {part.name for part in standing(mold.parts)}
        assert [scene is not None for _, scene in steps] == [bool(names & set(s.parts)) for s, _ in steps]


def test_what_a_step_adds_is_wide_and_what_stood_before_is_narrow(plans, states):
    for mold, steps in drawn_steps(plans, states):
        set_up = [(step, scene) for step, scene in steps if scene and not step.bench]
        for number, (step, scene) in enumerate(set_up):
            layers = {item.layer for item in scene.model}
            assert ADDED in layers, (mold.name, step.text)
            assert (STANDING in layers) == (number > 0), (mold.name, step.text)


def test_the_last_state_is_the_whole_mold(plans, states):
    """Its outline on paper is that of the mold as every other drawing has it."""
    for mold, steps in drawn_steps(plans, states):
        last = [scene for step, scene in steps if scene and not step.bench][-1]
        (x0, _), (_, y1) = project([shell(body) for body in bodies_of(mold)], ISOMETRIC).box()
        drawn = [p for item in last.model if item.layer in (ADDED, STANDING) for p in _ends(item)]
        assert min(x for x, _ in drawn) == pytest.approx(x0, abs=1e-4)
        assert max(y for _, y in drawn) == pytest.approx(y1, abs=1e-4)


def _ends(item):
    return (item.start, item.end) if hasattr(item, "end") and isinstance(item.end, tuple) else ()


def test_a_unit_beside_the_middle_goes_straight_out(plans):
    mold = plans["planters"].molds[0]
    parts = standing(mold.parts)
    moved = groups_apart(parts)
    low, high = parts_box(parts)
    for name, way in (("right panel", 0), ("back panel", 1)):
        assert moved[name][way] > 0.1 * (high[way] - low[way])
        assert moved[name][1 - way] == pytest.approx(0.0, abs=1e-9)
        assert add(
            moved[name], moved[name.replace("right", "left").replace("back", "front")]
        ) == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)
