"""SVG: well formed, text stays text, two widths, dashes as the line types say, the same bytes each time."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from formwork.drawings.layers import NARROW, WIDE
from formwork.drawings.scene import Circle, Dimension, Text, dimension_parts
from formwork.drawings.svg import svg

NS = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def trees(scenes):
    return {name: (scene, ElementTree.fromstring(svg(scene))) for name, scene in scenes.items()}


def test_the_page_has_its_size_in_mm(trees):
    for scene, root in trees.values():
        assert (
            root.get("width") == f"{scene.sheet.length:g}mm"
            and root.get("height") == f"{scene.sheet.height:g}mm"
        )
        assert root.get("viewBox") == f"0 0 {scene.sheet.length:g} {scene.sheet.height:g}"


def test_every_text_is_text(trees):
    for name, (scene, root) in trees.items():
        wanted = []
        for item in scene.on_page():
            parts = dimension_parts(item) if isinstance(item, Dimension) else (item,)
            wanted += [p.text for p in parts if isinstance(p, Text) and p.text]
        assert sorted(wanted) == sorted(e.text for e in root.iter(f"{NS}text")), name


def test_circles_stay_circles(trees):
    for scene, root in trees.values():
        drawn = [e for g in root.findall(f"{NS}g") for e in g.iter(f"{NS}circle")]
        assert len(drawn) == sum(isinstance(item, Circle) for item in scene.on_page())


def test_two_widths_black_on_white_and_no_stray_number(trees):
    for _, root in trees.values():
        widths = {float(g.get("stroke-width")) for g in root.iter(f"{NS}g") if g.get("stroke-width")}
        assert widths == {NARROW, WIDE}
        colours = {e.get("stroke") for e in root.iter() if e.get("stroke")} - {"none"}
        assert colours <= {"#000", "#8a8a8a"}
        text = ElementTree.tostring(root, encoding="unicode")
        assert not re.search(r"\b(nan|inf)\b", text, re.IGNORECASE)


def test_hidden_and_centre_lines_are_dashed(trees):
    _, root = trees["planters/piece-tapered planter"]
    dashes = {g.get("class"): g.get("stroke-dasharray") for g in root.iter(f"{NS}g") if g.get("class")}
    assert dashes["S-CAST-HIDN"] == "3 0.75" and dashes["S-ANNO-CNTR"] == "6 0.75 0.125 0.75"
    assert dashes["S-CAST-OTLN"] is None


def test_nothing_leaves_the_page(trees):
    for name, (scene, root) in trees.items():
        for line in root.iter(f"{NS}line"):
            for key, top in (("x1", scene.sheet.length), ("y1", scene.sheet.height)):
                assert -0.001 <= float(line.get(key)) <= top + 0.001, name


def test_hatches_in_use_are_defined(trees):
    for _, root in trees.values():
        used = {
            e.get("fill")[5:-1] for e in root.iter(f"{NS}path") if (e.get("fill") or "").startswith("url(#")
        }
        assert used == {e.get("id") for e in root.iter(f"{NS}pattern")}


def test_pages_put_into_one_document_keep_their_hatches_apart(trees):
    for project in {name.partition("/")[0] for name in trees}:
        pages = [root for name, (_, root) in trees.items() if name.startswith(f"{project}/")]
        ids = [e.get("id") for root in pages for e in root.iter() if e.get("id")]
        assert len(ids) == len(set(ids))


def test_marks_of_a_language_are_escaped(tapered, a_project):
    from dataclasses import replace  # noqa: PLC0415 - only this test changes a record

    from formwork.drawings.piece import piece_drawing  # noqa: PLC0415 - as above

    piece = replace(tapered().piece(), name='bed <3 & "more"')
    root = ElementTree.fromstring(svg(piece_drawing(piece, a_project("mm"))))
    assert 'bed <3 & "more"' in [e.text for e in root.iter(f"{NS}text")]


def test_the_same_scene_gives_the_same_bytes(scenes):
    for scene in scenes.values():
        assert svg(scene) == svg(scene)
