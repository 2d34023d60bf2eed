"""The order of setting up, and what is said only of the mold and the mix that it is true of."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

import pytest

from formwork.mix.ordinary import design_ordinary
from formwork.mix.records import OrdinaryWanted
from formwork.molds.load import load_of
from formwork.molds.panelled import Built
from formwork.molds.panels.diagonals import corners_at
from formwork.molds.panels.instructions import instructions
from formwork.shapes import block, planter
from tests.drawn import Drawn, parameters, samples
from tests.workshop import build, shop

_ORDER = (
    "Make",
    "outside of the panels",
    "Before the first filling",
    "two trestles",
    "each core to the base",
    "level in both directions",
    "Join the sides",
    "Slide the dividers",
    "sealant along every seam",
    "wipe release agent",
    "hang the core",
)
"""As a shop works: what needs the sides open first, sealant before the agent it would not stick on [CP]."""


def planted(**keys: object) -> Built:
    sizes = {"length": 600, "width": 400, "height": 300, "wall": 40, "floor": 40}
    return build(planter.SHAPE, parameters(planter.SHAPE, {**sizes, **keys}))


def steps(built: Built) -> list[str]:
    found = [line for line in built.mold.instructions if line.startswith("Step ")]
    assert [line.split(".")[0] for line in found] == [f"Step {i}" for i in range(1, len(found) + 1)]
    return found


@pytest.mark.parametrize("drawn", samples(), ids=lambda drawn: drawn[0].name)
def test_steps_stand_in_the_order_of_work(drawn: Drawn) -> None:
    found = steps(build(*drawn))
    places = [i for words in _ORDER for i, said in enumerate(found) if words in said]
    assert places == sorted(places)
    assert len(places) >= 4


@pytest.mark.parametrize("drawn", samples(), ids=lambda drawn: drawn[0].name)
def test_drain_plugs_are_on_before_what_carries_them_is_out_of_reach(drawn: Drawn) -> None:
    found = steps(build(*drawn))
    plugs = [i for i, said in enumerate(found) if "the drain plugs to" in said]
    after = [i for i, said in enumerate(found) if "each core to the base" in said or "Join the sides" in said]
    assert all(i < min(after) for i in plugs)


@pytest.mark.parametrize(("length", "width"), [(600, 400), (500, 500)])
def test_the_diagonals_told_are_those_of_the_piece(length: int, width: int) -> None:
    """By Pythagoras: of a box with upright sides and no chamfer, at its top."""
    built = planted(length=length, width=width, chamfer=0)
    said = next(line for line in steps(built) if "Join the sides" in line)
    assert f"both {hypot(length, width):.1f} mm".replace(".0 mm", " mm") in said


def test_corner_strips_shorten_what_the_tape_measures() -> None:
    """A chamfer of 6 mm takes 6 / (cos a + sin a) off each end of a diagonal at the angle a."""
    built = planted(length=600, width=400, chamfer=6)
    strips = [part for part in built.mold.parts if part.role == "strip"]
    said = next(line for line in steps(built) if "Join the sides" in line)
    wanted = hypot(600, 400) - (2 * 6 * hypot(600, 400) / (600 + 400) if strips else 0.0)
    figure = float(said.split("(both ")[1].split(" mm")[0])
    assert figure == pytest.approx(wanted, abs=0.051)


def test_boards_in_the_corners_move_where_the_tape_is_held() -> None:
    """Five blocks of 450 x 200 with a tongue of 15 mm: boards of 15 mm along one side, by Pythagoras."""
    sizes = {"length": 450, "width": 200, "height": 220, "cores": 2, "shell": 40, "web": 50, "tongue": 15}
    built = build(block.SHAPE, parameters(block.SHAPE, {**sizes, "tongue_width": 70, "gang": 5}))
    bare = corners_at(built.lined.frame.body, built.lined.frame.fill)
    wide, deep = (max(values) - min(values) for values in zip(*bare, strict=True))
    said = next(line for line in steps(built) if "Join the sides" in line)
    figure = float(said.split("(both ")[1].split(" mm")[0])
    assert figure == pytest.approx(hypot(1000.0 * wide - 15.0, 1000.0 * deep), abs=0.051)


@pytest.mark.parametrize("down", ["rim", "floor"])
def test_a_hung_core_comes_last_and_a_standing_one_before_the_sides(down: str) -> None:
    found = steps(planted(down=down))
    core = next(i for i, said in enumerate(found) if "core to the base" in said or "hang the core" in said)
    sides = next(i for i, said in enumerate(found) if "Join the sides" in said)
    assert core < sides if down == "rim" else core == len(found) - 1


@pytest.mark.parametrize(("down", "holder"), [("rim", "the cap of the core"), ("floor", "the base")])
def test_drain_plugs_go_on_what_holds_them(down: str, holder: str) -> None:
    assert any(
        f"drain plugs to {holder}" in said and "from behind" in said for said in steps(planted(down=down))
    )
    assert "drain plugs" not in " ".join(planted(down=down, drain_holes=0).mold.instructions)


@pytest.mark.parametrize(("bolted", "verb"), [(True, "bolt"), (False, "screw")])
def test_what_comes_off_is_bolted_only_where_the_mold_is(bolted: bool, verb: str) -> None:
    built = planted(down="floor")
    frame = built.lined.frame
    kept = replace(frame, stocks=replace(frame.stocks, bolted=bolted))
    said = " ".join(instructions(kept, built.lined.load, built.mold.parts, built.bearers))
    assert f"{verb} the bars to the rim rails" in said
    assert f"{verb} the lowest rails to the base" in said


def test_ordinary_concrete_is_rodded_and_cellular_mix_is_not() -> None:
    built = planted()
    ordinary = design_ordinary(OrdinaryWanted(2350.0, 1.0, 0.5, 2.0, 3.0), shop().cement)
    load = load_of(ordinary, built.lined.frame.fill)
    said = " ".join(instructions(built.lined.frame, load, built.mold.parts, built.bearers))
    assert "rod or vibrate each" in said
    assert "Do not vibrate" not in said
    assert "Do not vibrate" in " ".join(built.mold.instructions)
    assert "rod or vibrate" not in " ".join(built.mold.instructions)


def test_the_air_hole_is_spoken_of_only_where_there_is_one() -> None:
    built = planted()
    assert "air breaks the suction" in " ".join(built.mold.instructions)
    bare = [replace(part, blank=replace(part.blank, holes=())) for part in built.mold.parts]
    assert "suction" not in " ".join(instructions(built.lined.frame, built.lined.load, bare, built.bearers))


def test_the_pieces_of_a_gang_are_lifted_off_one_by_one_and_their_through_cores_stay() -> None:
    """Nobody turns five loose blocks over on one base; what stays on the base is not undone at every filling."""
    sizes = {"length": 450, "width": 200, "height": 220, "cores": 2, "shell": 40, "web": 50, "gang": 3}
    mold = build(block.SHAPE, parameters(block.SHAPE, sizes)).mold
    base = next(step for step in mold.stripping if step.group == "base")
    assert "one by one" in base.note
    assert all("left on the base" in step.note for step in mold.stripping if "core" in step.group)
    held = [one for one in mold.fixings if one.use.startswith("base to core")]
    assert held and not any(one.comes_off for one in held)
    alone = build(block.SHAPE, parameters(block.SHAPE, {**sizes, "gang": 1})).mold
    assert any(one.comes_off for one in alone.fixings if one.use.startswith("base to core"))
    assert "turn all over" in next(step.note for step in alone.stripping if step.group == "base")


@pytest.mark.parametrize("down", ["rim", "floor"])
def test_the_words_on_drawing_a_core_follow_the_order_in_which_it_leaves(down: str) -> None:
    built = planted(down=down)
    order = [step.group for step in built.mold.stripping]
    said = next(line for line in built.mold.instructions if "shrinks onto a core" in line)
    first = order.index("core") < order.index("base")
    assert ("first of all" in said) == first
    assert ("comes out last" in said) == (not first)
