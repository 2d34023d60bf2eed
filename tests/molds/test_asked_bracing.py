"""Bracing as the person asks for it: so much of it stands there, closer below; what finds no room is refused in words."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import dist
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.checks.all import check
from formwork.errors import GeometryError
from formwork.mix.records import Mix
from formwork.molds.asked import BuiltMold
from formwork.molds.design import brace, line
from formwork.molds.levels import fewest, in_proportion, most_of
from formwork.project.records import MoldOptions, PieceOrder
from formwork.project.shop import read_shop
from formwork.shapes import cast_dome, column, outline, planter, round_planter, slab, turned
from formwork.shapes.shape import Shape
from tests.drawn import parameters
from tests.workshop import build, concrete, mix

TUB = {"length": 1200, "width": 600, "height": 900, "wall": 60, "floor": 60}
BOX = {"length": 500, "width": 400, "height": 400, "wall": 60, "floor": 60}
POT = {"diameter": 500, "height": 400, "wall": 45, "floor": 45, "down": "rim"}
POST = {"diameter": 300, "height": 900}
VASE = turned.SHAPE.samples[2]
TRAY = turned.SHAPE.samples[0]
STONE = outline.SHAPE.samples[2]
SHELL, STIFF = cast_dome.SHAPE.samples[0], cast_dome.SHAPE.samples[1]


def made(shape: Shape, keys: Any, method: str, mixed: Mix | None = None, **asked: object) -> Any:
    return build(shape, parameters(shape, keys), method=method, mixed=mixed, **asked)


def post(**asked: object) -> Any:
    return made(column.SHAPE, POST, "tube", tube_off="slit", **asked)


def closer_below(heights: tuple[float, ...]) -> bool:
    gaps = [upper - lower for lower, upper in pairwise(heights)]
    return all(below <= above + 1e-6 for below, above in pairwise(gaps))


@pytest.mark.parametrize("count", [2, 3, 5, 8])
def test_as_many_rails_as_asked_stand_on_every_side(count: int) -> None:
    built = made(planter.SHAPE, TUB, "panelled", rails=count, stick="45x45")
    rails = [part.name for part in built.mold.parts if part.role == "rail" and part.group == "front panel"]
    assert len(rails) == len(built.rails) == count
    assert closer_below(built.rails)
    assert built.rails[0] == pytest.approx(0.0225)
    assert built.rails[-1] == pytest.approx(0.9 - 0.0225)


def test_rails_stand_where_they_are_asked_to() -> None:
    built = made(planter.SHAPE, TUB, "panelled", rail_heights=(0.2, 0.5), stick="45x45")
    assert built.rails == pytest.approx((0.0225, 0.2, 0.5, 0.8775))
    middles = sorted(
        sum(point[2] for point in part.cells[0].points()) / len(part.cells[0].points())
        for part in built.mold.parts
        if part.role == "rail" and part.group == "front panel"
    )
    assert middles == pytest.approx(built.rails)


def test_corners_are_screwed_as_asked() -> None:
    built = made(planter.SHAPE, BOX, "panelled", corner_screws=3)
    held = next(one for one in built.fastenings if one.joint.group == "corners")
    assert held.count == 3 * 4


@pytest.mark.parametrize("count", [0, 1, 4])
def test_a_core_is_stiffened_as_asked(count: int) -> None:
    built = made(planter.SHAPE, TUB, "panelled", core_ribs=count)
    ribs = [part for part in built.mold.parts if part.role == "core rib" and part.kind == "panel"]
    assert len(ribs) == count


def test_rings_stand_as_asked() -> None:
    built = made(round_planter.SHAPE, POT, "wrapped", rings=5)
    assert [len(some) for some in built.heights] == [5]
    assert closer_below(built.heights[0])
    straps = sum(line.quantity for line in built.mold.hardware if line.item == "strap")
    assert straps == 5
    placed = made(round_planter.SHAPE, POT, "wrapped", ring_heights=(0.1, 0.2))
    assert placed.heights[0][1:-1] == pytest.approx((0.1, 0.2))


def test_a_round_core_is_stiffened_as_asked() -> None:
    few, more = (made(round_planter.SHAPE, POT, "wrapped", core_ribs=count) for count in (0, 3))
    assert len(more.lined.core.ribs) == len(few.lined.core.ribs) + 3


def test_straps_go_round_a_slit_tube_as_asked() -> None:
    built = post(straps=6)
    assert built.straps.count == 6
    edges = (0.0, *(high for _, high in built.straps.bands))
    assert edges[-1] == pytest.approx(0.9)
    assert closer_below(edges)
    assert built.straps.tensions[1:-1] == pytest.approx([built.straps.tension] * 4)
    placed = post(strap_heights=(0.1, 0.35, 0.7))
    assert placed.straps.heights == (0.1, 0.35, 0.7)
    assert any("100 mm, 350 mm and 700 mm above its foot" in line for line in placed.mold.instructions)
    assert [low for low, _ in placed.straps.bands] == pytest.approx([0.0, 0.225, 0.525])
    assert [high for _, high in placed.straps.bands] == pytest.approx([0.225, 0.525, 0.9])


def test_straps_carry_the_hoop_tension_of_their_bands() -> None:
    built = post(strap_heights=(0.1, 0.35, 0.7))
    load = built.lined.asked.load
    for (low, high), tension in zip(built.straps.bands, built.straps.tensions, strict=True):
        assert tension == pytest.approx(load.density * 9.80665 * (0.9 - low) * 0.15 * (high - low))


def test_a_row_of_ears_is_bolted_as_asked() -> None:
    built = made(turned.SHAPE, VASE, "stacked", ear_bolts=3)
    assert next(one for one in built.fastenings if one.joint.group == "ears").count == 6


def test_blocks_stand_as_close_as_asked() -> None:
    near, far = (made(outline.SHAPE, STONE, "edged", blocks_apart=apart) for apart in (0.2, 0.5))
    assert len(near.blocks) > len(far.blocks)
    for built, apart in ((near, 0.2), (far, 0.5)):
        for index in range(len(built.lined.edges)):
            places = [block.part.prisms[0].box() for block in built.blocks if block.edge == index]
            middles = [((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0) for a, b in places]
            assert all(dist(one, other) <= apart + 1e-9 for one, other in pairwise(middles))


def test_as_many_purlins_as_asked_stand_behind_the_skin() -> None:
    """A header may stand where one of them would."""
    built = made(cast_dome.SHAPE, STIFF, "ribbed", concrete(), purlins=5)
    levels = {part.name.split(" bay")[0] for part in built.mold.parts if part.name.startswith("inner purlin")}
    assert 5 <= len(levels) <= 5 + len(built.form.headers)


def test_a_dome_is_braced_as_asked() -> None:
    built = made(
        cast_dome.SHAPE, SHELL, "ribbed", purlins=5, rib_depth=0.16, skin_layers=4, rods=20, seam_bolts=15
    )
    form = built.form
    assert (form.depth, form.layers) == (0.16, 4)
    assert next(line.quantity for line in built.mold.hardware if line.item == "tie rod") == 20
    assert next(one.count for one in built.mold.fixings if one.use.startswith("seams of the outer")) == 15 * 4


REFUSED: list[tuple[Callable[[], BuiltMold], str]] = [
    (lambda: made(planter.SHAPE, TUB, "panelled", rails=1), "mold.rails: got 1, want 2 to"),
    (lambda: made(planter.SHAPE, TUB, "panelled", rails=60), "mold.rails: got 60"),
    (lambda: made(planter.SHAPE, TUB, "panelled", rail_heights=(0.5, 0.2)), "mold.rail_heights: got 200 mm"),
    (lambda: made(planter.SHAPE, TUB, "panelled", rail_heights=(0.4, 0.43)), "mold.rail_heights: got 430 mm"),
    (lambda: made(planter.SHAPE, TUB, "panelled", rail_heights=(2.0,)), "mold.rail_heights: got 2000 mm"),
    (
        lambda: made(planter.SHAPE, BOX, "panelled", corner_screws=90),
        "mold.corner_screws: got 90, want at most",
    ),
    (lambda: made(planter.SHAPE, TUB, "panelled", core_ribs=60), "mold.core_ribs: got 60, want at most"),
    (lambda: made(slab.SHAPE, slab.SHAPE.samples[0], "panelled", core_ribs=1), "there is no hollow core"),
    (lambda: made(round_planter.SHAPE, POT, "wrapped", rings=1), "mold.rings: got 1, want 2 to"),
    (lambda: made(round_planter.SHAPE, POT, "wrapped", ring_heights=(0.1, 9.0)), "got 9000 mm"),
    (lambda: made(round_planter.SHAPE, POT, "wrapped", core_ribs=50), "mold.core_ribs: got 50, want at most"),
    (lambda: made(column.SHAPE, POST, "wrapped", core_ribs=1), "the piece has no hollow"),
    (lambda: post(straps=200), "mold.straps: got 200, want 1 to"),
    (lambda: post(strap_heights=(0.3, 0.1)), "mold.strap_heights: got 100 mm"),
    (lambda: post(strap_heights=(0.3, 1.1)), "mold.strap_heights: got 1100 mm"),
    (lambda: made(column.SHAPE, POST, "tube", straps=3), "only a tube that is slit needs straps"),
    (lambda: made(column.SHAPE, POST, "tube", strap_heights=(0.1,)), "only a tube that is slit needs straps"),
    (lambda: made(turned.SHAPE, VASE, "stacked", ear_bolts=90), "mold.ear_bolts: got 90, want at most"),
    (lambda: made(turned.SHAPE, TRAY, "stacked", ear_bolts=3), "have no ears"),
    (lambda: made(cast_dome.SHAPE, SHELL, "ribbed", purlins=59), "mold.purlins: got 59, want"),
    (lambda: made(cast_dome.SHAPE, SHELL, "ribbed", rib_depth=0.6), "mold.rib_depth: got 600 mm"),
    (lambda: made(cast_dome.SHAPE, SHELL, "ribbed", rods=400), "mold.rods: got 400, want at most"),
    (lambda: made(cast_dome.SHAPE, SHELL, "ribbed", seam_bolts=99), "mold.seam_bolts: got 99, want at most"),
    (lambda: made(cast_dome.SHAPE, STIFF, "ribbed", concrete(), rods=20), "there is no outer form"),
    (lambda: made(cast_dome.SHAPE, STIFF, "ribbed", concrete(), seam_bolts=9), "there is no outer form"),
]


@pytest.mark.parametrize(("asked", "said"), REFUSED, ids=[said for _, said in REFUSED])
def test_what_finds_no_room_or_has_nothing_to_do_is_refused(
    asked: Callable[[], BuiltMold], said: str
) -> None:
    with pytest.raises(GeometryError) as refused:
        asked()
    assert said in str(refused.value)


@given(
    room=st.floats(0.05, 4.0),
    breadth=st.floats(0.02, 0.2),
    share=st.floats(0.0, 1.0),
    stiff=st.floats(0.05, 3.0),
)
@settings(max_examples=200, deadline=None)
def test_in_proportion_fills_the_height_with_bays_of_one_share(
    room: float, breadth: float, share: float, stiff: float
) -> None:
    """Every bay is the same share of what it may span from its foot up, or as little as a rail is broad."""

    def span(height: float) -> float:
        return stiff / (room + 0.01 - height) ** 0.5

    most = most_of(0.0, room, breadth)
    count = max(1, round(share * most))
    found = in_proportion(0.0, room, breadth, count, span)
    if count == 1:
        assert found == (0.0,)
        return
    assert len(found) == count
    assert (found[0], found[-1]) == (0.0, room)
    gaps = [upper - lower for lower, upper in pairwise(found)]
    assert min(gaps) > breadth * (1.0 - 1e-5)
    shares = [
        gap / min(span(low), room)
        for gap, low in zip(gaps[:-1], found, strict=False)
        if gap > breadth * 1.001
    ]
    assert max(shares, default=1.0) == pytest.approx(min(shares, default=1.0), rel=1e-6)


def test_the_fewest_are_fewer_than_none_that_fail() -> None:
    """One less than the fewest does not hold, by trying."""

    def span(height: float) -> float:
        return 0.1 + 0.2 * height

    def holds(heights: tuple[float, ...]) -> bool:
        return all(upper - lower <= span(lower) + 1e-9 for lower, upper in pairwise(heights))

    found = fewest(0.0, 2.0, 0.05, (span,), holds, 2)
    assert found is not None
    assert holds(found)
    assert not holds(in_proportion(0.0, 2.0, 0.05, len(found) - 1, span))
    assert fewest(0.0, 2.0, 0.3, (span,), lambda _: False, 2) is None


def test_ribs_of_a_round_core_stand_so_close_that_its_skin_does_not_buckle() -> None:
    """A core a metre high and nearly one across: as chosen it holds, with two ribs less its skin buckles."""
    keys = {"diameter": 800, "height": 1200, "wall": 50, "floor": 50, "down": "rim"}
    own, found = read_shop(None, "in"), parameters(round_planter.SHAPE, keys)

    def buckles(**asked: Any) -> tuple[int, bool]:
        order = PieceOrder("piece", "round planter", found, 1, 1, MoldOptions(method="wrapped", **asked))
        built: Any = brace(line(order, own, mix(900.0), "in")[0])  # type: ignore[arg-type]
        judged, _ = check([built])
        return len(built.lined.core.ribs) - 3, not next(one.ok for one in judged if "buckling" in one.name)

    count, chosen = buckles()
    assert not chosen
    assert buckles(core_ribs=count - 2) == (count - 2, True)
