"""What stands behind the skin of a dome's form between its ribs: purlins, headers, and straps on joints."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import cos, hypot, sin

from formwork.geometry.gores import offset_line
from formwork.geometry.outlines import Point
from formwork.molds.dome.form import DomeForm, Side, bay_cell
from formwork.molds.dome.gores import Chain, behind, chain
from formwork.molds.dome.pieces import stick_part
from formwork.molds.dome.plies import ending, half_thickness
from formwork.molds.mold import Blank, Part, Placement

_SHIM = 0.0005
_GAP = 0.005
_SHARE = 0.9


def purlins(form: DomeForm, side: Side) -> Iterator[Part]:
    """Level sticks between ribs, their ends bevelled, behind the skin."""
    skin = chain(form, side)
    for number, polar in enumerate(form.hoops, start=1):
        for bay, span in _bays(form, polar):
            yield _purlin(form, side, skin, polar, (bay, span), f"{side} purlin {number} bay {bay + 1}")


def _bays(form: DomeForm, polar: float) -> Iterator[tuple[int, int]]:
    """The bays at a level, with how many of them lie between two ribs that reach above it."""
    standing = [rib for rib in range(form.count) if _stands(form, rib, polar)]
    for rib, after in zip(standing, (*standing[1:], standing[0] + form.count), strict=True):
        yield rib, after - rib


def _stands(form: DomeForm, rib: int, polar: float) -> bool:
    top = ending(form, rib)
    return top is None or polar > top + 1e-9


def _purlin(form: DomeForm, side: Side, skin: Chain, polar: float, place: tuple[int, int], name: str) -> Part:
    bay, span = place
    half, way = span * form.half, form.bearing(bay + span / 2.0)
    section = _section(form, side, skin, _seat_of(form, side, polar), span)
    ends = ((half, _thick(form, side, bay, polar)), (half, _thick(form, side, bay + span, polar)))
    body = bay_cell(form, way, section, *ends, name)
    group = form.section_of(side, bay).name
    return stick_part(form, name, group, body, (-sin(way), cos(way), 0.0), "ring", form.strut)


def _seat_of(form: DomeForm, side: Side, polar: float) -> float:
    """Polar angle of a purlin's middle: a header's stands above the ends of the ribs that it stops."""
    if polar not in form.headers:
        return polar
    return polar - (form.strut.width / 2.0 + _GAP) / form.rib_line(side).bend(polar)


def _thick(form: DomeForm, side: Side, rib: int, polar: float) -> float:
    return half_thickness(form, rib, polar) if side == "inner" else form.ply


def _section(form: DomeForm, side: Side, skin: Chain, polar: float, span: int) -> tuple[Point, ...]:
    """Cross-section of a purlin in the middle between its ribs: its broad side just clears the back of the skin.

    Outside the dome the skin stands out furthest on the planes of ribs that have ended.
    """
    line, broad, deep = form.rib_line(side), form.strut.width, form.strut.thickness
    reach = (broad / 2.0 + _GAP) / line.bend(polar)
    sign = -1.0 if side == "inner" else 1.0
    nr, nz = line.normal(polar)
    r, z = line.point(polar)
    fold = 1.0 if side == "outer" and span > 1 else cos(span * form.half)
    u = r * fold
    back = [(x / cos(form.half) * fold, y) for x, y in behind(skin, polar + reach, polar - reach)]
    clear = max(sign * ((x - u) * nr + (y - z) * nz) for x, y in back) + _SHIM
    u, z = u + sign * clear * nr, z + sign * clear * nz
    tu, tz = -nz, nr
    a = (u - tu * broad / 2.0, z - tz * broad / 2.0)
    b = (u + tu * broad / 2.0, z + tz * broad / 2.0)
    c = (b[0] + sign * deep * nr, b[1] + sign * deep * nz)
    d = (a[0] + sign * deep * nr, a[1] + sign * deep * nz)
    return (a, b, c, d) if side == "inner" else (a, d, c, b)


def straps(form: DomeForm) -> Iterator[Part]:
    """Behind the joint of two gores above a rib that ends at a header: a strip of skin, its grain across the joint."""
    for side in form.sides if form.headers else ():
        line, skin = form.rib_line(side), chain(form, side)
        for rib in range(form.count):
            low, high = ending(form, rib), line.at_radius(form.top)
            if low is None:
                continue
            stops = [one for one in form.hoops if high < one < low - 1e-9]
            ends = [low, *stops, high]
            for number, (a, b) in enumerate(pairwise(ends), start=1):
                clear = (form.strut.width / 2.0 + 2.0 * _GAP) / line.bend((a + b) / 2.0)
                start = a - (2.0 * clear if a in form.headers else clear)
                stop = b + clear if b in stops else b
                if start - stop > clear:
                    yield _strap(
                        form, side, skin, (rib, start, stop), f"{side} strap {rib + 1} length {number}"
                    )


def _strap(form: DomeForm, side: Side, skin: Chain, place: tuple[int, float, float], name: str) -> Part:
    """A length of strap between two purlins; it is bent with the skin when it is screwed on."""
    rib, low, high = place
    line = form.rib_line(side)
    wide = min(16.0 * form.lining, _SHARE * 2.0 * line.r(high) * sin(form.half))
    front = behind(skin, low, high)
    back = offset_line(tuple(front), form.lining if side == "inner" else -form.lining)
    cells = []
    for bay, ends in (
        (rib - 1, ((-form.half, -wide / 2.0), (form.half, 0.0))),
        (rib, ((form.half, 0.0), (-form.half, -wide / 2.0))),
    ):
        for i in range(len(front) - 1):
            corners = (front[i], front[i + 1], back[i + 1], back[i])
            section = corners if side == "inner" else corners[::-1]
            cells.append(bay_cell(form, form.bearing(bay + 0.5), section, *ends, name))
    length = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(front))
    outline = ((0.0, 0.0), (wide, 0.0), (wide, length), (0.0, length))
    (r, z), (c, s) = line.point(low), (cos(form.bearing(rib)), sin(form.bearing(rib)))
    up = (-cos(low), sin(low))
    return Part(
        name=name,
        role="skin",
        kind="panel",
        stock=form.skin.name,
        group=form.section_of(side, rib).name,
        cells=tuple(cells),
        blank=Blank(wide, length, form.skin.thickness, outline, (0.0,) * 4),
        placement=Placement(
            (r * c + wide / 2.0 * s, r * s - wide / 2.0 * c, z),
            (-s, c, 0.0),
            (up[0] * c, up[0] * s, up[1]),
            (-up[1] * c, -up[1] * s, up[0]),
        ),
        layers=form.layers,
        work="glue and screw it behind the joint of the two gores, on the fold",
    )
