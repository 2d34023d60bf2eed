"""A base too thin for thread: its screws go up through it into the rails, and the shop's usual screws will do."""

from __future__ import annotations

import pytest

from formwork.checks.lifting import lift_checks
from formwork.molds.joints import SIDES
from formwork.shapes import planter
from tests.drawn import parameters
from tests.workshop import build

KEYS = {
    "length": 500, "width": 500, "base_length": 400, "base_width": 400, "height": 300, "wall": 50, "floor": 50,
    "down": "rim",
}  # fmt: skip


@pytest.mark.parametrize(
    ("sheet", "below"), [("plywood 12", True), ("plywood 15", True), ("plywood 18", False)]
)
def test_screws_bite_where_there_is_wood_for_them(sheet: str, below: bool) -> None:
    built = build(planter.SHAPE, parameters(planter.SHAPE, KEYS), sheet=sheet)
    held = next(one for one in built.fastenings if one.joint.group == SIDES)
    frame = built.lined.frame
    wood = (frame.thickness, frame.stocks.broad)
    assert (held.joint.through, held.joint.into) == (wood if below else wood[::-1])
    assert ("from below" in held.joint.use) == below
    assert all(one.ok for one in lift_checks(built))
