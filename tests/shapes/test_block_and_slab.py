"""Blocks and slabs against elementary solids, the fit of tongue and groove, and what they refuse."""

from __future__ import annotations

from math import cos, tan

import pytest

from formwork.errors import GeometryError
from formwork.geometry.cells import cell, meet, volume
from formwork.geometry.planes import Planes
from formwork.shapes import block, slab
from formwork.shapes.body import body, piece_volume
from formwork.shapes.box import obelisk
from formwork.shapes.cast import lots
from formwork.shapes.piece import Piece, planar
from tests.drawn import parameters, single

BLOCK = {"length": 400, "width": 200, "height": 200}
SLAB = {"length": 600, "width": 400, "thickness": 50}


def make_block(**keys: object) -> Piece:
    return single(block.SHAPE, parameters(block.SHAPE, {**BLOCK, **keys}), "block")


def make_slab(**keys: object) -> Piece:
    return single(slab.SHAPE, parameters(slab.SHAPE, {**SLAB, **keys}), "slab")


def test_hollow_block_is_a_box_less_obelisks() -> None:
    """Two cores of 147.5 x 130 mm at the top, growing by the draft downward."""
    draft = tan(0.05)
    grown = 2 * 0.2 * draft
    core = obelisk(0.1475 + grown, 0.13 + grown, 0.1475, 0.13, 0.2)
    found = piece_volume(Planes(), make_block(cores=2, shell=35, web=35, core_draft="0.05 rad"))
    assert found == pytest.approx(0.4 * 0.2 * 0.2 - 2 * core, rel=1e-9)


def test_tongue_and_groove_differ_by_the_clearance() -> None:
    """Tongue and groove as trapezoids in plan: the groove is wider and deeper by the clearance square to each face."""
    lean, out, play, root = 0.15, 0.02, 0.003, 0.06
    tongue = out * (root - out * tan(lean))
    mouth = root + 2 * play / cos(lean)
    deep = out + play
    groove = deep * (mouth - deep * tan(lean))
    found = piece_volume(Planes(), make_block(tongue=20, tongue_width=60, clearance=3, flank_lean="0.15 rad"))
    assert found == pytest.approx((0.4 * 0.2 + tongue - groove) * 0.2, rel=1e-9)


@pytest.mark.parametrize("clearance", [0.5, 3.0, 6.0])
def test_laid_blocks_do_not_overlap_and_touch_nowhere_but_at_their_shoulders(clearance: float) -> None:
    """The tongue of one block stands in the groove of the next with the clearance all round."""
    piece = make_block(tongue=20, tongue_width=60, clearance=clearance)
    planes = Planes()
    first = body(planes, piece)
    second = [
        found
        for one in first
        if (found := cell(planes, [planes.half(ref).shifted((0.4, 0.0, 0.0)) for ref in one.facets]))
        is not None
    ]
    shared = [meet(planes, a, b) for a in first for b in second]
    assert volume(one for one in shared if one is not None) == pytest.approx(0.0, abs=1e-15)
    pushed = [
        found
        for one in first
        if (
            found := cell(
                planes, [planes.half(ref).shifted((0.4, 1.3e-3 * clearance, 0.0)) for ref in one.facets]
            )
        )
        is not None
    ]
    struck = [meet(planes, a, b) for a in first for b in pushed]
    assert volume(one for one in struck if one is not None) > 0.0


def test_chamfered_slab_is_a_slab_on_a_frustum() -> None:
    """Chamfers round one face leave a prismatoid below a prism: exact, whatever the strips share at the corners."""
    leg = 0.01
    low = obelisk(0.58, 0.38, 0.6, 0.4, leg)
    found = piece_volume(Planes(), make_slab(chamfer=10))
    assert found == pytest.approx(low + 0.6 * 0.4 * 0.04, rel=1e-9)


def test_leaning_slab_is_an_obelisk() -> None:
    grown = 2 * 0.05 * tan(0.1)
    found = piece_volume(Planes(), make_slab(edge_lean="0.1 rad"))
    assert found == pytest.approx(obelisk(0.6, 0.4, 0.6 + grown, 0.4 + grown, 0.05), rel=1e-9)


def test_a_gang_parts_its_pieces_by_dividers() -> None:
    gang = lots(slab.SHAPE, parameters(slab.SHAPE, {**SLAB, "gang": 4}), "slab", 0.018)[0].piece
    assert gang.cavities == 4
    assert sum(former.kind == "divider" for former in planar(gang).formers) == 3
    near, far = (planar(gang).face(name).half for name in ("front", "back"))
    assert near.offset + far.offset == pytest.approx(4 * 0.4 + 3 * 0.018)


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"tongue": 20}, "both tongue and tongue_width"),
        ({"tongue": 20, "tongue_width": 190}, "no shoulder"),
        ({"tongue": 60, "tongue_width": 12}, "runs to a point"),
        ({"tongue": 90, "tongue_width": 80, "length": 250}, "deeper than a third"),
        ({"tongue": 25, "tongue_width": 60, "cores": 2}, "too little of the end"),
        ({"cores": 6, "web": 60}, "use fewer"),
        ({"cores": 2, "core_draft": "12 deg"}, "draft eats the shell"),
        ({"chamfer": 20, "cores": 2}, "quarter of the thinnest wall"),
        ({"chamfer": 8, "tongue": 20, "tongue_width": 60}, "share the ends"),
    ],
)
def test_block_contradictions_are_named(keys: dict[str, object], words: str) -> None:
    with pytest.raises(GeometryError, match=words):
        make_block(**keys)


def test_slab_chamfers_are_limited_unless_asked() -> None:
    with pytest.raises(GeometryError, match="quarter of the thickness"):
        make_slab(chamfer=15)
    assert piece_volume(Planes(), make_slab(chamfer=15, deep_chamfer=True)) < 0.6 * 0.4 * 0.05
    with pytest.raises(GeometryError, match="leaves no edge"):
        make_slab(chamfer=45, deep_chamfer=True)
