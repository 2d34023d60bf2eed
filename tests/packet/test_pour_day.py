"""The day of the pour as it is printed and as it stands in the document."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import pytest

from formwork.mix.pour_records import FoamCheck, MoldFill, Solution, Timing, Way
from formwork.packet import spreadsheets
from formwork.packet.batch_sheets import batch_entries
from formwork.packet.document import document
from formwork.packet.narrowed import narrowed
from formwork.packet.pour_day import foam_lines, ways_lines
from formwork.packet.sections import sections
from formwork.packet.text import print_out
from formwork.pour.measure import Cup, CupReading, Measure

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


CUP = CupReading(Cup(Measure(0.001, 2e-6, "as printed on it"), tare=0.110), 600.0, 48.0)
"""A litre and 110 g: at 600 kg/m3 the scale shows 710 g, and 662 to 758 g within 48 kg/m3."""


def test_what_the_cup_reads_stands_with_the_mix_on_the_batch_sheets_and_in_the_document(foamed):
    plan = replace(foamed, cup=CUP)
    assert "110 g empty, full of this mix reads 710 g; 662 g to 758 g is in tolerance (48 kg/m3" in flat(plan)
    records = [block for block in batch_entries(plan, None)[0]["blocks"] if block["kind"] == "record"]
    at = records[0]["headings"].index("cup reads")
    assert records[0]["wanted"][at] == "710 g" and len(records[0]["wanted"]) == len(records[0]["headings"])
    assert document(plan)["cup"]["reading_wanted_kg"] == 0.71
    assert document(foamed)["cup"] is None


def test_without_a_cup_the_density_is_wanted(foamed):
    (record, *_) = [block for block in batch_entries(foamed, None)[0]["blocks"] if block["kind"] == "record"]
    at = record["headings"].index("density read")
    assert record["wanted"][at].endswith("kg/m3") and len(record["wanted"]) == len(record["headings"])


WAYS = (
    Way("equal", ((2, 0.05),), 0.0, (0.8,), best=True, chosen=True),
    Way("whole bags", ((1, 0.07), (1, 0.0625)), 0.0325, (1.5, 1.0)),
)


def test_other_ways_to_cut_a_pour_are_said_and_stand_in_the_document(foamed):
    plan = replace(foamed, pours=tuple(replace(pour, ways=WAYS) for pour in foamed.pours))
    said = "equal leaves least, in the fewest kinds. Other ways: whole bags: 1 of 70 L (1 1/2 bags) and 1 of 62.5 L (1 bag)"
    assert said in flat(plan) and "32.5 L over" in flat(plan)
    way = document(plan)["pours"][0]["ways"][1]
    assert way["leftover_m3"] == 0.0325 and way["batches"][0] == {
        "count": 1,
        "volume_m3": 0.07,
        "cement_bags": 1.5,
    }
    assert not ways_lines(WAYS[:1], "mm")


def test_the_spreadsheet_has_a_column_for_everything_else_that_goes_in(foamed):
    more = {"others": (("silica fume", 1.25),), "fibres": 0.045}
    pours = tuple(
        replace(pour, batches=tuple(replace(batch, **more) for batch in pour.batches))
        for pour in foamed.pours
    )
    rows = list(
        csv.reader(io.StringIO(spreadsheets.batches(narrowed(replace(foamed, pours=pours), "pours"))))
    )
    assert rows[0][-2:] == ["silica fume (kg)", "fibres (kg)"]
    assert all(len(row) == len(rows[0]) and row[-2:] == ["1.25", "0.045"] for row in rows[1:])
    assert "silica fume" in flat(replace(foamed, pours=pours))


def test_every_pour_sheet_says_what_hurts(foamed):
    """Caustic cement, eyes, dust, the tank's pressure, the mixer's pull, ground-fault protection, lifting."""
    (sheet,) = batch_entries(foamed, None)
    whole = str(sheet["blocks"])
    for word in (
        "caustic",
        "blind",
        "silica dust",
        "pressure vessel",
        "pulls in hands",
        "ground-fault",
        "weighs",
    ):
        assert word in whole
    notes = [block["note"] for block in sheet["blocks"] if block["kind"] == "heading"]
    assert notes and all("wet cement burns" in note and "Plug out" in note for note in notes)


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
        (MoldFill("slab", 1, 3, 1800.0, 1260.0), "Use a larger mixer."),
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
