"""The plan as one JSON document: its keys are a contract, carry their units, and stand in a fixed order."""

from __future__ import annotations

from typing import Any

from formwork.checks.check import Check, NotChecked
from formwork.cutting.records import Bound, Placed, SheetLayout, StickLayout, spots
from formwork.mix.pour_records import Batch, FoamCheck, Pour, PourLift, Solution, Timing, Way
from formwork.mix.records import Mix
from formwork.molds.mold import Limits, Mold
from formwork.packet.calendar_document import calendar_entry
from formwork.packet.fastenings import gathered
from formwork.packet.figures import degrees_of, millimetres, nine, nine_or_none
from formwork.packet.frame_document import centre_entry, frame_entry
from formwork.packet.parts_document import by_the_piece, consumable_entry, fixing_entry, parts_entry
from formwork.plan import BuyLine, PieceSummary, Plan
from formwork.pour.measure import CupReading
from formwork.project.records import Project
from formwork.shapes.piece import Embedded

FORMAT = 1
"""Raised when a key changes its meaning or goes away; new keys alone do not raise it."""

Entry = dict[str, Any]


def document(plan: Plan) -> Entry:
    """The whole plan as plain dictionaries and lists, ready for JSON.

    Lengths are in mm, areas in m2, volumes in m3, masses in kg, angles in degrees; every number has at most
    nine significant digits and is finite.
    """
    return {
        "format": FORMAT,
        "project": _project(plan.project, plan.assumed),
        "pieces": [_piece(piece) for piece in plan.pieces],
        "molds": [_mold(mold) for mold in plan.molds],
        "frames": [frame_entry(built) for built in plan.frames],
        "centres": [centre_entry(built) for built in plan.centres],
        "parts": parts_entry(plan),
        "checks": [_check(check) for check in plan.checks],
        "not_checked": [_not_checked(entry) for entry in plan.not_checked],
        "sheets": [_sheet(layout) for layout in plan.sheets],
        "sticks": [_stick(layout) for layout in plan.sticks],
        "bounds": _bounds(plan),
        "pours": [_pour(pour) for pour in plan.pours],
        "mix": _mix(plan.mix) if plan.mix else None,
        "buy": [_buy(line) for line in plan.buy],
        "cautions": list(plan.cautions),
        "foam_check": _foam_check(plan.foam_check) if plan.foam_check else None,
        "cup": _cup(plan.cup) if plan.cup else None,
        "calendar": calendar_entry(plan.job) if plan.job else None,
    }


def to_json(plan: Plan) -> str:
    """The document as text, one line feed at its end; the same plan gives the same bytes."""
    import json  # noqa: PLC0415 - only --json and the packet write it

    return json.dumps(document(plan), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _project(project: Project, assumed: tuple[str, ...]) -> Entry:
    return {
        "title": project.title,
        "file": project.path.replace("\\", "/").rsplit("/", 1)[-1],
        "units": project.units,
        "currency": project.shop.currency,
        "notes": list(project.notes),
        "assumed": list(assumed),
    }


def _piece(piece: PieceSummary) -> Entry:
    return {
        "name": piece.order.name,
        "shape": piece.order.shape,
        "count": piece.order.count,
        "spares": piece.order.spares,
        "molds": piece.order.molds,
        "pours": piece.pours,
        "volume_m3": nine(piece.volume),
        "wet_mass_kg": nine(piece.wet_mass),
        "dry_mass_kg": nine(piece.dry_mass),
        "stripped_mass_kg": nine(piece.stripped_mass),
    }


def _mold(mold: Mold) -> Entry:
    return {
        "name": mold.name,
        "method": mold.method,
        "piece": mold.piece.name,
        "copies": mold.copies,
        "owned": mold.owned,
        "uses": mold.uses,
        "cavities": mold.piece.cavities,
        "cavity_volume_m3": nine(mold.cavity),
        "nominal_volume_m3": nine(mold.nominal),
        "wetted_area_m2": nine(mold.wetted),
        "seam_length_mm": millimetres(mold.seams),
        "stripping": [strip.group for strip in mold.stripping],
        "stripping_steps": [
            {
                "group": strip.group,
                "way": [nine(component) for component in strip.way],
                "draft_deg": degrees_of(strip.draft),
                "note": strip.note,
            }
            for strip in mold.stripping
        ],
        "locked": [{"group": group, "remedy": remedy} for group, remedy in mold.locked],
        "embedded": [_embedded(thing) for thing in mold.piece.embedded],
        "instructions": list(mold.instructions),
        "label": _limits(mold.limits) if mold.limits else None,
        "fixings": [fixing_entry(one) for one in gathered(mold.fixings)],
        "consumables": [consumable_entry(thing) for thing in mold.hardware if not by_the_piece(thing)],
    }


def _limits(limits: Limits) -> Entry:
    return {"density": limits.density, "height": limits.height, "rate": limits.rate, "head": limits.head}


def _embedded(thing: Embedded) -> Entry:
    return {
        "name": thing.name,
        "kind": thing.kind,
        "item": thing.item,
        "count": thing.count,
        "length_mm": millimetres(thing.length),
        "width_mm": millimetres(thing.width),
        "diameter_mm": millimetres(thing.diameter),
        "volume_m3": nine(thing.volume),
        "mass_kg": nine(thing.mass),
        "cover_mm": millimetres(thing.cover),
        "spacers": thing.spacers,
        "pitch_mm": millimetres(thing.pitch),
        "material": thing.material,
    }


def _check(check: Check) -> Entry:
    return {
        "name": check.name,
        "mold": check.mold,
        "demand": nine_or_none(check.demand),
        "capacity": nine_or_none(check.capacity),
        "unit": check.unit,
        "utilisation": nine_or_none(check.utilisation),
        "ok": check.ok,
        "source": check.source,
        "working": list(check.working),
        "remedy": check.remedy,
    }


def _not_checked(entry: NotChecked) -> Entry:
    return {"name": entry.name, "mold": entry.mold, "why": entry.why}


def _sheet(layout: SheetLayout) -> Entry:
    stock = layout.stock
    return {
        "stock": stock.name,
        "length_mm": millimetres(stock.length),
        "width_mm": millimetres(stock.width),
        "thickness_mm": millimetres(stock.thickness),
        "price": nine_or_none(stock.price),
        "count": layout.count,
        "placed": [_placed(blank) for blank in layout.placed],
        "cuts": [
            {
                "along": cut.along,
                "at_mm": millimetres(cut.at),
                "from_edge": cut.from_edge,
                "parts": list(cut.parts),
                "piece": cut.piece,
                "gives": list(cut.gives),
            }
            for cut in layout.cuts
        ],
        "offcuts": [
            {
                "x_mm": millimetres(offcut.x),
                "y_mm": millimetres(offcut.y),
                "length_mm": millimetres(offcut.length),
                "width_mm": millimetres(offcut.width),
            }
            for offcut in layout.offcuts
        ],
    }


def _placed(blank: Placed) -> Entry:
    """A blank where it lies; one that gives several parts bears the label of the first, and tells them all."""
    return {
        "label": spots(blank)[0].label,
        "x_mm": millimetres(blank.x),
        "y_mm": millimetres(blank.y),
        "length_mm": millimetres(blank.length),
        "width_mm": millimetres(blank.width),
        "turned": blank.turned,
        "nested": [
            {
                "label": spot.label,
                "x_mm": millimetres(spot.x),
                "y_mm": millimetres(spot.y),
                "turned_deg": 90 * spot.quarters,
            }
            for spot in blank.nested
        ],
    }


def _stick(layout: StickLayout) -> Entry:
    return {
        "stock": layout.stock.name,
        "length_mm": millimetres(layout.length),
        "price": nine_or_none(layout.price),
        "count": layout.count,
        "cuts": [{"label": label, "length_mm": millimetres(length)} for label, length in layout.cuts],
        "offcut_mm": millimetres(layout.offcut),
    }


def _bounds(plan: Plan) -> Entry:
    """The bounds by stock, sheets and sticks apart."""
    sticks = {stock.name for stock in plan.project.shop.sticks} | {
        layout.stock.name for layout in plan.sticks
    }
    return {
        "sheets": {bound.stock: _bound(bound) for bound in plan.bounds if bound.stock not in sticks},
        "sticks": {bound.stock: _bound(bound) for bound in plan.bounds if bound.stock in sticks},
    }


def _bound(bound: Bound) -> Entry:
    return {
        "used": nine(bound.used),
        "least": nine(bound.least),
        "proven": bound.proven,
        "stopped": bound.stopped,
        "method": bound.method,
    }


def _pour(pour: Pour) -> Entry:
    return {
        "number": pour.number,
        "pieces": dict(pour.pieces),
        "volume_m3": nine(pour.volume),
        "leftover_m3": nine(pour.leftover),
        "leftover_molds": dict(pour.put_away),
        "leftover_remains_m3": nine(pour.remains),
        "time": _timing(pour.timing) if pour.timing else None,
        "solution": _solution(pour.solution) if pour.solution else None,
        "batches": [_batch(batch) for batch in pour.batches],
        "ways": [_way(way) for way in pour.ways],
        "lifts": [_lift(lift) for lift in pour.lifts],
    }


def _lift(lift: PourLift) -> Entry:
    return {
        "number": lift.number,
        "filled_to_mm": {name: nine(1000.0 * top) for name, top in lift.tops},
        "volume_m3": nine(lift.volume),
        "first_batch": lift.first,
        "last_batch": lift.last,
        "leftover_m3": nine(lift.leftover),
        "leftover_molds": dict(lift.put_away),
        "leftover_remains_m3": nine(lift.remains),
        "time": _timing(lift.timing) if lift.timing else None,
        "solution": _solution(lift.solution) if lift.solution else None,
        "ways": [_way(way) for way in lift.ways],
    }


def _way(way: Way) -> Entry:
    return {
        "split": way.split,
        "batches": [
            {"count": count, "volume_m3": nine(size), "cement_bags": nine(bags)}
            for (count, size), bags in zip(way.sizes, way.bags, strict=True)
        ],
        "leftover_m3": nine(way.leftover),
        "best": way.best,
        "chosen": way.chosen,
    }


def _timing(timing: Timing) -> Entry:
    slowest = timing.slowest
    return {
        "total_seconds": nine(timing.total),
        "batch_seconds": nine(timing.batch),
        "foaming_seconds": nine(timing.foaming) if timing.foaming_known else None,
        "placed_after_foam_seconds": nine(timing.age),
        "slowest_mold": {
            "piece": slowest.name,
            "first_batch": slowest.first,
            "last_batch": slowest.last,
            "full_after_foam_seconds": nine(slowest.seconds),
            "full_after_foam_seconds_slurry_ahead": nine(slowest.ahead),
        },
        "in_time": timing.in_time,
        "slow_molds": [
            {
                "piece": one.name,
                "batches": one.batches,
                "least_seconds": nine(one.least),
                "wait_seconds": nine(one.wait),
            }
            for one in timing.slow
        ],
    }


def _solution(solution: Solution) -> Entry:
    return {
        "volume_m3": nine(solution.volume),
        "concentrate_m3": nine(solution.concentrate),
        "water_m3": nine(solution.water),
        "reserve_m3": nine(solution.reserve),
    }


def _foam_check(check: FoamCheck) -> Entry:
    return {
        "foam_density_kg_m3": nine(check.density),
        "measure_m3": nine(check.volume),
        "net_kg": nine(check.net),
        "least_kg": nine(check.low),
        "most_kg": nine(check.high),
        "wet_density_by_volume_kg_m3": nine(check.wet_by_volume),
        "wet_density_by_weight_kg_m3": nine(check.wet_by_weight),
    }


def _cup(cup: CupReading) -> Entry:
    holds = cup.cup.holds
    return {
        "volume_m3": nine(holds.volume),
        "volume_spread_m3": nine(holds.spread),
        "tare_kg": nine(cup.cup.tare),
        "scale_step_kg": nine(cup.cup.step),
        "reading_wanted_kg": nine(cup.wanted),
        "reading_least_kg": nine(cup.at(cup.density - cup.tolerance)),
        "reading_most_kg": nine(cup.at(cup.density + cup.tolerance)),
    }


def _batch(batch: Batch) -> Entry:
    return {
        "volume_m3": nine(batch.volume),
        "cement_kg": nine(batch.cement),
        "cement_bags": nine(batch.bags),
        "water_kg": nine(batch.water),
        "sand_kg": nine(batch.sand),
        "ash_kg": nine(batch.ash),
        "gravel_kg": nine(batch.gravel),
        "foam_m3": nine(batch.foam_volume),
        "foam_kg": nine(batch.foam_mass),
        "foam_seconds": nine_or_none(batch.foam_seconds),
        "concentrate_kg": nine(batch.concentrate),
        "dilution_water_kg": nine(batch.dilution_water),
        "others_kg": {name: nine(mass) for name, mass in batch.others},
        "fibres_kg": nine(batch.fibres),
    }


def _mix(mix: Mix) -> Entry:
    return {
        "kind": mix.kind,
        "wet_density_kg_m3": nine(mix.wet_density),
        "dry_density_kg_m3": nine(mix.dry_density),
        "slurry_density_kg_m3": nine(mix.slurry_density),
        "water_cement_ratio": nine(mix.water_cement),
        "water_cement_ratio_with_foam": nine(mix.water_cement_total),
        "cement_kg_m3": nine(mix.cement),
        "water_kg_m3": nine(mix.water),
        "sand_kg_m3": nine(mix.sand),
        "ash_kg_m3": nine(mix.ash),
        "gravel_kg_m3": nine(mix.gravel),
        "foam_m3_m3": nine(mix.foam_volume),
        "foam_kg_m3": nine(mix.foam_mass),
        "air_m3_m3": nine(mix.air),
        "bag_kg": nine(mix.bag),
        "others_kg_m3": {name: nine(mass) for name, mass in mix.others},
        "fibres_kg_m3": nine(mix.fibres),
        "aim": mix.aim,
        "warnings": list(mix.warnings),
        "working": list(mix.working),
    }


def _buy(line: BuyLine) -> Entry:
    return {
        "item": line.item,
        "quantity": nine(line.quantity),
        "unit": line.unit,
        "cost": nine_or_none(line.cost),
        "use": line.use,
    }
