"""Sections for the yard and the saw: cut list, saw settings, where the cuts fall, what to buy."""

from __future__ import annotations

from functools import partial
from math import degrees

from formwork.cutting.records import Bound, Cut, SheetLayout, StickLayout, offcut_name
from formwork.geometry.outlines import Outline, box, legs
from formwork.molds.mold import Blank
from formwork.packet.blocks import Block, Line, Points, Section, Table, by_mold, table
from formwork.packet.ordinates import ordinate_blocks
from formwork.packet.row_words import how_marked, in_rows, on_sheet
from formwork.packet.saw import ALONG, SQUARE, CurveCut, curve_cuts, left_open, settings, struck_radii
from formwork.packet.wording import counted, fine_up, size
from formwork.plan import BuyLine, CutLine, Plan
from formwork.project.records import Shop
from formwork.stock.records import Saw
from formwork.units import show
from formwork.units.show import UnitSystem

_GOOD_SIDE = {"outline": "larger face", "far": "smaller face", "both": "both", "any": "either"}
_NO_GAP = 5e-6
"""A joint that opens by less (m) is closed."""
_EDGE_FROM = {"left": "left end", "right": "right end", "bottom": "lower edge", "top": "upper edge"}
_SAME = 1e-9
_OPPOSITE = {"left": "right", "right": "left", "bottom": "top", "top": "bottom"}


def cut_list(plan: Plan) -> Section:
    """What is cut, from which stock, and how the saw is set."""
    units = plan.project.units
    if not plan.cut_list:
        return Section("Cut list", (Line("Nothing is cut: every mold is one the shop has."),), "cuts")
    blocks: list[Block] = [*by_mold(plan.cut_list, partial(_cut_table, shop=plan.project.shop, units=units))]
    saw = saw_settings(plan)
    if saw.rows:
        blocks += [Line(_SAW_NOTE), saw]
    for how, note in ((TO_TEMPLATE, _TEMPLATE_NOTE), (BY_TRAMMEL, _TRAMMEL_NOTE)):
        blocks += [Line(note)] if any(how in row for row in saw.rows) else []
    blocks += [Line(line) for line in _left_square(plan)]
    blocks += [Points(notes) for notes in [(*_part_notes(plan, units), *in_rows(plan))] if notes]
    blocks += ordinate_blocks(plan)
    return Section("Cut list", tuple(blocks), "cuts")


_SAW_NOTE = (
    "Saw settings, from square, each edge seen on the larger face with the grain from left to right; sizes "
    "are to the long points. Edges that are not named are square. Leaning in: the face below is the smaller one."
)
TO_TEMPLATE = "to template"
BY_TRAMMEL = "by trammel"
"""What stands where a curve has no mitre."""
_TEMPLATE_NOTE = (
    "To template: no fence and no mitre gauge guides a curve. Cut the curve to the full-size template with a jigsaw or "
    "a band saw; where a radius is given, a trammel strikes it as well."
)
_TRAMMEL_NOTE = (
    "By trammel: strike discs and rings about the middle of the blank, where its diagonals cross, and cut them with a "
    "jigsaw or a band saw; they have no template on paper."
)


def _left_square(plan: Plan) -> tuple[str, ...]:
    """What the tilts come to that no saw is set to, said once."""
    gap = max(left_open(line.part.blank) for line in plan.cut_list)
    if gap < _NO_GAP:
        return ()
    opens = fine_up(gap, plan.project.units)
    least = show.plain(degrees(SQUARE), 2)
    return (f"Blade tilts under {least} deg are left square: no joint opens by more than {opens}.",)


def _cut_table(lines: list[CutLine], shop: Shop, units: UnitSystem) -> Table:
    sizes = (f">{way}, {units}" for way in ("long", "wide", "thick"))
    heads = ("mark", "part", ">pieces", "from", *sizes, "grain", "good side")
    return table(heads, [_cut_row(line, shop, units) for line in lines])


def _cut_row(line: CutLine, shop: Shop, units: UnitSystem) -> tuple[str, ...]:
    part, blank = line.part, line.part.blank
    return (
        line.label,
        names_of(line),
        str(line.quantity),
        part.stock,
        *_sizes(blank, units),
        grain(line, shop),
        _GOOD_SIDE[part.good_face] if part.kind == "panel" else "",
    )


def _sizes(blank: Blank, units: UnitSystem) -> tuple[str, str, str]:
    """Length, width and thickness; of a pipe or tube its outside diameter and its wall."""
    long, wide, thick, wall = (
        size(value, units, exact=True) if value else ""
        for value in (blank.length, blank.width, blank.thickness, blank.wall)
    )
    return (long, f"{wide} outside", f"wall {wall}") if blank.wall else (long, wide, thick)


def names_of(line: CutLine) -> str:
    """The parts a line stands for: up to three by name, more by the first and their number."""
    if len(line.names) <= 3:
        return ", ".join(line.names)
    return f"{line.names[0]} and {len(line.names) - 1} alike"


def grain(line: CutLine, shop: Shop) -> str:
    """Which way the face grain must run, empty where there is none to mind."""
    if line.part.kind != "panel":
        return ""
    stock = next((sheet for sheet in shop.sheets if sheet.name == line.part.stock), None)
    return "lengthwise" if stock is None or stock.grain else "either way"


def saw_settings(plan: Plan) -> Table:
    """Every edge of the cut list that is not square; marks whose edges are all set alike stand together."""
    alike: dict[tuple[tuple[str, ...], ...], list[str]] = {}
    for line in plan.cut_list:
        alike.setdefault(edge_rows(line.part.blank, plan.project.units), []).append(line.label)
    rows = [
        (", ".join(marks) if first else "", *row)
        for edges, marks in alike.items()
        for first, row in zip((True, *(False for _ in edges)), edges, strict=False)
    ]
    return table(("mark", "edges", ">mitre", ">blade tilt", "leaning"), rows)


def edge_rows(blank: Blank, units: UnitSystem) -> tuple[tuple[str, ...], ...]:
    """The edges of a blank that are not straight and square, as texts: which, mitre, blade tilt, leaning."""
    straight = tuple(
        (edges, _angle(mitre, ALONG), _angle(tilt, SQUARE), _leaning(tilt))
        for edges, mitre, tilt in settings(blank)
    )
    how = BY_TRAMMEL if struck_radii(blank) else TO_TEMPLATE
    return (*straight, *(_curve_row(curve, how, units) for curve in curve_cuts(blank)))


def _curve_row(curve: CurveCut, how: str, units: UnitSystem) -> tuple[str, ...]:
    place = f"{curve.place}{_radii(*curve.radii, units)}"
    least, most = curve.tilts
    if most - least < ALONG:
        return place, how, _angle(most, SQUARE), _leaning(most)
    ways = dict.fromkeys(way for way in (_leaning(least), _leaning(most)) if way)
    return place, how, f"{_angle(least, SQUARE)} to {_angle(most, SQUARE)}", " and ".join(ways)


def _radii(least: float, most: float, units: UnitSystem) -> str:
    """``, radius 400 mm``; of a curve of many arcs ``, radii 400 to 900 mm``; nothing where there is none."""
    if most - least > _NO_GAP:
        return f", radii {size(least, units)} to {show.length(most, units)}"
    return f", radius {show.length(most, units)}" if most else ""


def _angle(value: float, least: float) -> str:
    return "square" if abs(value) < least else show.angle(abs(value))


def _leaning(tilt: float) -> str:
    if abs(tilt) < SQUARE:
        return ""
    return "in" if tilt > 0.0 else "out"


def _part_notes(plan: Plan, units: UnitSystem) -> tuple[str, ...]:
    """Holes to bore and layers to glue up."""
    works = dict.fromkeys(line.part.work for line in plan.cut_list if line.part.work)
    notes = [
        f"{', '.join(line.label for line in plan.cut_list if line.part.work == work)}: {work}."
        for work in works
    ]
    for line in plan.cut_list:
        part = line.part
        notes += [f"{line.label}: {opening_note(one, units)}." for one in part.blank.openings]
        if part.work:
            continue
        if part.layers > 1:
            notes.append(f"{line.label}: glue up {part.layers} layers for each part.")
        holes = [
            f"{show.length(diameter, units)} across at {size(x, units)} from the left end, "
            f"{size(y, units)} from the lower edge"
            for x, y, diameter in part.blank.holes
        ]
        if holes:
            notes.append(f"{line.label}: bore {counted(len(holes), 'hole')}: {'; '.join(holes)}.")
    return tuple(notes)


def opening_note(opening: Outline, units: UnitSystem) -> str:
    """What is cut out of the inside of a blank, and where: by its middle where it is round, else by its box."""
    (x0, y0), (x1, y1) = box(opening)
    radii = {round(leg.arc().radius, 6) if leg.bulge else 0.0 for leg in legs(opening)}
    if len(radii) == 1 and 0.0 not in radii:
        radius = show.length((x1 - x0) / 2.0, units)
        what, at = f"a round opening of radius {radius}", ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
        where = "its middle"
    else:
        box_size = f"{size(x1 - x0, units)} x {show.length(y1 - y0, units)}"
        what, at = f"an opening {box_size} to the full-size template", (x0, y0)
        where = "its box"
    return (
        f"cut out {what}, {where} {size(at[0], units)} from the left end, "
        f"{size(at[1], units)} from the lower edge"
    )


def layouts(plan: Plan) -> Section:
    """Where each cut falls on the sheets and sticks."""
    units = plan.project.units
    blocks: list[Block] = []
    for number, layout in enumerate(plan.sheets, start=1):
        blocks += sheet_blocks(number, layout, units, plan.project.shop.saw)
    if plan.sticks:
        blocks += stick_blocks(plan.sticks, units)
    blocks += [Points(lines) for lines in [tuple(bound_line(bound, plan) for bound in plan.bounds)] if lines]
    return Section(
        "Where the cuts fall", tuple(blocks) or (Line("No sheet and no stick is cut."),), "layouts"
    )


def sheet_title(number: int, layout: SheetLayout, units: UnitSystem) -> str:
    """How a layout is called wherever it is shown: ``Sheet 1 (cut 2 alike): ply 18, 2440 x 1220 mm``."""
    stock = layout.stock
    alike = f" (cut {layout.count} alike)" if layout.count > 1 else ""
    sizes = f"{size(stock.length, units)} x {show.length(stock.width, units)}"
    return f"Sheet {number}{alike}: {stock.name}, {sizes}"


def sheet_blocks(number: int, layout: SheetLayout, units: UnitSystem, saw: Saw) -> list[Block]:
    """What is cut from one sheet: the parts on it, the cuts in their order, what to keep.

    Args:
        number: of the layout.
        layout: one way of cutting a sheet.
        units: of the person.
        saw: what it takes, and what is trimmed off each edge of a sheet.
    """
    kerf = f" The saw takes {show.length(saw.kerf, units, exact=True)} with every cut, on the far side of the fence."
    told = f"{sheet_title(number, layout, units)}. On it: {on_sheet(layout)}."
    blocks: list[Block] = [Line(told + (kerf if layout.cuts else ""))]
    if layout.cuts:
        heads = (">cut", "of", "runs", f">fence at, {units}", "fence on", "makes", "frees")
        off = trims(layout, saw.trim)
        rows = [
            _cut_step(step, cut, units, off[step - 1] if step <= len(off) else None)
            for step, cut in enumerate(layout.cuts, start=1)
        ]
        blocks.append(table(heads, rows))
    blocks += [Points(lines) for lines in [how_marked(layout, units)] if lines]
    if layout.offcuts:
        kept = [
            f"offcut {offcut_name(number, at)}, {size(left.length, units)} x {show.length(left.width, units)}"
            for at, left in enumerate(layout.offcuts)
        ]
        each = ", one of each sheet" if layout.count > 1 else ""
        blocks.append(
            Line(f"Keep{each}, mark and enter in the shop file (offcut = true): {'; '.join(kept)}.")
        )
    return blocks


def trims(layout: SheetLayout, trim: float) -> tuple[float, ...]:
    """What the first cuts take off the edges of a sheet, m: as many of them as only make an edge true.

    Args:
        layout: one way of cutting a sheet.
        trim: taken off each edge of a sheet, m.
    """
    found: list[float] = []
    sheet, across = 0, {"length": layout.stock.width, "width": layout.stock.length}
    for cut in layout.cuts:
        off = across[cut.along] - cut.at
        if cut.piece != sheet or cut.gives[1] != -1 or cut.parts or off > trim + _NO_GAP:
            break
        found.append(off)
        sheet, across[cut.along] = cut.gives[0], cut.at
    return tuple(found)


def _cut_step(step: int, cut: Cut, units: UnitSystem, trimmed: float | None) -> tuple[str, ...]:
    made = [_piece(number) for number in cut.gives if number >= 0]
    if trimmed is None:
        runs = "along the length" if cut.along == "length" else "across"
        fence = size(cut.at, units, exact=True), _EDGE_FROM[cut.from_edge]
    else:
        runs = f"trim {show.length(trimmed, units)} off the {_EDGE_FROM[_OPPOSITE[cut.from_edge]]}"
        fence = "", ""
    return (
        str(step),
        _piece(cut.piece),
        runs,
        *fence,
        " and ".join(made),
        ", ".join(cut.parts),
    )


def _piece(number: int) -> str:
    return "sheet" if number == 0 else f"piece {number}"


def stick_blocks(sticks: tuple[StickLayout, ...], units: UnitSystem) -> list[Block]:
    """How the sticks are cut, one way of cutting a row."""
    heads = (">sticks", "from", f">length, {units}", "cuts from the end", f">left over, {units}")
    return [table(heads, [_stick_row(layout, units) for layout in sticks])]


def _stick_row(layout: StickLayout, units: UnitSystem) -> tuple[str, ...]:
    cuts: list[list[str | int]] = []
    for label, length in layout.cuts:
        text = f"{label} {size(length, units)}"
        if cuts and cuts[-1][0] == text:
            cuts[-1][1] = int(cuts[-1][1]) + 1
        else:
            cuts.append([text, 1])
    order = ", ".join(f"{count} x {text}" if count != 1 else str(text) for text, count in cuts)
    return (
        str(layout.count),
        layout.stock.name,
        size(layout.length, units),
        order,
        size(layout.offcut, units),
    )


def bound_line(bound: Bound, plan: Plan) -> str:
    """How near the best possible the cutting is, in plain words; a stick is counted for one strip across."""
    if bound.proven and any(
        line.part.role == "strip" and line.part.stock == bound.stock for line in plan.cut_list
    ):
        return (
            f"{bound.stock}: no other cutting could use less with one strip to each length; what is ripped off may "
            "give more strips."
        )
    if bound.proven:
        return f"{bound.stock}: no other cutting could use less."
    stopped = "; looking for less was stopped before its work was done" if bound.stopped else ""
    bought = sum(one.count for one in plan.sheets if one.stock.name == bound.stock)
    bought += sum(one.count for one in plan.sticks if one.stock.name == bound.stock)
    if abs(bound.used - bought) < _SAME:
        used, least = show.digits(bound.used), show.digits(bound.least)
        return (
            f"{bound.stock}: uses {used}; the least that any cutting could use is {least} or more{stopped}."
        )
    used, least = (show.money(amount, plan.project.shop.currency) for amount in (bound.used, bound.least))
    return f"{bound.stock}: costs {used}; the least that any cutting could cost is {least} or more{stopped}."


def buying(plan: Plan) -> Section:
    """What to buy, with its cost and the total of what has a price."""
    currency = plan.project.shop.currency
    heads = ("buy", ">quantity", "unit", ">cost", "for")
    rows = [_buy_row(line, currency) for line in plan.buy]
    if not rows:
        return Section("To buy", (Line("Nothing has to be bought."),), "buy")
    return Section("To buy", (table(heads, rows), Line(_total(plan.buy, currency))), "buy")


def _buy_row(line: BuyLine, currency: str) -> tuple[str, ...]:
    cost = "no price" if line.cost is None else show.money(line.cost, currency)
    return line.item, show.plain(line.quantity, 2), line.unit, cost, line.use


def total_cost(lines: tuple[BuyLine, ...]) -> float:
    """The sum of all lines that have a price, in the shop's currency."""
    return sum(line.cost for line in lines if line.cost is not None)


def _total(lines: tuple[BuyLine, ...], currency: str) -> str:
    without = sum(line.cost is None for line in lines)
    total = show.money(total_cost(lines), currency)
    if not without:
        return f"Total: {total}."
    if without == len(lines):
        return "The shop file gives no prices, so there is no total."
    return f"Total: {total}, and {counted(without, 'line')} without a price."
