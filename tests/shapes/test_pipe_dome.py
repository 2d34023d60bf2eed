"""The pipe dome: its frame against the sphere it stands for, what it refuses, and every sample of what is built."""

from __future__ import annotations

from math import asin, dist, sqrt
from time import perf_counter
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from formwork.errors import GeometryError
from formwork.geometry.geodesic import CUTS
from formwork.shapes.parameters import Keys
from formwork.shapes.piece import Frame
from formwork.shapes.pipe_dome import SHAPE, lay_out
from formwork.shapes.shape import Shape
from tests.drawn import frame_samples, parameters


def frame(**keys: Any) -> Frame:
    return lay_out(parameters(SHAPE, {"radius": 2100, **keys}), "dome")[0]


@pytest.mark.parametrize(("shape", "keys"), frame_samples())
def test_every_sample_of_what_is_built(shape: Shape, keys: Keys) -> None:
    made = shape.lay_out(keys, "sample")
    assert made
    for one in made:
        assert isinstance(one, Frame)
        assert (one.name, one.shape) == ("sample", shape.name)
        assert min(node[2] for node in one.nodes) == pytest.approx(0.0, abs=1e-12)
        assert sum(hub.count for hub in one.hubs) == len(one.nodes)
        if one.members:
            ends = sum(hub.ways * hub.count for hub in one.hubs)
            assert ends == 2 * sum(len(member.joins) for member in one.members)
        assert bool(one.members) != bool(one.bent)
        names = [part.name for part in (*one.members, *one.bent)]
        assert len(set(names)) == len(names)
        for member in one.members:
            assert member.cut == pytest.approx(member.length + 2 * member.beyond)
            for a, b in member.joins:
                assert dist(one.nodes[a], one.nodes[b]) == pytest.approx(member.length, abs=1e-9)


domes = st.sampled_from([(n, cut) for n, cuts in CUTS.items() for cut in cuts])


@given(dome=domes, radius=st.integers(1500, 15000), base=st.sampled_from(["packed", "level"]))
@settings(max_examples=40, deadline=None)
def test_every_hub_lies_on_the_sphere(dome: tuple[int, str], radius: int, base: str) -> None:
    """The middle of the sphere is below the top hub by the radius; no other reading of the nodes is needed."""
    found = frame(frequency=dome[0], cut=dome[1], radius=radius, base=base)
    r = radius / 1000
    top = max(found.nodes, key=lambda node: node[2])
    middle = (top[0], top[1], top[2] - r)
    assert all(dist(node, middle) == pytest.approx(r, rel=1e-9) for node in found.nodes)
    for member in found.members:
        assert member.bend == pytest.approx(asin(member.length / 2 / r), abs=1e-9)


def test_sizes_of_the_second_frequency_worked_on_paper() -> None:
    """R = 2 m: struts .5465331 R and .6180340 R (published factors), half a sphere, so 2 m high and 4 m across."""
    found = frame(radius=2000)
    assert [round(m.length, 6) for m in found.members] == [1.093066, 1.236068]
    assert [m.cut - m.length for m in found.members] == pytest.approx([0.038, 0.038])
    assert [len(m.joins) for m in found.members] == [30, 35]
    assert max(node[2] for node in found.nodes) == pytest.approx(2.0)
    across = [sqrt(found.nodes[i][0] ** 2 + found.nodes[i][1] ** 2) for i in found.base]
    assert across == pytest.approx([2.0] * 10)
    assert [(hub.name, hub.ways, hub.count) for hub in found.hubs] == [
        ("5-way", 5, 6), ("6-way", 6, 10), ("base, 4-way", 4, 10),
    ]  # fmt: skip


def test_how_far_the_base_lies_out_of_level() -> None:
    """3V 5/9 at R = 84 in: 1.34 in (numeric proof: .01595 R)."""
    found = frame(frequency=3, radius="84 in")
    heights = [found.nodes[node][2] for node in found.base]
    assert max(heights) / 0.0254 == pytest.approx(1.34, abs=0.005)
    level = frame(frequency=3, radius="84 in", base="level")
    assert max(level.nodes[node][2] for node in level.base) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"frequency": 3, "cut": "1/2"}, "cut: got 1/2, want 4/9 or 5/9: frequency 3 has 9 bands"),
        ({"frequency": 5, "cut": "1/2"}, "equator runs through the middle of a band"),
        ({"frequency": 2, "cut": "5/8"}, "cut: got 5/8, want 1/2 at frequency 2"),
        ({"frequency": 4, "cut": "7/15"}, "cut: got 7/15, want 5/12 or 1/2"),
        ({"frequency": 6, "radius": 500}, "the radius is too small for the hubs.*make radius at least"),
        ({"beyond": 40, "flat": 50}, r"flat: got 50 mm \(1 15/16 in\), want at least 60 mm \(2 3/8 in\)"),
    ],
)
def test_what_cannot_be_built_is_told(keys: dict[str, Any], said: str) -> None:
    with pytest.raises(GeometryError, match=said):
        frame(**keys)


def test_the_radius_that_is_asked_for_will_do() -> None:
    with pytest.raises(GeometryError) as refused:
        frame(frequency=6, radius=500)
    least = float(str(refused.value).split("radius at least ")[1].split(" mm")[0])
    assert frame(frequency=6, radius=least + 1).members
    with pytest.raises(GeometryError):
        frame(frequency=6, radius=least - 1)


@pytest.mark.parametrize(
    "keys",
    [
        {"frequency": 0},
        {"frequency": 7},
        {"frequency": 2.5},
        {"radius": 0},
        {"radius": -2000},
        {"radius": float("nan")},
        {"radius": 1e300},
        {"base": "round"},
        {"gang": 2},
        {"cut": "half"},
    ],
)
def test_keys_out_of_range_are_refused(keys: dict[str, Any]) -> None:
    with pytest.raises(ValidationError):
        parameters(SHAPE, {"radius": 2000, **keys})


@pytest.mark.parametrize(("given_name", "meant"), [("3/8", "4/9"), ("5/8", "5/9")])
def test_popular_names_of_a_cut_mean_the_same_frame(given_name: str, meant: str) -> None:
    assert frame(frequency=3, cut=given_name) == frame(frequency=3, cut=meant)


def test_the_highest_frequency_takes_no_time() -> None:
    """Tens of milliseconds at most; the best of three, since other work may share the machine."""
    keys = parameters(SHAPE, {"radius": 4000, "frequency": 6})
    spent = []
    for _ in range(3):
        start = perf_counter()
        lay_out(keys, "dome")
        spent.append(perf_counter() - start)
    assert min(spent) < 0.25
