"""Pipe tables against the rules that their standards and makers follow.

PVC: ASTM D1785, outside diameters and walls as sellers print them; average inside diameter: another seller's table.
EMT: makers' table of outside diameter, wall, inside diameter and weight of 100 ft.
Steel: ASTM A53; that standard weight equals schedule 40 through 10 in, and 12 in has a wall of 0.375 in: a maker's
table. That the steel walls equal those printed for PVC is from memory.
Bends: PVC 250 outside diameters, a maker's note that quotes the PVC pipe handbook.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import pi

import pytest

from formwork.errors import RangeError
from formwork.stock.pipes import (
    KINDS,
    average_inside,
    bend_limit,
    pipe_size,
    pipes,
    trade_sizes,
)

INCH = 0.0254
PVC = trade_sizes("PVC schedule 40")


@pytest.mark.parametrize("size", PVC)
def test_average_inside_diameter_follows_from_the_wall(size):
    """Outside less two mean walls: the least wall and half its tolerance, 0.020 in or 12 % of it, the greater."""
    real = pipe_size("PVC schedule 40", size)
    outside, wall = real.outside / INCH, real.wall / INCH
    mean = wall + max(0.020, 0.12 * wall) / 2.0
    assert average_inside(size) / INCH == pytest.approx(outside - 2.0 * mean, abs=0.0005 + 1e-9)


@pytest.mark.parametrize(
    ("size", "outside"),
    [("1/2", 0.840), ("3/4", 1.050), ("1", 1.315), ("2", 2.375), ("4", 4.500), ("6", 6.625), ("12", 12.750)],
)
def test_pipe_has_one_outside_diameter_whatever_its_wall(size, outside):
    for kind in KINDS:
        if kind != "EMT" and size in trade_sizes(kind):
            assert pipe_size(kind, size).outside / INCH == pytest.approx(outside, abs=1e-9)


@pytest.mark.parametrize(
    ("size", "schedule_40", "schedule_80"),
    [
        ("1/2", 0.109, 0.147),
        ("1", 0.133, 0.179),
        ("2", 0.154, 0.218),
        ("6", 0.280, 0.432),
        ("12", 0.406, 0.687),
    ],
)
def test_walls_of_pvc(size, schedule_40, schedule_80):
    assert pipe_size("PVC schedule 40", size).wall / INCH == pytest.approx(schedule_40, abs=1e-9)
    assert pipe_size("PVC schedule 80", size).wall / INCH == pytest.approx(schedule_80, abs=1e-9)


@pytest.mark.parametrize(
    ("size", "outside", "wall", "inside"),
    [
        ("1/2", 0.706, 0.042, 0.622),
        ("3/4", 0.922, 0.049, 0.824),
        ("1", 1.163, 0.057, 1.049),
        ("1-1/4", 1.510, 0.065, 1.380),
        ("1-1/2", 1.740, 0.065, 1.610),
        ("2", 2.197, 0.065, 2.067),
        ("2-1/2", 2.875, 0.072, 2.731),
        ("3", 3.500, 0.072, 3.356),
    ],
)
def test_emt_as_printed(size, outside, wall, inside):
    real = pipe_size("EMT", size)
    assert (real.outside / INCH, real.wall / INCH) == pytest.approx((outside, wall), abs=1e-9)
    assert (real.outside - 2.0 * real.wall) / INCH == pytest.approx(inside, abs=1e-9)


@pytest.mark.parametrize(
    ("size", "pounds"), [("1/2", 30), ("3/4", 46), ("1", 67), ("1-1/4", 101), ("1-1/2", 116)]
)
def test_emt_weighs_what_its_steel_weighs(size, pounds):
    """Printed weights are whole pounds for 100 ft; 1069 (OD - t) t is steel at 0.2836 lb/in3."""
    real = pipe_size("EMT", size)
    steel = pi * (real.outside - real.wall) * real.wall / INCH**2 * 1200.0 * 0.2836
    assert steel == pytest.approx(1069.0 * (real.outside - real.wall) * real.wall / INCH**2, rel=1e-3)
    assert steel == pytest.approx(pounds, abs=0.8)


def test_conduit_is_not_pipe():
    """A page that gives 3/4 in conduit as 1.050 in across has taken it from the pipe table."""
    for size in ("1/2", "3/4", "1"):
        assert pipe_size("EMT", size).outside < pipe_size("steel standard", size).outside


def test_steel_walls_equal_schedule_40_through_10_in_and_not_at_12():
    """That these are equal to the PVC walls is from memory; that 12 in has 0.375 in is a maker's table."""
    for size in trade_sizes("steel standard"):
        steel, plastic = pipe_size("steel standard", size).wall, pipe_size("PVC schedule 40", size).wall
        assert (steel == pytest.approx(plastic)) == (size != "12")
    assert pipe_size("steel standard", "12").wall / INCH == pytest.approx(0.375, abs=1e-9)


@pytest.mark.parametrize(("size", "feet"), [("1/2", 17.5), ("3/4", 21.9), ("1", 27.4)])
def test_lasting_bend_of_pvc(size, feet):
    """250 outside diameters, which is E / 2S with E = 400 ksi and S = 800 psi."""
    real = pipe_size("PVC schedule 40", size)
    limit = bend_limit("PVC schedule 40", size, real.outside)
    assert limit is not None
    assert limit.radius / 0.3048 == pytest.approx(feet, abs=0.05)
    assert limit.radius / real.outside == pytest.approx(400_000 / (2 * 800))


def test_one_shot_bends_of_conduit():
    """A page prints 4.016, 4.489, 5.748, 7.244, 8.268, 9.488, 10.512, 12.992, 14.606, 15.984 in, from millimetres."""
    printed = (4.016, 4.489, 5.748, 7.244, 8.268, 9.488, 10.512, 12.992, 14.606, 15.984)
    for size, radius in zip(trade_sizes("EMT"), printed, strict=True):
        limit = bend_limit("EMT", size, pipe_size("EMT", size).outside)
        assert limit is not None
        assert limit.radius / INCH == pytest.approx(radius, abs=0.4 if size == "3-1/2" else 0.02)


def test_no_limit_is_made_up():
    assert bend_limit("steel standard", "1", 0.0334) is None
    assert bend_limit("bamboo", "", 0.04) is None


@pytest.mark.parametrize("units", ["in", "mm"])
def test_the_yard_sells_only_what_the_tables_hold(units):
    found = pipes(units)
    assert len({one.name for one in found}) == len(found)
    for one in found:
        real = pipe_size(one.material, one.nominal)
        assert (one.thickness, one.width, one.wall) == (real.outside, real.outside, real.wall)
        assert 0.0 < 2.0 * one.wall < one.thickness
        assert all(length.length >= 3.0 for length in one.lengths)


@pytest.mark.parametrize("kind", KINDS)
def test_sizes_rise_and_walls_leave_a_bore(kind):
    reals = [pipe_size(kind, size) for size in trade_sizes(kind)]
    assert all(a.outside < b.outside for a, b in pairwise(reals))
    assert all(2.0 * real.wall < real.outside for real in reals)
    sizes = [sum(Fraction(part) for part in size.split("-")) for size in trade_sizes(kind)]
    assert sizes == sorted(sizes)


def test_what_no_table_holds_is_refused():
    with pytest.raises(RangeError, match="EMT: got trade size '5/8', want one of 1/2, 3/4"):
        pipe_size("EMT", "5/8")
    with pytest.raises(RangeError, match="kind of pipe: got 'copper'"):
        pipe_size("copper", "1/2")
    with pytest.raises(RangeError, match="got trade size '7'"):
        average_inside("7")
