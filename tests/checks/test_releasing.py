"""When molds come off and what holds them: published times only where they belong, drafts warned of at 1:12."""

from __future__ import annotations

from dataclasses import replace
from math import atan, radians

import pytest

from formwork.checks.releasing import AIR, EASY, draft_cautions, ratio, releasing
from formwork.mix.records import Times
from formwork.shapes import planter, slab
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


def test_suction_is_the_air_on_the_cap() -> None:
    """The cap's blank under one standard atmosphere, 101.325 kPa; said once for several molds."""
    mold = planter_mold("5 deg")
    cap = next(part.blank for part in mold.parts if part.role == "core cap")
    said = releasing([mold, mold], mix(), Times(), "mm")
    [line] = [one for one in said if "weight of the air" in one]
    force = float(line.partition("up to ")[2].split()[0])
    assert AIR == 101_325.0
    assert force == pytest.approx(101.325 * cap.length * cap.width, rel=6e-3)


def test_a_mold_without_a_core_speaks_of_no_suction_behind_one() -> None:
    mold = build(slab.SHAPE, parameters(slab.SHAPE, {"length": 500, "width": 400, "thickness": 50})).mold
    assert not any("weight of the air" in line for line in releasing([mold], mix(), Times(), "mm"))
