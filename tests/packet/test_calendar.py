"""The calendar as it is printed and as it stands in the document."""

from __future__ import annotations

from dataclasses import replace

import pytest

from formwork.cutting.alternatives import Alternative
from formwork.cutting.whole_job import PieceCost, WholeJob
from formwork.mix.calendar import Calendar, PourDay
from formwork.mix.part_filled import PartFilled
from formwork.packet.document import document
from formwork.packet.sections import sections
from formwork.packet.text import print_out

JOB = WholeJob(
    Calendar((PourDay(1, 1, 3, 8), PourDay(2, 3, 5, 10, overruns=True)), 5, 10, 2),
    (PartFilled(2, "slab", 2, 6, 1), PartFilled(1, "slab", 6, 6, 2), PartFilled(2, "slab", 5, 6, 0)),
    (
        Alternative((("slab", 1),), True, 2, 5, 10, 60.0),
        Alternative((("slab", 2),), False, 1, 3, 8, 120.0),
    ),
    (PieceCost("slab", 60.0, 1, 2, 4.5, ("screw", "sealant")),),
)


@pytest.fixture
def job_plan(make_plan):
    return make_plan(job=JOB)


def flat(plan) -> str:
    return " ".join(print_out(sections(plan)).split())


def test_every_pour_has_its_days(job_plan):
    text = flat(job_plan)
    assert "day 1 1 1 day 3 day 8 day 3 2 1 day 5 day 10" in text
    assert "The last molds come off on day 5; every piece is out of its film on day 10." in text
    assert "Room to keep 2 pieces under film at once." in text
    assert "1 pour takes longer than a working day, from pour 2 on." in text


def test_blanked_cavities_are_named(job_plan):
    text = flat(job_plan)
    assert "pour 2, slab: of the last mold fill the first 2 cavities from one end and blank 3 to 6;" in text
    assert "presses from one side only; 1 mold stands idle" in text
    assert "pour 1, slab: 2 molds stand idle" in text
    assert "fill the first 5 cavities from one end and blank 6;" in text


def test_other_numbers_of_molds_and_the_cost_of_a_piece(job_plan):
    """One mold of 60.00 over two slabs is 30.00 each, with 4.50 of mix 34.50."""
    text = flat(job_plan)
    assert "1 (as planned) 2 day 5 day 10 EUR 60.00 2 1 day 3 day 8 EUR 120.00" in text
    assert "slab EUR 60.00 1 2 pieces EUR 30.00 EUR 4.50 EUR 34.50" in text
    assert "Not counted, for want of a price: screw, sealant." in text


def test_floor_is_told_where_it_is_known(make_plan):
    days = replace(JOB.calendar, floor=1.5)
    assert "at once, 1.5 m2 of floor without the room to walk. Cold days" in flat(
        make_plan(job=replace(JOB, calendar=days))
    )


def test_without_prices_there_are_days_only(make_plan):
    text = flat(make_plan(job=replace(JOB, costs=())))
    assert "molds cost" not in text and "What a piece costs" not in text
    assert "1 (as planned) 2 day 5 day 10" in text


def test_a_long_job_prints_its_first_pours_and_its_last(make_plan):
    pours = make_plan().pours
    many = tuple(replace(pours[0], number=number) for number in range(1, 101))
    days = tuple(PourDay(n, 2 * n - 1, 2 * n + 1, 2 * n + 6) for n in range(1, 101))
    text = flat(make_plan(pours=many, job=replace(JOB, calendar=replace(JOB.calendar, pours=days))))
    assert "day 57 29 1 day 59 day 64 ... day 199 100 1 day 201 day 206" in text


def test_the_document_carries_all_of_it(job_plan, make_plan):
    made = document(job_plan)["calendar"]
    assert made["pours"][1] == {
        "number": 2, "day": 3, "molds_off_day": 5, "out_of_film_day": 10, "longer_than_a_day": True,
        "lift_days": [],
    }  # fmt: skip
    assert made["alternatives"][1]["molds"] == {"slab": 2}
    assert made["costs"][0]["cost_each"] == 34.5
    assert made["part_filled"][0]["cavities_filled"] == 2
    assert document(make_plan())["calendar"] is None


def test_spares_are_said(make_plan):
    plan = make_plan()
    order = replace(plan.pieces[0].order, spares=1)
    more = replace(plan, pieces=(replace(plan.pieces[0], order=order),))
    assert "To cast: 2 slab (and 1 spare)." in flat(more)
    assert document(more)["pieces"][0]["spares"] == 1
