"""Hoops, corners, yokes and flotation: lecture values, and force sums over small areas as a second route.

Sources: lecture pages on water tanks (hoop tension); University of Florida construction lecture notes, week 8 (yoke);
Archimedes' law as in American Concrete Pipe Association, Design Data 22M.
"""

from __future__ import annotations

from math import cos, pi, sin

import pytest

from formwork.errors import RangeError
from formwork.strength.bands import (
    Strap,
    allowed_tension,
    corner_force,
    corner_tension,
    hoop,
    hoop_tension,
    strap_round_square,
    yoke_bolt_force,
)
from formwork.strength.customary import FOOT, INCH, LBF, PCF, PSF
from formwork.strength.pressure import Lift, liquid_head
from formwork.strength.uplift import (
    HoldDown,
    ballast,
    buoyancy,
    dome_lift,
    face_lift,
    held_down,
    hold_down,
    ring_lift,
)
from formwork.strength.working import Unjudged
from tests.verification.agreement import Agreement, Case


def published() -> list[Case]:
    """Lecture values and a strap maker's: a strap that breaks at 15 000 lb is sold as one of 5000 lb."""
    return [
        Case("tank 3 m deep, 4 m across, kN/m", 60.0, hoop_tension(10e3 * 3, 2.0, 1.0) / 1e3, 1e-9),
        Case("yoke, lb", 2042.0, yoke_bolt_force(1500 * PSF, 20 * INCH, 13.86 * INCH) / LBF, 0.6),
        Case("strap, lb", 5000.0, (allowed_tension(Strap("web", breaking=15000 * LBF)) or 0.0) / LBF, 1e-6),
        Case(
            "form lifted off its base, lb",
            1500.0,
            face_lift(150 * PCF, 1 * FOOT**2, 10 * FOOT, 1.0) / LBF,
            1e-6,
        ),
    ]


def by_hand() -> list[Case]:
    """Worked on paper: rho g V, rho g h r, the prism less the frustum, a half ball."""
    return [
        Case("light column, N/m", 1880.0, hoop_tension(liquid_head(800.0, 1.2), 0.2, 1.0), 5.0),
        Case("core in 800 kg/m3, N", 494.0, buoyancy(800.0, 0.6 * 0.3 * 0.35), 0.5),
        Case("core in 2400 kg/m3, N", 1483.0, buoyancy(2400.0, 0.6 * 0.3 * 0.35), 0.5),
        Case("planter rim down, 60 lb/ft3, lb", 68.0, rim_down(60) / LBF, 0.6),
        Case("planter rim down, 145 lb/ft3, lb", 163.0, rim_down(145) / LBF, 0.6),
        Case("dome at its springing, kPa", 12.4, liquid_head(800.0, 1.58) / 1e3, 0.05),
        Case("dome's lift, kN", 32.0, dome_lift(800.0, 1.58) / 1e3, 0.5),
    ]


def rim_down(pcf: float) -> float:
    """Lift on the outer form of a square planter cast rim down: 20 in at the bottom, 14 in at the top, 18 in high, N."""
    return tapered_square_lift(pcf * PCF, 20 * INCH, 14 * INCH, 18 * INCH)


def agreements() -> list[Agreement]:
    """Bands, and what floats."""
    return [
        Agreement(
            "hoops, yokes, straps",
            "lectures on tanks, University of Florida, strap makers",
            tuple(published()),
        ),
        Agreement("hoops and uplift", "statics and Archimedes, worked by hand", tuple(by_hand())),
    ]


def test_hoop_tension_is_the_thrust_on_half_the_ring():
    pressure, radius, height, steps = 4000.0, 0.35, 0.2, 20000
    angle = pi / steps
    thrust = sum(pressure * radius * angle * height * sin((k + 0.5) * angle) for k in range(steps))
    assert 2.0 * hoop_tension(pressure, radius, height) == pytest.approx(thrust, rel=1e-6)


def test_corner_force_is_the_sum_over_thin_bands():
    lift, slices = Lift(900.0, 0.8), 4000
    height = 0.8 / slices
    summed = sum(corner_tension(lift.at((k + 0.5) * height), 0.5, height) for k in range(slices))
    assert corner_force(lift, 0.5, 0.0, 0.8) == pytest.approx(summed, rel=1e-6)


def test_strap_ratings():
    assert allowed_tension(Strap("web", lashing=9000.0, breaking=20000.0)) == 9000.0
    missing = hoop(Strap("old strap"), 1000.0, 0.2, 0.1)
    assert isinstance(missing, Unjudged)
    assert "rating" in missing.why
    assert strap_round_square(Strap("web", lashing=200.0), 5000.0, 0.4, 0.2).load == pytest.approx(200.0)
    with pytest.raises(RangeError):
        allowed_tension(Strap("web", lashing=0.0))


def tapered_square_lift(density: float, foot: float, head: float, height: float) -> float:
    """Lift on the four sides of a square outer form, face by face: pressure at the centroid times plan area."""
    run = (foot - head) / 2.0
    slant = (run**2 + height**2) ** 0.5
    area = (foot + head) / 2.0 * slant
    depth = height - height * (2.0 * head + foot) / (3.0 * (head + foot))
    return 4.0 * face_lift(density, area, depth, run / slant)


@pytest.mark.parametrize("case", [*published(), *by_hand()], ids=lambda case: case.name)
def test_published_or_worked_by_hand(case):
    assert case.agrees, case


@pytest.mark.parametrize("pcf", [60, 145])
def test_planter_cast_rim_down_lifts_its_outer_form(pcf):
    """By faces as by the prism less the frustum."""
    prism_less_frustum = (20**2 * 18 - 18 / 3 * (20**2 + 14**2 + 20 * 14)) * INCH**3
    assert rim_down(pcf) == pytest.approx(buoyancy(pcf * PCF, prism_less_frustum), rel=1e-12)


def test_dome_form():
    """Radius 1.5 m and an 80 mm shell at 800 kg/m3: the sum over rings."""
    steps, radius = 20000, 1.58
    summed = 0.0
    for k in range(steps):
        t = (k + 0.5) * pi / 2 / steps
        ring = 2 * pi * radius**2 * cos(t) * pi / 2 / steps
        summed += liquid_head(800.0, radius * (1 - sin(t))) * ring * sin(t)
    assert dome_lift(800.0, radius) == pytest.approx(summed, rel=1e-6)


@pytest.mark.parametrize(
    ("foot", "head", "height", "cover"), [(0.4, 0.3, 0.5, 0.0), (0.3, 0.45, 0.6, 0.2), (0.3, 0.0, 0.3, 0.1)]
)
def test_cone_sums_over_rings(foot, head, height, cover):
    steps = 20000
    summed = 0.0
    for k in range(steps):
        share = (k + 0.5) / steps
        radius = foot + (head - foot) * share
        plan = 2 * pi * radius * (foot - head) / steps
        summed += liquid_head(800.0, cover + height * (1 - share)) * plan
    assert ring_lift(800.0, foot=foot, head=head, height=height, cover=cover) == pytest.approx(
        summed, rel=1e-6, abs=1e-6
    )


def test_hold_down_and_ballast():
    lift = buoyancy(800.0, 0.063)
    force = hold_down(lift, 60.0)
    assert held_down("core held down", lift, HoldDown(60.0, force)).utilisation == pytest.approx(1.0)
    assert not held_down("core held down", lift, HoldDown(60.0, force * 0.99)).ok
    assert ballast(force) * 9.80665 == pytest.approx(force)
    assert hold_down(-50.0, 10.0) == 0.0
    with pytest.raises(RangeError):
        hold_down(lift, 0.0, 0.9)
