"""What holds panels of any number of sides together: which joint suits, cleats, hoops, plates in the core, bars."""

from __future__ import annotations

from math import cos, pi, sin, tau

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.checks.holding import panel_checks
from formwork.cutting.cut_list import cut_list
from formwork.geometry.cavity import Solid, overlaps
from formwork.geometry.cells import box_of
from formwork.geometry.contact import contact
from formwork.geometry.vectors import Vec
from formwork.molds.mold import Part
from formwork.molds.panelled import Built
from formwork.molds.panels.core_ribs import level_plates
from formwork.molds.panels.corners import LEAST_LAP, MOST_MITRE, ring_rules, suited
from formwork.shapes import arch, many_sided, planter, slab
from tests.drawn import parameters
from tests.workshop import build

OPPOSITE = {"runs past": "stops at", "stops at": "runs past", "mitred": "mitred"}


def planter_of(sides: int, size: float, down: str = "rim", height: float = 300, **options: str) -> Built:
    keys = {"sides": sides, "size": size, "height": height, "wall": 40, "floor": 40, "down": down}
    return build(many_sided.SHAPE, parameters(many_sided.SHAPE, keys), **options)


def ring(sides: int) -> list[Vec]:
    return [(cos(tau * k / sides), sin(tau * k / sides), 0.0) for k in range(sides)]


@pytest.mark.parametrize("count", range(3, 13))
@pytest.mark.parametrize("even_past", [True, False])
@pytest.mark.parametrize("joint", ["lapped", "mitred"])
def test_at_every_corner_one_board_runs_past_and_one_stops(count: int, even_past: bool, joint: str) -> None:
    rules = ring_rules(count, joint, even_past)
    for i, (_, right) in enumerate(rules):
        assert rules[(i + 1) % count][0] == OPPOSITE[right]


@pytest.mark.parametrize("sides", range(3, 13))
def test_no_blade_is_tilted_further_than_a_saw_tilts(sides: int) -> None:
    """A lap is bevelled by 90 degrees less the turn, a mitre by half the turn; whichever is made stays within 45."""
    turn = tau / sides
    for wanted in ("lapped", "mitred"):
        made = suited(ring(sides), wanted)
        tilt = pi / 2.0 - turn if made == "lapped" else turn / 2.0
        assert abs(tilt) <= pi / 4.0 + 1e-9
        if LEAST_LAP <= turn <= MOST_MITRE:
            assert made == wanted


@given(sides=st.integers(3, 12), size=st.integers(260, 900), down=st.sampled_from(["rim", "floor"]),
       joint=st.sampled_from(["lapped", "mitred"]), height=st.integers(150, 600))  # fmt: skip
@settings(max_examples=25, deadline=None)
def test_molds_of_any_size_and_number_of_sides_have_room_for_their_parts(
    sides: int, size: int, down: str, joint: str, height: int
) -> None:
    built = planter_of(sides, size * (1.6 if sides == 3 else 1.0), down, height, joint=joint)
    assert overlaps(built.mold.planes, [Solid(part.name, part.cells) for part in built.mold.parts]) == []
    assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-9)
    assert built.mold.locked == ()


def touching(built: Built, one: Part, other: Part) -> bool:
    return bool(contact(built.mold.planes, one.cells, other.cells))


@pytest.mark.parametrize("sides", [3, 5, 6, 7, 8])
def test_every_cleat_lies_on_its_panel_and_stands_against_the_corner(sides: int) -> None:
    for joint in ("lapped", "mitred"):
        built = planter_of(sides, 700, joint=joint)
        parts = {part.name: part for part in built.mold.parts}
        cleats = [part for part in parts.values() if part.role == "cleat"]
        assert len(cleats) == sides * (2 if built.lined.frame.mitred else 1)
        for cleat in cleats:
            assert touching(built, cleat, parts[cleat.group])
            others = [part for part in parts.values() if part.group not in (cleat.group, "core", "base")]
            assert any(touching(built, cleat, other) for other in others)


def test_rails_of_a_hoop_meet_all_round() -> None:
    built = planter_of(12, 400)
    rails = [part for part in built.mold.parts if part.role == "rail" and part.name.endswith(" rail 1")]
    meetings = [touching(built, one, other) for i, one in enumerate(rails) for other in rails[:i]]
    assert meetings.count(True) == 12
    assert any("strap round each hoop" in said for said in built.mold.instructions)


@pytest.mark.parametrize(("sides", "joint"), [(5, "lapped"), (7, "lapped"), (8, "mitred"), (12, "mitred")])
def test_equal_sides_are_cut_from_one_line_of_the_cut_list(sides: int, joint: str) -> None:
    keys = {
        "sides": sides,
        "size": 480,
        "base_size": 420,
        "height": 360,
        "wall": 40,
        "floor": 40,
        "down": "floor",
    }
    built = build(many_sided.SHAPE, parameters(many_sided.SHAPE, keys), joint=joint)
    lines = [line for line in cut_list([(built.mold, 1)]) if line.part.group.endswith(" panel")]
    heights = len(built.rails)
    kinds = [line.part.role for line in lines]
    cleats = 0 if "cleat" not in kinds else 2 if joint == "mitred" else 1
    assert (kinds.count("panel"), kinds.count("rail"), kinds.count("cleat")) == (1, heights, cleats)
    assert sum(len(line.names) for line in lines) == sides * (1 + heights + cleats)


@pytest.mark.parametrize("sides", [3, 5, 6, 8, 12])
def test_plates_hold_every_wall_of_a_core(sides: int) -> None:
    built = planter_of(sides, 700)
    walls = [part for part in built.mold.parts if part.role == "core wall"]
    plates = level_plates(built.mold.parts)
    assert len(walls) == sides
    assert plates
    assert all(touching(built, plate, wall) for plate in plates for wall in walls)
    assert all(len(plate.blank.holes) == 1 for plate in plates)


def test_a_square_core_too_wide_for_its_walls_gets_plates_and_a_long_one_ribs() -> None:
    keys = {"height": 600, "wall": 40, "floor": 40}
    square = build(planter.SHAPE, parameters(planter.SHAPE, {**keys, "length": 700, "width": 700}))
    trough = build(planter.SHAPE, parameters(planter.SHAPE, {**keys, "length": 1400, "width": 300}))
    walls = [part for part in square.mold.parts if part.role == "core wall"]
    plates = level_plates(square.mold.parts)
    assert plates
    assert all(touching(square, plate, wall) for plate in plates for wall in walls)
    assert level_plates(trough.mold.parts) == []
    assert any(part.role == "core rib" for part in trough.mold.parts)


@pytest.mark.parametrize("sides", [3, 6, 8, 12])
def test_bars_lie_on_the_rails_and_end_with_them(sides: int) -> None:
    built = planter_of(sides, 500, "floor")
    rim = [
        part for part in built.mold.parts if part.role in ("rail", "cleat", "panel") and part.group != "core"
    ]
    low, high = box_of([cell for part in rim for cell in part.cells])
    for bar in (part for part in built.mold.parts if part.role == "bar"):
        assert sum(touching(built, bar, part) for part in rim) >= 2
        first, last = box_of(bar.cells)
        assert first[0] >= low[0] - 1e-9 and last[0] <= high[0] + 1e-9
        assert first[1] >= low[1] - 1e-9 and last[1] <= high[1] + 1e-9


def test_a_panel_too_narrow_for_a_rail_has_its_cleats_alone() -> None:
    keys = {"span": 900, "rise": 250, "ring": 240, "width": 200, "stones": 15}
    built = build(arch.SHAPE, parameters(arch.SHAPE, keys))
    groups = [part.group for part in built.mold.parts if part.role == "rail"]
    assert "soffit panel" not in groups
    cleats = [part for part in built.mold.parts if part.group == "soffit panel" and part.role == "cleat"]
    assert len(cleats) == 2
    assert overlaps(built.mold.planes, [Solid(one.name, one.cells) for one in cleats]) == []


def test_a_panel_behind_rails_that_touch_needs_no_check() -> None:
    """Two sticks of 45 mm behind a slab of 90 mm leave nothing of the panel to bend."""
    keys = {"length": 400, "width": 400, "thickness": 90}
    built = build(slab.SHAPE, parameters(slab.SHAPE, keys), stick="45x45")
    assert (len(built.rails), built.lined.frame.stocks.broad) == (2, 0.045)
    assert panel_checks(built) == ()
