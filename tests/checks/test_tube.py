"""Checks of tube molds: each can fail, each step can be redone, and published values come out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from formwork.checks.all import check
from formwork.molds.design import brace, line
from formwork.project.records import MoldOptions, PieceOrder
from formwork.shapes.column import SHAPE
from formwork.stock.records import StickLength, StickStock, StrapStock
from formwork.stock.tubes import TubeStock
from formwork.strength.tube_wall import wall_tension
from tests.drawn import parameters
from tests.working import PROSE, faults
from tests.workshop import mix, shop

CARD = TubeStock("card", "cardboard", "", 0.0, 0.3, 0.308, 0.004, (StickLength(3.0),), 700.0)
CORE = TubeStock("core", "plastic pipe", "", 0.0, 0.14, 0.15, 0.005, (StickLength(3.0),), 1400.0)


def built(keys=None, *, tube=CARD, density=800.0, own=None, **options):
    found = parameters(SHAPE, {"diameter": 300, "height": 900, **(keys or {})})
    order = PieceOrder("pier", "column", found, 2, 1, MoldOptions(method="tube", **options))
    yard = replace(own or shop(), tubes=(tube, CORE))
    return brace(line(order, yard, mix(density), "mm")[0])


def found(made):
    checks, not_made = check([made])
    return {one.name: one for one in checks}, {one.name: one.why for one in not_made}


@pytest.mark.parametrize("keys", [{}, {"hole": 150}, {"height": 2400}, {"height": 400, "chamfer": 20}])
def test_every_step_can_be_redone(keys):
    tube = replace(CARD, head=4.0, strength=2e6)
    for one in check([built(keys, tube=tube)])[0]:
        if one.name not in PROSE:
            assert one.ok, one.name
            assert list(faults(one.working)) == []


@pytest.mark.parametrize("options", [{"tube_off": "slit"}, {"core_out": "left in"}])
def test_every_step_can_be_redone_whatever_way_the_tubes_leave(options):
    own = replace(shop(), straps=(StrapStock("ratchet", 5000.0, None, False, 2.0),))
    for one in check([built({"hole": 150}, own=own, **options)])[0]:
        assert one.name in PROSE or list(faults(one.working)) == []


def test_the_wall_of_a_tank_in_a_lecture():
    """Lecture notes on water tanks: 10 kN/m3, 3 m deep, 4 m across: hoop tension 60 kN a metre of height at the foot.

    In a wall of 100 mm that is 0.6 N/mm2.
    """
    verdict = wall_tension(30e3, 2.0, 0.1, 1e6)
    assert verdict.load == pytest.approx(0.6)
    assert verdict.ok and not wall_tension(30e3, 2.0, 0.1, 0.59e6).ok


def test_the_makers_head_is_one_of_ordinary_concrete():
    """A tube that its maker allows 3 m of concrete in takes 900 mm of cellular mix, and fails under 0.3 m allowed."""
    good, _ = found(built(tube=replace(CARD, head=3.0)))
    assert good["pressure in the tube"].capacity == pytest.approx(2400.0 * 9.80665 * 3.0 / 1000.0)
    assert good["pressure in the tube"].demand == pytest.approx(848.0 * 9.80665 * 0.9 / 1000.0)
    bad, _ = found(built(tube=replace(CARD, head=0.3)))
    assert not bad["pressure in the tube"].ok and bad["pressure in the tube"].remedy


def test_of_head_and_pressure_the_lesser_counts():
    one, _ = found(built(tube=replace(CARD, head=3.0, pressure=6000.0)))
    assert one["pressure in the tube"].capacity == pytest.approx(6.0)
    assert not one["pressure in the tube"].ok


def test_what_nobody_says_is_not_checked():
    _, why = found(built())
    assert "ask, and write head or pressure" in why["pressure in the tube"]
    assert "nobody says what the wall" in why["tube wall in tension"]
    _, slit = found(built(tube=replace(CARD, head=3.0, strength=1e6), tube_off="slit"))
    assert "slit" in slit["pressure in the tube"] and "slit" in slit["tube wall in tension"]
    assert "no strap of the shop has a rating" in slit["straps round the slit tube"]


def test_a_weak_wall_fails():
    weak, _ = found(built(tube=replace(CARD, strength=1e5)))
    assert not weak["tube wall in tension"].ok


def test_a_weak_strap_fails_where_no_closer_ones_help():
    own = replace(shop(), straps=(StrapStock("string", 30.0, None, False, 2.0),))
    one, _ = found(built(own=own, tube_off="slit"))
    assert not one["straps round the slit tube"].ok


def test_sticks_that_are_too_thin_fail():
    """A brace of 22 x 45 lath for a tube 2.4 m high is too slender by any formula."""
    lath = StickStock("lath", "softwood", "22 x 45", 0.022, 0.045, (StickLength(3.0),))
    own = replace(shop(), sticks=(lath,))
    one, _ = found(built({"height": 2400}, own=own))
    assert not one["brace slenderness"].ok
    assert one["brace slenderness"].remedy


def test_a_heavy_mix_round_a_wide_core_bends_the_bar():
    """The bar holds the core down: its lift is the mix the core displaces, by Archimedes."""
    light, _ = found(built({"hole": 150}))
    none, _ = found(built())
    name = next(one for one in light if one.startswith("hold-down bar: "))
    assert "848 * 9.80665 * " in " ".join(light[name].working)
    assert light["tube held down"].demand > none["tube held down"].demand
    assert light["tube held down"].demand - none["tube held down"].demand == pytest.approx(
        1.5 * 848.0 * 9.80665 * 3.141592653589793 / 4.0 * 0.15**2 * 0.9, rel=1e-6
    )


def test_braces_carry_the_stated_push_by_moments_about_the_foot():
    one, _ = found(built({"height": 2000}))
    made = built({"height": 2000})
    level = 450.0 * 2.0 / made.cage.head
    assert one["braces to uprights"].demand == pytest.approx(level * 2.0**0.5)


STAKED = "stakes behind each brace"


def test_stakes_are_as_deep_as_the_ground_of_the_shop_asks():
    """Softer ground, deeper stakes: IBC's lateral bearing of gravel, sand and clay is 200, 150 and 100 psf/ft."""
    deep = []
    for ground in ("gravel", "sand", "clay"):
        made, _ = found(built({"height": 2400}, own=replace(shop(), ground=ground)))
        [one] = [each for name, each in made.items() if STAKED in name]
        assert one.ok
        assert list(faults(one.working)) == []
        deep.append(float(one.name.rsplit(" ", 2)[1]))
    assert deep == sorted(deep)
    assert deep[-1] > deep[0]


def test_without_a_ground_the_key_is_named_and_nothing_is_counted_on():
    made, missing = found(built({"height": 2400}))
    assert not any(STAKED in name for name in made)
    assert 'ground = "sand"' in missing["stakes behind the braces"]
    assert "km/h" in missing["wind"]
    assert "kg" in missing["blocks lifted"]


def test_a_filled_tube_on_its_plate_against_the_ground_of_the_shop():
    """Mold and mix over the plate, by hand; a heavier mix presses harder."""
    own = replace(shop(), ground="clay")
    light, heavy = (built({"height": 2400}, own=own, density=density) for density in (800.0, 1600.0))
    low, high = (found(one)[0]["ground under the plate"] for one in (light, heavy))
    assert low.demand < high.demand
    assert list(faults(low.working)) == []
    [plate] = [part for part in light.mold.parts if part.role == "base"]
    mass = light.mold.mass + light.mold.nominal * light.lined.asked.load.density
    area = plate.blank.length * plate.blank.width
    assert low.demand == pytest.approx(mass * 9.80665 / area / 1e6)
    assert "ground" in found(built({"height": 2400}))[1]["ground under the plate"]


def test_a_low_tube_has_neither_braces_nor_stakes():
    made, missing = found(built({"height": 400}, own=replace(shop(), ground="sand")))
    assert not any("stakes" in name for name in (*made, *missing))


def test_the_wind_told_pushes_the_tube_over_as_hard_as_the_push():
    """Moment about the foot: 1.25 v^2 / 2 times 1.2 times the area, at half the height, against the push at the top."""
    made = built({"height": 2400})
    speed = float(found(made)[1]["wind"].partition("a wind of ")[2].split()[0]) / 3.6
    high, across = made.lined.choice.work.height, 2.0 * made.lined.choice.tube.outer
    moment = 1.25 * speed**2 / 2.0 * 1.2 * across * high * high / 2.0
    assert moment == pytest.approx(450.0 * high, rel=0.02)
