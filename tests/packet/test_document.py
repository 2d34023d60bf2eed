"""The JSON document: the keys of the contract, in order, finite numbers, the same bytes each time."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from formwork.checks.check import Check
from formwork.packet.document import document, to_json
from formwork.packet.figures import nine

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
        "sheets": {"ply 18": {"used": 1.0, "least": 1.0, "proven": True, "method": "area"}},
        "sticks": {"45 x 45": {"used": 1.0, "least": 1.0, "proven": True, "method": "length"}},
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
