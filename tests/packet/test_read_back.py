"""What is written, read by programs of others: DXF by GDAL, PDF by two renderers, pictures by a third library."""

from __future__ import annotations

import io
import re
from collections import Counter, defaultdict
from functools import cache
from unicodedata import normalize

import numpy as np
import pymupdf
import pypdfium2
import pytest
import shapely
from PIL import Image
from pyogrio.raw import read

from formwork.cutting.records import spots
from formwork.drawings.dxf import dxf
from formwork.drawings.scene import Circle, Dimension, Text, bounds
from formwork.drawings.svg import svg
from formwork.geometry.outlines import area
from formwork.packet.drawing_pages import Drawing
from formwork.packet.drawn import scenes
from formwork.packet.full_size import for_plotter, full_size
from formwork.packet.job_sheets import job_sheets
from formwork.packet.labels import labels
from formwork.packet.papers import usual_paper
from formwork.packet.typeset import png
from formwork.plan import Plan, plan
from formwork.project.read import read_project
from formwork.shipped import shelf

NAMES = ("tapered-planter", "garden-slabs", "gate-arch")
ZOOM = 2.5
"""Pages are compared at 180 dots an inch, where a narrow line of 0.25 mm is nearly two dots wide."""
PER_METRE = {"mm": 1000.0, "in": 1.0 / 0.0254}


@cache
def planned(name: str) -> Plan:
    return plan(read_project(shelf("examples") / f"{name}.toml"))


@cache
def drawn(name: str):
    return tuple(scenes(planned(name)))


def by_gdal(text: str, folder) -> list[tuple[str, bool, str, shapely.Geometry]]:
    """Layer, whether it is on the paper, text, and shape of everything that GDAL finds in a DXF file."""
    path = folder / "drawing.dxf"
    path.write_text(text, encoding="utf-8", newline="")
    meta, _, shapes, columns = read(path)
    found = dict(zip(meta["fields"], columns, strict=True))
    paper = found.get("PaperSpace", [None] * len(shapes))
    return [
        (layer, on_paper == 1, words or "", shapely.from_wkb(shape))
        for layer, on_paper, words, shape in zip(found["Layer"], paper, found["Text"], shapes, strict=True)
    ]


def sheets(name: str):
    made = planned(name)
    cut = [scene for place, _, scene in drawn(name) if place.startswith("sheets/")]
    return list(zip(made.sheets, cut, strict=True))


@pytest.mark.parametrize("name", NAMES)
def test_every_cut_of_a_sheet_is_found_by_gdal_at_its_size(name, tmp_path):
    """As many closed outlines as parts, of the parts' areas; the sheet at its size; as many circles as holes."""
    made = planned(name)
    per = PER_METRE[made.project.units]
    lines = {line.label: line.part.blank for line in made.cut_list}
    for layout, scene in sheets(name):
        read_in = [one for one in by_gdal(dxf(scene), tmp_path) if not one[1]]
        by_layer = defaultdict(list)
        for layer, _, _, shape in read_in:
            by_layer[layer].append(shape)
        blanks = [lines[spot.label] for placed in layout.placed for spot in spots(placed)]
        (edge,) = by_layer["SHEET-EDGE"]
        assert edge.bounds == pytest.approx(
            (0, 0, layout.stock.length * per, layout.stock.width * per), abs=1e-6
        )
        outlines = [shapely.Polygon(shape.coords) for shape in by_layer["CUT-OUTSIDE"] if shape.is_ring]
        assert len(outlines) == len(by_layer["CUT-OUTSIDE"]) == len(blanks)
        assert sorted(one.area for one in outlines) == pytest.approx(
            sorted(area(blank.edge) * per**2 for blank in blanks), rel=2e-3
        )
        assert all(shapely.covers(shapely.box(*edge.bounds).buffer(1e-6), one) for one in outlines)
        circles = [
            shape for layer, shapes in by_layer.items() if layer.startswith("DRILL") for shape in shapes
        ]
        assert len(circles) == sum(len(blank.holes) for blank in blanks)


@pytest.mark.parametrize("name", NAMES)
def test_extents_layer_by_layer_are_those_of_the_drawing(name, tmp_path):
    """Where round things are, GDAL has chords of four degrees: short of the arc by a thousandth of its radius at most."""
    per = PER_METRE[planned(name).project.units]
    for _, _, scene in drawn(name):
        found = defaultdict(list)
        for layer, on_paper, _, shape in by_gdal(dxf(scene), tmp_path):
            if not on_paper and not shape.is_empty:
                found[layer].append(shape)
        wanted = defaultdict(list)
        for item in scene.model:
            if not isinstance(item, (Text, Dimension)):
                wanted[item.layer.name].append(item)
        for layer, items in wanted.items():
            if any(isinstance(item, (Text, Dimension)) and item.layer.name == layer for item in scene.model):
                continue
            (x0, y0), (x1, y1) = bounds(items)
            corners = np.array([shape.bounds for shape in found[layer]])
            box = (*corners[:, :2].min(axis=0), *corners[:, 2:].max(axis=0))
            size = max(x1 - x0, y1 - y0) * per
            assert box == pytest.approx((x0 * per, y0 * per, x1 * per, y1 * per), abs=1e-3 * size + 1e-6), (
                layer
            )


@pytest.mark.parametrize("name", NAMES)
def test_every_dimension_is_read_with_its_figures(name, tmp_path):
    for _, _, scene in drawn(name):
        wanted = Counter(item.text for item in scene.model if isinstance(item, Dimension) and item.text)
        read_in = Counter(words for _, _, words, _ in by_gdal(dxf(scene), tmp_path) if words)
        assert not wanted - read_in


@pytest.mark.parametrize("name", NAMES)
def test_circles_are_true_circles(name, tmp_path):
    for _, _, scene in drawn(name):
        round_ones = [item for item in scene.model if isinstance(item, Circle)]
        text = dxf(scene)
        assert len(re.findall(r"^CIRCLE$", text.partition("ENTITIES")[2].replace("\r", ""), re.M)) >= len(
            round_ones
        )


@cache
def printed(name: str) -> dict[str, bytes]:
    made = planned(name)
    paper = usual_paper(made.project.units)
    drawings = [Drawing(place, about, scene, svg(scene)) for place, about, scene in drawn(name)]
    pdfs = {
        "job-sheets": job_sheets(made, drawings, [], paper),
        "labels": labels(made, paper),
        "templates": full_size(made, paper),
        "templates-plotter": for_plotter(made),
    }
    return {title: pdf for title, pdf in pdfs.items() if pdf is not None}


@pytest.mark.parametrize("name", NAMES)
def test_two_renderers_show_the_same_pages(name):
    """As many pages, of the same size, with the same letters, and as dark within a fiftieth of full black."""
    for title, pdf in printed(name).items():
        one, other = pypdfium2.PdfDocument(pdf), pymupdf.open(stream=pdf, filetype="pdf")
        assert len(one) == len(other)
        for number, (left, right) in enumerate(zip(one, other, strict=True), start=1):
            where = f"{title}, page {number}"
            assert left.get_size() == pytest.approx((right.rect.width, right.rect.height), abs=0.02), where
            letters = [
                Counter(re.sub(r"\W", "", normalize("NFKC", text)))
                for text in (left.get_textpage().get_text_range(), right.get_text())
            ]
            differing = (letters[0] - letters[1]) + (letters[1] - letters[0])
            assert differing.total() <= 0.002 * letters[0].total(), where
            if max(left.get_size()) < 1500:
                dark = [
                    1.0 - left.render(scale=ZOOM, grayscale=True).to_numpy().mean() / 255.0,
                    1.0
                    - _grey(right.get_pixmap(matrix=pymupdf.Matrix(ZOOM, ZOOM), colorspace=pymupdf.csGRAY))
                    / 255.0,
                ]
                assert dark[0] == pytest.approx(dark[1], abs=0.02), where
                assert min(dark) > 0.001, where
        assert not other.is_repaired
        assert all(font[1] != "n/a" for page in other for font in page.get_fonts())


def _grey(picture) -> float:
    return float(np.frombuffer(picture.samples, dtype=np.uint8).mean())


@pytest.mark.parametrize("name", NAMES[:2])
def test_pictures_have_the_proportions_and_the_ink_of_their_drawings(name):
    for place, _, scene in drawn(name):
        data = png(svg(scene))
        assert data == png(svg(scene))
        picture = Image.open(io.BytesIO(data))
        assert picture.format == "PNG" and max(picture.size) <= 3401
        assert picture.width / picture.height == pytest.approx(
            scene.sheet.length / scene.sheet.height, rel=2e-3
        )
        dark = 1.0 - np.asarray(picture.convert("L")).mean() / 255.0
        assert 0.002 < dark < 0.2, place
