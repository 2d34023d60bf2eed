"""Costs: shares come to what is bought, and other numbers of molds come to the job that they would be."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from formwork.cutting.costs import mix_cost, mold_cost
from formwork.cutting.layouts import Layouts
from formwork.plan import plan
from formwork.project.read import read_project

ROOT = Path(__file__).parents[2]
SHOP = (ROOT / "examples" / "workshop.toml").read_text(encoding="utf-8")
PROJECT = """
units = "in"
shop = "shop.toml"
[mix]
wet_density = "50 lb/ft3"
[[piece]]
name = "tub"
shape = "planter"
count = 5
{spares}
molds = 2
length = 20
width = 14
height = 12
wall = 1.5
floor = 1.5
[[piece]]
name = "step"
shape = "slab"
count = 7
{spares}
molds = 1
length = 16
width = 16
thickness = 2
"""
SEALANT = '\n[[hardware]]\nitem = "sealant"\nunit = "tube"\nper = 8\nprice = 6.00\n'


def made(folder: Path, spares: str = ""):
    (folder / "shop.toml").write_text(SHOP + SEALANT, encoding="utf-8")
    (folder / "job.toml").write_text(PROJECT.format(spares=spares), encoding="utf-8")
    return plan(read_project(folder / "job.toml"))


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    return made(tmp_path_factory.mktemp("job"))


def test_shares_of_molds_come_to_what_sheets_and_sticks_cost(job):
    """The buy list counts whole sheets and sticks; the molds' shares of them are the same money."""
    layouts = Layouts(job.sheets, job.sticks, job.bounds)
    shares = sum(mold_cost(mold, job.cut_list, layouts, ()).amount * mold.copies for mold in job.molds)
    bought = sum(line.cost for line in job.buy if line.unit in ("sheet", "stick"))
    assert bought > 0.0
    assert shares == pytest.approx(bought, rel=1e-9)


def test_hardware_is_counted_by_what_is_used_of_it(job):
    """A tube for 6.00 seals 8 m."""
    layouts = Layouts(job.sheets, job.sticks, job.bounds)
    for mold in job.molds:
        sealed, without = (
            mold_cost(mold, job.cut_list, layouts, stock) for stock in (job.project.shop.hardware, ())
        )
        metres = sum(thing.quantity for thing in mold.hardware if thing.item == "sealant")
        assert sealed.amount - without.amount == pytest.approx(metres * 0.75, rel=1e-9)
        assert "sealant" in without.unpriced and "sealant" not in sealed.unpriced


def test_a_mold_in_the_shop_costs_nothing(job):
    layouts = Layouts(job.sheets, job.sticks, job.bounds)
    owned = replace(job.molds[0], owned=True)
    assert mold_cost(owned, job.cut_list, layouts, ()).amount == 0.0


def test_the_mix_of_all_pieces_is_the_mix_that_is_bought(job):
    costs = {one.name: one for one in job.job.costs}
    whole = sum(costs[piece.order.name].mix * piece.order.cast for piece in job.pieces)
    bought = [line for line in job.buy if line.unit.startswith("bag of") or line.unit == "L"]
    assert whole == pytest.approx(sum(line.cost or 0.0 for line in bought), rel=1e-9)
    assert mix_cost((), 1.0, 2.0).amount == 0.0


def test_a_piece_bears_its_share_of_its_molds(job):
    tub = next(one for one in job.job.costs if one.name == "tub")
    assert (tub.molds, tub.over) == (2, 5)
    assert tub.total == pytest.approx(tub.mix + 2 * tub.mold / 5, rel=1e-12)


def test_the_planned_alternative_is_the_plan(job):
    (planned,) = [one for one in job.job.alternatives if one.planned]
    assert planned.molds == (("tub", 2), ("step", 1))
    assert (planned.pours, planned.cast, planned.done) == (
        len(job.pours),
        job.job.calendar.cast,
        job.job.calendar.done,
    )
    assert planned.mold_cost == pytest.approx(sum(one.mold * one.molds for one in job.job.costs), rel=1e-12)


def test_more_molds_take_fewer_pours_and_cost_more(job):
    others = [one for one in job.job.alternatives if not one.planned]
    assert [dict(one.molds)["step"] for one in others] == [1, 2, 3, 4]
    for fewer, more in pairwise(others):
        assert more.pours < fewer.pours and more.cast <= fewer.cast and more.mold_cost > fewer.mold_cost


def test_spares_are_cast_counted_and_paid(tmp_path, job):
    """Two more of each: 7 tubs in two molds are 4 pours, 9 steps in one mold 9 pours."""
    more = made(tmp_path, "spares = 2")
    assert [(piece.order.count, piece.order.cast, piece.pours) for piece in more.pieces] == [
        (5, 7, 4),
        (7, 9, 9),
    ]
    poured = dict.fromkeys(("tub", "step"), 0)
    for pour in more.pours:
        for name, count in pour.pieces:
            poured[name] += count
    assert poured == {"tub": 7, "step": 9}
    assert {one.name: one.over for one in more.job.costs} == {"tub": 7, "step": 9}
    assert sum(pour.volume for pour in more.pours) > sum(pour.volume for pour in job.pours)


def test_what_fillings_use_up_is_paid_by_the_piece_however_many_molds_there_are():
    """Tubes that are cut away: the buy list's money for them is the pieces' money, and no mold's."""
    job = plan(read_project(ROOT / "examples" / "boathouse-piers.toml"))
    count = {piece.order.name: piece.order.cast for piece in job.pieces}
    used_up = sum(one.spent * count[one.name] for one in job.job.costs)
    assert used_up == pytest.approx(
        sum(line.cost for line in job.buy if line.item.startswith("tube ")), rel=1e-9
    )
    built = sum(one.mold * one.molds for one in job.job.costs)
    layouts = Layouts(job.sheets, job.sticks, job.bounds)
    cut = sum(mold_cost(mold, job.cut_list, layouts, ()).amount * mold.copies for mold in job.molds)
    assert built >= cut > 0.0
    (planned,) = [one for one in job.job.alternatives if one.planned]
    assert planned.mold_cost == pytest.approx(built + used_up, rel=1e-9)
    owned = replace(job.molds[0], owned=True)
    assert mold_cost(owned, job.cut_list, layouts, ()).amount == 0.0
    assert mold_cost(owned, job.cut_list, layouts, ()).spent > 0.0
