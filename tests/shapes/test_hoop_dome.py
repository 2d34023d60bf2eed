"""The hoop dome: its lines against the sphere, its crossings against its ribs, and what it refuses."""

from __future__ import annotations

from itertools import pairwise
from math import cos, dist, pi, radians
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from formwork.errors import GeometryError
from formwork.shapes.hoop_dome import SHAPE, lay_out
from formwork.shapes.piece import Frame
from tests.drawn import parameters


def frame(**keys: Any) -> Frame:
    return lay_out(parameters(SHAPE, {"radius": 1800, **keys}), "hoops")[0]


@given(
    radius=st.integers(800, 15000),
    ribs=st.integers(3, 48),
    hoops=st.integers(1, 6),
    opening=st.integers(35, 90),
)
@settings(max_examples=40, deadline=None)
def test_lines_lie_on_the_sphere_and_are_as_long_as_they_say(
    radius: int, ribs: int, hoops: int, opening: int
) -> None:
    try:
        found = frame(radius=radius, ribs=ribs, hoops=hoops, opening=f"{opening} deg", crown=30)
    except GeometryError:
        return
    r = radius / 1000
    middle = found.nodes[0][2] - r * cos(radians(opening))
    for arc in found.bent:
        for line in arc.lines:
            assert all(dist(point, (0.0, 0.0, middle)) == pytest.approx(r, rel=1e-9) for point in line)
            chords = sum(dist(a, b) for a, b in pairwise(line))
            assert chords <= arc.length * (1 + 1e-9)
            assert chords == pytest.approx(arc.length, rel=2e-3)
    assert min(node[2] for node in found.nodes) == pytest.approx(0.0, abs=1e-12)


def test_half_a_sphere_worked_on_paper() -> None:
    """R = 2 m, three hoops at 90, 60 and 30 degrees from the crown: radii 2, 1.732 and 1 m; marks 0, 1.0472, 2.0944 m."""
    found = frame(radius=2000)
    hoops = [arc for arc in found.bent if arc.kind == "hoop"]
    assert [arc.radius for arc in hoops] == pytest.approx([2.0, 3**0.5, 1.0])
    assert all(arc.sweep == pytest.approx(2 * pi) and len(arc.lines) == 1 for arc in hoops)
    rib = found.bent[-1]
    assert rib.marks == pytest.approx((0.0, pi / 3, 2 * pi / 3))
    assert len(rib.lines) == 8
    assert [(hub.name, hub.count) for hub in found.hubs] == [
        ("crossing", 16),
        ("foot on the base hoop", 8),
        ("end at the crown ring", 8),
    ]


def test_ribs_end_on_the_crown_ring() -> None:
    found = frame(crown=250)
    for line in found.bent[-1].lines:
        x, y, _ = line[-1]
        assert (x * x + y * y) ** 0.5 == pytest.approx(0.25)
        assert line[0][2] == pytest.approx(0.0, abs=1e-12)


def test_a_crown_that_leaves_no_room_is_refused() -> None:
    with pytest.raises(GeometryError, match=r"crown ring .* leaves no room under the uppermost hoop"):
        frame(radius=600, hoops=6)


@pytest.mark.parametrize(
    "keys",
    [
        {"ribs": 2},
        {"ribs": 49},
        {"hoops": 0},
        {"opening": "91 deg"},
        {"opening": 0},
        {"radius": 0},
        {"radius": float("inf")},
        {"crown": -1},
        {"tail": "1 m"},
        {"frequency": 3},
    ],
)
def test_keys_out_of_range_are_refused(keys: dict[str, Any]) -> None:
    with pytest.raises(ValidationError):
        parameters(SHAPE, {"radius": 1800, **keys})
