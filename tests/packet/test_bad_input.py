"""What a packet makes of hard cases: narrow paper, other scripts, very long names, many kinds, one part, a full drive."""

from __future__ import annotations

import errno
import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest

from formwork.errors import OutputError
from formwork.molds.mold import Blank
from formwork.packet import documents as building
from formwork.packet.full_size import for_plotter, full_size
from formwork.packet.labels import labels
from formwork.packet.papers import PAPERS, Paper
from formwork.packet.patterns import patterns
from formwork.packet.template_sets import APART, lay_out
from formwork.packet.write import write_packet
from formwork.plan import CutLine
from formwork.shipped import shelf

PLANTER = shelf("examples") / "tapered-planter.toml"
SCRIPTS = {
    "greek": "Πλάκα κήπου",
    "cyrillic": "Плита садовая",
    "hebrew": "לוח גינה",
    "japanese": "庭の敷石",
    "arabic": "بلاطة الحديقة",
    "thai": "แผ่นพื้นสวน",
    "emoji": "slab 🪨 №1",
    "combining": "Pla\u0301tte n\u0303",
    "controls": "slab\u200b\u202e\u00adx",
}


def quiet(_: str) -> None:
    """No progress is wanted."""


def files(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def text_of(pdf: bytes) -> str:
    pages = (page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf))
    return re.sub(r"\s+", " ", " ".join(pages))


def named(plan, name: str):
    """The slabs under another name, wherever a name stands."""
    (mold,) = plan.molds
    order = replace(plan.project.orders[0], name=name)
    other = replace(mold, name=f"{name} mold", piece=replace(mold.piece, name=name))
    return replace(
        plan,
        project=replace(
            plan.project, title=name, orders=(order,), shop=replace(plan.project.shop, name=name)
        ),
        pieces=(replace(plan.pieces[0], order=order),),
        molds=(other,),
        cut_list=tuple(replace(line, mold=other.name) for line in plan.cut_list),
    )


@pytest.mark.parametrize("script", SCRIPTS)
def test_names_in_any_script_go_through_every_document(make_plan, tmp_path, script):
    written = write_packet(named(make_plan(), SCRIPTS[script]), tmp_path / "p", quiet, solids=False)
    found = files(tmp_path / "p")
    assert written.count == len(found) - 1 and all(found.values())
    assert all(re.fullmatch(r"[A-Za-z0-9/.-]+", name) for name in found)
    if script in ("greek", "cyrillic"):
        for name in ("job-sheets.pdf", "labels.pdf"):
            assert SCRIPTS[script] in text_of(found[name])
    assert SCRIPTS[script] in found["job-sheet.txt"].decode()


@pytest.mark.parametrize("name", ["Gartenplattenschalung" * 12, "slab " * 60, "x" * 400])
def test_very_long_names_run_off_no_page(make_plan, tmp_path, name):
    write_packet(named(make_plan(), name.strip()), tmp_path / "p", quiet, solids=False)
    for path in (tmp_path / "p").rglob("*.pdf"):
        for page in pypdfium2.PdfDocument(path):
            width, height = page.get_size()
            boxes = [thing.get_bounds() for thing in page.get_objects(max_depth=1)]
            assert all(
                x0 >= -1 and y0 >= -1 and x1 <= width + 1 and y1 <= height + 1 for x0, y0, x1, y1 in boxes
            )
    assert all(len(Path(name).name) < 100 for name in files(tmp_path / "p"))


def test_a_hundred_kinds_of_part(make_plan, tmp_path):
    plan = make_plan()
    line = plan.cut_list[0]
    kinds = tuple(CutLine(f"A{n}", line.mold, (f"panel {n}",), line.part, 1 + n % 3) for n in range(1, 101))
    write_packet(replace(plan, cut_list=kinds), tmp_path / "p", quiet, solids=False)
    found = files(tmp_path / "p")
    assert found["cut-list.csv"].decode().count("\r\n") == 101
    printed, stuck = text_of(found["job-sheets.pdf"]), text_of(found["labels.pdf"])
    for kind in kinds:
        assert re.search(rf"(?<!\w){kind.label} panel {kind.label[1:]} ", printed)
        assert len(re.findall(rf"(?<!\w){kind.label} \d of {kind.quantity}\b", stuck)) == kind.quantity


def test_one_part_alone(make_plan, tmp_path):
    plan = make_plan()
    alone = replace(plan, cut_list=plan.cut_list[:1], sticks=(), checks=(), pours=(), buy=(), cautions=())
    write_packet(alone, tmp_path / "p", quiet, solids=False)
    found = files(tmp_path / "p")
    assert "batches.csv" not in found
    assert len(re.findall(r"\b1 of 1\b", text_of(found["labels.pdf"]))) == 1


def test_a_plan_of_nothing_cut_has_no_labels_and_no_templates(make_plan, tmp_path):
    bare = replace(make_plan(), cut_list=(), sheets=(), sticks=(), bounds=())
    write_packet(bare, tmp_path / "p", quiet, solids=False)
    assert not [name for name in files(tmp_path / "p") if name.startswith(("labels", "templates"))]


def with_strip(plan, length: float, width: float):
    """A part with a slant: a strip of so many m."""
    line = plan.cut_list[0]
    outline = ((0.0, 0.0), (length, 0.0), (length - width / 2.0, width), (0.0, width))
    blank = Blank(length, width, 0.018, outline, (0.0,) * 4)
    part = replace(line.part, blank=blank)
    return replace(plan, cut_list=(CutLine("A1", line.mold, ("strip",), part, 1),))


@pytest.mark.parametrize("paper", sorted(PAPERS))
@pytest.mark.parametrize(("length", "width"), [(3.6, 0.02), (0.004, 0.003), (2.4, 1.2), (0.185, 0.25)])
def test_a_strip_wider_or_longer_than_the_paper_goes_over_pages_and_loses_nothing(
    make_plan, paper, length, width
):
    """Whatever its size every point of it is on some page: the joined pages are as large as its box."""
    plan = with_strip(make_plan(), length, width)
    (one,) = lay_out(patterns(plan), PAPERS[paper])
    assert one.width >= 1000 * max(length, width) + APART or one.height >= 1000 * max(length, width) + APART
    assert min(one.width, one.height) >= 1000 * min(length, width) + APART
    assert "A1" in text_of(full_size(plan, PAPERS[paper])) and for_plotter(plan)


def test_paper_too_small_for_a_template_is_refused_in_words(make_plan):
    """No paper that is offered is so small; whoever adds one is told."""
    with pytest.raises(OutputError, match=r"postcard is too small.*130 mm"):
        full_size(with_strip(make_plan(), 0.6, 0.1), Paper("postcard", 148.0, 105.0))


def test_a_drive_that_fills_up_midway_leaves_the_old_packet_whole(make_plan, tmp_path, monkeypatch):
    plan = make_plan()
    write_packet(plan, tmp_path / "p", quiet, solids=False)
    before = files(tmp_path / "p")
    written, write = [], Path.write_bytes

    def fills(self: Path, data: bytes) -> int:
        written.append(self.name)
        if len(written) > 6:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(self))
        return write(self, data)

    monkeypatch.setattr(Path, "write_bytes", fills)
    other = replace(plan, project=replace(plan.project, title="another"))
    with pytest.raises(OutputError, match=r"no space left on device.*nothing there was changed"):
        write_packet(other, tmp_path / "p", quiet, solids=False)
    monkeypatch.undo()
    assert files(tmp_path / "p") == before
    assert [path.name for path in tmp_path.iterdir()] == ["p"]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_a_folder_below_a_device_is_told_plainly_by_the_command():
    command = "import sys; from formwork.cli import main; main()"
    arguments = ["packet", str(PLANTER), "-o", "/dev/full/packet", "--no-solids"]
    done = subprocess.run(
        [sys.executable, "-c", command, *arguments], capture_output=True, text=True, check=False
    )
    assert done.returncode == 2 and "cannot write /dev/full/packet" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_file_of_the_old_packet_that_cannot_be_read_is_made_anew(make_plan, tmp_path, monkeypatch):
    plan = make_plan()
    write_packet(plan, tmp_path / "p", quiet, solids=False)
    before = files(tmp_path / "p")
    read = Path.read_bytes

    def refuses(self: Path) -> bytes:
        if self.name == "labels.pdf":
            raise PermissionError(errno.EACCES, "Permission denied", str(self))
        return read(self)

    monkeypatch.setattr(Path, "read_bytes", refuses)
    assert write_packet(plan, tmp_path / "p", quiet, solids=False).made == ("labels.pdf",)
    monkeypatch.undo()
    assert files(tmp_path / "p") == before


def test_where_a_drive_has_no_second_names_files_are_copied(make_plan, tmp_path, monkeypatch):
    plan = make_plan()
    write_packet(plan, tmp_path / "p", quiet, solids=False)
    before = files(tmp_path / "p")

    def refuses(*_: object) -> None:
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(building.os, "link", refuses)
    (tmp_path / "p" / "buy-list.csv").unlink()
    assert write_packet(plan, tmp_path / "p", quiet, solids=False).made == ("buy-list.csv",)
    assert files(tmp_path / "p") == before


def test_labels_hold_their_words_on_every_paper(make_plan):
    long = named(make_plan(), "Verstärkungsleistenhalterung " * 5)
    for paper in PAPERS.values():
        for page in pypdfium2.PdfDocument(labels(long, paper)):
            assert page.get_size()[0] * 25.4 / 72 == pytest.approx(paper.width, abs=0.05)
