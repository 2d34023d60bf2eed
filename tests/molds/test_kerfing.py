"""Kerfed strips: kerfs that close at the radius, the facets they form, and what is said where they cannot."""

from __future__ import annotations

from math import atan, cos, pi, radians, tan
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.checks.check import Check
from formwork.checks.edged import checks
from formwork.errors import GeometryError
from formwork.geometry.outlines import Leg, area, polygon
from formwork.molds.edged import Built
from formwork.molds.edges.kerfing import WEB, Kerfs, facets, kerfs, merged
from tests.molds.test_edged import ELL, HOLLOW, MOON, RING, ROUNDED, SQUARE, edged, strips

QUARTER = Leg((0.3, 0.0), (0.0, 0.3), tan(pi / 8.0))


@given(
    radius=st.floats(0.12, 2.0),
    sweep=st.floats(0.4, 3.1),
    thickness=st.floats(0.009, 0.03),
    kerf=st.floats(0.0015, 0.004),
)
@settings(max_examples=60, deadline=None)
def test_the_kerfs_close_together_at_the_angle_of_the_arc(
    radius: float, sweep: float, thickness: float, kerf: float
) -> None:
    """Each wedge of width k and depth d closes by 2 atan(k / 2 d), and all of them turn the whole angle."""
    arc = Leg((radius, 0.0), (0.0, 0.0), tan(sweep / 4.0))
    arc = Leg(arc.start, Leg(arc.start, arc.end, arc.bulge).arc().at(1.0), arc.bulge)
    found = kerfs(arc, thickness, kerf)
    closed = found.count * 2.0 * atan(kerf / (2.0 * found.depth))
    assert closed == pytest.approx(sweep)
    least = 2.0 * atan(kerf / (2.0 * (thickness - WEB)))
    assert found.web >= WEB - 1e-9 or sweep < least
    assert (found.count + 1) * least > sweep, "as many as can be"


def test_the_facets_touch_the_arc_and_run_on_from_it() -> None:
    """A polygon about a circle: n R2 tan(a / 2) for its sectors, against the sector of the arc."""
    flats = facets(QUARTER, 5)
    turn = pi / 2.0 / 5.0
    points = [(0.0, 0.0), *(leg.start for leg in flats), flats[-1].end]
    assert area(polygon(points)) == pytest.approx(5.0 * 0.09 * tan(turn / 2.0))
    assert sum(leg.length for leg in flats) == pytest.approx(5.0 * 2.0 * 0.3 * tan(turn / 2.0))
    assert flats[0].end[0] == pytest.approx(0.3)
    assert flats[-1].start[1] == pytest.approx(0.3)
    middles = [((leg.start[0] + leg.end[0]) / 2.0, (leg.start[1] + leg.end[1]) / 2.0) for leg in flats[1:-1]]
    assert [x * x + y * y for x, y in middles] == pytest.approx([0.09] * 4)


def test_arcs_about_one_centre_are_kerfed_as_one() -> None:
    halves = [Leg((0.3, 0.0), (0.0, 0.3), tan(pi / 8.0)), Leg((0.0, 0.3), (-0.3, 0.0), tan(pi / 8.0))]
    (one,) = merged(halves)
    assert one.bulge == pytest.approx(1.0)
    round_it = [
        *halves,
        Leg((-0.3, 0.0), (0.0, -0.3), tan(pi / 8.0)),
        Leg((0.0, -0.3), (0.3, 0.0), tan(pi / 8.0)),
    ]
    assert [leg.bulge for leg in merged(round_it)] == pytest.approx([1.0, 1.0])


def kerfed(points: Any, skin: str = "plywood 18", **keys: Any) -> Built:
    return edged(points, mold={"skin": skin}, **keys)


@pytest.mark.parametrize(
    "points", [ROUNDED, MOON, HOLLOW, RING], ids=["rounded", "half moon", "hollow", "ring"]
)
@pytest.mark.parametrize("chamfer", [0, 8])
def test_the_mold_encloses_the_piece_as_its_facets_form_it(points: Any, chamfer: float) -> None:
    built = kerfed(points, chamfer=chamfer)
    assert built.leaks == () and built.mold.locked == ()
    assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-9)
    assert any("as formed" in note and "Nominal volume" in note for note in built.mold.piece.notes)
    assert any(edge.kerfs for edge in built.lined.edges)
    assert all(one.ok for one in checks(built) if isinstance(one, Check))
    for index, edge in enumerate(built.lined.edges):
        assert [block for block in built.blocks if block.edge == index], edge.name


def test_what_the_facets_add_by_hand() -> None:
    """A half disc: the polygon about the half circle less the half circle."""
    built = kerfed(MOON)
    (edge,) = [edge for edge in built.lined.edges if edge.kerfs]
    (one,) = edge.kerfs
    expected = one.count * 0.16 * tan(one.turn / 2.0)
    assert built.mold.nominal == pytest.approx(0.06 * expected)
    assert one.off == pytest.approx(0.4 / cos(one.turn / 2.0) - 0.4)


def test_kerfs_are_on_the_hollow_side() -> None:
    (out,) = [edge for edge in kerfed(MOON).lined.edges if edge.kerfs]
    (inward,) = [edge for edge in kerfed(HOLLOW).lined.edges if edge.kerfs]
    assert out.kerfs[0].towards_mix and not inward.kerfs[0].towards_mix
    built = kerfed(MOON)
    part = next(part for part in strips(built) if part.name == out.name)
    one = out.kerfs[0]
    assert part.blank.length == pytest.approx(one.count * (one.facet + one.width))
    assert "across the face towards the mix" in part.work and f"{one.count} kerfs" in part.work
    back = next(part for part in strips(kerfed(HOLLOW)) if part.name == inward.name)
    assert back.blank.length == pytest.approx(inward.kerfs[0].count * inward.kerfs[0].facet)
    assert "across its back" in back.work


def test_a_named_sheet_that_bends_is_not_kerfed() -> None:
    built = kerfed(MOON, skin="bending plywood 5")
    assert not any(edge.kerfs for edge in built.lined.edges)


def test_arcs_too_tight_for_kerfs_are_named_with_their_place() -> None:
    tight = [*ELL[:3], {**ELL[3], "round": 25}, *ELL[4:]]
    with pytest.raises(GeometryError, match=r"plywood 18: at x 307.3 mm, y 307.3 mm .* leaves flats of"):
        kerfed(tight)


def test_a_kerfed_strip_stands_square() -> None:
    with pytest.raises(GeometryError, match="a kerfed strip stands square"):
        kerfed(MOON, draft="4 deg")


def test_a_kerf_that_leaves_too_thin_a_web_fails() -> None:
    """An arc of 5 degrees in 18 mm: one kerf of 3 mm would have to be 34 mm deep."""
    one = Kerfs(2.0, pi / 36.0, 0.018, 0.003, 1)
    assert one.depth == pytest.approx(0.003 / 2.0 / tan(pi / 72.0))
    slight = [*SQUARE[:1], {**SQUARE[1], "bulge": tan(radians(8.0) / 4.0)}, *SQUARE[2:]]
    built = kerfed(slight)
    found = [one for one in checks(built) if isinstance(one, Check) and one.name.startswith("kerfs close")]
    assert found and not found[0].ok and "a sheet that bends" in found[0].remedy
