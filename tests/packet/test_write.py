"""The packet on disk: every file listed, linked and readable; the same bytes again; whole or not at all."""

from __future__ import annotations

import csv
import json
import re
import struct
import sys
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path
from urllib.parse import unquote

import pytest

from formwork.errors import InternalError
from formwork.packet.document import document
from formwork.packet.folder import CONTENTS
from formwork.packet.names import plain_names
from formwork.packet.write import write_packet


def quiet(what: str) -> None:
    """No progress is wanted."""


def files(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.fixture(scope="module")
def packet(tmp_path_factory, make_plan) -> Path:
    folder = tmp_path_factory.mktemp("packet") / "packet"
    write_packet(make_plan(), folder, quiet)
    return folder


def test_every_file_is_listed_and_linked(packet):
    found = set(files(packet))
    with (packet / CONTENTS).open(encoding="utf-8", newline="") as file:
        listed = {row[0] for row in csv.reader(file)} - {"file"}
    assert found == listed | {CONTENTS}
    links = {
        unquote(link)
        for link in re.findall(r'href="([^"#]+)"', (packet / "index.html").read_text(encoding="utf-8"))
    }
    assert links == listed - {"index.html"}


def test_nothing_is_empty(packet):
    assert all(files(packet).values())


def test_pieces_molds_and_sheets_each_have_their_files(packet):
    found = set(files(packet))
    for place in ("pieces/slab-piece", "molds/slab-mold"):
        assert {f"{place}.{ending}" for ending in ("dxf", "svg", "png", "step", "stl", "glb", "3mf")} | {
            f"{place}-picture.svg",
            f"{place}-picture.png",
        } <= found
    assert {"sheets/sheet-1.dxf", "sheets/sheet-1.svg", "sheets/sheet-1.png"} <= found


def test_the_plan_in_it_is_the_plan(packet, plan):
    assert json.loads((packet / "plan.json").read_text(encoding="utf-8")) == document(plan)


def test_drawings_pass_the_audit_and_pictures_are_well_formed(packet):
    import ezdxf  # noqa: PLC0415 - only where DXF is read

    for path in packet.rglob("*.dxf"):
        assert not ezdxf.readfile(path).audit().errors
    for path in packet.rglob("*.svg"):
        assert ET.fromstring(path.read_bytes()).tag == "{http://www.w3.org/2000/svg}svg"


def test_the_mesh_of_the_piece_has_the_volume_of_the_slab(packet):
    """600 x 400 x 50 mm is 12 000 000 mm3: the sum of signed tetrahedra over the triangles of the STL."""
    data = (packet / "pieces" / "slab-piece.stl").read_bytes()
    (count,) = struct.unpack_from("<I", data, 80)
    six = 0.0
    for number in range(count):
        a, b, c = (struct.unpack_from("<3f", data, 84 + 50 * number + 12 * k) for k in (1, 2, 3))
        six += (
            a[0] * (b[1] * c[2] - b[2] * c[1])
            - a[1] * (b[0] * c[2] - b[2] * c[0])
            + a[2] * (b[0] * c[1] - b[1] * c[0])
        )
    assert six / 6.0 == pytest.approx(12e6, rel=1e-6)


def test_the_same_plan_gives_the_same_bytes(packet, plan, tmp_path):
    write_packet(plan, tmp_path / "again", quiet)
    assert files(tmp_path / "again") == files(packet)


def test_without_solids_no_kernel_is_needed(plan, tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "cadquery", None)
    written = write_packet(plan, tmp_path / "p", quiet, solids=False)
    found = set(files(tmp_path / "p"))
    assert written.count == len(found) - 1
    assert not [name for name in found if name.endswith((".step", ".stl", ".glb", ".3mf", "-picture.svg"))]


def test_a_missing_kernel_is_told_and_leaves_the_older_packet(plan, tmp_path, monkeypatch):
    from formwork.solids import KernelError  # noqa: PLC0415 - loads no kernel

    write_packet(plan, tmp_path / "p", quiet, solids=False)
    before = files(tmp_path / "p")
    monkeypatch.setitem(sys.modules, "cadquery", None)
    with pytest.raises(KernelError, match="CAD kernel"):
        write_packet(plan, tmp_path / "p", quiet)
    assert files(tmp_path / "p") == before
    assert [path.name for path in tmp_path.iterdir()] == ["p"]


@pytest.mark.parametrize(
    "broken",
    ["formwork.packet.page.page", "formwork.drawings.dxf.dxf", "formwork.packet.document.to_json"],
)
def test_a_fault_midway_leaves_the_older_packet_whole(plan, tmp_path, monkeypatch, broken):
    write_packet(plan, tmp_path / "p", quiet, solids=False)
    before = files(tmp_path / "p")

    def fails(*_: object) -> str:
        raise InternalError("spoiled")

    monkeypatch.setattr(broken, fails)
    titled = replace(plan, project=replace(plan.project, title="another"))
    with pytest.raises(InternalError, match="spoiled"):
        write_packet(titled, tmp_path / "p", quiet, solids=False)
    assert files(tmp_path / "p") == before


def test_progress_names_what_is_being_done_the_slow_start_of_the_kernel_too(plan, tmp_path):
    said: list[str] = []
    write_packet(plan, tmp_path / "p", said.append)
    assert said.index("drawing slab mold") < said.index("shaping slab mold")
    assert any("loading the CAD kernel" in line for line in said)
    assert len(said) == len(set(said))


def test_two_pieces_whose_names_differ_only_in_letters_no_file_can_hold_stay_apart(plan, tmp_path):
    mold = plan.molds[0]
    two = tuple(
        replace(mold, piece=replace(mold.piece, name=name), name=f"{name} mold")
        for name in ("Platte Ä", "platte a")
    )
    write_packet(replace(plan, molds=two), tmp_path / "p", quiet, solids=False)
    assert {"pieces/platte-a-piece.dxf", "pieces/platte-a-2-piece.dxf"} <= set(files(tmp_path / "p"))


@pytest.mark.parametrize("name", ["../../etc/passwd", "CON", "a/b\\c", "x" * 300, ".", " ", "日本"])
def test_file_names_are_plain_whatever_a_piece_is_called(name):
    (made,) = plain_names([name])
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", made) and len(made) <= 60
