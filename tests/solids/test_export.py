"""What is written: STEP that reads back, closed STL, GLB with names; settled bytes; nothing half-written."""

import json
import re
import struct
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

import formwork
from formwork.errors import OutputError
from formwork.geometry.planes import Planes
from formwork.solids import kernel
from formwork.solids.build import Body, Model, mold_model, piece_model
from formwork.solids.export import write_glb, write_step, write_stl

ROOT = Path(formwork.__file__).parents[1]


@pytest.fixture(scope="module")
def planter(tapered):
    return piece_model(Planes(), tapered().piece())


@pytest.fixture(scope="module")
def mold(tray):
    return mold_model(tray)


def products(path):
    """Names in a STEP file, read with nothing of ours: PRODUCT(id, name, ...), quotes doubled."""
    found = re.findall(r"PRODUCT\('((?:[^']|'')*)','((?:[^']|'')*)'", path.read_text("ascii"))
    return [name.replace("''", "'") for _, name in found]


def test_a_piece_reads_back_from_step_with_its_volume_in_millimetres(planter, tmp_path):
    path = tmp_path / "planter.step"
    write_step(path, planter)
    back = kernel.read_step(path)
    assert kernel.volume(back) == pytest.approx(planter.volume(), rel=1e-9)
    box = back.BoundingBox()
    assert (box.xlen, box.ylen, box.zlen) == pytest.approx((520.0, 400.0, 350.0), abs=1e-6)
    assert products(path) == ["herb bed"]


def test_a_mold_reads_back_from_step_with_names_colours_and_volume(mold, tray, tmp_path):
    path = tmp_path / "mold.step"
    write_step(path, mold)
    assert kernel.volume(kernel.read_step(path)) == pytest.approx(mold.volume(), rel=1e-9)
    assert products(path) == [
        "stepping stone mold",
        *(part.name for part in tray.parts),
        "stepping stone (as cast)",
    ]
    assembly = kernel.cadquery().Assembly.importStep(str(path))
    read = {child.name: child.color.toTuple() for child in assembly.children}
    for body in mold.bodies:
        assert read[body.name] == pytest.approx(body.colour, abs=1e-5)


def test_names_with_quotes_marks_and_letters_of_any_tongue_are_kept(mold, tmp_path):
    """ISO 10303-21 from memory: quotes doubled, backslashes doubled, other letters by their code in a \\X2\\ group."""
    names = ["1/2\" board #3; it's", "côté — gauche", "back\\slash", "x" * 200]
    bodies = tuple(Body(n, b.solid, b.colour) for n, b in zip(names, mold.bodies, strict=False))
    path = tmp_path / "names.step"
    write_step(path, Model("Schalung für Ä", bodies))

    def plain(name):
        name = re.sub(r"\\X2\\([0-9A-F]+)\\X0\\", lambda m: bytes.fromhex(m[1]).decode("utf-16-be"), name)
        return name.replace("\\\\", "\\")

    assert [plain(name) for name in products(path)] == ["Schalung für Ä", *names]
    assert len(kernel.read_step(path).Solids()) == 4


def test_the_header_names_the_model_and_no_moment(mold, tmp_path):
    path = tmp_path / "mold.step"
    write_step(path, Model("Bob's côté", mold.bodies))
    header = path.read_text("ascii").split("ENDSEC;")[0]
    name, time = re.search(r"FILE_NAME\('((?:[^']|'')*)','([^']*)'", header).groups()
    assert name == "Bob''s c\\X2\\00F4\\X0\\t\\X2\\00E9\\X0\\"
    assert time == "1970-01-01T00:00:00"


def test_the_same_model_gives_the_same_bytes_in_this_process_and_in_another(tmp_path, tray):
    writers = {"m.step": write_step, "m.stl": write_stl, "m.glb": write_glb}
    for folder in ("first", "second"):
        (tmp_path / folder).mkdir()
        for name, write in writers.items():
            write(tmp_path / folder / name, mold_model(tray))
    (tmp_path / "third").mkdir()
    code = (
        "import sys, importlib.util as u; from pathlib import Path\n"
        f"spec = u.spec_from_file_location('c', {str(Path(__file__).parent / 'conftest.py')!r})\n"
        "c = u.module_from_spec(spec); sys.modules['c'] = c; spec.loader.exec_module(c)\n"
        "from formwork.solids import mold_model, write_step, write_stl, write_glb\n"
        f"folder = Path({str(tmp_path / 'third')!r})\n"
        "model = mold_model(c.make_tray())\n"
        "write_glb(folder / 'm.glb', model); write_stl(folder / 'm.stl', model); write_step(folder / 'm.step', model)\n"
    )
    subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=True)
    for name in writers:
        first = (tmp_path / "first" / name).read_bytes()
        assert first == (tmp_path / "second" / name).read_bytes(), name
        assert first == (tmp_path / "third" / name).read_bytes(), name


def facets(path):
    """Normal and three corners of each facet of a binary STL: 80 bytes, a count, 50 bytes a facet."""
    data = path.read_bytes()
    (count,) = struct.unpack_from("<I", data, 80)
    assert len(data) == 84 + 50 * count
    for k in range(count):
        v = struct.unpack_from("<12f", data, 84 + 50 * k)
        yield v[:3], (v[3:6], v[6:9], v[9:12])


def test_the_stl_of_a_piece_is_closed_and_has_its_volume(planter, tmp_path):
    path = tmp_path / "planter.stl"
    write_stl(path, planter)
    edges = Counter()
    six = 0.0
    for normal, (a, b, c) in facets(path):
        edges.update([(a, b), (b, c), (c, a)])
        n = cross(minus(b, a), minus(c, a))
        six += sum(x * y for x, y in zip(a, cross(b, c), strict=True))
        assert sum(x * y for x, y in zip(n, normal, strict=True)) >= 0.0
    assert all(count == 1 and edges[b, a] == 1 for (a, b), count in edges.items())
    assert six / 6 / 1e9 == pytest.approx(planter.volume(), rel=2e-4)


def minus(a, b):
    return tuple(x - y for x, y in zip(a, b, strict=True))


def cross(a, b):
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def parsed(path):
    """JSON and binary chunk of a GLB, by the layout of the glTF 2.0 specification (Khronos)."""
    data = path.read_bytes()
    assert struct.unpack_from("<III", data) == (0x46546C67, 2, len(data))
    size, kind = struct.unpack_from("<II", data, 12)
    assert kind == 0x4E4F534A
    assert size % 4 == 0
    document = json.loads(data[20 : 20 + size])
    length, kind = struct.unpack_from("<II", data, 20 + size)
    assert kind == 0x004E4942
    assert len(data) == 28 + size + length
    return document, data[28 + size :]


def test_the_glb_has_a_node_for_each_part_in_metres_with_y_up(mold, tray, tmp_path):
    path = tmp_path / "mold.glb"
    write_glb(path, mold)
    document, _ = parsed(path)
    assert document["asset"]["version"] == "2.0"
    names = [document["nodes"][k]["name"] for k in document["scenes"][0]["nodes"]]
    assert names == [*(part.name for part in tray.parts), "stepping stone (as cast)"]
    right = document["meshes"][document["nodes"][names.index("right panel")]["mesh"]]
    box = document["accessors"][right["primitives"][0]["attributes"]["POSITION"]]
    assert box["min"] == pytest.approx([0.15, 0.0, -0.118], abs=1e-6)
    assert box["max"] == pytest.approx([0.168, 0.06, 0.118], abs=1e-6)


def test_glb_indices_stay_within_the_corners_and_enclose_the_volume(mold, tmp_path):
    path = tmp_path / "mold.glb"
    write_glb(path, mold)
    document, binary = parsed(path)
    for node, body in zip(document["nodes"], mold.bodies, strict=True):
        primitive = document["meshes"][node["mesh"]]["primitives"][0]
        corners = read(document, binary, primitive["attributes"]["POSITION"], "f")
        order = read(document, binary, primitive["indices"], "I")
        points = list(zip(corners[::3], corners[1::3], corners[2::3], strict=True))
        assert max(order) == len(points) - 1
        six = sum(
            sum(x * y for x, y in zip(points[a], cross(points[b], points[c]), strict=True))
            for a, b, c in zip(order[::3], order[1::3], order[2::3], strict=True)
        )
        assert six / 6 == pytest.approx(kernel.volume(body.solid), rel=5e-3)


def read(document, binary, number, letter):
    accessor = document["accessors"][number]
    view = document["bufferViews"][accessor["bufferView"]]
    count = accessor["count"] * (3 if accessor["type"] == "VEC3" else 1)
    assert view["byteLength"] == 4 * count
    return struct.unpack_from(f"<{count}{letter}", binary, view["byteOffset"])


def test_the_cast_piece_is_see_through_in_the_glb_of_the_mold(mold, tmp_path):
    path = tmp_path / "mold.glb"
    write_glb(path, mold)
    materials = parsed(path)[0]["materials"]
    assert [m.get("alphaMode", "OPAQUE") for m in materials] == ["OPAQUE"] * 6 + ["BLEND"]


@pytest.mark.parametrize("write", [write_step, write_stl, write_glb])
def test_a_folder_that_is_not_there_is_an_output_error(write, planter, tmp_path):
    with pytest.raises(OutputError, match="nowhere"):
        write(tmp_path / "nowhere" / "planter.x", planter)


@pytest.mark.parametrize("write", [write_step, write_stl, write_glb])
def test_a_failure_leaves_the_old_file_and_nothing_beside_it(write, planter, tmp_path, monkeypatch):
    path = tmp_path / "planter.x"
    path.write_text("old")

    def fails(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", fails)
    with pytest.raises(OutputError, match="No space left"):
        write(path, planter)
    assert path.read_text() == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["planter.x"]
