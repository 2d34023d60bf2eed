"""Plate coefficients: Roark's table against Navier's series, the project's own tables against Levy's.

Sources: Roark's Formulas for Stress and Strain, Table 11.4, cases 1a, 1d, 2a; a published worksheet of case 2a; a second
published set of the coefficients of case 1a. Series after Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells,
ch. 5 (formulas from memory), Poisson's ratio 0.3.
"""

from __future__ import annotations

from math import pi, sin

import numpy as np
import pytest

from formwork.errors import RangeError
from formwork.strength.customary import INCH, PSI
from formwork.strength.plates import Plate, coefficients, plate_stiffness, under_head, under_uniform
from formwork.strength.tables import rows
from tests.verification.agreement import Agreement, Case

NU = 0.3


class Levy:
    """Plate 0 <= x <= B = 1 held at x = 0, 1 and y = 0; top y = H free or held; pressure 1 or 1 - y/H; all over D = 1."""

    def __init__(self, height: float, head: bool, free: bool, terms: int = 61):
        self.height, self.head = height, head
        self.modes = [(m * pi, self._constants(m * pi, free)) for m in range(1, terms, 2)]

    def _load(self, beta: float, y: float) -> tuple[float, float]:
        """Amplitude of the load in this mode at y, and its slope."""
        q = 4.0 / beta
        return (q * (1.0 - y / self.height), -q / self.height) if self.head else (q, 0.0)

    def _functions(self, b: float, y: float, order: int) -> np.ndarray:
        """Derivatives of exp(-by), by exp(-by), exp(b(y-H)), b(H-y) exp(b(y-H)): bounded for every mode."""
        k, u, v = order, np.exp(-b * y), np.exp(b * (y - self.height))
        return np.array(
            [
                (-b) ** k * u,
                (-b) ** k * (b * y - k) * u,
                b**k * v,
                b**k * (b * (self.height - y) - k) * v,
            ]
        )

    def _constants(self, b: float, free: bool) -> np.ndarray:
        f = lambda y, k: self._functions(b, y, k)  # noqa: E731
        (q0, s), (qh, _) = self._load(b, 0.0), self._load(b, self.height)
        p0, ph, slope = q0 / b**4, qh / b**4, s / b**4
        lines = [(f(0.0, 0), -p0), (f(0.0, 2), 0.0)]
        if free:
            lines.append((f(self.height, 2) - NU * b**2 * f(self.height, 0), NU * b**2 * ph))
            edge = f(self.height, 3) - (2 - NU) * b**2 * f(self.height, 1)
            lines.append((edge, (2 - NU) * b**2 * slope))
        else:
            lines += [(f(self.height, 0), -ph), (f(self.height, 2), 0.0)]
        matrix = np.array([line for line, _ in lines])
        scale = np.abs(matrix).max(axis=1)
        return np.linalg.solve(matrix / scale[:, None], np.array([right for _, right in lines]) / scale)

    def at(self, x: float, y: float, dx: int, dy: int) -> float:
        """Derivative of the deflection, dx times in x and dy times in y."""
        total = 0.0
        for b, constants in self.modes:
            q, s = self._load(b, y)
            part = (q / b**4, s / b**4, 0.0, 0.0)[dy]
            along = float(constants @ self._functions(b, y, dy)) + part
            turned = (sin(b * x), b * np.cos(b * x), -(b**2) * sin(b * x), -(b**3) * np.cos(b * x))[dx]
            total += along * float(turned)
        return total

    def sag(self, x, y):
        return self.at(x, y, 0, 0)

    def across(self, x, y):
        return -(self.at(x, y, 2, 0) + NU * self.at(x, y, 0, 2))

    def up(self, x, y):
        return -(self.at(x, y, 0, 2) + NU * self.at(x, y, 2, 0))

    def side(self, y):
        """Reaction on the edge x = 0 a unit of height, twist included."""
        return -(self.at(0.0, y, 3, 0) + (2 - NU) * self.at(0.0, y, 1, 2))

    def bottom(self, x):
        return -(self.at(x, 0.0, 0, 3) + (2 - NU) * self.at(x, 0.0, 2, 1))

    def corner(self):
        """2 M_xy at the bottom corner."""
        return 2.0 * (1.0 - NU) * self.at(0.0, 0.0, 1, 1)

    def most(self, value) -> float:
        return max(value(0.5, self.height * k / 60.0) for k in range(61))


def table(name: str) -> list[dict[str, float]]:
    return [{key: float(value) for key, value in row.items()} for row in rows(name)]


SECOND = {1.0: 0.04789, 1.25: 0.0661, 1.5: 0.08116, 1.75: 0.09287, 2.0: 0.10168, 3.0: 0.11886, 4.0: 0.12346}
"""Side ratio: moment a unit width over q b^2, published to five places."""
TWO_A = {0.5: 0.36, 1.0: 0.67, 1.5: 0.77, 2.0: 0.79}
"""Roark, case 2a, to two places; its 0.45 at 0.667 is left out: the series gives 0.499 there."""
ONE_D = {1.5: (0.26, 0.043), 2.0: (0.34, 0.060)}
"""Roark, case 1d: beta and alpha."""


def roark() -> list[Case]:
    """Case 1a against a series: D = E t^3/10.92 turns its alpha into ours; its alphas at 1.4 and 2.0 miss by 0.5 and
    0.4 %. Then cases 2a and 1d."""
    found = []
    for row in table("roark_11_4_1a"):
        ratio = row["ratio"]
        if ratio > 5:
            continue
        plate, slack = Levy(ratio, head=False, free=False), 4e-4 if ratio in (1.4, 2.0) else 1.5e-4
        found.append(Case(f"1a alpha at {ratio:g}", row["alpha"], 10.92 * plate.sag(0.5, ratio / 2), slack))
        found.append(Case(f"1a beta at {ratio:g}", row["beta"], 6.0 * plate.across(0.5, ratio / 2), 1.5e-3))
    for ratio, beta in TWO_A.items():
        ours = 6.0 * coefficients("plate_three_edges_uniform", ratio)["moment"]
        found.append(Case(f"2a beta at {ratio:g}", beta, ours, 5.1e-3))
    for ratio, (beta, alpha) in ONE_D.items():
        ours_of = coefficients("plate_four_edges_head", ratio)
        found.append(Case(f"1d beta at {ratio:g}", beta, 6.0 * ours_of["moment_across"], 5.1e-3))
        found.append(Case(f"1d alpha at {ratio:g}", alpha, 10.92 * ours_of["sag"], 8e-4))
    return found


def second_set() -> list[Case]:
    """The straight line between two rows of the table costs up to 1 %."""
    return [
        Case(f"at {ratio:g}", C2, coefficients("roark_11_4_1a", ratio)["beta"] / 6.0,
             2e-4 if ratio in (1.0, 2.0, 3.0, 4.0) else 1e-2 * C2)
        for ratio, C2 in SECOND.items()
    ]  # fmt: skip


def agreements() -> list[Agreement]:
    """Roark's table and the other set."""
    but = "its beta of case 2a at 0.667 is left out as an error"
    return [
        Agreement("plates", "Roark, Table 11.4, cases 1a, 1d, 2a", tuple(roark()), but),
        Agreement("plates on four edges", "a second published set of coefficients", tuple(second_set())),
    ]


@pytest.mark.parametrize("case", [*roark(), *second_set()], ids=lambda case: case.name)
def test_published_coefficient(case):
    assert case.agrees, case


@pytest.mark.parametrize("row", table("plate_three_edges_uniform"), ids=lambda r: str(r["ratio"]))
def test_three_edges_uniform(row):
    plate = Levy(row["ratio"], head=False, free=True)
    assert row["sag"] == pytest.approx(plate.sag(0.5, row["ratio"]), abs=1.2e-5)
    assert row["moment"] == pytest.approx(plate.across(0.5, row["ratio"]), abs=2e-4)


def test_roark_2a_worksheet():
    """a 15 in, b 12 in, t 0.25 in, q 100 psi: 165 900 psi from an interpolated, two-digit beta of 0.72."""
    moment = coefficients("plate_three_edges_uniform", 1.25)["moment"] * 100 * PSI * (12 * INCH) ** 2
    stress = 6.0 * moment / (0.25 * INCH) ** 2 / PSI
    assert stress == pytest.approx(165900, rel=0.02)
    assert stress > 165900


@pytest.mark.parametrize("row", table("plate_open_top_head"), ids=lambda r: str(r["ratio"]))
def test_open_top_under_head(row):
    plate = Levy(row["ratio"], head=True, free=True)
    assert row["sag"] == pytest.approx(plate.most(plate.sag), abs=1.2e-5)
    assert row["moment_across"] == pytest.approx(plate.most(plate.across), abs=1.5e-4)
    assert row["moment_up"] == pytest.approx(plate.most(plate.up), abs=1.5e-4)


@pytest.mark.parametrize("row", table("plate_open_top_head"), ids=lambda r: str(r["ratio"]))
def test_open_top_reactions(row):
    plate = Levy(row["ratio"], head=True, free=True, terms=201)
    side = max(plate.side(row["ratio"] * k / 40.0) for k in range(2, 40))
    assert row["side"] == pytest.approx(side, abs=3e-3)
    assert row["bottom"] == pytest.approx(plate.bottom(0.5), abs=3e-3)


@pytest.mark.parametrize("row", table("plate_four_edges_head"), ids=lambda r: str(r["ratio"]))
def test_four_edges_under_head(row):
    plate = Levy(row["ratio"], head=True, free=False)
    short = min(1.0, row["ratio"])
    assert row["sag"] == pytest.approx(plate.most(plate.sag) / short**4, abs=1.2e-5)
    assert row["moment_across"] == pytest.approx(plate.most(plate.across) / short**2, abs=1.5e-4)
    assert row["moment_up"] == pytest.approx(plate.most(plate.up) / short**2, abs=1.5e-4)


@pytest.mark.parametrize("row", table("plate_corner_hold_down"), ids=lambda r: str(r["ratio"]))
def test_corner_hold_down(row):
    """Given as a share of q0 B^2 to three places."""
    found = [
        Levy(row["ratio"], head, free, terms=401).corner()
        for head, free in ((False, False), (True, False), (True, True))
    ]
    # A held plate under head pulls hardest at a bottom corner, where the pressure is.
    assert row["lidded_uniform"] == pytest.approx(found[0], abs=1e-3)
    assert row["lidded_head"] == pytest.approx(found[1], abs=1e-3)
    assert row["open_head"] == pytest.approx(found[2], abs=1e-3)


def test_uniform_plate_in_both_directions():
    tall, wide = Plate(0.6, 0.3, 0.018, 3e9), Plate(0.3, 0.6, 0.018, 3e9)
    assert under_uniform(tall, 2000.0) == under_uniform(wide, 2000.0)


def test_a_long_plate_is_a_strip():
    """Infinite ratio: q b^2/8 and, with D for E I, 5 q b^4/384 D."""
    found = under_uniform(Plate(3.0, 0.3, 0.018, 3e9), 2000.0)
    assert found.stress == pytest.approx(6 * 2000 * 0.3**2 / 8 / 0.018**2, rel=1e-9)
    assert found.sag == pytest.approx(5 * 2000 * 0.3**4 / 384 / plate_stiffness(3e9, 0.018), rel=2e-3)


@pytest.mark.parametrize(
    "plate", [Plate(0.06, 0.3, 0.018, 3e9), Plate(1.0, 1.0, 0.003, 1e9), Plate(0.5, 0.5, 0.0, 1e9)]
)
def test_outside_small_deflection_refused(plate):
    with pytest.raises(RangeError):
        under_uniform(plate, 5000.0)


@pytest.mark.parametrize("ratio", [0.1, 4.0])
def test_outside_the_table_refused(ratio):
    with pytest.raises(RangeError):
        under_head(Plate(0.4 * ratio, 0.4, 0.004, 200e9), 100.0, "open")
