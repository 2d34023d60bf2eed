"""A packet is written whole or not at all: what stood in the folder before survives every failure."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from formwork.errors import GeometryError, OutputError
from formwork.packet.folder import CONTENTS, Listed, write_folder


def fill_with(files: dict[str, str]):
    def fill(folder: Path):
        for name, text in files.items():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_text(text)
        return tuple(Listed(name, "a test file") for name in files)

    return fill


def state(folder: Path) -> dict[str, str]:
    return {p.relative_to(folder).as_posix(): p.read_text() for p in folder.rglob("*") if p.is_file()}


def names(folder: Path) -> list[str]:
    return sorted(p.name for p in folder.iterdir())


def test_a_new_folder_and_its_missing_parents_are_made(tmp_path):
    assert write_folder(tmp_path / "a" / "b", fill_with({"x.txt": "1", "sub/y.txt": "2"})) == ()
    assert state(tmp_path / "a" / "b").keys() == {"x.txt", "sub/y.txt", CONTENTS}
    assert names(tmp_path / "a") == ["b"]


def test_an_older_packet_is_replaced_and_files_it_no_longer_has_go(tmp_path):
    write_folder(tmp_path / "p", fill_with({"x.txt": "old", "gone.txt": "old"}))
    write_folder(tmp_path / "p", fill_with({"x.txt": "new"}))
    assert state(tmp_path / "p").keys() == {"x.txt", CONTENTS}
    assert (tmp_path / "p" / "x.txt").read_text() == "new"


def test_an_empty_folder_is_used(tmp_path):
    (tmp_path / "p").mkdir()
    write_folder(tmp_path / "p", fill_with({"x.txt": "1"}))
    assert "x.txt" in state(tmp_path / "p")


def test_a_persons_own_files_in_a_packet_are_kept(tmp_path):
    write_folder(tmp_path / "p", fill_with({"x.txt": "old"}))
    (tmp_path / "p" / "notes").mkdir()
    (tmp_path / "p" / "notes" / "site.txt").write_text("mind the dog")
    assert write_folder(tmp_path / "p", fill_with({"x.txt": "new"})) == ("notes/site.txt",)
    assert write_folder(tmp_path / "p", fill_with({"x.txt": "newer"})) == ("notes/site.txt",)
    assert (tmp_path / "p" / "notes" / "site.txt").read_text() == "mind the dog"


@pytest.mark.parametrize("clash", [{"mine.txt": "packet's"}, {"mine.txt/inside.txt": "packet's"}])
def test_a_persons_file_where_the_packet_has_one_now_is_not_lost(tmp_path, clash):
    write_folder(tmp_path / "p", fill_with({"x.txt": "old"}))
    (tmp_path / "p" / "mine.txt").write_text("mine")
    before = state(tmp_path / "p")
    with pytest.raises(OutputError, match=r"mine\.txt"):
        write_folder(tmp_path / "p", fill_with({"x.txt": "new", **clash}))
    assert state(tmp_path / "p") == before
    assert names(tmp_path) == ["p"]


def test_a_folder_that_is_no_packet_is_refused(tmp_path):
    (tmp_path / "p").mkdir()
    for name in ("a.txt", "b.txt", "c.txt", "d.txt"):
        (tmp_path / "p" / name).write_text("mine")
    before = state(tmp_path / "p")
    with pytest.raises(OutputError, match=r"a\.txt, b\.txt, c\.txt and 1 more.*name another folder"):
        write_folder(tmp_path / "p", fill_with({"x.txt": "new"}))
    assert state(tmp_path / "p") == before


def test_a_contents_file_of_something_else_makes_no_packet(tmp_path):
    (tmp_path / "p").mkdir()
    (tmp_path / "p" / CONTENTS).write_bytes(b"\xff\xfe junk")
    with pytest.raises(OutputError, match="not of a packet"):
        write_folder(tmp_path / "p", fill_with({"x.txt": "new"}))


@pytest.mark.parametrize(
    "failure", [GeometryError("no room"), OSError(28, "No space left on device"), KeyboardInterrupt()]
)
def test_a_failure_midway_leaves_the_older_packet_whole(tmp_path, failure):
    write_folder(tmp_path / "p", fill_with({"x.txt": "old", "y.txt": "old"}))
    before = state(tmp_path / "p")

    def fails(folder: Path):
        (folder / "x.txt").write_text("half")
        raise failure

    expected = OutputError if isinstance(failure, OSError) else type(failure)
    with pytest.raises(expected):
        write_folder(tmp_path / "p", fails)
    assert state(tmp_path / "p") == before
    assert names(tmp_path) == ["p"]


def test_a_full_drive_is_told_plainly(tmp_path):
    def fails(folder: Path):
        raise OSError(28, "No space left on device")

    with pytest.raises(OutputError, match="no space left on device; nothing there was changed"):
        write_folder(tmp_path / "p", fails)
    assert not (tmp_path / "p").exists()


@pytest.mark.parametrize("failing", [1, 2])
def test_a_failed_rename_leaves_the_older_packet_whole(tmp_path, monkeypatch, failing):
    write_folder(tmp_path / "p", fill_with({"x.txt": "old"}))
    before = state(tmp_path / "p")
    rename, calls = Path.rename, []

    def failing_rename(self, target):
        calls.append(target)
        if len(calls) == failing:
            raise PermissionError(13, "Permission denied")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", failing_rename)
    with pytest.raises(OutputError, match="permission denied"):
        write_folder(tmp_path / "p", fill_with({"x.txt": "new"}))
    monkeypatch.undo()
    assert state(tmp_path / "p") == before
    assert names(tmp_path) == ["p"]


def test_a_packet_left_aside_by_a_run_killed_between_its_renames_comes_back(tmp_path):
    write_folder(tmp_path / "p", fill_with({"x.txt": "old"}))
    (tmp_path / "p" / "mine.txt").write_text("mine")
    aside = tmp_path / ".p-abc-in-writing"
    aside.mkdir()
    (tmp_path / "p").rename(aside / "old")
    assert write_folder(tmp_path / "p", fill_with({"x.txt": "new"})) == ("mine.txt",)
    assert state(tmp_path / "p")["mine.txt"] == "mine"
    assert names(tmp_path) == ["p"]


def test_a_file_in_the_folders_place_is_refused(tmp_path):
    (tmp_path / "p").write_text("mine")
    with pytest.raises(OutputError, match="is a file; name a folder"):
        write_folder(tmp_path / "p", fill_with({"x.txt": "new"}))
    assert (tmp_path / "p").read_text() == "mine"


def test_a_place_below_a_file_is_refused(tmp_path):
    (tmp_path / "p").write_text("mine")
    with pytest.raises(OutputError, match="cannot write"):
        write_folder(tmp_path / "p" / "q", fill_with({"x.txt": "new"}))


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="needs a file system that nobody can write to")
def test_a_place_nobody_can_write_to_is_told_plainly():
    with pytest.raises(OutputError, match="cannot write /proc/packet"):
        write_folder(Path("/proc/packet"), fill_with({"x.txt": "new"}))


@pytest.mark.skipif(os.name != "posix" or os.getuid() == 0, reason="the superuser may write anywhere")
def test_a_read_only_parent_is_told_plainly(tmp_path):
    tmp_path.chmod(0o500)
    try:
        with pytest.raises(OutputError, match="permission denied"):
            write_folder(tmp_path / "p", fill_with({"x.txt": "new"}))
    finally:
        tmp_path.chmod(0o700)


def test_the_folder_one_stands_in_is_refused(tmp_path, monkeypatch):
    (tmp_path / "inside").mkdir()
    monkeypatch.chdir(tmp_path / "inside")
    for folder in (Path(), Path("..")):
        with pytest.raises(OutputError, match="the folder you are in"):
            write_folder(folder, fill_with({"x.txt": "new"}))


def test_a_link_to_a_packet_is_followed_and_stays(tmp_path):
    write_folder(tmp_path / "real", fill_with({"x.txt": "old"}))
    (tmp_path / "link").symlink_to("real", target_is_directory=True)
    write_folder(tmp_path / "link", fill_with({"x.txt": "new"}))
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real" / "x.txt").read_text() == "new"


def test_names_of_folders_may_hold_signs_that_mean_something_to_a_search(tmp_path):
    folder = tmp_path / "[p]*"
    write_folder(folder, fill_with({"x.txt": "old"}))
    write_folder(folder, fill_with({"x.txt": "new"}))
    assert names(tmp_path) == ["[p]*"]
