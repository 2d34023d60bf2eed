"""The day of the pour as it is printed and as it stands in the document."""

from __future__ import annotations

from dataclasses import replace

import pytest

from formwork.mix.records import FoamCheck, MoldFill, Solution, Timing
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
    assert "for each pour: 495 mL, of 12.1 mL of concentrate in 483 mL of water; 45 mL of it" in text
    assert "Each weighing takes that much solution more." in text


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


def timed(plan, **changes):
    slow = Timing(660.0, 60.0, True, 1980.0, 480.0, MoldFill("slab", 1, 2, 1080.0, 840.0), in_time=False)
    return replace(plan, pours=(replace(plan.pours[0], timing=replace(slow, **changes)),))


def test_a_pour_that_takes_too_long_says_so_and_what_helps(plan):
    text = flat(timed(plan))
    assert (
        "Time for each pour: 33 min. TOO SLOW: a slab mold takes batches 1 and 2 and is full 18 min after"
        in text
    )
    assert "stays workable 15 min. Mix each slurry while the batch before is placed: then 14 min." in text
    assert "A batch takes up to 11 min: slurry 4 min, foam 60 s, blending 2 min, placing 5 min." in text
    assert "here not before 12 h; below 15 C allow 2 days" in text
    made = document(timed(plan))["pours"][0]["time"]
    assert (made["total_seconds"], made["in_time"], made["slowest_mold"]["last_batch"]) == (1980.0, False, 2)


@pytest.mark.parametrize(
    ("slowest", "said"),
    [
        (MoldFill("slab", 1, 3, 1800.0, 1260.0), "Use a larger mixer, or fill it in lifts"),
        (MoldFill("slab", 2, 2, 1000.0, 1000.0), "takes batch 2 and is full 16.7 min"),
        (MoldFill("slab", 2, 2, 1000.0, 1000.0), "Make smaller batches, or foam and place them faster."),
    ],
)
def test_what_helps_follows_from_what_is_slow(plan, slowest, said):
    assert said in flat(timed(plan, slowest=slowest))


def test_a_pour_in_time_is_no_warning_and_an_unknown_output_is_said(plan):
    text = flat(timed(plan, in_time=True, foaming=0.0, foaming_known=False))
    assert "TOO SLOW" not in text and "foaming not counted" in text
    assert "foaming comes on top: measure the generator's output" in text
