"""Remedies: whoever does as a remedy says finds the check passing; nothing else of the plan changes."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from formwork.checks.all import check
from formwork.checks.check import Check
from formwork.checks.mending import MENDABLE, mended
from formwork.molds.panelled import Built
from formwork.plan import plan
from formwork.project.read import read_project
from formwork.shapes import planter, slab
from formwork.shapes.shape import Shape
from tests.drawn import parameters
from tests.workshop import build, mix, shop

TUB = {"length": 1200, "width": 600, "height": 900, "wall": 60, "floor": 60}
BROAD = {"length": 2300, "width": 600, "height": 700, "wall": 60, "floor": 60}
TROUGHS = {"length": 800, "width": 300, "height": 400, "wall": 40, "floor": 40, "gang": 2}


def told(built: Built, density: float) -> tuple[Check, ...]:
    made, _ = check([built])
    return mended(made, [built], [built.lined.order], shop(), mix(density), "mm")


def failed(checks: tuple[Check, ...]) -> list[Check]:
    return [one for one in checks if not one.ok]


@pytest.mark.parametrize(
    ("shape", "keys", "density", "named"),
    [
        (planter.SHAPE, TUB, 700.0, {"stick": "45x45"}),
        (planter.SHAPE, TROUGHS, 700.0, {"sheet": "plywood 15"}),
    ],
)
def test_a_named_stock_that_fails_is_mended_by_the_one_that_is_told(
    shape: Shape, keys: dict[str, object], density: float, named: dict[str, str]
) -> None:
    built = build(shape, parameters(shape, keys), density=density, **named)
    for one in failed(told(built, density)):
        changes = dict(re.findall(r'(sheet|stick) = "([^"]+)"', one.remedy))
        assert changes
        again, _ = check([build(shape, parameters(shape, keys), density=density, **{**named, **changes})])
        family = [each for each in again if each.name.split(":")[0] == one.name.split(":")[0]]
        assert family
        assert all(each.ok for each in family)
        percent = re.search(r"come to (\d+) % of the limit", one.remedy)
        assert percent
        assert max(each.utilisation for each in family) == pytest.approx(int(percent[1]) / 100.0, abs=0.00501)
        assert ("every check" in one.remedy) <= all(each.ok for each in again)


def test_the_cases_above_do_fail() -> None:
    for keys, density, named in ((TUB, 700.0, {"stick": "45x45"}), (TROUGHS, 700.0, {"sheet": "plywood 15"})):
        built = build(planter.SHAPE, parameters(planter.SHAPE, keys), density=density, **named)
        assert failed(told(built, density))


def test_where_no_stock_will_do_a_lighter_mix_is_told_that_does() -> None:
    density = 1000.0
    built = build(planter.SHAPE, parameters(planter.SHAPE, BROAD), density=density)
    one = next(each for each in failed(told(built, density)) if each.name.startswith("rails"))
    told_mix = re.search(r"a mix of (\d+) kg/m3", one.remedy)
    assert told_mix
    changes = dict(re.findall(r'(sheet|stick) = "([^"]+)"', one.remedy))
    lighter = build(planter.SHAPE, parameters(planter.SHAPE, BROAD), density=float(told_mix[1]), **changes)
    again, _ = check([lighter])
    assert all(each.ok for each in again if each.name.startswith("rails"))


def test_where_not_even_that_will_do_it_says_what_is_left() -> None:
    keys = {**BROAD, "height": 900}
    built = build(planter.SHAPE, parameters(planter.SHAPE, keys), density=1200.0, stick="45x45")
    one = next(each for each in failed(told(built, 1200.0)) if each.name.startswith("rails"))
    assert "a shorter or lower piece" in one.remedy


def test_a_mold_that_holds_is_left_as_it_is() -> None:
    built = build(slab.SHAPE, parameters(slab.SHAPE, {"length": 600, "width": 400, "thickness": 60}))
    made, _ = check([built])
    assert all(one.ok for one in made)
    assert mended(made, [built], [], shop(), mix(), "mm") == made


def test_only_the_remedy_changes_and_only_where_stock_can_mend() -> None:
    built = build(planter.SHAPE, parameters(planter.SHAPE, TUB), density=700.0, stick="45x45")
    made, _ = check([built])
    after = told(built, 700.0)
    assert [replace(one, remedy="") for one in after] == [replace(one, remedy="") for one in made]
    changed = [one for one, was in zip(after, made, strict=True) if one.remedy != was.remedy]
    assert changed
    assert all(not one.ok and one.name.split(":")[0] in MENDABLE for one in changed)


def test_the_plan_of_a_project_tells_the_remedy(tmp_path: Path) -> None:
    file = tmp_path / "tub.toml"
    file.write_text(
        'title = "Tub"\nunits = "mm"\n[mix]\nkind = "cellular"\nwet_density = "700 kg/m3"\nwater_cement = 0.5\n'
        '[[piece]]\nname = "tub"\nshape = "planter"\ncount = 1\nmolds = 1\nmold.stick = "45x45"\n'
        + "".join(f"{key} = {value}\n" for key, value in TUB.items()),
        encoding="utf-8",
    )
    one = next(each for each in plan(read_project(file)).checks if not each.ok)
    assert 'stick = "45x95"' in one.remedy
