"""DXF: read back by the library's own reader, audited, measured, and the same bytes each time."""

from __future__ import annotations

import hashlib
import io
import os
import subprocess
import sys
from collections import Counter
from fractions import Fraction
from math import dist, isclose
from pathlib import Path

import ezdxf
import pytest

from formwork.drawings.dxf import dxf
from formwork.drawings.layers import NARROW, PATTERNS, WIDE
from formwork.drawings.piece import piece_drawing
from formwork.drawings.scene import Arc, Circle, Dimension, Hatch, Line, Polyline, Text

PER_METRE = {"mm": 1000.0, "in": 1.0 / 0.0254}


def read(scene):
    return ezdxf.read(io.StringIO(dxf(scene)))


@pytest.fixture(scope="module")
def documents(scenes):
    return {name: (scene, read(scene)) for name, scene in scenes.items()}


def test_every_file_is_read_back_and_passes_its_audit(documents):
    for name, (_, doc) in documents.items():
        auditor = doc.audit()
        assert auditor.errors == [] and auditor.fixes == [], name


def test_nothing_is_lost_on_the_way(documents):
    for name, (scene, doc) in documents.items():
        for items, space in ((scene.model, doc.modelspace()), (scene.paper, doc.paperspace("Page 1"))):
            filled = sum(isinstance(i, Polyline) and i.filled for i in items)
            wanted = {
                "LINE": sum(isinstance(i, Line) for i in items),
                "LWPOLYLINE": sum(isinstance(i, Polyline) and not i.filled for i in items),
                "CIRCLE": sum(isinstance(i, Circle) for i in items),
                "ARC": sum(isinstance(i, Arc) for i in items),
                "HATCH": sum(isinstance(i, Hatch) for i in items) + filled,
                "TEXT": sum(isinstance(i, Text) and bool(i.text) for i in items),
                "DIMENSION": sum(isinstance(i, Dimension) for i in items),
            }
            counted = Counter(e.dxftype() for e in space if e.dxftype() != "VIEWPORT")
            assert counted == Counter({k: v for k, v in wanted.items() if v}), name


def test_dimensions_keep_the_measure_of_the_record(tapered, project_file):
    """The entity's own points, projected by the reader, give the distance of the record's two points."""
    piece = tapered().piece()
    doc = read(piece_drawing(piece, project_file))
    per = PER_METRE[project_file.units]
    found = sorted(d.get_measurement() for d in doc.modelspace().query("DIMENSION"))
    wanted = sorted(dist(m.start, m.end) * per for m in piece.measures)
    assert found == pytest.approx(wanted, abs=1e-9)
    for d in doc.modelspace().query("DIMENSION"):
        assert isclose(d.dxf.actual_measurement, d.get_measurement(), abs_tol=1e-9)


def test_dimensions_of_real_plans_show_what_they_measure(documents):
    """Inches as fractions to the nearest sixteenth, millimetres to a tenth: the shown text is the measure."""
    for name, (scene, doc) in documents.items():
        for d in doc.modelspace().query("DIMENSION"):
            parts = [Fraction(part) for part in d.dxf.text.removeprefix("Ø").split()]
            step = 0.0626 / 2 if scene.units == "in" else 0.0501
            assert abs(float(sum(parts)) - d.get_measurement()) <= step, (name, d.dxf.text)


def test_the_block_of_a_dimension_shows_its_text(documents):
    for _, doc in documents.values():
        for d in doc.modelspace().query("DIMENSION"):
            texts = [t.dxf.text for t in doc.blocks.get(d.dxf.geometry).query("TEXT")]
            assert texts == [d.dxf.text]


def test_the_piece_measures_of_real_plans_are_all_drawn(plans, scenes):
    for name, one in plans.items():
        for mold in one.molds:
            scene = scenes[f"{name}/piece-{mold.piece.name}"]
            drawn = {d.name: d.measured() for d in scene.model if isinstance(d, Dimension)}
            for measure in mold.piece.measures:
                assert isclose(drawn[measure.name], dist(measure.start, measure.end), abs_tol=1e-9), (
                    measure.name
                )


def test_units_and_scale_are_set(documents):
    for scene, doc in documents.values():
        inch = scene.units == "in"
        assert doc.header["$INSUNITS"] == (1 if inch else 4)
        assert doc.header["$MEASUREMENT"] == (0 if inch else 1)
        assert doc.header["$LUNITS"] == (5 if inch else 2)
        assert doc.header["$LTSCALE"] == scene.scale and doc.header["$PSLTSCALE"] == 0
        style = doc.dimstyles.get("SHOP")
        assert style.dxf.dimscale == scene.scale
        assert style.dxf.dimlunit == (5 if inch else 2)


def test_layers_have_two_widths_two_to_one_and_their_line_types(documents):
    assert WIDE == 2 * NARROW
    for scene, doc in documents.values():
        for layer in scene.layers():
            entry = doc.layers.get(layer.name)
            assert entry.dxf.lineweight == (50 if layer.wide else 25)
            assert (
                entry.dxf.linetype.upper()
                == {"solid": "CONTINUOUS", "dashed": "DASHED", "chain": "CHAIN"}[layer.line]
            )
        weights = {doc.layers.get(layer.name).dxf.lineweight for layer in scene.layers()}
        assert weights == {25, 50}


def test_layers_of_a_piece_and_of_a_mold_follow_the_scheme(scenes):
    piece = {layer.name for layer in scenes["planters/piece-tapered planter"].layers()}
    assert {"S-CAST-OTLN", "S-CAST-HIDN", "S-DETL-PATT", "S-ANNO-DIMS", "S-ANNO-TEXT", "G-ANNO-TTLB"} <= piece
    mold = {layer.name for layer in scenes["planters/mold-tapered planter mold"].layers()}
    assert {"S-FORM-PANL", "S-FORM-BASE", "S-FORM-CORE", "S-FORM-CLET", "S-FORM-STRP", "S-ANNO-SYMB"} <= mold
    for name in piece | mold:
        discipline, *codes = name.split("-")
        assert len(discipline) == 1 and all(len(code) == 4 for code in codes), name


def test_dashes_come_out_right_on_paper(documents):
    """Pattern length times $LTSCALE over the scale of the window, in mm."""
    for scene, doc in documents.values():
        per = 25.4 if scene.units == "in" else 1.0
        tags = [tag.value for tag in doc.linetypes.get("DASHED").pattern_tags.tags if tag.code == 49]
        dash = [abs(v) * doc.header["$LTSCALE"] / scene.scale * per for v in tags]
        assert dash == pytest.approx(PATTERNS["dashed"])


def test_the_windows_show_the_model_at_its_scale(documents):
    for scene, doc in documents.values():
        layout = doc.paperspace("Page 1")
        per = 25.4 if scene.units == "in" else 1.0
        ports = [v for v in layout.query("VIEWPORT") if v.dxf.id != 1]
        assert len(ports) == len(scene.windows) >= 1
        for port in ports:
            assert isclose(port.dxf.view_height / port.dxf.height, scene.scale)
            assert port.is_locked if hasattr(port, "is_locked") else port.dxf.flags & 0x4000
        width, height = layout.dxf.paper_width, layout.dxf.paper_height
        assert isclose(width, scene.sheet.length, abs_tol=0.01) and isclose(
            height, scene.sheet.height, abs_tol=0.01
        )
        assert per > 0


def test_a_window_is_centred_on_what_it_shows(documents):
    """A model point carried to the page by the window's own numbers falls where the scene puts it."""
    for scene, doc in documents.values():
        per = 1.0 / 25.4 if scene.units == "in" else 1.0
        ports = [v for v in doc.paperspace("Page 1").query("VIEWPORT") if v.dxf.id != 1]
        for window, port in zip(scene.windows, ports, strict=True):
            middle = [(window.low[k] + window.high[k]) / 2 for k in (0, 1)]
            model = [(middle[k] - scene.origin[k]) * per * scene.scale for k in (0, 1)]
            assert [port.dxf.view_center_point[k] for k in (0, 1)] == pytest.approx(model)
            assert [port.dxf.center[k] for k in (0, 1)] == pytest.approx([m * per for m in middle])


def test_the_model_is_drawn_at_full_size(tapered, project_file):
    scene = piece_drawing(tapered().piece(), project_file)
    doc = read(scene)
    per = PER_METRE[project_file.units]
    xs = [p.x for e in doc.modelspace().query('LINE[layer=="S-CAST-OTLN"]') for p in (e.dxf.start, e.dxf.end)]
    widest = max(abs(a - b) for a in xs for b in xs if abs(abs(a - b) - 0.52 * per) < 1e-5 * per)
    assert isclose(widest, 0.52 * per, rel_tol=1e-7)


def test_the_same_scene_gives_the_same_bytes_and_leaves_no_trace(scenes):
    before = ezdxf.options.write_fixed_meta_data_for_testing
    for name in ("planters/piece-tapered planter", "wall/mold-window box mold", "terrace/sheet-1"):
        assert dxf(scenes[name]) == dxf(scenes[name])
    assert ezdxf.options.write_fixed_meta_data_for_testing == before


def test_another_process_writes_the_same_bytes(tmp_path):
    """Hash seeds differ between processes: no order may hang on them."""
    script = """
import hashlib, sys
sys.path.insert(0, sys.argv[1])
from conftest import Tapered, a_project
from formwork.drawings.dxf import dxf
from formwork.drawings.piece import piece_drawing
from formwork.drawings.svg import svg
scene = piece_drawing(Tapered().piece(), a_project("in"))
print(hashlib.sha256(dxf(scene).encode()).hexdigest(), hashlib.sha256(svg(scene).encode()).hexdigest())
"""
    here = Path(__file__).parent
    prints = set()
    for seed in ("1", "2"):
        env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(here.parents[1])}
        run = subprocess.run(
            [sys.executable, "-c", script, str(here)],
            capture_output=True,
            text=True,
            env=env,
            check=True,
            cwd=tmp_path,
        )
        prints.add(run.stdout)
    assert len(prints) == 1 and len(prints.pop().split()[0]) == len(hashlib.sha256().hexdigest())


def test_no_date_of_today_and_no_random_identifier(scenes):
    """Read from the text: a reader gives a document it loads identifiers of its own."""
    lines = [line.strip() for line in dxf(scenes["terrace/piece-stepping stone"]).splitlines()]
    values = {
        name: lines[lines.index(name) + 2]
        for name in ("$FINGERPRINTGUID", "$VERSIONGUID", "$TDCREATE", "$TDUPDATE")
    }
    assert values["$FINGERPRINTGUID"] == values["$VERSIONGUID"] == "{00000000-0000-0000-0000-000000000000}"
    assert values["$TDCREATE"] == values["$TDUPDATE"] == "2451545.0"  # 1 January 2000, as DXF counts days
