"""Costs: shares come to what is bought, and other numbers of molds come to the job that they would be."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import ceil
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
{sand}
[[piece]]
name = "tub"
shape = "planter"
count = 5
{spares}
molds = {tubs}
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
molds = {steps}
length = 16
width = 16
thickness = 2
"""
SEALANT = '\n[[hardware]]\nitem = "sealant"\nunit = "tube"\nper = 8\nprice = 6.00\n'


def made(folder: Path, spares: str = "", *, molds: tuple[int, int] = (2, 1), sand: str = "", more: str = ""):
    (folder / "shop.toml").write_text(SHOP + SEALANT + more, encoding="utf-8")
    text = PROJECT.format(spares=spares, tubs=molds[0], steps=molds[1], sand=sand)
    (folder / "job.toml").write_text(text, encoding="utf-8")
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
    """A tube for 6.00 seals 8 ft."""
    layouts = Layouts(job.sheets, job.sticks, job.bounds)
    for mold in job.molds:
        sealed, without = (
            mold_cost(mold, job.cut_list, layouts, stock) for stock in (job.project.shop.hardware, ())
        )
        metres = sum(thing.quantity for thing in mold.hardware if thing.item == "sealant")
        assert sealed.amount - without.amount == pytest.approx(metres / 0.3048 * 0.75, rel=1e-9)
        assert "sealant" in without.unpriced and "sealant" not in sealed.unpriced


def test_a_mold_in_the_shop_costs_nothing(job):
    layouts = Layouts(job.sheets, job.sticks, job.bounds)
    owned = replace(job.molds[0], owned=True)
    assert mold_cost(owned, job.cut_list, layouts, ()).amount == 0.0


def test_the_mix_of_all_pieces_is_the_mix_that_is_bought(job):
    costs = {one.name: one for one in job.job.costs}
    whole = sum(costs[piece.order.name].mix * piece.order.cast for piece in job.pieces)
    bought = [line for line in job.buy if line.unit.startswith("bag of") or line.unit == "US gal"]
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
    assert planned.mold_cost == pytest.approx(of_molds(job), rel=1e-12)


def of_molds(job) -> float:
    """The buy list's money for everything that does not go into the mixer."""
    mixed = ("cement", "sand", "foam concentrate")
    return sum(line.cost or 0.0 for line in job.buy if not line.item.startswith(mixed))


def test_an_alternative_costs_about_what_that_project_buys(tmp_path, job):
    """Planned anew with that number: as many pours, and within two sheets and a few sticks of the money."""
    dearest = max(sheet.price or 0.0 for sheet in job.project.shop.sheets)
    for one in job.job.alternatives:
        tubs, steps = dict(one.molds)["tub"], dict(one.molds)["step"]
        other = made(tmp_path, molds=(tubs, steps))
        assert one.mold_cost == pytest.approx(of_molds(other), abs=2.0 * dearest)
        assert one.pours == len(other.pours)


def test_sand_is_bought_by_the_bag_where_the_shop_says_so(tmp_path):
    bag = '\n[[hardware]]\nitem = "sand"\nunit = "bag of 50 lb"\nper = 50\nprice = 5.00\n'
    weighed, bagged = (made(tmp_path, sand="sand = 1.0", more=more) for more in ("", bag))
    (loose,) = [line for line in weighed.buy if line.item == "sand"]
    (bags,) = [line for line in bagged.buy if line.item == "sand"]
    assert loose.unit == "lb" and loose.cost is None
    assert bags.quantity == ceil(loose.quantity / 50.0) and bags.cost == 5.0 * bags.quantity


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
    assert planned.mold_cost >= cut + used_up
    owned = replace(job.molds[0], owned=True)
    assert mold_cost(owned, job.cut_list, layouts, ()).amount == 0.0
    assert mold_cost(owned, job.cut_list, layouts, ()).spent > 0.0
