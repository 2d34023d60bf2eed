"""What is bought by the piece for a dome's form: screws, bolts, rods, and where each kind goes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil

from formwork.molds.dome.form import DomeForm
from formwork.molds.dome.loads import bolt_washer, rod_force, rod_washer, rods, seam_bolts
from formwork.molds.joints import CLOSE, WIDE, along
from formwork.molds.load import Load
from formwork.molds.mold import Fixing, Hardware, Part
from formwork.stock.records import HardwareStock
from formwork.units import show
from formwork.units.parse import read

_SEAM_APART = 0.3
_BITE = 0.025


def fixings(
    form: DomeForm, parts: Sequence[Part], load: Load, shop: Sequence[HardwareStock]
) -> tuple[Fixing, ...]:
    """Where the screws and bolts of one form go."""
    ply, lining = form.ply, form.lining
    gores = [one for one in parts if one.role == "skin"]
    edges = sum(2 * along(one.blank.width, CLOSE) for one in gores)
    segments = [one for one in parts if one.role == "rib"]
    sewn = sum(along(one.blank.length, WIDE) for one in segments)
    sticks = [one for one in parts if one.role in ("ring", "rail") and one.kind == "stick"]
    boards = [one for one in parts if one.role in ("base", "board") and one.cells]
    rings = [one for one in parts if one.role == "ring" and one.kind == "panel"]
    found = [
        _screws("skin to ribs, heads sunk and filled", edges, len(gores), lining, 2.0 * ply, shop, off=False),
        _screws("plies of ribs and splice plates, glued", sewn, len(segments), ply, ply, shop, off=False),
        _screws(
            "purlins and soles to ribs",
            4 * len(sticks),
            len(sticks),
            ply,
            form.stick.thickness,
            shop,
            off=False,
        ),
        _screws(
            "boards to posts, rings and ribs", 4 * len(boards), len(boards), ply, 2.0 * ply, shop, off=True
        ),
        _screws("layers of crown rings, glued", 12 * len(rings), len(rings), ply, ply, shop, off=False),
    ]
    found += _bolts(form, load, shop)
    return tuple(one for one in found if one.count)


def _bolts(form: DomeForm, load: Load, shop: Sequence[HardwareStock]) -> list[Fixing]:
    """Bolts through the halves of ribs where sections meet."""
    inside = form.shell.inside
    each = ceil(inside.length(inside.at_radius(form.top), inside.springing) / _SEAM_APART) + 1
    seams = len(form.inner)
    size = _size(shop, "bolt", 2.0 * form.ply * (form.key + 1))
    found = [
        Fixing(
            "seams of the inner form, through both halves of the rib", "bolt", size, each * seams, seams, True
        )
    ]
    if form.fluid:
        count, many = seam_bolts(form, load), len(form.outer)
        size = _size(shop, "bolt", 2.0 * form.ply + 0.01)
        found.append(
            Fixing(
                f"seams of the outer form, with square washers of {show.length(bolt_washer(form, load), form.units)}",
                "bolt",
                size,
                count * many,
                many,
                True,
            )
        )
    return found


def _screws(
    use: str,
    count: int,
    places: int,
    through: float,
    into: float,
    shop: Sequence[HardwareStock],
    *,
    off: bool,
) -> Fixing:
    sizes = _lengths(shop, "screw")
    fitting = [size for length, size in sizes if through + 0.4 * _BITE <= length <= through + into - 0.002]
    better = [size for length, size in sizes if through + _BITE <= length <= through + into - 0.002]
    size = (better or fitting or [sizes[0][1] if sizes else ""])[0]
    return Fixing(use, "screw", size, count, max(1, places), off)


def _size(shop: Sequence[HardwareStock], item: str, least: float) -> str:
    """The shortest that is long enough, else the longest that the shop lists."""
    sizes = _lengths(shop, item)
    return next((size for length, size in sizes if length >= least + 0.01), sizes[-1][1] if sizes else "")


def _lengths(shop: Iterable[HardwareStock], item: str) -> list[tuple[float, str]]:
    sizes = [one.size for one in shop if one.item == item and " x " in one.size]
    return sorted((read(size.split(" x ", 1)[1], "length", None), size) for size in sizes)


def bought(form: DomeForm, some: Sequence[Fixing], load: Load, weight: float) -> tuple[Hardware, ...]:
    """Everything bought by the piece to hold one form together.

    Args:
        form: the form.
        some: where its screws and bolts go.
        load: the mix.
        weight: of the outer form, N.
    """
    lines = [Hardware(one.item, one.size, float(one.count), "piece", one.use) for one in some]
    for one in some:
        if one.item == "bolt":
            thread = one.size.split(" x ")[0]
            lines.append(Hardware("washer", thread, 2.0 * one.count, "piece", f"{one.use}, both sides"))
            lines.append(Hardware("nut", thread, float(one.count), "piece", one.use))
    if form.fluid:
        count, asked = rods(form, load, weight), show.force(rod_force(form, load, weight), form.units)
        washer = show.length(rod_washer(form, load, weight), form.units)
        lines.append(
            Hardware(
                "tie rod",
                f"with square washer of {washer}, for a working load of {asked} or more",
                float(count),
                "piece",
                "hold the outer form down, at ribs evenly round it",
            )
        )
        lines.append(
            Hardware(
                "anchor",
                f"for a pull of {asked} or more",
                float(count),
                "piece",
                "in the ground or slab, one a rod",
            )
        )
    return tuple(lines)
