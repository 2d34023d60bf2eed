"""The cavity of parts round one axis: against closed forms, and molds spoiled on purpose."""

from __future__ import annotations

from math import cos, pi, sin, tau

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.geometry.cells import cell
from formwork.geometry.outlines import Outline, circle, polygon, rectangle
from formwork.geometry.planes import Planes
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.molds.coaxial import coaxial_cavity
from formwork.molds.mold import Blank, Part, PartRole, Placement
from formwork.shapes.box import SIDES, level, side

NOWHERE = Placement((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
FLAT = Blank(1.0, 1.0, 0.018, ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)), (0.0,) * 4)


def part(name: str, role: PartRole = "ring", **bodies: object) -> Part:
    return Part(name, role, "panel", "ply", name, bodies.pop("cells", ()), FLAT, NOWHERE, **bodies)  # type: ignore[arg-type]


def board(half: float = 0.5, top: float = 0.0) -> Part:
    halves = [side(name, way, half, 0.0, 0.0) for name, *way in ((n, x, y) for n, x, y in SIDES)]
    found = cell(Planes(), [*halves, level("top", top, up=True), level("under", top - 0.018, up=False)])
    assert found is not None
    return part("base", "base", cells=(found,))


def skin(foot: float, head: float, height: float, low: float = 0.0) -> Part:
    profile = polygon(((foot, low), (foot + 0.006, low), (head + 0.006, height), (head, height)))
    return part("skin", "skin", turned=(Turned(profile),))


@given(foot=st.floats(0.1, 0.3), head=st.floats(0.1, 0.3), height=st.floats(0.1, 1.0))
@settings(max_examples=30, deadline=None)
def test_a_skin_on_a_board_encloses_a_frustum(foot: float, head: float, height: float) -> None:
    found = coaxial_cavity([board(), skin(foot, head, height)], height, [(0.0, 0.0, height / 2.0)])
    assert found.leaks == ()
    assert found.volume == pytest.approx(Round((0, 0, 0), (0, 0, 1), height, foot, head).volume(), rel=1e-7)


def test_a_core_a_plug_and_a_drain_are_taken_out() -> None:
    core = part("core", "core wall", turned=(Turned(rectangle((0.0, 0.05), (0.12, 0.3))),))
    plugs = tuple(Round((x, 0.15, 0.0), (0.0, 0.0, 1.0), 0.05, 0.01, 0.01) for x in (0.0, 0.02))
    found = coaxial_cavity(
        [board(), skin(0.2, 0.2, 0.3), core, part("drains", "plug", rounds=plugs)], 0.3, [(0.17, 0.0, 0.2)]
    )
    whole = pi * 0.2**2 * 0.3 - pi * 0.12**2 * 0.25 - 2 * pi * 0.01**2 * 0.05
    assert found.leaks == ()
    assert found.volume == pytest.approx(whole, rel=1e-9)


def test_arcs_enclose_a_bowl() -> None:
    """A dish whose underside is half a ball: 2/3 pi R^3."""
    bulge = 0.41421356237309503
    form = Outline(((0.0, 0.0), (0.5, 0.0), (0.5, 0.3), (0.3, 0.3), (0.0, 0.0)), (0.0, 0.0, 0.0, -bulge, 0.0))
    profile = Outline(form.points[:-1], form.bulges[:-1])
    found = coaxial_cavity([part("form", turned=(Turned(profile),))], 0.3, [(0.0, 0.0, 0.2)])
    assert found.leaks == ()
    assert found.volume == pytest.approx(2.0 / 3.0 * pi * 0.3**3, rel=1e-6)


def segments(count: int, made: int) -> list[Part]:
    profile = rectangle((0.2, 0.0), (0.25, 0.3))
    return [
        part(f"segment {k + 1}", turned=(Turned(profile, start=tau * k / count, sweep=tau / count),))
        for k in range(made)
    ]


def test_segments_close_a_ring_and_a_missing_one_is_told() -> None:
    at = [(0.0, 0.0, 0.1)]
    assert coaxial_cavity([board(), *segments(5, 5)], 0.3, at).volume == pytest.approx(pi * 0.2**2 * 0.3)
    open_ring = coaxial_cavity([board(), *segments(5, 4)], 0.3, at)
    assert len(open_ring.leaks) == 1
    assert "segment 1 is open over 72.0 degrees" in open_ring.leaks[0]


def test_a_skin_that_hangs_above_the_board_leaks_by_its_gap() -> None:
    found = coaxial_cavity([board(), skin(0.2, 0.2, 0.3, low=0.004)], 0.3, [(0.0, 0.0, 0.1)])
    assert found.volume == 0.0
    assert "between the base and the skin, 4.0 mm apart" in found.leaks[0]


def test_a_board_smaller_than_the_skin_leaks() -> None:
    found = coaxial_cavity([board(half=0.19), skin(0.2, 0.2, 0.3)], 0.3, [(0.0, 0.0, 0.1)])
    assert "10.0 mm apart" in found.leaks[0]


def test_a_round_opening_in_a_board_closes_round_a_tube() -> None:
    plate = part(
        "plate", prisms=(Prism(rectangle((-0.4, -0.4), (0.4, 0.4)), 0.018, openings=(circle((0, 0), 0.2),)),)
    )
    tube = part("tube", "tube", turned=(Turned(rectangle((0.2, -0.1), (0.204, 0.3))),))
    foot = part("foot", prisms=(Prism(circle((0.0, 0.0), 0.2), 0.018, (0.0, 0.0, -0.1)),))
    found = coaxial_cavity([plate, tube, foot], 0.3, [(0.0, 0.0, 0.1)])
    assert found.leaks == ()
    assert found.volume == pytest.approx(pi * 0.2**2 * (0.4 - 0.018), rel=1e-6)


def test_what_stands_to_one_side_seals_nothing() -> None:
    wall = Prism(rectangle((0.3, -0.1), (0.4, 0.1)), 0.3)
    found = coaxial_cavity([board(), part("batten", prisms=(wall,))], 0.3, [(0.0, 0.0, 0.1)])
    assert found.leaks


def test_an_axis_elsewhere() -> None:
    x, y = 0.05 * cos(1.0), 0.05 * sin(1.0)
    ring = Turned(rectangle((0.2, 0.0), (0.25, 0.3)), (x, y))
    found = coaxial_cavity([board(), part("ring", turned=(ring,))], 0.3, [(x, y, 0.1)], (x, y))
    assert found.volume == pytest.approx(pi * 0.2**2 * 0.3, rel=1e-9)
