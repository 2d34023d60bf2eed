"""A second run makes what changed and nothing else; nothing stale stays, nothing a person wrote is lost."""

from __future__ import annotations

import csv
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from formwork.packet import keys
from formwork.packet.folder import CONTENTS
from formwork.packet.keys import Keys
from formwork.packet.papers import PAPERS
from formwork.packet.write import documents, write_packet
from formwork.plan import plan as planned
from formwork.project.read import read_project
from formwork.shipped import shelf

EXAMPLES = sorted(path for path in shelf("examples").glob("*.toml") if not path.stem.endswith("shop"))
READ_ALL = {"job-sheet.txt", "plan.json", "job-sheets.pdf", "index.html"}
"""Documents that show everything of a plan."""


def quiet(_: str) -> None:
    """No progress is wanted."""


def files(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.fixture
def folder(tmp_path, make_plan) -> Path:
    write_packet(make_plan(), tmp_path / "p", quiet, solids=False)
    return tmp_path / "p"


def again(plan, folder: Path, **changes) -> set[str]:
    return set(write_packet(plan, folder, quiet, solids=False, **changes).made)


def test_where_nothing_changed_nothing_is_touched(folder, make_plan):
    before = {path: path.stat().st_mtime_ns for path in [folder, *folder.rglob("*")]}
    assert again(make_plan(), folder) == set()
    assert {path: path.stat().st_mtime_ns for path in [folder, *folder.rglob("*")]} == before


def test_a_price_goes_to_the_lists_that_show_prices(folder, make_plan):
    plan = make_plan()
    dearer = replace(plan, buy=(replace(plan.buy[0], cost=60.0), *plan.buy[1:]))
    assert again(dearer, folder) == READ_ALL | {"buy-list.csv"}


def test_the_price_of_a_sheet_draws_nothing_anew(folder, make_plan):
    plan = make_plan()
    (layout,) = plan.sheets
    dearer = replace(plan, sheets=(replace(layout, stock=replace(layout.stock, price=60.0)),))
    assert again(dearer, folder) == READ_ALL


def test_a_batch_goes_to_the_batch_list(folder, make_plan):
    plan = make_plan()
    (batch,) = plan.pours[0].batches
    wetter = replace(plan.pours[0], batches=(replace(batch, water=6.0),))
    assert again(replace(plan, pours=(wetter, *plan.pours[1:])), folder) == READ_ALL | {"batches.csv"}


def test_a_changed_mold_is_drawn_anew_and_the_piece_is_not(folder, make_plan):
    plan = make_plan()
    (mold,) = plan.molds
    parts = (*mold.parts[:-1], replace(mold.parts[-1], good_face="both"))
    made = again(replace(plan, molds=(replace(mold, parts=parts),)), folder)
    names = ("slab-mold", "slab-mold-details", "slab-mold-apart")
    drawing = {f"molds/{name}.{ending}" for name in names for ending in ("dxf", "svg", "png")}
    assert made == READ_ALL | drawing | {"labels.pdf"}


def test_another_place_of_a_part_on_its_sheet_draws_that_sheet_anew(folder, make_plan):
    plan = make_plan()
    (layout,) = plan.sheets
    (part,) = layout.placed
    moved = replace(plan, sheets=(replace(layout, placed=(replace(part, x=0.02),)),))
    assert again(moved, folder) == READ_ALL | {f"sheets/sheet-1.{ending}" for ending in ("dxf", "svg", "png")}


def test_another_title_changes_every_document_that_bears_it(folder, make_plan):
    plan = make_plan()
    made = again(replace(plan, project=replace(plan.project, title="Yard")), folder)
    assert {"labels.pdf", "molds/slab-mold.dxf", "pieces/slab-piece.svg", "sheets/sheet-1.png"} <= made


def test_other_paper_is_printed_on_and_nothing_is_drawn_anew(folder, make_plan):
    made = again(make_plan(), folder, paper=PAPERS["A3"])
    assert {"job-sheets.pdf", "labels.pdf"} <= made
    assert not [name for name in made if "/" in name]


def test_what_is_made_anew_is_as_in_a_new_packet(folder, make_plan, tmp_path):
    plan = make_plan()
    other = replace(plan, cautions=("Mind the dog.",), buy=plan.buy[:1])
    again(other, folder)
    write_packet(other, tmp_path / "new", quiet, solids=False)
    assert files(folder) == files(tmp_path / "new")


def test_a_missing_file_is_made_again(folder, make_plan):
    before = files(folder)
    (folder / "molds" / "slab-mold.svg").unlink()
    assert again(make_plan(), folder) == {f"molds/slab-mold.{ending}" for ending in ("dxf", "svg", "png")}
    assert files(folder) == before


def test_an_emptied_file_is_made_again_and_nothing_kept_of_it(folder, make_plan):
    before = files(folder)
    (folder / "labels.pdf").write_bytes(b"")
    assert again(make_plan(), folder) == {"labels.pdf"}
    assert files(folder) == before


def test_a_file_that_a_person_changed_is_made_again_and_theirs_is_kept_beside_it(folder, make_plan):
    before = files(folder)
    (folder / "cut-list.csv").write_text("with my notes")
    written = write_packet(make_plan(), folder, quiet, solids=False)
    assert written.made == ("cut-list.csv",) and written.changed == ("cut-list.csv",)
    assert written.kept == ("cut-list-changed.csv",)
    assert files(folder) == before | {"cut-list-changed.csv": b"with my notes"}
    (folder / "cut-list.csv").write_text("with other notes")
    assert write_packet(make_plan(), folder, quiet, solids=False).kept == (
        "cut-list-changed.csv",
        "cut-list-changed-2.csv",
    )
    assert files(folder)["cut-list-changed-2.csv"] == b"with other notes"


def test_files_of_a_piece_that_is_no_longer_cast_go(folder, make_plan):
    plan = make_plan()
    (mold,) = plan.molds
    other = replace(mold, piece=replace(mold.piece, name="flag"))
    again(replace(plan, molds=(other,)), folder)
    assert not (folder / "pieces" / "slab-piece.dxf").exists()
    assert (folder / "pieces" / "flag-piece.dxf").exists()


def test_another_program_makes_everything_anew(folder, make_plan, monkeypatch):
    monkeypatch.setattr("formwork.packet.documents.program", lambda: "another version")
    assert again(make_plan(), folder) == set(files(folder)) - {CONTENTS}


def test_the_key_of_the_program_is_that_of_every_line_of_it(tmp_path, monkeypatch):
    """A copy of a few of its files: a changed line, table or page template is another program."""
    package = tmp_path / "formwork"
    (package / "packet").mkdir(parents=True)
    (package / "packet" / "keys.py").write_text("x = 1\n")
    (package / "table.csv").write_text("a,1\n")
    (tmp_path / "templates").mkdir()
    page = tmp_path / "templates" / "page.typ"
    page.write_text("= Title\n")
    monkeypatch.setattr(keys, "__file__", str(package / "packet" / "keys.py"))
    monkeypatch.setattr("formwork.shipped.shelf", lambda name: tmp_path / name)
    seen = {keys.program.__wrapped__()}
    for path, text in ((package / "table.csv", "a,2\n"), (page, "= Titel\n"), (package / "new.py", "")):
        path.write_text(text)
        seen.add(keys.program.__wrapped__())
    assert len(seen) == 4


def test_the_contents_of_an_older_program_are_understood_and_nothing_in_them_is_trusted(folder, make_plan):
    path = folder / CONTENTS
    rows = list(csv.reader(path.read_text(encoding="utf-8").splitlines()))
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(row[:2] for row in rows)
    (folder / "mine.txt").write_text("mine")
    written = write_packet(make_plan(), folder, quiet, solids=False)
    assert len(written.made) == written.count and written.kept == ("mine.txt",)


def test_contents_that_name_files_elsewhere_reach_nothing_outside(folder, make_plan):
    (folder.parent / "secret.txt").write_text("secret")
    with (folder / CONTENTS).open("a", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerow(["../secret.txt", "a list", "0" * 64, "0" * 32])
    (folder / "labels.pdf").unlink()
    written = write_packet(make_plan(), folder, quiet, solids=False)
    assert written.kept == () and (folder.parent / "secret.txt").read_text() == "secret"
    assert not [name for name in files(folder.parent) if "secret-changed" in name]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_keys_are_the_same_in_another_process(path):
    """With another seed for the order of sets, and after the plan has been looked at from all sides."""
    made = planned(read_project(path))
    here = [one.key for one in documents(made)]
    (
        repr(made),
        made == planned(read_project(path)),
        [part.cells for mold in made.molds for part in mold.parts],
    )
    assert [one.key for one in documents(made)] == here
    if path.stem not in ("tapered-planter", "gate-arch", "pipe-dome"):
        return
    code = (
        "from pathlib import Path; from formwork.plan import plan; from formwork.project.read import read_project\n"
        f"from formwork.packet.write import documents; made = plan(read_project(Path({str(path)!r})))\n"
        "print(*[one.key for one in documents(made)])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONHASHSEED": "7", "PYTHONPATH": str(Path(keys.__file__).parents[2])},
    )
    assert done.stdout.split() == here


def test_two_processes_write_the_same_bytes_whatever_their_seed(tmp_path):
    """The whole packet with solids, pictures and prints, by the command itself; its contents hold keys of the program."""
    command = "from formwork.cli import main; main()"
    project = str(shelf("examples") / "tapered-planter.toml")
    found = []
    for seed in ("1", "2"):
        environment = {"PYTHONHASHSEED": seed, "PYTHONPATH": str(Path(keys.__file__).parents[2])}
        out = str(tmp_path / seed)
        arguments = [sys.executable, "-c", command, "packet", project, "-o", out]
        subprocess.run(arguments, env=environment, capture_output=True, check=True)
        found.append({name: data for name, data in files(tmp_path / seed).items() if name != CONTENTS})
    assert {Path(name).suffix for name in found[0]} >= {
        ".step",
        ".3mf",
        ".glb",
        ".stl",
        ".png",
        ".pdf",
        ".dxf",
    }
    assert found[0] == found[1]


def test_equal_values_have_one_key_and_others_another(plan, make_plan):
    assert Keys().key(plan) == Keys().key(make_plan())
    shared = (plan.molds[0], plan.molds[0])
    assert Keys().key(shared) == Keys().key((plan.molds[0], make_plan().molds[0]))
    nudged = replace(plan, pieces=(replace(plan.pieces[0], volume=0.012000000000000002),))
    assert Keys().key(nudged) != Keys().key(plan)
    assert Keys().key(1.0) != Keys().key(1) and Keys().key("1") != Keys().key(1)


def test_what_cannot_be_told_by_value_is_refused():
    with pytest.raises(Exception, match="pickle"):
        Keys().key(lambda: None)
