"""Parts of a dome's form as solids: each has the volume its records say, and they hardly reach into one another.

Skin is drawn in plane strips between levels; ribs are cut to the curve itself, so the two share what lies between
curve and chord: a strip of 5.6 degrees on 1.5 m is 1.8 mm deep in its middle, two thirds of that on the mean.
"""

from __future__ import annotations

import re
from itertools import combinations

import pytest

from formwork.molds.mold import Part
from formwork.molds.weighing import part_volume
from formwork.solids.build import part_solid
from formwork.solids.kernel import volume
from tests.molds.test_dome_forms import kept
from tests.solids.test_wrapped import apart

BETWEEN_CURVE_AND_CHORD = 0.0012
"""Mean depth to which a rib may stand in the skin, m."""
ROUNDING = 1e-4
"""Most of a part that any other may share, of its volume."""


def few(name: str) -> list[Part]:
    """The parts of one bay away from the key section with those of its ribs, and of the crown."""
    form = kept(name)
    numbers = {str(form.form.count // 3)}
    return [
        part
        for part in form.mold.parts
        if part.role != "template"
        and (set(re.findall(r"\d+", part.name)) & numbers or "crown" in part.name)
        and not (part.role == "cleat" and "post" in part.name)
    ]


def allowed(one: Part, other: Part) -> float:
    """Room that two parts may share, m3."""
    rib = next((part for part in (one, other) if part.role == "rib"), None)
    if rib and "skin" in (one.role, other.role):
        return BETWEEN_CURVE_AND_CHORD * rib.blank.thickness * rib.blank.length
    return ROUNDING * min(part_volume(one), part_volume(other))


def test_parts_have_their_volumes_and_keep_out_of_one_another() -> None:
    parts, planes = few("stiff"), kept("stiff").mold.planes
    assert {part.role for part in parts} >= {"rib", "skin", "ring", "base", "rail", "cleat"}
    solids = [(part, part_solid(planes, part)) for part in parts]
    for part, solid in solids:
        assert volume(solid) == pytest.approx(part_volume(part), rel=1e-5), part.name
    boxes = [solid.BoundingBox() for _, solid in solids]
    for (i, (one, first)), (j, (other, second)) in combinations(enumerate(solids), 2):
        if not apart(boxes[i], boxes[j]):
            shared = first.intersect(second).Volume() / 1e9
            assert shared < allowed(one, other), f"{one.name} and {other.name}"
