"""When molds come off and what holds them: published times only where they belong, drafts warned of at 1:12."""

from __future__ import annotations

from dataclasses import replace
from math import atan, pi, radians, sqrt

import pytest

from formwork.checks.releasing import AIR, EASY, draft_cautions, ratio, releasing
from formwork.mix.pour_records import Times
from formwork.shapes import block, many_sided, planter, round_planter, slab
from tests.drawn import parameters
from tests.workshop import build, concrete, mix

PLANTER = {"length": 600, "width": 400, "height": 300, "wall": 45, "floor": 50, "down": "rim"}


def planter_mold(draft: str):
    """A planter whose core is drawn with this draft."""
    return build(planter.SHAPE, parameters(planter.SHAPE, {**PLANTER, "core_draft": draft})).mold


def with_draft(draft: float):
    """The same mold, its core's draft set by hand (rad)."""
    mold = planter_mold("5 deg")
    steps = tuple(replace(one, draft=draft) if one.group == "core" else one for one in mold.stripping)
    return replace(mold, stripping=steps)


def test_a_core_is_warned_of_below_one_in_twelve_and_not_above() -> None:
    assert ratio(EASY) == "1:12"
    [said] = draft_cautions([with_draft(radians(3.0))])
    assert "1:19" in said
    assert "3.0 deg" in said
    assert draft_cautions([with_draft(EASY)]) == ()
    assert draft_cautions([with_draft(radians(8.0))]) == ()


def test_a_piece_without_a_core_is_not_warned_of() -> None:
    mold = build(slab.SHAPE, parameters(slab.SHAPE, {"length": 500, "width": 400, "thickness": 50})).mold
    assert draft_cautions([mold]) == ()


@pytest.mark.parametrize(("draft", "said"), [(atan(1 / 6), "1:6"), (atan(1 / 8), "1:8"), (0.0, "nothing")])
def test_a_draft_in_words(draft: float, said: str) -> None:
    assert ratio(draft) == said


def test_times_of_ordinary_concrete_are_never_offered_for_cellular() -> None:
    mold = planter_mold("5 deg")
    light = "\n".join(releasing([mold], mix(), Times(), "mm"))
    plain = "\n".join(releasing([mold], concrete(), Times(), "mm"))
    assert "after 48 h" in light
    for word in ("12 h", "two days", "347"):
        assert word not in light
        assert word in plain


def test_the_shop_says_how_long_its_cellular_mix_stands() -> None:
    assert "after 72 h" in releasing([planter_mold("5 deg")], mix(), Times(strip=259_200.0), "mm")[0]


def shoelace(points) -> float:
    """Area of a polygon by Gauss, m2."""
    pairs = zip(points, (*points[1:], points[0]), strict=True)
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs)) / 2.0


def pulled(mold) -> float:
    """What suction is said to hold a core with, N."""
    [line] = [one for one in releasing([mold], mix(), Times(), "mm") if "weight of the air" in one]
    size, unit = line.partition("up to ")[2].split()[:2]
    return float(size) * (1000.0 if unit.startswith("kN") else 1.0)


def test_suction_on_a_round_cap_is_that_of_a_disc_and_on_six_sides_of_a_hexagon() -> None:
    """A circle's pi d^2 / 4 and a hexagon's 2 sqrt(3) r^2, not the squares round them."""
    keys = {"diameter": 500, "base_diameter": 420, "height": 400, "wall": 50, "floor": 50, "down": "rim"}
    tub = build(round_planter.SHAPE, parameters(round_planter.SHAPE, keys), method="wrapped").mold
    cap = next(part.blank for part in tub.parts if part.role == "core cap")
    assert pulled(tub) == pytest.approx(AIR * pi * cap.length**2 / 4.0, rel=6e-3)
    six = {"sides": 6, "size": 500, "height": 300, "wall": 50, "floor": 40, "down": "rim"}
    hexagon = build(many_sided.SHAPE, parameters(many_sided.SHAPE, six)).mold
    across = min((one.blank.length, one.blank.width) for one in hexagon.parts if one.role == "core cap")[1]
    assert pulled(hexagon) == pytest.approx(AIR * 2.0 * sqrt(3.0) * (across / 2.0) ** 2, rel=6e-3)


def test_a_core_through_the_piece_is_held_by_no_suction_and_has_no_hole() -> None:
    """Air stands on a cap that reaches the fill plane."""
    keys = {"length": 450, "width": 200, "height": 220, "cores": 2, "shell": 40, "web": 50}
    mold = build(block.SHAPE, parameters(block.SHAPE, keys)).mold
    assert not any("weight of the air" in line for line in releasing([mold], mix(), Times(), "mm"))
    assert not any(part.blank.holes for part in mold.parts if part.role == "core cap")


def test_suction_is_the_air_on_the_cap() -> None:
    """The cap under one standard atmosphere, 101.325 kPa; said once for several molds."""
    mold = planter_mold("5 deg")
    cap = next(part.blank for part in mold.parts if part.role == "core cap")
    said = releasing([mold, mold], mix(), Times(), "mm")
    [line] = [one for one in said if "weight of the air" in one]
    force = float(line.partition("up to ")[2].split()[0])
    assert AIR == 101_325.0
    assert force == pytest.approx(101.325 * shoelace(cap.outline), rel=6e-3)


def test_a_mold_without_a_core_speaks_of_no_suction_behind_one() -> None:
    mold = build(slab.SHAPE, parameters(slab.SHAPE, {"length": 500, "width": 400, "thickness": 50})).mold
    assert not any("weight of the air" in line for line in releasing([mold], mix(), Times(), "mm"))
