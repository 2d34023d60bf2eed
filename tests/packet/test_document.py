"""The JSON document: the keys of the contract, in order, finite numbers, the same bytes each time."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from formwork.checks.check import Check
from formwork.packet.document import document, to_json
from formwork.packet.figures import nine
from formwork.plan import Plan
from formwork.plan import plan as plan_of
from formwork.project.read import read_project

CONTRACT = {
    "format": None,
    "project": {"title"},
    "pieces": {"name", "shape", "count", "molds", "volume_m3", "wet_mass_kg", "dry_mass_kg"},
    "molds": {"name", "method", "cavities", "cavity_volume_m3", "nominal_volume_m3", "stripping"},
    "parts": {"label", "mold", "name", "kind", "stock", "quantity", "length_mm", "width_mm", "thickness_mm",
              "outline_mm", "holes_mm", "bevels_deg"},
    "checks": {"name", "mold", "demand", "capacity", "unit", "utilisation", "ok", "source", "working"},
    "not_checked": {"name", "mold", "why"},
    "sheets": {"stock", "length_mm", "width_mm", "price", "count", "placed", "cuts", "offcuts"},
    "sticks": {"stock", "length_mm", "price", "count", "cuts", "offcut_mm"},
    "bounds": {"sheets", "sticks"},
    "pours": {"number", "pieces", "volume_m3", "batches"},
    "mix": {"wet_density_kg_m3", "dry_density_kg_m3", "slurry_density_kg_m3", "water_cement_ratio"},
    "buy": {"item", "quantity", "unit", "cost"},
    "cautions": None,
}  # fmt: skip


def test_every_key_of_the_contract_is_there_in_its_order(plan):
    made = document(plan)
    assert [key for key in made if key in CONTRACT] == list(CONTRACT)
    for key, wanted in CONTRACT.items():
        if wanted is None:
            continue
        entries = made[key] if isinstance(made[key], list) else [made[key]]
        assert entries
        for entry in entries:
            assert wanted <= set(entry), key


def test_nested_keys_of_the_contract(plan):
    made = document(plan)
    assert {"label", "x_mm", "y_mm", "length_mm", "width_mm", "turned"} <= set(made["sheets"][0]["placed"][0])
    assert {"along", "at_mm", "from_edge", "parts"} <= set(made["sheets"][0]["cuts"][0])
    assert {"label", "length_mm"} == set(made["sticks"][0]["cuts"][0])
    batch = {"volume_m3", "cement_kg", "water_kg", "foam_m3", "foam_kg", "concentrate_kg"}
    assert batch <= set(made["pours"][0]["batches"][0])
    assert {part["kind"] for part in made["parts"]} <= {"panel", "stick", "pipe", "hardware"}


def test_values_worked_on_paper(plan):
    made = document(plan)
    assert made["pieces"][0]["volume_m3"] == 0.012
    front = made["parts"][1]
    assert (front["length_mm"], front["width_mm"], front["thickness_mm"]) == (636.0, 50.0, 18.0)
    assert front["outline_mm"] == [[0.0, 0.0], [636.0, 0.0], [636.0, 50.0], [0.0, 50.0]]
    assert front["bevels_deg"] == [0.0, 10.0, 0.0, 0.0]
    assert made["parts"][0]["holes_mm"] == [[300.0, 200.0, 12.0]]
    assert made["checks"][1]["utilisation"] == 0.25
    assert made["molds"][0]["stripping"] == ["front panel", "back panel", "left panel", "right panel", "base"]
    assert made["pours"][1]["pieces"] == {"slab": 1}
    assert made["bounds"] == {
        "sheets": {"ply 18": {"used": 1.0, "least": 1.0, "proven": True, "stopped": False, "method": "area"}},
        "sticks": {
            "45 x 45": {"used": 1.0, "least": 1.0, "proven": True, "stopped": False, "method": "length"}
        },
    }


def test_labels_are_unique_hardware_among_them(plan):
    labels = [part["label"] for part in document(plan)["parts"]]
    assert len(labels) == len(set(labels)) == 6


def test_a_mold_in_the_shop_brings_no_hardware(plan):
    owned = replace(plan, molds=(replace(plan.molds[0], owned=True),))
    assert all(part["kind"] != "hardware" for part in document(owned)["parts"])


def test_a_load_without_any_limit_has_no_utilisation(make_plan):
    made = make_plan(checks=(Check("held", "slab mold", 5.0, 0.0, "N", False, "none", ()),))
    assert document(made)["checks"][0]["utilisation"] is None
    json.loads(to_json(made), parse_constant=pytest.fail)


def test_the_same_plan_gives_the_same_bytes_and_ends_its_last_line(make_plan):
    assert to_json(make_plan()) == to_json(make_plan())
    assert to_json(make_plan()).endswith("}\n")


def test_the_text_is_read_back_as_the_document(plan):
    assert json.loads(to_json(plan)) == document(plan)


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_nine_digits_are_kept_and_no_more(value):
    shown = nine(value)
    assert math.isclose(shown, value, rel_tol=5e-9) or (value == 0.0 and shown == 0.0)
    assert len(Decimal(repr(shown)).normalize().as_tuple().digits) <= 9
    assert math.copysign(1.0, nine(-0.0)) == 1.0


EXAMPLES = Path(__file__).parents[2] / "examples"
WITH_ALL_KINDS = ("tapered-planter", "garden-slabs", "pipe-dome")


@cache
def example(name: str) -> Plan:
    return plan_of(read_project(EXAMPLES / f"{name}.toml"))


@pytest.mark.parametrize("name", WITH_ALL_KINDS)
def test_every_row_of_the_parts_has_the_same_keys(name):
    keys = {tuple(sorted(part)) for part in document(example(name))["parts"]}
    assert len(keys) == 1 and CONTRACT["parts"] <= set(keys.pop())


def test_drain_plugs_stand_once_with_their_size_and_in_the_number_that_is_bought():
    made = example("tapered-planter")
    (mold,) = made.molds
    bought = sum(one.quantity for one in mold.hardware if one.use == "drain plugs") * mold.copies
    rows = [part for part in document(made)["parts"] if part["stock"].startswith("dowel or stopper")]
    assert [row["role"] for row in rows] == ["plug"] and rows[0]["length_mm"] > 0.0
    assert rows[0]["quantity"] == bought == 2


@pytest.mark.parametrize("name", WITH_ALL_KINDS)
def test_what_is_sold_by_area_or_length_is_no_part_but_of_its_mold(name):
    made = example(name)
    told = document(made)
    assert {part["unit"] for part in told["parts"]} == {"piece"}
    for mold, entry in zip(made.molds, told["molds"], strict=True):
        amounts = {one["item"]: (one["quantity"], one["unit"]) for one in entry["consumables"]}
        glued = [one for one in mold.hardware if one.item == "waterproof wood glue"]
        assert amounts == {
            **{one.item: (nine(one.quantity), "m2") for one in glued},
            "release agent": (nine(mold.wetted * mold.uses), "m2"),
            "sealer": (nine(mold.wetted), "m2"),
            "sealant": (nine(mold.seams * mold.uses), "m"),
        }


def test_mesh_is_bought_and_told_with_its_openings_and_its_wire():
    """The example's own keys: openings of 25 mm, wire of 2 mm."""
    made = example("garden-slabs")
    (mesh,) = (one for mold in document(made)["molds"] for one in mold["embedded"])
    assert (mesh["pitch_mm"], mesh["diameter_mm"], mesh["material"]) == (25.0, 2.0, "glass or basalt")
    (line,) = (line for line in made.buy if " openings of " in line.item)
    cut = f"{mesh['width_mm']:g} x {mesh['length_mm']:g} mm".replace(" x", " mm x")
    assert line.item == f"glass or basalt mesh, 25 mm openings of 2 mm wire, {cut}"
