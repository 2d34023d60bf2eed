"""Remedies: whoever does as a remedy says finds every check passing; nothing else of the plan changes.

What a remedy says is read as a person reads it, written into the mold table, designed again and checked.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from formwork.checks import mending
from formwork.checks.all import check
from formwork.checks.check import Check
from formwork.checks.mending import mended
from formwork.checks.trials import OF_THE_SHAPE
from formwork.mix.records import Mix
from formwork.molds.asked import BuiltMold
from formwork.molds.design import brace, line
from formwork.plan import plan
from formwork.project.read import read_project
from formwork.project.records import MoldOptions, PieceOrder
from formwork.shapes import cast_dome, column, outline, planter, round_planter, slab, turned
from formwork.shapes.shape import Shape
from formwork.stock.records import StrapStock
from formwork.units.parse import read
from tests.drawn import parameters
from tests.workshop import concrete, mix, shop

TUB = {"length": 1200, "width": 600, "height": 900, "wall": 60, "floor": 60}
BROAD = {"length": 2300, "width": 600, "height": 700, "wall": 60, "floor": 60}
POT = {"diameter": 900, "height": 1200, "wall": 45, "floor": 45, "down": "rim"}
POST = {"diameter": 300, "height": 900}
EDGE = {
    "points": [{"x": 0, "y": 0}, {"x": 2400, "y": 0}, {"x": 2400, "y": 600}, {"x": 0, "y": 600}],
    "thickness": 150,
}
VASE = turned.SHAPE.samples[2]
SHELL = cast_dome.SHAPE.samples[0]
OWN = replace(
    shop(),
    straps=(
        StrapStock("thin", 200.0, None, False, 4.0, 1.0),
        StrapStock("thick", 900.0, None, False, 4.0, 2.0),
    ),
)

Case = tuple[Shape, dict[str, Any], Mix, dict[str, Any]]
FAILING: dict[str, Case] = {
    "a stick too slight": (planter.SHAPE, TUB, mix(700.0), {"stick": "45x45"}),
    "a rail too few": (planter.SHAPE, TUB, mix(700.0), {"rails": 3}),
    "rails at the wrong heights": (planter.SHAPE, TUB, mix(700.0), {"rail_heights": (0.25, 0.7)}),
    "corners hardly screwed": (planter.SHAPE, TUB, mix(700.0), {"corner_screws": 3}),
    "a core without ribs": (planter.SHAPE, TUB, mix(700.0), {"core_ribs": 0}),
    "three things at once": (planter.SHAPE, TUB, mix(700.0), {"core_ribs": 0, "corner_screws": 3, "rails": 2}),
    "a mix too heavy for the corners": (planter.SHAPE, TUB, concrete(1800.0), {}),
    "two rings": (round_planter.SHAPE, POT, mix(1500.0), {"method": "wrapped", "rings": 2}),
    "a ring at the wrong height": (
        round_planter.SHAPE, POT, mix(1500.0), {"method": "wrapped", "ring_heights": (0.9,)},
    ),
    "one strap": (column.SHAPE, POST, concrete(2300.0), {"method": "tube", "tube_off": "slit", "straps": 1}),
    "two straps high up": (
        column.SHAPE, POST, concrete(2300.0), {"method": "tube", "tube_off": "slit", "strap_heights": (0.6, 0.8)},
    ),
    "blocks far apart": (outline.SHAPE, EDGE, concrete(2300.0), {"method": "edged", "blocks_apart": 2.0}),
    "ears hardly bolted": (
        turned.SHAPE,
        {"outside": ((290, 0), (290, 60), (260, 75), (285, 800), (280, 820))},
        concrete(2300.0),
        {"method": "stacked", "ear_bolts": 1},
    ),
    "two bolts in a seam": (cast_dome.SHAPE, SHELL, mix(800.0), {"method": "ribbed", "seam_bolts": 2}),
}  # fmt: skip


def ordered(case: Case) -> PieceOrder:
    shape, keys, _, options = case
    return PieceOrder("piece", shape.name, parameters(shape, keys), 4, 2, MoldOptions(**options))


def designed(order: PieceOrder, mixed: Mix) -> BuiltMold:
    return brace(line(order, OWN, mixed, "mm")[0])  # type: ignore[arg-type]


@cache
def told(name: str) -> tuple[Check, ...]:
    case = FAILING[name]
    order = ordered(case)
    built = designed(order, case[2])
    made, _ = check([built])
    return mended(made, [built], [order], OWN, case[2], "mm")


def failed(checks: tuple[Check, ...]) -> list[Check]:
    return [one for one in checks if not one.ok]


def ways(remedy: str) -> list[str]:
    """Each of the ways that a remedy offers."""
    inside = re.fullmatch(r"in the piece's mold table (.*): every check of this mold passes then", remedy)
    assert inside, remedy
    return inside[1].split("; or ")


def without_percent(way: str) -> str:
    """What is to be written into the mold table."""
    return re.sub(r" \(\d+ % of the limit\)$", "", way)


def done(options: MoldOptions, words: str) -> MoldOptions:
    """The mold table with what one way says written into it, as a person would."""
    keys: dict[str, Any] = {}
    left_out = re.search(r"leave ([a-z_]+(?: and [a-z_]+)*) out", words)
    if left_out:
        keys |= dict.fromkeys(left_out[1].split(" and "))
    for key, value in re.findall(r'([a-z_]+) = (\[[^\]]*\]|"[^"]*"|\d+)', words):
        keys[key] = read_value(key, value)
    assert keys
    if "rails" in keys or "rings" in keys or "straps" in keys:
        keys |= {"rail_heights": None, "ring_heights": None, "strap_heights": None}
    return replace(options, **keys)


def read_value(key: str, value: str) -> object:
    if value.startswith("["):
        return tuple(read(one, "length", None) for one in re.findall(r'"([^"]*)"', value))
    if not value.startswith('"'):
        return int(value)
    return read(value[1:-1], "length", None) if key in ("lift", "blocks_apart", "rib_depth") else value[1:-1]


@pytest.mark.parametrize("name", FAILING)
def test_who_does_as_a_remedy_says_finds_every_check_passing(name: str) -> None:
    case = FAILING[name]
    found = failed(told(name))
    assert found, "the case does not fail"
    order = ordered(case)
    again: dict[str, tuple[Check, ...]] = {}
    for way in (way for one in found for way in ways(one.remedy)):
        words = without_percent(way)
        if words not in again:
            again[words], _ = check([designed(replace(order, mold=done(order.mold, words)), case[2])])
    assert all(each.ok for made in again.values() for each in made)
    for one in found:
        for way in ways(one.remedy):
            stands = [each.utilisation for each in again[without_percent(way)] if each.name == one.name]
            percent = re.search(r"\((\d+) % of the limit\)$", way)
            assert (percent is not None) == bool(stands), "screws become bolts: a check of another name"
            if percent is not None:
                assert max(stands) == pytest.approx(int(percent[1]) / 100.0, abs=0.00501)


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("a stick too slight", "stick"),
        ("a rail too few", "rails = 4"),
        ("corners hardly screwed", "corner_screws"),
        ("a core without ribs", "core_ribs"),
        ("two rings", "rings"),
        ("one strap", "straps"),
        ("blocks far apart", "blocks_apart"),
        ("ears hardly bolted", "ear_bolts"),
        ("two bolts in a seam", "seam_bolts"),
    ],
)
def test_more_of_what_is_too_little_is_among_the_ways(name: str, key: str) -> None:
    assert any(key in one.remedy for one in failed(told(name)))


def test_one_less_than_the_number_told_does_not_do() -> None:
    """The first rung that passes is told, not one further up."""
    name = "corners hardly screwed"
    case, order = FAILING[name], ordered(FAILING[name])
    number = int(re.findall(r"corner_screws = (\d+)", failed(told(name))[0].remedy)[0])
    fewer = replace(order, mold=replace(order.mold, corner_screws=number - 1))
    again, _ = check([designed(fewer, case[2])])
    assert not all(one.ok for one in again)


def test_where_no_stock_will_do_a_lighter_mix_is_told_that_does(monkeypatch: pytest.MonkeyPatch) -> None:
    """A shop with one stick and one sheet, whose molds are filled in one go; the next heavier mix does not do."""
    monkeypatch.setattr(mending, "_LIFTS", ())
    few = replace(
        OWN,
        sticks=tuple(one for one in OWN.sticks if one.name == "45x45"),
        sheets=tuple(one for one in OWN.sheets if one.name == "plywood 18"),
    )
    order = PieceOrder(
        "piece", "planter", parameters(planter.SHAPE, {**TUB, "length": 800}), 4, 2, MoldOptions()
    )

    def made(density: float) -> tuple[BuiltMold, tuple[Check, ...]]:
        built = brace(line(order, few, mix(density), "mm")[0])  # type: ignore[arg-type]
        return built, check([built])[0]

    built, found = made(900.0)
    for one in failed(mended(found, [built], [order], few, mix(900.0), "mm")):
        told_mix = re.search(r"a mix of (\d+) kg/m3", one.remedy)
        assert told_mix, one.remedy
        lighter = float(told_mix[1])
        assert lighter < 900.0
        assert all(each.ok for each in made(lighter)[1])
        assert not all(each.ok for each in made(lighter + 0.05 * 900.0)[1])


def test_a_large_fluid_dome_is_told_what_the_yard_lacks() -> None:
    """Purlins, rods and seams of six metres: whoever lists the stick that is told finds every check passing."""
    keys = {**SHELL, "inside_span": 6000, "thickness": 150, "oculus": 600}
    order = PieceOrder(
        "piece", "cast dome", parameters(cast_dome.SHAPE, keys), 1, 1, MoldOptions(method="ribbed")
    )
    heavy = mix(1500.0)
    built = designed(order, heavy)
    made, _ = check([built])
    found = failed(mended(made, [built], [order], OWN, heavy, "mm"))
    assert found
    (name,) = {re.findall(r'stick = "([^"]+)"', one.remedy)[0] for one in found}
    assert all(f"does not list {name} yet" in one.remedy for one in found)
    thick, wide = (float(side) / 1000.0 for side in name.split("x"))
    stout = replace(OWN.sticks[-1], name=name, thickness=thick, width=wide)
    changed = replace(order, mold=replace(order.mold, stick=name))
    lists = replace(OWN, sticks=(*OWN.sticks, stout))
    again, _ = check([brace(line(changed, lists, heavy, "mm")[0])])  # type: ignore[arg-type]
    assert all(one.ok for one in again)


def test_where_nothing_will_do_it_says_what_was_tried_and_what_is_left() -> None:
    bare = replace(
        OWN,
        sticks=tuple(one for one in OWN.sticks if one.name == "45x45"),
        sheets=tuple(one for one in OWN.sheets if one.name == "plywood 12"),
    )
    tall = {**BROAD, "height": 1500}
    order = PieceOrder("piece", "planter", parameters(planter.SHAPE, tall), 4, 2, MoldOptions())
    heavy = concrete(2400.0)
    built = brace(line(order, bare, heavy, "mm")[0])  # type: ignore[arg-type]
    made, _ = check([built])
    found = failed(mended(made, [built], [order], bare, heavy, "mm"))
    assert found
    assert all("none of" in one.remedy and "a shorter or lower piece" in one.remedy for one in found)


def test_a_mold_that_holds_is_left_as_it_is() -> None:
    case: Case = (slab.SHAPE, {"length": 600, "width": 400, "thickness": 60}, mix(), {})
    built = designed(ordered(case), case[2])
    made, _ = check([built])
    assert all(one.ok for one in made)
    assert mended(made, [built], [], OWN, mix(), "mm") == made


def test_only_the_remedy_changes_and_only_of_what_bracing_can_mend() -> None:
    case = FAILING["a stick too slight"]
    made, _ = check([designed(ordered(case), case[2])])
    after = told("a stick too slight")
    assert [replace(one, remedy="") for one in after] == [replace(one, remedy="") for one in made]
    changed = [one for one, was in zip(after, made, strict=True) if one.remedy != was.remedy]
    assert changed
    assert all(not one.ok and one.name not in OF_THE_SHAPE for one in changed)


def test_the_plan_of_a_project_tells_the_remedy(tmp_path: Path) -> None:
    file = tmp_path / "tub.toml"
    file.write_text(
        'title = "Tub"\nunits = "mm"\n[mix]\nkind = "cellular"\nwet_density = "700 kg/m3"\nwater_cement = 0.5\n'
        '[[piece]]\nname = "tub"\nshape = "planter"\ncount = 1\nmolds = 1\nmold.stick = "45x45"\n'
        + "".join(f"{key} = {value}\n" for key, value in TUB.items()),
        encoding="utf-8",
    )
    one = next(each for each in plan(read_project(file)).checks if not each.ok)
    assert re.search(r'stick = "45x\d+"', one.remedy)
