"""Choosing a dome's form: depth of its ribs, headers, purlins, sticks, and sections that pass an opening."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, ceil, cos, pi, sin, tau

from formwork.errors import GeometryError, StockError
from formwork.geometry.gores import ordinate
from formwork.geometry.meridians import Meridian
from formwork.geometry.planes import Planes
from formwork.geometry.prisms import Prism
from formwork.geometry.ribs import ring_radius
from formwork.molds.asked import Asked
from formwork.molds.choice import cheap, usual_sheet
from formwork.molds.dome.form import DomeForm, Section, Side, wedge_ends
from formwork.molds.dome.openings import Opening, openings, section_box, way_out
from formwork.molds.dome.openings import widest as widest_passing
from formwork.molds.dome.skin import (
    SkinChoice,
    outside_of,
    refuse_count,
    ribs_for,
    skin_for,
    skin_pressure,
)
from formwork.molds.strengths import grade_of_stick
from formwork.record import record
from formwork.shapes.piece import Curved, Shell, curved
from formwork.stock.records import SheetStock, StickStock
from formwork.strength.lumber import Section as StickSection
from formwork.strength.lumber import Service, adjust
from formwork.units import show

HOOPS_APART = 0.75
"""Greatest distance between purlins along a rib, m (common practice, no source)."""
_CLOSEST_HOOPS = 0.3
_CLOSEST_PURLINS = 0.2
_DEPTHS = (0.1, 0.12, 0.15, 0.18, 0.2, 0.25)
_HUB_SHARE = 0.1
"""Greatest radius of a closed crown's hub over that of the springing (ours); above it the ribs crowd."""
_OF_THE_RISE = 0.7
"""Most of a dome's rise that skin and rib together take up at the crown (ours)."""
_LEAST_STICK = 0.034
_PLAY = 1.1
_SKIRT = 0.1
"""Most that the skin reaches below the springing, and that its layers differ in length, m."""
_SECTIONS = 4
_STEEP = pi / 4.0
"""Polar angle above which a section parts from its neighbours when it is let down, below which key ribs part them."""
_CLEAR = 0.05


def shell_of(asked: Asked) -> Shell:
    """The shell that is asked for.

    Raises:
        GeometryError: where the piece is no dome.
    """
    shell = curved(asked.piece).shell
    if shell is None:
        raise GeometryError(
            f"{asked.piece.name}: a {asked.piece.shape} is no dome; the ribbed method builds domes only"
        )
    return shell


def decide(asked: Asked) -> DomeForm:
    """Everything about a dome's form that its parts follow.

    Raises:
        GeometryError: where the dome or its form cannot be built.
        StockError: where the shop has nothing to build it from.
    """
    piece, shell, shop = asked.piece, shell_of(asked), asked.shop
    form = curved(piece)
    outside = outside_of(shell)
    widest = shell.inside.r(min(shell.inside.springing, pi / 2.0))
    pressure = skin_pressure(shell, asked.load)
    skin = skin_for(asked, shell, pressure, widest)
    limit = widest_passing(openings(form, 1.0))
    count = asked.order.mold.ribs or ribs_for(skin, shell, widest, limit)
    refuse_count(piece.name, count)
    sheet = usual_sheet(shop, asked.order.mold, asked.uses)
    depth = _depth(shell, skin, sheet, piece.name, asked.order.mold.rib_depth)
    width = depth + skin.layers * skin.sheet.thickness
    crown = _crown(shell, skin, count, sheet.thickness, widest, piece.name)
    bays = 2 ** len(crown.headers)
    key = max(1, ceil(_PLAY * width * sin(bays * pi / count) / (2.0 * sheet.thickness) - 1e-9))
    stick, strut = _stick(asked, 0.0), _stick(asked, pressure * widest * HOOPS_APART)
    apart = min(HOOPS_APART, max(_CLOSEST_HOOPS, _bears(strut) / (pressure * widest)))
    hoops, splits = _levels(asked, skin.sheet, (count, crown.top), apart)
    ways = openings(form, cos(pi / count))
    return DomeForm(
        planes=Planes(),
        piece=piece,
        shell=shell,
        outside=outside,
        fill=form.fill,
        count=count,
        turn=_turn(form, count, bays),
        sheet=sheet,
        skin=skin.sheet,
        layers=skin.layers,
        stick=stick,
        strut=strut,
        depth=depth,
        inner=_sections(shell.inside, width, count, bays, ways),
        outer=_even(count, bays) if shell.placed == "fluid" else (),
        key=key,
        key_end=_key_end(shell, count, bays, key, sheet.thickness),
        drop=max(stick.thickness + sum(wedge_ends(stick)), width / cos(_STEEP)),
        headers=crown.headers,
        hoops=_with_headers(shell, hoops, splits, crown.headers, strut.width),
        splits=splits,
        top=crown.top,
        passing=limit,
        units=asked.units,
        rods=asked.order.mold.rods,
        seam_bolts=asked.order.mold.seam_bolts,
    )


def _depth(shell: Shell, skin: SkinChoice, sheet: SheetStock, name: str, asked: float | None) -> float:
    """Depth of the ribs: a fourteenth of the radius they turn on, from a list, or as asked; they must fit the sheet.

    Raises:
        GeometryError: where the dome is too small for the shallowest, or for the depth that is asked for.
    """
    inside = shell.inside
    under = skin.layers * skin.sheet.thickness
    room = min(0.5 * (inside.tightest() - under), _OF_THE_RISE * inside.z(0.0) - under)
    if asked is not None:
        most = min(room, sheet.width - _CLEAR)
        if asked > most:
            raise GeometryError(
                f"{name}: mold.rib_depth: got {show.both(asked)}, want at most {show.both(most)}: the dome turns on "
                f"{show.both(inside.tightest())} and rises {show.both(inside.z(0.0))}"
            )
        return asked
    wanted = max(inside.bend(inside.springing), inside.bend(inside.oculus)) / 14.0
    fitting = [one for one in _DEPTHS if one <= room and one < sheet.width]
    if not fitting:
        raise GeometryError(
            f"{name}: the dome turns on {show.both(inside.tightest())} and rises {show.both(inside.z(0.0))}, too tight "
            f"or too flat for ribs {show.both(_DEPTHS[0])} deep and their skin; raise it, or cast it in a turned mold"
        )
    return next((one for one in fitting if one >= wanted), fitting[-1])


def _stick(asked: Asked, force: float) -> StickStock:
    """The stick that is named, else the cheapest that takes a screw in its side and bears a force (N) on its end.

    The stoutest where none bears it; the check then says so.

    Raises:
        StockError: where it is not in the shop.
    """
    sticks, named = asked.shop.sticks, asked.order.mold.stick
    if named is not None:
        for one in sticks:
            if one.name == named and one.thickness < _LEAST_STICK:
                raise StockError(
                    f"{asked.piece.name}: mold.stick: '{named}' is {show.both(one.thickness)} thick, want at least "
                    f"{show.both(_LEAST_STICK)}, so that purlins, soles and wedges take a screw"
                )
            if one.name == named:
                return one
        known = ", ".join(sorted(one.name for one in sticks))
        raise StockError(f"{asked.piece.name}: mold.stick: got '{named}', want one of {known}")
    stout = sorted(
        (one for one in sticks if one.thickness >= _LEAST_STICK),
        key=lambda one: (one.thickness * one.width, one.name),
    )
    if not stout:
        raise StockError(f"{asked.piece.name}: the shop lists no stick 34 mm thick or more; add a [[stick]]")
    bearing = [one for one in stout if _bears(one) >= force]
    return cheap(bearing)[0] if bearing else stout[-1]


def _bears(stick: StickStock) -> float:
    """What wood of the stick's kind bears across its grain on the whole of its end, N."""
    section = StickSection(stick.width, stick.thickness)
    fcp = adjust(grade_of_stick(stick, section.width), section, Service()).fcp
    return fcp * stick.width * stick.thickness


def _turn(form: Curved, count: int, bays: int) -> float:
    """Direction of rib 0: the key section stands in the middle of the widest stretch without a door."""
    ways = [one.body.axis for one in form.formers if isinstance(one.body, Prism)]
    doors = sorted(atan2(y, x) % tau for x, y, _ in ways)
    stretches = (
        [(after - door, door) for door, after in pairwise((*doors, doors[0] + tau))]
        if doors
        else [(tau, 0.0)]
    )
    width, start = max(stretches, key=lambda one: round(one[0], 9))
    return start + width / 2.0 - bays * pi / count


def _with_headers(
    shell: Shell,
    hoops: Sequence[float],
    splits: Sequence[float],
    headers: Sequence[float],
    broad: float,
) -> tuple[float, ...]:
    """Purlins and headers, the lowest first; a purlin that would touch a header gives way where no joint needs it."""
    bend = min(shell.inside.bend(shell.inside.springing), shell.inside.bend(shell.inside.oculus))
    least = (2.0 * broad + _CLEAR / 2.0) / bend
    kept = [one for one in hoops if one in splits or all(abs(one - header) > least for header in headers)]
    return tuple(sorted({*kept, *headers}, reverse=True))


@record
class _Crown:
    """Where ribs end: radius of the ring or hub, and the polar angles where alternate ribs end before."""

    top: float
    headers: tuple[float, ...]


def _crown(shell: Shell, skin: SkinChoice, count: int, ply: float, widest: float, name: str) -> _Crown:
    """The ring or hub, and the headers that leave few enough ribs to find room round it.

    Raises:
        GeometryError: where they crowd even so.
    """
    line = shell.inside.moved(-skin.layers * skin.sheet.thickness)
    room = shell.oculus or _HUB_SHARE * widest
    kept, headers = count, []
    for share in (0.5, 0.25):
        if ring_radius(kept, 2.0 * ply) <= room or share * widest < 1.3 * room:
            break
        headers.append(line.at_radius(share * widest))
        kept //= 2
    needed = ring_radius(kept, 2.0 * ply)
    if needed > room + 1e-9:
        raise GeometryError(
            f"{name}: {kept} ribs of two plies {show.both(ply)} thick crowd at the crown: they need a ring of "
            f"{show.both(2.0 * needed)} across, and have {show.both(2.0 * room)}; take fewer ribs (ribs in the piece's "
            "mold table), or a larger oculus"
        )
    return _Crown(shell.oculus or max(needed, 0.5 * room), tuple(headers))


def _key_end(shell: Shell, count: int, bays: int, key: int, ply: float) -> float:
    """Polar angle up to which key ribs stand: half way to the upright, or lower where they would touch."""
    inside, foot = shell.inside, shell.inside.springing
    room = (2.0 * (key + 1) * ply + _CLEAR) / (2.0 * sin(bays * pi / count))
    if room >= inside.r(foot):
        return foot
    return min(foot, max(_STEEP, inside.at_radius(room)))


def _levels(
    asked: Asked, skin: SheetStock, crown: tuple[int, float], apart: float
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Polar angles of the purlins and of the joints of the skin, the lowest first, at equal distances.

    Raises:
        GeometryError: where the purlins that are asked for do not lie behind every joint of the skin.
    """
    shell, (count, top) = shell_of(asked), crown
    inside, outside = shell.inside, outside_of(shell)
    low, high = inside.springing, inside.at_radius(top)
    length = inside.length(high, low)
    longest = max(
        ordinate(inside, count, high, low),
        ordinate(outside, count, outside.at_radius(top), outside.springing)
        if shell.placed == "fluid"
        else 0.0,
    )
    room = skin.width - 2.0 * asked.shop.saw.trim - _SKIRT
    pieces = max(1, ceil(longest / room - 1e-9))
    bays = pieces * max(1, ceil(longest / pieces / apart - 1e-9))
    if asked.order.mold.purlins is not None:
        bays = _asked_bays(asked, pieces, length)
    hoops = tuple(inside.at_length(length * (bays - i) / bays, high) for i in range(1, bays))
    each = bays // pieces
    return hoops, hoops[each - 1 :: each][: pieces - 1]


def _asked_bays(asked: Asked, pieces: int, length: float) -> int:
    """Bays between the purlins that the person asks for.

    Raises:
        GeometryError: where a joint of the skin would have none behind it, or they crowd.
    """
    count = asked.order.mold.purlins or 0
    most = max(1, int(length / _CLOSEST_PURLINS))
    if (count + 1) % pieces or count + 1 > most:
        fit = [number - 1 for number in range(pieces, most + 1, pieces)] or [pieces - 1]
        near = sorted(sorted(fit, key=lambda number: abs(number - count))[:2])
        raise GeometryError(
            f"{asked.piece.name}: mold.purlins: got {count}, want {' or '.join(map(str, near))}: each gore of the "
            f"skin is of {pieces} pieces, and a purlin lies behind every joint; two find room no closer than "
            f"{show.both(_CLOSEST_PURLINS)}"
        )
    return count + 1


def _sections(
    face: Meridian, width: float, count: int, quarter: int, ways: Sequence[Opening]
) -> tuple[Section, ...]:
    """The key section, then sections as large as pass an opening, four where none does; joints at ribs that stay."""
    for bays in range(count // 4, 0, -1):
        if bays % quarter == 0 and way_out(ways, section_box(face, width, bays * pi / count)):
            return _cut(count, bays, quarter)
    return _cut(count, max(quarter, count // 4 // quarter * quarter), quarter)


def _cut(count: int, bays: int, key: int) -> tuple[Section, ...]:
    """The key section, then sections of so many bays each; the first and the last may have fewer."""
    found = [Section("inner form key section", 0, key)]
    first, number = key, 1
    while first < count:
        last = min(count, (first // bays + 1) * bays)
        found.append(Section(f"inner form section {number}", first, last - first))
        first, number = last, number + 1
    return tuple(found)


def _even(count: int, quarter: int) -> tuple[Section, ...]:
    """Four sections of the outer form, joints at ribs that stay."""
    ends = [round(i * count / _SECTIONS / quarter) * quarter for i in range(_SECTIONS + 1)]
    return tuple(
        Section(f"outer form section {i + 1}", low, high - low)
        for i, (low, high) in enumerate(pairwise(ends))
    )


def passes(form: DomeForm, side: Side) -> dict[str, tuple[tuple[float, float, float], str]]:
    """Of each section of a form the box round it, and the opening it passes (empty where it passes none)."""
    ways = openings(curved(form.piece), cos(form.half))
    width = form.depth + form.lining
    found = {}
    for one in form.sections(side):
        size = section_box(form.face(side), width, one.bays * form.half)
        found[one.name] = (size, way_out(ways, size))
    return found
