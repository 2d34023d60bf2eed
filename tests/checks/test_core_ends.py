"""The caps of cores and the bars over hung ones, against hand arithmetic and by how they move."""

from __future__ import annotations

import pytest

from formwork.checks.check import Check, Found
from formwork.checks.core_ends import bar_checks, cap_checks
from formwork.molds.panelled import Built
from formwork.shapes import planter
from tests.drawn import parameters
from tests.workshop import build

BOX = {
    "length": "600 mm", "width": "400 mm", "height": "400 mm", "wall": "50 mm", "floor": "50 mm", "core_draft": "0 deg",
}  # fmt: skip


def box(density: float = 800.0, **keys: object) -> Built:
    return build(planter.SHAPE, parameters(planter.SHAPE, {**BOX, **keys}), density=density)


def demands(found: tuple[Found, ...]) -> list[float]:
    return [one.demand for one in found if isinstance(one, Check)]


def test_a_cap_carries_the_head_at_its_own_level_over_its_shorter_way() -> None:
    """M = p l^2 / 8 with p = rho g h; l = 300 mm less one sheet."""
    built = box(down="rim")
    load, sheet = built.lined.load, built.lined.frame.stocks.sheet
    bending = next(one for one in cap_checks(built) if isinstance(one, Check))
    span = 0.3 - sheet.thickness
    foot = load.fill - 0.05 - sheet.thickness
    moment = load.density * 9.80665 * (load.fill - foot) * span**2 / 8.0
    printed = next(line for line in bending.working if line.startswith("M = "))
    assert float(printed.rsplit("= ", 1)[1].split()[0]) == pytest.approx(moment, rel=1e-4)


def test_a_cap_at_the_foot_of_a_mold_carries_more_than_one_at_its_top() -> None:
    hung, standing = box(down="floor"), box(down="rim")
    assert demands(cap_checks(hung))[0] > 2.0 * demands(cap_checks(standing))[0]


def test_bars_share_the_lift_of_their_core() -> None:
    """Archimedes: the core is 500 x 300 x 350 mm; two bars."""
    built = box(down="floor")
    bending = next(one for one in bar_checks(built) if isinstance(one, Check))
    shared = built.lined.load.density * 9.80665 * 0.5 * 0.3 * 0.35 / 2.0
    printed = next(line for line in bending.working if line.startswith("F = "))
    assert float(printed.rsplit("= ", 1)[1].split()[0]) == pytest.approx(shared, rel=1e-4)


def test_a_denser_mix_pulls_harder_at_the_bars() -> None:
    light, heavy = (demands(bar_checks(box(density, down="floor"))) for density in (600.0, 1600.0))
    assert all(more > less for less, more in zip(light, heavy, strict=True))


def test_a_core_on_the_base_has_no_bars() -> None:
    assert bar_checks(box(down="rim")) == ()
