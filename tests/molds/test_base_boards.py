"""A base that one sheet is too small for: boards that fit a sheet, joints that close, battens under all of them."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.checks.all import check
from formwork.errors import StockError
from formwork.geometry.cells import volume
from formwork.molds.design import brace, line
from formwork.molds.panels.base_boards import battens, joint_length
from formwork.project.records import MoldOptions, PieceOrder
from formwork.shapes import many_sided, planter, slab
from tests.drawn import parameters
from tests.workshop import build, mix, shop

TOP = {"length": 2000, "width": 1400, "thickness": 60}


def slab_mold(**keys):
    """A slab in a metric shop, its sheets 2440 x 1220 mm."""
    return build(slab.SHAPE, parameters(slab.SHAPE, {**TOP, **keys}))


def boards(built):
    """The boards of a base."""
    return [part for part in built.mold.parts if part.role == "base"]


def test_a_base_that_a_sheet_holds_is_one_board() -> None:
    built = slab_mold(width=900)
    assert [part.name for part in boards(built)] == ["base"]
    assert not battens(built.mold.parts)
    assert not any(one.name.startswith("base joints") for one in check([built])[0])


@pytest.mark.parametrize(("width", "count"), [(1400, 2), (3000, 3)])
def test_a_table_top_stands_on_boards_side_by_side(width: int, count: int) -> None:
    """A bound by area: 2.1 x 1.5 m is 3.2 m2, a trimmed sheet 2.9 m2."""
    built = slab_mold(width=width)
    assert len(boards(built)) == count
    found, missing = check([built])
    assert all(one.ok for one in found), [one.name for one in found if not one.ok]
    assert any(one.name == "base joints on their battens" for one in found)
    assert len(missing) == 1


@given(
    length=st.integers(1300, 4200),
    width=st.integers(1250, 2200),
    sides=st.sampled_from(["stands on", "runs past"]),
)
@settings(max_examples=12, deadline=None)
def test_boards_fit_the_sheet_and_close(length: int, width: int, sides: str) -> None:
    """No rail is long enough for the longest, so the sides are left to their own; the cavity is that of the piece."""
    built = build(slab.SHAPE, parameters(slab.SHAPE, {**TOP, "length": length, "width": width}), base=sides)
    mold, sheet = built.mold, built.lined.frame.stocks.sheet
    trim = 2.0 * shop().saw.trim
    for part in boards(built):
        longer, shorter = sorted((part.blank.length, part.blank.width), reverse=True)
        assert longer <= sheet.length - trim + 1e-9
        assert shorter <= sheet.width - trim + 1e-9
    assert mold.cavity == pytest.approx(mold.nominal, rel=1e-9)
    assert not built.leaks
    assert not mold.locked
    whole = sum(part.blank.length * part.blank.width for part in boards(built))
    low, high = (min(x for x, _, _ in _points(built)), max(x for x, _, _ in _points(built)))
    near, far = (min(y for _, y, _ in _points(built)), max(y for _, y, _ in _points(built)))
    assert whole == pytest.approx((high - low) * (far - near), rel=1e-9)


def _points(built):
    return [point for part in boards(built) for cell in part.cells for point in cell.points()]


def test_a_batten_lies_under_every_joint_and_shares_no_room() -> None:
    built = slab_mold(width=3000, length=3000)
    frame, under = built.lined.frame, battens(built.mold.parts)
    thick = frame.thickness
    for one, other in combinations(boards(built), 2):
        (a, b), (c, d) = _box(one), _box(other)
        if abs(b[0] - c[0]) < 1e-9 and min(b[1], d[1]) > max(a[1], c[1]):
            assert any(_box(each)[0][0] < b[0] < _box(each)[1][0] for each in under)
        if abs(b[1] - c[1]) < 1e-9 and min(b[0], d[0]) > max(a[0], c[0]):
            assert any(_box(each)[0][1] < b[1] < _box(each)[1][1] for each in under)
    for part in under:
        (_, _, foot), (_, _, head) = _box(part)
        assert head == pytest.approx(-thick)
        assert head - foot == pytest.approx(frame.stocks.stick.thickness)
    space = volume([cell for part in under for cell in part.cells])
    section = frame.stocks.stick.thickness * frame.stocks.stick.width
    assert space == pytest.approx(section * joint_length(built.mold.parts), rel=1e-9)


def _box(part):
    points = [point for cell in part.cells for point in cell.points()]
    return tuple(map(min, zip(*points, strict=True))), tuple(map(max, zip(*points, strict=True)))


def test_sealant_is_bought_for_the_joints_and_screws_for_the_battens() -> None:
    one, many = slab_mold(width=900).mold, slab_mold().mold
    assert many.seams - joint_length(many.parts) == pytest.approx(2 * (2.0 + 1.4) + 4 * 0.06)
    assert one.seams == pytest.approx(2 * (2.0 + 0.9) + 4 * 0.06)
    assert any("battens to the boards" in line.use for line in many.hardware)


def test_a_planter_and_a_many_sided_one_take_it_as_well() -> None:
    wide = {"length": 1400, "width": 1300, "height": 400, "wall": 60, "floor": 60, "down": "floor"}
    six = {"sides": 6, "size": 1400, "across": "flats", "height": 300, "wall": 60, "floor": 60}
    for shape, keys in ((planter.SHAPE, wide), (many_sided.SHAPE, six)):
        built = build(shape, parameters(shape, keys), density=600.0)
        assert len(boards(built)) > 1
        assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-9)


def test_more_boards_than_make_sense_are_refused() -> None:
    own = shop()
    small = replace(own, sheets=(replace(own.sheets[0], length=0.5, width=0.5),))
    order = PieceOrder("piece", "slab", parameters(slab.SHAPE, TOP), 1, 1, MoldOptions())
    with pytest.raises(StockError, match="more than 16 boards"):
        brace(line(order, small, mix(), "mm")[0])
