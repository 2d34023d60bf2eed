"""Files as they come: missing, broken, huge, of other encodings, and with several lines that are no TOML."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.project.load import LARGEST, load, parse


def only(path: Path):
    source = load(path)
    assert not source.usable and len(source.faults) == 1
    return source.faults[0]


def test_a_good_file(tmp_path):
    path = tmp_path / "a.toml"
    path.write_text('title = "x"\n[[piece]]\nwall = 2\n')
    source = load(path)
    assert source.usable and source.faults == ()
    assert source.data == {"title": "x", "piece": [{"wall": 2}]}
    assert source.where(("piece", 0, "wall")) == f"{path}:3"
    assert source.where(("nothing",)) == str(path)


@pytest.mark.parametrize("content", [b"", b"# only a comment\n\n", b"\xef\xbb\xbf# a byte order mark\r\n"])
def test_empty_files_are_read(tmp_path, content):
    path = tmp_path / "a.toml"
    path.write_bytes(content)
    assert load(path).usable and load(path).data == {}


def test_byte_order_mark_and_windows_line_ends(tmp_path):
    path = tmp_path / "a.toml"
    path.write_bytes(b'\xef\xbb\xbftitle = "x"\r\n[mix]\r\nsand = 1\r\n')
    source = load(path)
    assert source.data == {"title": "x", "mix": {"sand": 1}}
    assert source.where(("mix", "sand")).endswith(":3")


def test_missing_file_and_a_near_name(tmp_path):
    (tmp_path / "planter.toml").write_text("")
    fault = only(tmp_path / "plantar.toml")
    assert fault.got == "no such file" and "planter.toml" in fault.hint
    assert only(tmp_path / "no" / "folder.toml").hint == ""


def test_a_folder(tmp_path):
    assert only(tmp_path).got == "a folder"


def test_another_encoding(tmp_path):
    path = tmp_path / "a.toml"
    path.write_bytes('title = "größer"'.encode("latin-1"))
    assert "UTF-8" in only(path).got and "byte 12" in only(path).got


def test_bytes_of_any_kind(tmp_path):
    path = tmp_path / "a.toml"
    path.write_bytes(bytes(range(256)))
    assert not load(path).usable


def test_a_huge_file(tmp_path):
    path = tmp_path / "a.toml"
    path.write_text("#" * (LARGEST + 1))
    assert "bytes" in only(path).got


def test_an_unreadable_file(tmp_path, monkeypatch):
    def refuse(self: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    path = tmp_path / "a.toml"
    path.write_text("")
    monkeypatch.setattr(Path, "read_bytes", refuse)
    assert only(path).got == "a file that cannot be read: Permission denied"


def test_a_name_no_system_allows():
    assert only(Path("a\0.toml")).want


@pytest.mark.parametrize(
    "text", ["a = " + "[" * 20_000, "a = " + "[" * 20_000 + "]" * 20_000, "a = " + "9" * 5000]
)
def test_depth_and_length_beyond_reading(text):
    source = parse(text, "a.toml")
    assert not source.usable and source.faults


def test_every_line_that_is_no_toml_is_named_and_the_rest_is_read():
    text = 'title = "x"\nwall = 2 in\nfloor = 1,5\nheight = "18""\ntitle = "again"\n[mix]\nsand = 1\n'
    source = parse(text, "a.toml")
    assert [fault.where for fault in source.faults] == ["a.toml:2", "a.toml:3", "a.toml:4", "a.toml:5"]
    assert [fault.key for fault in source.faults] == ["wall", "floor", "height", "title"]
    assert source.usable and source.data == {"title": "x", "mix": {"sand": 1}}
    hints = [fault.hint for fault in source.faults]
    assert hints[0] == 'what is not a plain number stands in quotes: wall = "2 in"'
    assert hints[1] == "write a decimal point: floor = 1.5"
    assert "single quotes" in hints[2] and "already given" in hints[3]


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ("wall = '2'-6 1/2\"'", "2 ft 6 1/2 in"),
        ('wall = "2\'-6 1/2""', "2 ft 6 1/2 in"),
        ('wall = "23-1/2""', "single quotes"),
        ('wall = 23-1/2"', "quotes: wall = '23-1/2\"'"),
        ("wall = 23 1/2", 'quotes: wall = "23 1/2"'),
        ("wall = 1/2 in # thick", 'quotes: wall = "1/2 in"'),
        ("wall = 0,5", "decimal point: wall = 0.5"),
        ("title = \u201cPlanter\u201d", 'straight quotes, as a plain text editor does: title = "Planter"'),
        ("wall = \u201c15 in\u201d", 'wall = "15 in"'),
        ('title = "Planter', 'not closed: put another " at its end'),
        ('shop = "C:\\yard\\shop.toml"', "write / for every backslash"),
    ],
)
def test_what_a_broken_line_should_have_been(line, hint):
    (fault,) = parse(f'title = "x"\n{line}\n', "a.toml").faults
    assert fault.where == "a.toml:2" and hint in fault.hint


def test_an_open_quote_or_bracket_is_said_at_the_end():
    for text in ('a = """\nb = 1\n', "a = [1,\n2\n"):
        source = parse(text, "a.toml")
        assert not source.usable and "open" in source.faults[0].hint + source.faults[0].got


def test_a_broken_heading_ends_the_reading():
    source = parse("a = 1 2\n[piece\nwall = 3\n", "a.toml")
    assert [fault.where for fault in source.faults] == ["a.toml:1", "a.toml:2"]
    assert not source.usable


@settings(max_examples=300)
@given(st.text(alphabet="ab=[]{}\"'\n\r\t #.,123\\", max_size=60))
def test_no_text_makes_it_fail(text):
    source = parse(text, "a.toml")
    assert source.usable or source.faults


def test_control_signs_of_a_broken_file_do_not_reach_the_terminal():
    source = parse("a = \x1b[31m red\nb = 1 \x07\n", "a.toml")
    assert source.faults
    assert all(str(fault).isprintable() for fault in source.faults)
