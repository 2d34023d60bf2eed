"""The lists as CSV for a spreadsheet: plain decimals, each column's unit in its heading, one heading row."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

from formwork.mix.pour_records import Batch, Pour
from formwork.packet.cut_sections import BY_TRAMMEL, TO_TEMPLATE, edge_rows, grain, names_of
from formwork.packet.figures import nine
from formwork.plan import CutLine, Plan
from formwork.units import show
from formwork.units.show import INCH, UnitSystem
from formwork.units.table import find

Row = Sequence[str | float | int]

_POUND = float((find("lb", "mass") or ("", 0))[1])


def _text(headings: Sequence[str], rows: Sequence[Row]) -> str:
    """Rows as CSV text; a leading sign that a spreadsheet would take for a formula is set apart by a blank."""
    out = io.StringIO()
    safe = [[_inert(cell) for cell in row] for row in rows]
    csv.writer(out, lineterminator="\r\n").writerows([headings, *safe])
    return out.getvalue()


def _inert(cell: str | float) -> str | float:
    return f" {cell}" if isinstance(cell, str) and cell[:1] in ("=", "+", "-", "@", "\t") else cell


def _length(value: float, units: UnitSystem) -> float:
    """Inches to a thousandth, or millimetres to a hundredth."""
    return nine(round(value / INCH, 3)) if units == "in" else nine(round(value * 1000.0, 2))


def cut_list(plan: Plan) -> str:
    """The cut list: a row for each mark, sizes to the long points, saw settings in words."""
    units = plan.project.units
    headings = ["mark", "part", "mold", "pieces", "from", f"length ({units})", f"width ({units})",
                f"thickness ({units})"]  # fmt: skip
    headings += ["length, nearest 1/16 in", "width, nearest 1/16 in"] if units == "in" else []
    headings += ["grain", "layers", "saw settings (from square)"]
    return _text(headings, [_cut_row(line, plan) for line in plan.cut_list])


def _cut_row(line: CutLine, plan: Plan) -> Row:
    units, blank = plan.project.units, line.part.blank
    fractions = [show.fraction(blank.length), show.fraction(blank.width)] if units == "in" else []
    return [
        line.label,
        names_of(line),
        line.mold,
        line.quantity,
        line.part.stock,
        _length(blank.length, units),
        _length(blank.width, units),
        _length(blank.thickness, units),
        *fractions,
        grain(line, plan.project.shop),
        line.part.layers,
        "; ".join(_setting(*row) for row in edge_rows(blank, units)) or "square",
    ]


def _setting(edges: str, mitre: str, tilt: str, leaning: str) -> str:
    if mitre in (TO_TEMPLATE, BY_TRAMMEL):
        tilted = f"blade {tilt}" + (f" leaning {leaning}" if leaning else "")
        how = "to the full-size template" if mitre == TO_TEMPLATE else "struck with a trammel"
        return f"{edges}: cut the curve {how}, jigsaw or band saw, {tilted}"
    return f"{edges}: mitre {mitre}, blade {tilt}" + (f" leaning {leaning}" if leaning else "")


def buy_list(plan: Plan) -> str:
    """What to buy; the cost stays empty where the shop gives no price."""
    headings = ["item", "quantity", "unit", f"cost ({plan.project.shop.currency})", "for"]
    rows = [
        [
            line.item,
            nine(line.quantity),
            line.unit,
            "" if line.cost is None else round(line.cost, 2),
            line.use,
        ]
        for line in plan.buy
    ]
    return _text(headings, rows)


def batches(plan: Plan) -> str:
    """Every mixer load of every pour, one a row."""
    units = plan.project.units
    mass, volume = ("lb", "ft3") if units == "in" else ("kg", "L")
    headings = ["pour", "batch", f"makes ({volume})", f"cement ({mass})", "cement (bags)", f"water in mixer ({mass})",
                f"sand ({mass})", f"fly ash ({mass})", f"gravel ({mass})", f"foam ({volume})", f"foam ({mass})",
                "run foam (s)", f"concentrate ({mass})", f"water for foam ({mass})"]  # fmt: skip
    first = next((batch for pour in plan.pours for batch in pour.batches), None)
    headings += [f"{name} ({mass})" for name, _ in first.others] if first else []
    headings += [f"fibres ({mass})"] if first and first.fibres else []
    lifted = any(pour.lifts for pour in plan.pours)
    headings[1:1] = ["lift"] if lifted else []
    rows = [
        [pour.number, *([_lift_of(pour, number)] if lifted else []), number, *_batch(batch, units)]
        for pour in plan.pours
        for number, batch in enumerate(pour.batches, start=1)
    ]
    return _text(headings, rows)


def _lift_of(pour: Pour, batch: int) -> int:
    """Number of the lift that a batch goes into."""
    return next((lift.number for lift in pour.lifts if lift.first <= batch <= lift.last), 1)


def _batch(batch: Batch, units: UnitSystem) -> Row:
    per_kg = 1.0 / _POUND if units == "in" else 1.0
    per_m3 = 1.0 / show.FOOT**3 if units == "in" else 1000.0
    seconds = "" if batch.foam_seconds is None else round(batch.foam_seconds, 1)

    def mass(value: float) -> float:
        return nine(round(value * per_kg, 3))

    def volume(value: float) -> float:
        return nine(round(value * per_m3, 3))

    solids = (mass(value) for value in (batch.water, batch.sand, batch.ash, batch.gravel))
    return [
        volume(batch.volume), mass(batch.cement), nine(round(batch.bags, 3)), *solids,
        volume(batch.foam_volume), mass(batch.foam_mass), seconds, mass(batch.concentrate), mass(batch.dilution_water),
        *(mass(value) for _, value in batch.others), *([mass(batch.fibres)] if batch.fibres else []),
    ]  # fmt: skip
