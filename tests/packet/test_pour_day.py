"""The day of the pour as it is printed and as it stands in the document."""

from __future__ import annotations

from dataclasses import replace

import pytest

from formwork.mix.records import FoamCheck, Solution
from formwork.packet.batch_sheets import batch_entries
from formwork.packet.document import document
from formwork.packet.pour_day import foam_lines
from formwork.packet.sections import sections
from formwork.packet.text import print_out

CHECK = FoamCheck(60.0, 0.001, 0.060, 0.054, 0.066, 1203.0, 1250.0)
MADE_UP = Solution(0.000495, 0.0000121, 0.0004829, 0.000045)
"""For 0.45 kg of foam, a tenth more in reserve, 1 part in 41 of it concentrate."""


@pytest.fixture
def foamed(make_plan):
    plan = make_plan(foam_check=CHECK)
    return replace(plan, pours=tuple(replace(pour, solution=MADE_UP) for pour in plan.pours))


def flat(plan) -> str:
    return " ".join(print_out(sections(plan)).split())


def test_the_plan_says_what_a_litre_of_foam_weighs_and_what_to_make_up(foamed):
    text = flat(foamed)
    assert "a full litre of it, struck off, weighs 60 g net (60 kg/m3); 54 g to 66 g" in text
    assert "Foam 10 % heavier than planned makes the mix 1203 kg/m3 when put in by volume and 1250" in text
    assert "for each pour: 495 mL, of 12.1 mL of concentrate in 483 mL of water. 45 mL of that" in text
    assert "weighing the foam takes 60 g of it" in text


def test_the_batch_sheets_say_the_same(foamed):
    (sheet,) = batch_entries(foamed, None)
    (heading,) = [block for block in sheet["blocks"] if block["kind"] == "heading"]
    assert "12.1 mL of concentrate in 483 mL of water" in heading["note"]


def test_the_document_carries_both(foamed):
    made = document(foamed)
    assert made["foam_check"]["net_kg"] == 0.060 and made["foam_check"]["measure_m3"] == 0.001
    assert made["pours"][0]["solution"]["concentrate_m3"] == 1.21e-5
    assert document(replace(foamed, foam_check=None))["foam_check"] is None


def test_inches_fill_a_quart():
    line = foam_lines(CHECK, "in")[0]
    assert "a full US quart of it" in line and "2.12 oz net" in line


def test_no_foam_no_word():
    assert foam_lines(None, "mm") == ()


def test_leftover_names_its_molds_and_what_fits_none(make_plan):
    (first, second) = make_plan().pours
    over = replace(first, leftover=0.007, put_away=(("edging", 2), ("brick", 1)), remains=0.0005)
    text = flat(make_plan(pours=(over, replace(over, number=2))))
    assert "7 L is left over in each pour: it fills 2 edging, then 1 brick; 0.5 L fits none of them." in text
    assert document(make_plan(pours=(over, second)))["pours"][0]["leftover_molds"] == {
        "edging": 2,
        "brick": 1,
    }
    bare = flat(make_plan(pours=(replace(over, put_away=(), remains=0.007),)))
    assert "7 L is left over in each pour: have a small mold ready for it." in bare
