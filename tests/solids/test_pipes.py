"""Solids of frames: the kernel's volume against section times length (straight) and Pappus (bent), and the files."""

from __future__ import annotations

from math import pi

import pytest

from formwork.molds.design import line
from formwork.molds.structure import BuiltFrame
from formwork.project.records import MoldOptions, PieceOrder
from formwork.shapes.parameters import Keys
from formwork.shapes.shape import Shape
from formwork.solids import kernel, write_glb, write_step
from formwork.solids.pipes import frame_model
from tests.drawn import frame_samples
from tests.workshop import shop


def built(shape: Shape, keys: Keys) -> BuiltFrame:
    order = PieceOrder("dome", shape.name, keys, 1, 1, MoldOptions("framed"))
    made = line(order, shop(), None, "mm")[0]
    assert isinstance(made, BuiltFrame)
    return made


SMALL = [(shape, keys) for shape, keys in frame_samples() if getattr(keys, "frequency", 1) <= 3]


@pytest.mark.parametrize(("shape", "keys"), SMALL)
def test_volume_is_section_times_length_of_the_centre_line(shape: Shape, keys: Keys) -> None:
    found = built(shape, keys)
    frame, pipe = found.frame, found.pipe
    section = pi * (pipe.width - pipe.wall) * pipe.wall
    straight = sum(len(m.joins) * (m.length - 2 * (m.flat - m.beyond)) for m in frame.members)
    bent = sum(len(arc.lines) * arc.length for arc in frame.bent)
    assert frame_model(found).volume() == pytest.approx(section * (straight + bent), rel=1e-6)


@pytest.mark.parametrize(("shape", "keys"), SMALL)
def test_every_pipe_stands_where_its_line_runs(shape: Shape, keys: Keys) -> None:
    found = built(shape, keys)
    model = frame_model(found)
    half = found.pipe.width / 2
    paths = [
        [found.frame.nodes[a], found.frame.nodes[b]] for m in found.frame.members for a, b in m.joins
    ] + [list(path) for arc in found.frame.bent for path in arc.lines]
    assert len({body.name for body in model.bodies}) == len(model.bodies) == len(paths)
    for body, path in zip(model.bodies, paths, strict=True):
        points = kernel.mesh(body.solid, 1e-3, 0.3).points
        for axis in range(3):
            low, high = min(p[axis] for p in path) - half, max(p[axis] for p in path) + half
            assert low - 2e-3 <= min(p[axis] for p in points)
            assert max(p[axis] for p in points) <= high + 2e-3


def test_the_files_are_written(tmp_path) -> None:
    shape, keys = SMALL[0]
    model = frame_model(built(shape, keys))
    write_step(tmp_path / "frame.step", model)
    write_glb(tmp_path / "frame.glb", model)
    assert kernel.volume(kernel.read_step(tmp_path / "frame.step")) == pytest.approx(model.volume(), rel=1e-6)
    assert (tmp_path / "frame.glb").read_bytes()[:4] == b"glTF"
