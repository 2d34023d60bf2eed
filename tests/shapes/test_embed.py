"""What stays in a piece: cut lengths, displaced volume and mass against hand arithmetic and a published bar table."""

from __future__ import annotations

from math import pi

import pytest

from formwork.errors import GeometryError
from formwork.shapes import slab
from formwork.shapes.piece import Embedded
from tests.drawn import parameters, single

SLAB = {"length": 600, "width": 400, "thickness": 50}


def embedded(**keys: object) -> Embedded:
    piece = single(slab.SHAPE, parameters(slab.SHAPE, {**SLAB, "embed": [keys]}), "slab")
    return piece.embedded[0]


def test_bars_are_cut_to_the_piece_less_its_cover() -> None:
    bar = embedded(kind="bar", diameter=6, count=3, cover=20)
    assert bar.length == pytest.approx(0.56)
    assert bar.volume == pytest.approx(3 * pi * 0.003**2 * 0.56)
    assert bar.metal


@pytest.mark.parametrize(
    ("diameter", "pounds"), [("0.375 in", 0.376), ("0.500 in", 0.668), ("0.625 in", 1.043)]
)
def test_bar_mass_against_the_printed_table(diameter: str, pounds: float) -> None:
    """Weight of #3, #4, #5 bars, lb/ft, from a published bar table (0.376, 0.668, 1.043)."""
    bar = embedded(kind="bar", diameter=diameter, count=1, cover=10)
    per_foot = bar.mass / 0.45359237 / (bar.length / 0.3048)
    assert per_foot == pytest.approx(pounds, abs=0.002)


def test_mesh_is_cut_all_round_and_counts_its_wires() -> None:
    mesh = embedded(kind="mesh", pitch=40, wire=2, cover=20)
    assert (mesh.length, mesh.width) == pytest.approx((0.56, 0.36))
    wires = (0.36 / 0.04 + 1) * 0.56 + (0.56 / 0.04 + 1) * 0.36
    assert mesh.volume == pytest.approx(pi * 0.001**2 * wires)
    assert not mesh.metal


def test_fibres_by_dose() -> None:
    fibres = embedded(kind="fibres", dose="0.9 kg/m3")
    assert fibres.mass == pytest.approx(0.9 * 0.6 * 0.4 * 0.05)
    assert fibres.volume == pytest.approx(fibres.mass / 910.0)


def test_loops_and_sleeves_displace_their_own_volume() -> None:
    loop = embedded(kind="loop", diameter=8, length=400)
    assert loop.count == 2
    assert loop.volume == pytest.approx(2 * pi * 0.004**2 * 0.4)
    sleeve = embedded(kind="sleeve", outside=25, length=50, count=4)
    assert sleeve.volume == pytest.approx(4 * pi * 0.0125**2 * 0.05)


@pytest.mark.parametrize(
    "keys",
    [
        {"kind": "bar", "diameter": 10, "count": 1, "cover": 30},
        {"kind": "bar", "diameter": 10, "count": 1, "along": "height", "cover": 25},
        {"kind": "mesh", "pitch": 200, "wire": 4, "cover": 150},
    ],
)
def test_what_does_not_fit_with_its_cover_is_refused(keys: dict[str, object]) -> None:
    with pytest.raises(GeometryError, match="cover"):
        embedded(**keys)
