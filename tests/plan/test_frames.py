"""Projects with frames: alone, without a mix, and beside pieces; balances from struts to sticks, print and JSON."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from formwork.cli.commands import commands
from formwork.cli.outcome import run
from formwork.errors import InputError
from formwork.packet.document import document
from formwork.packet.sections import sections
from formwork.packet.text import print_out
from formwork.packet.write import write_packet
from formwork.plan import Plan, plan
from formwork.project.read import read_project

DOME = '[[piece]]\nname = "bean house"\nshape = "pipe dome"\nradius = 2000\nfrequency = {n}\ncount = 2\n'
SLAB = '[mix]\nwet_density = 800\n[[piece]]\nshape = "slab"\nlength = 400\nwidth = 300\nthickness = 50\n'


def planned(folder: Path, text: str) -> Plan:
    path = folder / "project.toml"
    path.write_text('units = "mm"\n' + text, encoding="utf-8")
    return plan(read_project(path))


def test_a_project_of_frames_needs_no_mix(tmp_path: Path) -> None:
    found = planned(tmp_path, DOME.format(n=2))
    assert (found.mix, found.pieces, found.molds, found.pours, found.sheets) == (None, (), (), (), ())
    assert [frame.name for frame in found.frames] == ["bean house"]
    assert found.checks and all(check.ok for check in found.checks)


@pytest.mark.parametrize("n", range(1, 7))
def test_every_strut_is_cut_from_a_stick(tmp_path: Path, n: int) -> None:
    """Struts of both frames, and their lengths with a kerf each, against what the sticks hold."""
    found = planned(tmp_path, DOME.format(n=n))
    frame = found.frames[0].frame
    wanted = {f"1{member.name}": 2 * len(member.joins) for member in frame.members}
    assert {line.label: line.quantity for line in found.cut_list} == wanted
    cut: dict[str, int] = {}
    for layout in found.sticks:
        assert layout.stock.wall > 0.0
        for label, _ in layout.cuts:
            cut[label] = cut.get(label, 0) + layout.count
        used = sum(length + 0.003 for _, length in layout.cuts) + 2 * 0.005
        assert used <= layout.length + 0.003
    assert cut == wanted
    bought = {line.item.split(",")[0]: line.quantity for line in found.buy}
    assert bought["EMT 3/4"] == sum(layout.count for layout in found.sticks)
    assert bought["bolt"] == 2 * len(frame.nodes)


def test_a_frame_beside_pieces(tmp_path: Path) -> None:
    found = planned(tmp_path, SLAB + DOME.format(n=3))
    assert found.mix and found.pours and len(found.molds) == len(found.pieces) == len(found.frames) == 1
    labels = [line.label for line in found.cut_list]
    assert len(set(labels)) == len(labels)
    assert {"A1", "1A", "1B", "1C"} <= set(labels)
    text = print_out(sections(found))
    assert "To cast: 1 slab." in text and "To build: 2 bean house." in text


def test_the_print_leaves_out_what_is_not_there(tmp_path: Path) -> None:
    found = planned(tmp_path, DOME.format(n=3))
    names = [section.name for section in sections(found, working=True)]
    assert "frames" in names
    assert not {"pieces", "molds", "mix", "pours", "stripping", "mix-working"} & set(names)
    text = print_out(sections(found, working=True))
    assert "pipes: a usual yard's" in text and "cement" not in text and "foam" not in text


def test_a_project_of_slabs_does_not_speak_of_pipe(tmp_path: Path) -> None:
    assert "pipe" not in print_out(sections(planned(tmp_path, SLAB), working=True))


def test_json_of_a_frame(tmp_path: Path) -> None:
    made = document(planned(tmp_path, DOME.format(n=2)))
    assert (made["mix"], made["pieces"], made["molds"], made["pours"]) == (None, [], [], [])
    frame = made["frames"][0]
    assert frame["count"] == 2 and frame["method"] == "framed"
    assert [(pipe["class"], pipe["count"]) for pipe in frame["pipes"]] == [("A", 30), ("B", 35)]
    assert [len(pairs) for pairs in frame["joins"].values()] == [30, 35]
    assert frame["pipes"][1]["length_mm"] == pytest.approx(1236.068, abs=5e-4)
    assert len(frame["nodes_mm"]) == 26
    pipes = [part for part in made["parts"] if part["kind"] == "pipe"]
    assert [part["label"] for part in pipes] == ["1A", "1B"]
    assert pipes[0]["outside_diameter_mm"] == pytest.approx(0.922 * 25.4)
    assert pipes[0]["wall_mm"] == pytest.approx(0.049 * 25.4)
    assert set(made["bounds"]["sticks"]) == {"EMT 3/4"}


def test_the_packet_of_a_frame(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_packet(planned(tmp_path, DOME.format(n=1)), out, lambda _: None)
    found = {path.relative_to(out).as_posix() for path in out.rglob("*") if path.is_file()}
    assert {f"frames/bean-house-frame.{ending}" for ending in ("svg", "dxf", "step", "glb")} <= found
    assert "batches.csv" not in found
    page = (out / "index.html").read_text(encoding="utf-8")
    assert "bean house, the frame" in page and 'id="mix"' not in page


def test_what_is_cast_still_needs_its_mix(tmp_path: Path) -> None:
    for text in (
        SLAB.partition("[[piece]]")[1] + SLAB.partition("[[piece]]")[2],
        DOME.format(n=2) + "[[piece]]\n",
    ):
        with pytest.raises(InputError, match=r"mix: got nothing, want a \[mix\] table"):
            planned(tmp_path, text)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ("frequency = 0", "frequency: got 0, want a whole number from 1 to 6"),
        ("frequency = 7", "frequency: got 7, want a whole number from 1 to 6"),
        ('frequency = 3\ncut = "1/2"', "equator runs through the middle of a band"),
        ("frequency = 2\ncut = 0.5", "cut: got 0.5"),
        ('frequency = 2\npipe = "EMT 9"', "pipe: got 'EMT 9', want one of EMT 3/4"),
        ("frequency = 2\ngang = 2", "gang: got an unknown key"),
        ("frequency = 2\nmolds = 2", "molds: got 2, want nothing: a pipe dome is built, there is no mold"),
        ('frequency = 2\nmold = { base = "runs past" }', 'mold.base: got "runs past", want nothing'),
        ('frequency = 2\nmold = { method = "panelled" }', "method: got .panelled., want framed"),
    ],
)
def test_each_mistake_has_its_own_message(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], change: str, said: str
) -> None:
    path = tmp_path / "dome.toml"
    text = f'units = "mm"\n[[piece]]\nshape = "pipe dome"\nradius = 2000\n{change}\n'
    path.write_text(text, encoding="utf-8")
    assert run(commands, ["plan", str(path)]) == 2
    message = capsys.readouterr().err
    assert re.search(said, message) and "dome.toml:" in message and "Traceback" not in message
