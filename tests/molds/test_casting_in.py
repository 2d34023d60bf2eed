"""What stays in a piece has a place: which wall, how far from the rim, held off by what, and when it is set."""

from __future__ import annotations

import pytest

from formwork.errors import GeometryError
from formwork.molds.mold import Mold
from formwork.shapes import planter, slab
from tests.drawn import parameters
from tests.workshop import build

LONG = {"length": 900, "width": 400, "height": 400, "wall": 60, "floor": 60}
MESH = {"kind": "mesh", "pitch": 25, "wire": 2, "face": "long wall", "cover": 20}
BAR = {"kind": "bar", "diameter": 8, "count": 4, "cover": 20}


def planted(*embed: dict[str, object], **keys: object) -> Mold:
    return build(planter.SHAPE, parameters(planter.SHAPE, {**LONG, "embed": list(embed), **keys})).mold


def said(mold: Mold) -> str:
    return next(step.text for step in mold.steps if "what stays in the piece" in step.text)


@pytest.mark.parametrize(
    ("keys", "walls"), [({}, ("front", "back")), ({"length": 400, "width": 900}, ("left", "right"))]
)
def test_mesh_for_the_long_walls_stands_in_both(keys: dict[str, object], walls: tuple[str, str]) -> None:
    mold = planted(MESH, **keys)
    [mesh] = mold.piece.embedded
    assert mesh.count == 2
    assert mesh.length == pytest.approx(0.86) and mesh.width == pytest.approx(0.36)
    assert f"one in each of the {walls[0]} and {walls[1]} walls" in said(mold)
    assert f"{mesh.spacers} spacers of 20 mm" in said(mold)


def test_one_sheet_asked_for_is_said_to_leave_a_wall_bare() -> None:
    mold = planted({**MESH, "count": 1})
    assert mold.piece.embedded[0].count == 1
    assert "in the front wall only" in said(mold)


def test_bars_are_set_out_from_the_rim_by_hand() -> None:
    """Two in each long wall of 400 mm: 20 mm of cover and half a bar of 8 mm from either edge: 24 and 376 mm."""
    told = said(planted(BAR))
    assert "2 in each of the front and back walls" in told
    assert "24 mm and 376 mm from the rim" in told


def test_a_slab_has_its_bars_side_by_side_and_its_mesh_once() -> None:
    """Three bars of 8 mm across 400 mm with 20 mm of cover: 24, 200 and 376 mm from the front."""
    sizes = {"length": 600, "width": 400, "thickness": 60}
    flat = {**MESH, "face": "flat"}
    mold = build(slab.SHAPE, parameters(slab.SHAPE, {**sizes, "embed": [{**BAR, "count": 3}, flat]})).mold
    assert [one.count for one in mold.piece.embedded] == [3, 1]
    assert "24 mm, 200 mm and 376 mm from the front side" in said(mold)
    assert "over the base" in said(mold)


@pytest.mark.parametrize("down", ["rim", "floor"])
def test_it_is_set_after_the_oil_and_before_the_core_shuts_the_mold(down: str) -> None:
    told = [step.text for step in planted(MESH, down=down).steps]
    oil = next(i for i, one in enumerate(told) if "wipe release agent" in one)
    here = next(i for i, one in enumerate(told) if "what stays in the piece" in one)
    hung = [i for i, one in enumerate(told) if "hang the core" in one]
    assert oil < here and all(here < i for i in hung)
    assert bool(hung) == (down == "floor")


def test_fibres_alone_have_no_step() -> None:
    mold = planted({"kind": "fibres", "dose": "1 kg/m3"})
    assert not any("what stays in" in step.text for step in mold.steps)


@pytest.mark.parametrize("gang", [1, 3])
def test_walls_are_those_of_one_piece_whatever_the_gang(gang: int) -> None:
    mold = planted(MESH, gang=gang)
    assert "front and back walls" in said(mold)
    assert said(mold).startswith("In each cavity") == (gang > 1)


@pytest.mark.parametrize(("wall", "fits"), [(47, False), (48, True), (60, True)])
def test_a_bar_has_its_cover_on_either_side_of_its_wall(wall: int, fits: bool) -> None:
    """8 mm and twice 20 mm of cover take a wall of 48 mm."""
    keys = {"wall": wall, "core_draft": "0 deg"}
    if fits:
        assert planted(BAR, **keys).piece.embedded[0].cover == pytest.approx(0.02)
        return
    with pytest.raises(GeometryError, match=r"want 19.5 mm .* or less"):
        planted(BAR, **keys)


def test_what_stands_in_a_tapered_planter_fits_at_its_narrow_end() -> None:
    """A rim of 900 x 400 mm, a base of 800 x 300 mm: cut to the base less 20 mm of cover at either end."""
    taper = {"base_length": 800, "base_width": 300}
    bar, mesh, flat = planted(BAR, MESH, {**MESH, "face": "flat"}, **taper).piece.embedded
    assert bar.length == pytest.approx(0.76)
    assert mesh.length == pytest.approx(0.76)
    assert (flat.length, flat.width) == pytest.approx((0.76, 0.26))
