"""Panels that one sheet is too short for: boards that fit, joints that close, battens behind them between the rails."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.checks.all import check
from formwork.geometry.cells import meet
from formwork.molds.panels.splices import behind_joints, splice_length
from formwork.shapes import planter, slab
from tests.drawn import parameters
from tests.workshop import build, shop

TROUGH = {"length": 2700, "width": 500, "height": 420, "wall": 60, "floor": 60}
BENCH = {"length": 2900, "width": 500, "thickness": 80}


def panels(built):
    """The boards of the sides."""
    return [part for part in built.mold.parts if part.role == "panel"]


def test_a_side_that_a_sheet_holds_is_one_board() -> None:
    built = build(slab.SHAPE, parameters(slab.SHAPE, {**BENCH, "length": 2200}))
    assert len(panels(built)) == 4
    assert not behind_joints(built.mold.parts)
    assert splice_length(built.mold.parts) == 0.0


@given(
    length=st.integers(2500, 4000),
    taper=st.sampled_from([0, 120]),
    joint=st.sampled_from(["lapped", "mitred"]),
    base=st.sampled_from(["stands on", "runs past"]),
)
@settings(max_examples=12, deadline=None)
def test_boards_fit_the_sheet_and_close(length: int, taper: int, joint: str, base: str) -> None:
    """Two long sides in two boards each; the cavity is that of the piece, whatever the corners and the slope."""
    keys = {**TROUGH, "length": length, "base_length": length - taper, "base_width": 500 - taper}
    built = build(planter.SHAPE, parameters(planter.SHAPE, keys), density=600.0, joint=joint, base=base)
    sheet, trim = built.lined.frame.stocks.sheet, 2.0 * shop().saw.trim
    assert len(panels(built)) == 6
    for part in panels(built):
        assert part.blank.length <= sheet.length - trim + 1e-9
    assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-9)
    assert not built.leaks
    assert not built.mold.locked
    assert [step.group for step in built.mold.stripping].count("front panel") == 1


def test_battens_stand_between_the_rails_over_the_joint_and_share_no_room() -> None:
    built = build(planter.SHAPE, parameters(planter.SHAPE, TROUGH), density=600.0)
    frame, behind = built.lined.frame, behind_joints(built.mold.parts)
    assert len(behind) == 2 * (len(built.rails) - 1)
    sticks = [part for part in built.mold.parts if part.role in ("rail", "cleat", "batten", "panel", "base")]
    for one, other in combinations(sticks, 2):
        if one in behind or other in behind:
            assert not any(meet(frame.planes, a, b) for a in one.cells for b in other.cells)
    for part in behind:
        xs = [x for cell in part.cells for x, _, _ in cell.points()]
        assert (min(xs) + max(xs)) / 2.0 == pytest.approx(0.0, abs=1e-9)
    assert splice_length(built.mold.parts) == pytest.approx(2 * 0.42)


def test_a_low_bench_holds_and_everything_has_its_step_and_its_screws() -> None:
    built = build(slab.SHAPE, parameters(slab.SHAPE, BENCH))
    found, missing = check([built])
    assert all(one.ok for one in found), [one.name for one in found if not one.ok]
    assert len(missing) == 1
    assert any("behind their joints" in line.use for line in built.mold.hardware)
    assert any("meet end to end" in line for line in built.mold.instructions)
