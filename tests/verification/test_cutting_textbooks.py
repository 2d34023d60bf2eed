"""Stick jobs with published optima.

Chvatal: V. Chvatal, Linear Programming, Freeman 1983, chapter 13: paper rolls 100 in wide cut into finals of 45, 36,
31 and 14 in. The order and the optimum of 453 are quoted from memory, not read; independently of the book, the
continuous bound of 452.25 makes 453 the least.

Rolls: "Cutting stock problem", Wikipedia (read): thirteen widths cut from 5600 mm rolls, least 73 rolls, 0.401 %
waste, 308 patterns.
"""

from __future__ import annotations

import pytest

from formwork.cutting.columns import relax
from formwork.cutting.judge import judge_sticks
from formwork.cutting.records import StickPart, StickPlan
from formwork.cutting.stick_job import stick_job
from formwork.cutting.sticks import cut_sticks
from formwork.stock.records import Saw, StickLength, StickStock

CHVATAL = {45: 97, 36: 610, 31: 395, 14: 211}
ROLLS = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20,
    2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20,
}  # fmt: skip
SHARP = Saw(0.0, 0.0)


def job(widths: dict[int, int], whole: float, scale: float) -> tuple[list[StickPart], StickStock]:
    stock = StickStock("roll", "paper", "", 0.0, 0.0, (StickLength(whole),))
    return [StickPart(str(width), width * scale, count) for width, count in widths.items()], stock


def judged(widths: dict[int, int], whole: float, scale: float) -> StickPlan:
    parts, stock = job(widths, whole, scale)
    plan = cut_sticks(parts, stock, SHARP)
    judge_sticks(parts, stock, SHARP, plan)
    return plan


def test_chvatal_takes_453_and_that_is_proven() -> None:
    bound = judged(CHVATAL, 100 * 0.0254, 0.0254).bound
    assert (bound.used, bound.proven) == (453, True)


def test_chvatal_continuous_bound() -> None:
    """452.25, two decimals as printed."""
    parts, stock = job(CHVATAL, 100 * 0.0254, 0.0254)
    assert relax(stick_job(parts, stock, SHARP)).least == pytest.approx(452.25, abs=0.005)


def test_rolls_take_73_and_that_is_proven() -> None:
    bound = judged(ROLLS, 5.6, 0.001).bound
    assert (bound.used, bound.proven) == (73, True)


def test_rolls_waste() -> None:
    """0.401 % as printed."""
    plan = judged(ROLLS, 5.6, 0.001)
    taken = sum(length * layout.count for layout in plan.layouts for _, length in layout.cuts)
    assert 100 * (1 - taken / (plan.bound.used * 5.6)) == pytest.approx(0.401, abs=0.0005)


def test_rolls_continuous_bound() -> None:
    """72.9167, four decimals."""
    parts, stock = job(ROLLS, 5.6, 0.001)
    assert relax(stick_job(parts, stock, SHARP)).least == pytest.approx(72.9167, abs=0.00005)
