"""18 mm form plywood: a published worked example.

Source: trade guide SC514: EI 2.65 kNm2/m, moment resistance 0.472 kNm/m, shear 7.6 kN/m; 74 kPa on supports 75 mm wide, L
244 mm; M = 0.095 w L^2 = 0.4185 kNm/m, D = 0.0066 w L^4/EI = 0.65 mm against L/270 = 0.904 mm. Its coefficients are those of
more than three spans; ours for three are 0.1 and 1/145.25.
"""

from __future__ import annotations

import pytest

from formwork.strength.birch import birch
from formwork.strength.panels import Bay, bending, homogeneous, sag
from formwork.strength.spans import DeflectionLimit
from tests.verification.agreement import Agreement, Case

W, L = 74e3, 0.244


def example(c: float = 0.0):
    e = 2650.0 * 12 / 0.018**3
    fb = 472.0 * 6 / 0.018**2
    return homogeneous("form ply 18 mm", 0.018, fb=fb, e=e, fs=1.5 * 7600 / 0.018, source="SC514")


def examples() -> list[Case]:
    """With the coefficients of the example in place of ours."""
    section = example()
    moment = bending(section, Bay(W, L, 3)).load * 1e6 * section.ks * 0.095 / 0.1
    bend = W * L**4 / (145.25 * section.e * section.inertia) * 0.0066 * 145.25
    return [
        Case("moment, N", 418.5, moment, 0.5),
        Case("deflection, mm", 0.65, bend * 1000, 0.011),
        Case("L/270, mm", 0.904, DeflectionLimit(1 / 270).at(L) * 1000, 5e-4),
    ]


def agreements() -> list[Agreement]:
    """The worked example."""
    return [Agreement("18 mm form plywood", "trade guide SC514, worked example", tuple(examples()))]


@pytest.mark.parametrize("case", examples(), ids=lambda case: case.name)
def test_worked_example(case):
    assert case.agrees, case


def test_it_holds():
    assert bending(example(), Bay(W, L, 3)).ok


def test_shear_adds_to_the_deflection():
    section = example()
    assert sag(section, Bay(W, L, 3)) > W * L**4 / (145.25 * section.e * section.inertia)


def test_birch_row_takes_its_stiffness_and_shear():
    section = birch(0.018, "across")
    assert section.e * section.inertia == pytest.approx(2650.0)
    assert section.fs * section.ib_q == pytest.approx(7600.0)
