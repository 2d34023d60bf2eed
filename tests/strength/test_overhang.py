"""The rim above the highest support, against integration of the load diagram."""

from __future__ import annotations

import pytest

from formwork.errors import RangeError
from formwork.strength.overhang import Overhang, overhang_verdicts
from formwork.strength.panels import PanelSection, homogeneous
from formwork.strength.spans import DeflectionLimit
from formwork.strength.working import Unjudged, Verdict

P, REACH, SLICES = 4000.0, 0.25, 4000


def board(e: float | None = 3e9, fs: float | None = 1e6) -> PanelSection:
    return homogeneous("board", 0.018, fb=8e6, e=e, fs=fs, source="maker")


def summed() -> tuple[float, float, float, float]:
    """Shear and moment at the support, bending and shear deflection of the tip, by midpoint sums (unit load method)."""
    d = REACH / SLICES
    points = [(k + 0.5) * d for k in range(SLICES)]
    load = [P * (1 - x / REACH) for x in points]
    shear = sum(load) * d
    moment = sum(w * x for w, x in zip(load, points, strict=True)) * d
    bend = slide = 0.0
    for x in points:
        rest = REACH - x
        bend += P * rest**3 / (6 * REACH) * rest * d
        slide += P * rest**2 / (2 * REACH) * d
    g = 3e9 / 2.6
    return shear, moment, bend / (3e9 * 0.018**3 / 12), 1.2 * slide / (g * 0.018)


def test_against_the_sums():
    shear, moment, bend, slide = summed()
    verdicts = overhang_verdicts(board(), Overhang(P, REACH), DeflectionLimit())
    assert [type(v) for v in verdicts] == [Verdict] * 3
    assert verdicts[0].load * 1e6 == pytest.approx(6 * moment / 0.018**2, rel=1e-6)
    assert verdicts[1].load * 1e6 == pytest.approx(1.5 * shear / 0.018, rel=1e-6)
    assert verdicts[2].load / 1e3 == pytest.approx(bend + slide, rel=1e-6)


def test_what_is_missing_is_said():
    found = overhang_verdicts(board(None, None), Overhang(P, REACH), DeflectionLimit())
    assert [type(v) for v in found] == [Verdict, Unjudged, Unjudged]


def test_no_reach_refused():
    with pytest.raises(RangeError):
        overhang_verdicts(board(), Overhang(P, 0.0), DeflectionLimit())
