"""The drawing of a frame: every strut of the map bears its mark, sizes are the frame's, the file is sound."""

from __future__ import annotations

import io
from collections import Counter

import ezdxf
import pytest

from formwork.drawings.built_frame import frame_drawing
from formwork.drawings.dxf import dxf
from formwork.drawings.layers import STRUT
from formwork.drawings.scene import Dimension, Line, Text, bounds, text_box
from formwork.drawings.svg import svg
from formwork.plan import Plan, plan
from formwork.project.read import read_project


def planned(folder, keys: str) -> Plan:
    path = folder / "dome.toml"
    path.write_text(
        f'units = "mm"\n[[piece]]\nshape = "pipe dome"\nradius = 2500\n{keys}\n', encoding="utf-8"
    )
    return plan(read_project(path))


def overlap(a, b) -> bool:
    """Whether two upright boxes share space."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def drawn(made: Plan):
    return frame_drawing(made.frames[0], made.cut_list, made.project)


@pytest.mark.parametrize("n", range(1, 7))
def test_every_strut_of_the_map_has_its_mark(tmp_path, n):
    made = planned(tmp_path, f"frequency = {n}")
    scene = drawn(made)
    found = Counter(item.text for item in scene.paper if isinstance(item, Text) and item.size == 2.0)
    for line, member in zip(made.cut_list, made.frames[0].frame.members, strict=True):
        assert found[line.label] == len(member.joins)
    halves = [item for item in scene.paper if isinstance(item, Line) and item.layer == STRUT]
    assert len(halves) == 2 * sum(len(member.joins) for member in made.frames[0].frame.members)


@pytest.mark.parametrize("n", range(1, 7))
def test_marks_do_not_lie_on_one_another_and_all_is_on_the_page(tmp_path, n):
    scene = drawn(planned(tmp_path, f"frequency = {n}"))
    marks = [item for item in scene.paper if isinstance(item, Text) and item.size == 2.0]
    boxes = [
        (min(x), min(y), max(x), max(y)) for x, y in (zip(*text_box(mark), strict=True) for mark in marks)
    ]
    assert not [(a, b) for i, a in enumerate(boxes) for b in boxes[:i] if overlap(a, b)]
    (x0, y0), (x1, y1) = bounds(scene.on_page())
    assert x0 >= 0.0 and y0 >= 0.0 and x1 <= scene.sheet.length and y1 <= scene.sheet.height


def test_sizes_in_the_views_are_the_frame_s(tmp_path):
    """2V, half a sphere of 2.5 m: 5000 across, 2500 high."""
    scene = drawn(planned(tmp_path, "frequency = 2"))
    found = {item.name: item for item in scene.model if isinstance(item, Dimension)}
    assert found["across the base"].measured() == pytest.approx(5.0)
    assert found["height"].measured() == pytest.approx(2.5)
    assert {item.text for item in found.values()} == {"5000", "2500"}


def test_the_front_view_shows_each_strut_and_its_mirror_image_once(tmp_path):
    """The dome is its own mirror image front to back, so half of the struts, and those on the mirror, are seen."""
    made = planned(tmp_path, "frequency = 2")
    frame = made.frames[0].frame
    seen = {
        tuple(sorted((round(frame.nodes[i][0], 4), round(frame.nodes[i][2], 4)) for i in pair))
        for member in frame.members
        for pair in member.joins
    }
    scene = drawn(made)
    struts = [item for item in scene.model if isinstance(item, Line) and item.layer == STRUT]
    top_view = {
        tuple(sorted((round(frame.nodes[i][0], 4), round(frame.nodes[i][1], 4)) for i in pair))
        for member in frame.members
        for pair in member.joins
    }
    assert len(struts) == len({k for k in seen if k[0] != k[1]}) + len({k for k in top_view if k[0] != k[1]})


@pytest.mark.parametrize("n", [1, 3, 6])
def test_the_files_are_sound(tmp_path, n):
    scene = drawn(planned(tmp_path, f"frequency = {n}"))
    auditor = ezdxf.read(io.StringIO(dxf(scene))).audit()
    assert not auditor.errors
    assert svg(scene).startswith("<svg") or "<svg" in svg(scene)[:200]


def test_base_hubs_that_hang_bear_their_height(tmp_path):
    made = planned(tmp_path, "frequency = 3")
    frame = made.frames[0].frame
    high = [node for node in frame.base if frame.nodes[node][2] > 1e-6]
    texts = Counter(item.text for item in drawn(made).paper if isinstance(item, Text))
    assert len(high) == 10
    assert texts["+39.9"] == 10


def test_how_high_each_hoop_lies_stands_once_in_the_front_view(plans):
    """Each figure is the height of the bent pipe itself over the lowest hoop."""
    made = plans["hoop-dome"]
    frame = made.frames[0].frame
    hoops = [arc for arc in frame.bent if arc.kind == "hoop"]
    floor = min(node[2] for node in frame.nodes)
    heights = sorted(arc.lines[0][0][2] - floor for arc in hoops)
    told = sorted(
        item.measured()
        for item in drawn(made).model
        if isinstance(item, Dimension) and item.name.startswith("hoop")
    )
    assert told == pytest.approx(heights[1:], abs=1e-6) and heights[0] == pytest.approx(0.0, abs=1e-6)
