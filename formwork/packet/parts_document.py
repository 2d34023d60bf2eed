"""Parts, fastenings and what is used up, as they stand in the JSON document."""

from __future__ import annotations

from typing import Any

from formwork.geometry.outlines import Outline
from formwork.molds.mold import Fixing, Hardware, Mold
from formwork.molds.structure import Structure
from formwork.packet.figures import degrees_of, millimetres, nine
from formwork.plan import CutLine, Plan

Entry = dict[str, Any]


def parts_entry(plan: Plan) -> list[Entry]:
    """Everything cut and everything bought by the piece, each thing once, every row with the same keys."""
    return [_cut_line(line) for line in plan.cut_list] + _hardware(plan)


def _cut_line(line: CutLine) -> Entry:
    part, blank = line.part, line.part.blank
    return {
        "label": line.label,
        "mold": line.mold,
        "name": part.name,
        "names": list(line.names),
        "role": part.role,
        "kind": part.kind,
        "stock": part.stock,
        "quantity": line.quantity,
        "unit": "piece",
        "layers": part.layers,
        "length_mm": millimetres(blank.length),
        "width_mm": millimetres(blank.width),
        "thickness_mm": millimetres(blank.thickness),
        "outline_mm": _points(blank.edge),
        "bulges": [nine(bulge) for bulge in blank.edge.bulges],
        "openings_mm": [
            {"outline_mm": _points(one), "bulges": [nine(bulge) for bulge in one.bulges]}
            for one in blank.openings
        ],
        "holes_mm": [[millimetres(value) for value in hole] for hole in blank.holes],
        "bevels_deg": [degrees_of(bevel) for bevel in blank.bevels],
        "good_face": part.good_face,
        "outside_diameter_mm": millimetres(blank.width) if blank.wall else None,
        "wall_mm": millimetres(blank.wall) if blank.wall else None,
        "work": part.work,
    }


def _points(outline: Outline) -> list[list[float]]:
    return [[millimetres(x), millimetres(y)] for x, y in outline.points]


def _hardware(plan: Plan) -> list[Entry]:
    """Things bought by the piece, for all copies of each mold, centre and frame, with labels of their own (HW1, HW2).

    What stands in the cut list with its size (drain plugs) is not told again.
    """
    cut = {(line.mold, line.part.stock) for line in plan.cut_list if line.part.kind == "hardware"}
    bought: list[tuple[Mold | Structure, Hardware]] = [
        (mold, thing)
        for mold in plan.molds
        if not mold.owned
        for thing in mold.hardware
        if by_the_piece(thing) and (mold.name, thing.item) not in cut
    ]
    built: list[Structure] = [*plan.centres, *plan.frames]
    bought += [(one, thing) for one in built for thing in one.hardware]
    return [
        _hardware_line(f"HW{number}", mold, thing) for number, (mold, thing) in enumerate(bought, start=1)
    ]


def _hardware_line(label: str, mold: Mold | Structure, thing: Hardware) -> Entry:
    return {
        "label": label,
        "mold": mold.name,
        "name": thing.item,
        "names": [thing.item],
        "role": thing.use,
        "kind": "hardware",
        "stock": f"{thing.item} {thing.size}".strip(),
        "quantity": nine(thing.quantity * mold.copies),
        "unit": thing.unit,
        "layers": None,
        "length_mm": None,
        "width_mm": None,
        "thickness_mm": None,
        "outline_mm": [],
        "bulges": [],
        "openings_mm": [],
        "holes_mm": [],
        "bevels_deg": [],
        "good_face": None,
        "outside_diameter_mm": None,
        "wall_mm": None,
        "work": "",
    }


def fixing_entry(one: Fixing) -> Entry:
    """The fasteners of one kind of joint in one mold."""
    return {
        "use": one.use,
        "item": one.item,
        "size": one.size,
        "count": one.count,
        "places": one.places,
        "comes_off": one.comes_off,
    }


def consumable_entry(thing: Hardware) -> Entry:
    """What is sold by area or length, for all fillings of one mold."""
    return {"item": thing.item, "quantity": nine(thing.quantity), "unit": thing.unit, "use": thing.use}


def by_the_piece(thing: Hardware) -> bool:
    """It is counted, not measured by area or length."""
    return thing.unit == "piece"
