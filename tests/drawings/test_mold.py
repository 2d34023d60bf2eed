"""Mold drawings: every part labelled as in the cut list, the section true, the dimensions those of the parts."""

from __future__ import annotations

from math import isclose
from typing import get_args

import pytest

from formwork.drawings.frames import LEFT, RIGHT
from formwork.drawings.lists import part_list
from formwork.drawings.mold import bodies_of, looks, section_place, shared_out
from formwork.drawings.mold_measures import mold_measures
from formwork.drawings.projection import project
from formwork.drawings.scene import Circle, Dimension, Text
from formwork.geometry.cells import box_of
from formwork.geometry.outlines import flattened
from formwork.geometry.planes import HalfSpace
from formwork.molds.mold import PartRole


def molds(plans):
    return [(name, one, mold) for name, one in plans.items() for mold in one.molds]


def test_every_role_of_a_part_has_its_layer():
    for role in get_args(PartRole):
        layer, pattern = looks(role)
        assert layer.name.startswith(("S-FORM", "S-REIN")) and pattern


def balloons(scene):
    return [t.text for t in scene.model if isinstance(t, Text) and t.layer.name == "S-ANNO-SYMB"]


def test_labels_are_those_of_the_cut_list_and_each_stands_once(plans, scenes):
    for name, one, mold in molds(plans):
        scene = scenes[f"{name}/mold-{mold.name}"]
        labels = balloons(scene)
        names = {part.name for part in mold.parts}
        own = {line.label for line in one.cut_list if line.mold == mold.name and names.issuperset(line.names)}
        assert len(labels) == len(set(labels)) and set(labels) <= own
        assert len(labels) >= 0.8 * len(own), "parts that no view shows"


def test_a_leader_ends_on_the_part_it_names(plans):
    """Each spot that a balloon may point at lies on the part's own box in that view."""
    for _, _, mold in molds(plans)[:1]:
        bodies = bodies_of(mold)
        for frame in (LEFT,):
            for name, spots in project(bodies, frame, spots=True).spots:
                part = next(p for p in mold.parts if p.name == name)
                if not part.cells:
                    continue
                low, high = box_of(part.cells)
                corners = [
                    frame.flat((x, y, z))
                    for x in (low[0], high[0])
                    for y in (low[1], high[1])
                    for z in (low[2], high[2])
                ]
                for _, (u, v) in spots:
                    assert min(c[0] for c in corners) - 1e-6 <= u <= max(c[0] for c in corners) + 1e-6
                    assert min(c[1] for c in corners) - 1e-6 <= v <= max(c[1] for c in corners) + 1e-6


def test_the_list_names_every_line_of_the_mold(plans, scenes):
    for name, one, mold in molds(plans):
        texts = [t.text for t in scenes[f"{name}/mold-{mold.name}"].paper if isinstance(t, Text)]
        own = {part.name for part in mold.parts}
        for line in one.cut_list:
            if line.mold == mold.name and own.issuperset(line.names):
                assert line.label in texts


def prism_box(prism):
    """By the points of its rims, arcs as chords within a thousandth of a millimetre."""
    points = [
        prism.place(*point, up)
        for outline, up in ((prism.outline, 0.0), (prism.top, prism.height))
        for point in flattened(outline, 1e-6)
    ]
    return [[pick(p[i] for p in points) for i in range(3)] for pick in (min, max)]


def test_overall_dimensions_are_the_parts_own_box(plans, scenes):
    for name, _, mold in molds(plans):
        standing = [part for part in mold.parts if part.role != "template"]
        boxes = [one.box() for part in standing for one in (*part.cells, *part.turned)]
        boxes += [prism_box(one) for part in standing for one in part.prisms]
        low, high = (
            [pick(box[end][i] for box in boxes) for i in range(3)] for end, pick in ((0, min), (1, max))
        )
        dims = {
            d.name: d.measured() for d in scenes[f"{name}/mold-{mold.name}"].model if isinstance(d, Dimension)
        }
        for axis, word in enumerate(("length", "width", "height")):
            assert isclose(dims[f"overall {word}"], high[axis] - low[axis], abs_tol=2e-6)


def test_key_dimensions_of_the_tapered_planter_are_those_of_its_file(plans):
    """20 in rim and 14 in bottom, wall 2 in square to a face that leans atan(3/18): 2 / cos(9.462 deg) level."""
    mold = plans["planters"].molds[0]
    found = {
        m.name: abs(sum(b - a for a, b in zip(m.start, m.end, strict=True))) / 0.0254
        for m in mold_measures(mold, 0.01)
    }
    assert found["cavity length at the base"] == pytest.approx(20.0)
    assert found["cavity length at the top"] == pytest.approx(14.0)
    assert found["panel to core, along"] == pytest.approx(2.0 / 0.98639, abs=1e-4)
    assert found["core height"] == pytest.approx(16.0)
    assert found["panel height"] == pytest.approx(18.0)


def test_the_section_shows_core_and_concrete_and_lies_on_no_face(plans):
    for _, _, mold in molds(plans):
        x = section_place(mold)
        cut = project(bodies_of(mold), RIGHT, HalfSpace(RIGHT.toward, x)).cuts
        names = {face.body for face in cut}
        roles = {part.role for part in mold.parts if part.name in names}
        assert roles & {"panel", "skin", "tube", "ring"}
        if any(part.role == "core wall" for part in mold.parts):
            assert "core wall" in roles
        for part in mold.parts:
            for cell in part.cells:
                low, high = cell.box()
                assert abs(low[0] - x) > 1e-6 and abs(high[0] - x) > 1e-6


def test_balloons_do_not_overlap(scenes):
    for name, scene in scenes.items():
        rings = [c for c in scene.on_page() if isinstance(c, Circle) and c.layer.name == "S-ANNO-SYMB"]
        for i, one in enumerate(rings):
            for other in rings[i + 1 :]:
                gap = ((one.centre[0] - other.centre[0]) ** 2 + (one.centre[1] - other.centre[1]) ** 2) ** 0.5
                assert gap > one.radius + other.radius, name


def test_a_long_list_stands_in_columns_and_loses_no_row(plans):
    lines = plans["wall"].cut_list
    labels = {line.label for line in lines}
    texts = [t for t in part_list(lines, 1, str, longest=5) if isinstance(t, Text)]
    assert labels <= {t.text for t in texts}
    heads = [t.at for t in texts if t.text == "part"]
    assert len(heads) == -(-len(lines) // 5) and len({y for _, y in heads}) == 1


def test_a_crowded_view_gives_labels_to_one_with_places_where_least_is_lost():
    rooms = {f"A{k}": {"side": 2.0, "top": 0.1 * (k + 1)} for k in range(30)} | {"B1": {"side": 1.0}}
    shared = shared_out(rooms)
    assert set(shared) == set(rooms)
    assert sum(view == "side" for view in shared.values()) == 24
    assert {label for label, view in shared.items() if view == "top"} == {f"A{k}" for k in range(23, 30)}
