"""What stands in a mold before it is stripped: the piece, the groups that move, what they touch, what guides them.

Lengths in m, angles in rad.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from formwork.errors import GeometryError
from formwork.geometry import plugs
from formwork.geometry.cells import Cell, box_of, meet
from formwork.geometry.flats import middle, outline_area
from formwork.geometry.free import contacts, opening
from formwork.geometry.planes import Planes
from formwork.geometry.rounds import Round
from formwork.geometry.sweeps import SLIVER, Bulk, bulk
from formwork.geometry.vectors import Vec, across, add, length, scale, sub
from formwork.record import record

PIECE = -1
"""Stands for the piece where movers stand for themselves by number."""
_STRAIGHT = 1e-9


@record
class Group:
    """Parts that leave the mold as one.

    Attributes:
        name: what a carpenter calls it.
        cells: the flat-faced space it fills.
        rounds: round plugs of it.
        ways: the only ways it can go, where its seat decides that (unit vectors); empty for any.
        priority: groups of a lower number leave first where there is a choice.
    """

    name: str
    cells: tuple[Cell, ...]
    rounds: tuple[Round, ...] = ()
    ways: tuple[Vec, ...] = ()
    priority: int = 0


@record
class Mover:
    """A group, or groups joined together, made ready: flat bodies and the prisms round its plugs.

    ``ways`` is None for a mover that may go any way, and empty for joined groups whose seats agree on none.
    """

    name: str
    members: tuple[str, ...]
    bulks: tuple[Bulk, ...]
    pegs: tuple[Bulk, ...]
    rounds: tuple[Round, ...]
    ways: tuple[Vec, ...] | None
    priority: int


@record
class Touch:
    """A plane on which a mover touches another.

    Attributes:
        other: number of the other mover, or PIECE.
        normal: unit normal of the plane, into the mover.
        at: middle of the first contact found on it.
        area: area of all contacts on it, m2.
    """

    other: int
    normal: Vec
    at: Vec
    area: float


@record
class Guide:
    """A plug in a hole: the ways a mover may go as long as the other stands, their draft, the plug's middle."""

    other: int
    ways: tuple[Vec, ...]
    draft: float
    at: Vec


@record
class Scene:
    """Everything the stripping order asks of a mold.

    Attributes:
        planes: the register of planes.
        piece: the concrete.
        movers: what is taken off.
        touches: for each mover, what it touches.
        guides: for each mover, the plugs that guide it.
        fitted: pairs (owner of a plug, owner of the hole round it).
        reach: a way longer than this (m) clears everything.
    """

    planes: Planes
    piece: tuple[Bulk, ...]
    movers: tuple[Mover, ...]
    touches: tuple[tuple[Touch, ...], ...]
    guides: tuple[tuple[Guide, ...], ...]
    fitted: frozenset[tuple[int, int]]
    reach: float


def set_up(
    planes: Planes, piece: Sequence[Cell], groups: Sequence[Group], joins: Sequence[tuple[str, str]]
) -> Scene:
    """Make a mold ready for stripping.

    Raises:
        GeometryError: if a join names a group that is not there.
    """
    bodies = tuple(bulk(planes, body) for body in piece)
    movers = tuple(_mover(planes, members) for members in _joined(groups, joins))
    guides, fitted = _guides(planes, bodies, movers)
    low, high = box_of([*piece, *(b.cell for mover in movers for b in (*mover.bulks, *mover.pegs))])
    return Scene(
        planes, bodies, movers, _touches(planes, piece, movers), guides, fitted, length(sub(high, low))
    )


def _joined(groups: Sequence[Group], joins: Sequence[tuple[str, str]]) -> list[list[Group]]:
    """Groups that move as one, in the order of the first of each."""
    numbers = {group.name: k for k, group in enumerate(groups)}
    leads = list(range(len(groups)))
    for pair in joins:
        for name in pair:
            if name not in numbers:
                raise GeometryError(f"a join names {name}, which is no group of the mold")
        a, b = sorted(leads[numbers[name]] for name in pair)
        leads = [a if known == b else known for known in leads]
    return [
        [group for group, known in zip(groups, leads, strict=True) if known == k] for k in sorted(set(leads))
    ]


def _mover(planes: Planes, members: Sequence[Group]) -> Mover:
    rounds = tuple(plug for group in members for plug in group.rounds)
    prisms = [plugs.prism(planes, plug) for plug in rounds]
    fixed = [group.ways for group in members if group.ways]
    return Mover(
        " and ".join(group.name for group in members),
        tuple(group.name for group in members),
        tuple(bulk(planes, body) for group in members for body in group.cells),
        tuple(bulk(planes, body) for body in prisms if body is not None),
        rounds,
        tuple(way for way in fixed[0] if all(way in others for others in fixed)) if fixed else None,
        max(group.priority for group in members),
    )


def _touches(planes: Planes, piece: Sequence[Cell], movers: Sequence[Mover]) -> tuple[tuple[Touch, ...], ...]:
    """For each mover every plane on which it touches the piece or another mover."""
    cells = list(piece)
    owners = [PIECE] * len(cells)
    for k, mover in enumerate(movers):
        cells += [b.cell for b in (*mover.bulks, *mover.pegs)]
        owners += [k] * (len(mover.bulks) + len(mover.pegs))
    found: list[dict[tuple[int, int], Touch]] = [{} for _ in movers]
    for plane, front, back in contacts(planes, cells):
        a, b = owners[front.place], owners[back.place]
        shared = opening(front, back) if a != b else ()
        if shared:
            half = planes.half(plane)
            spot, size = middle(shared), outline_area(shared)
            at = _in_space(half.normal, half.offset, spot)
            _note(found, a, plane, Touch(b, scale(half.normal, -1.0), at, size))
            _note(found, b, -plane, Touch(a, half.normal, at, size))
    return tuple(tuple(known.values()) for known in found)


def _note(found: Sequence[dict[tuple[int, int], Touch]], mover: int, plane: int, touch: Touch) -> None:
    """Enter a contact with a mover, adding its area to what is known of the same plane."""
    if mover != PIECE:
        known = found[mover].get((touch.other, plane))
        found[mover][touch.other, plane] = replace(known, area=known.area + touch.area) if known else touch


def _in_space(normal: Vec, offset: float, spot: tuple[float, float]) -> Vec:
    u, v = across(normal)
    x, y, z = (offset * normal[k] + spot[0] * u[k] + spot[1] * v[k] for k in range(3))
    return x, y, z


def _guides(
    planes: Planes, piece: Sequence[Bulk], movers: Sequence[Mover]
) -> tuple[tuple[tuple[Guide, ...], ...], frozenset[tuple[int, int]]]:
    """The plugs that stand in holes: of the piece, or of another mover."""
    found: list[list[Guide]] = [[] for _ in movers]
    fitted = set()
    for k, mover in enumerate(movers):
        for plug, peg in zip(mover.rounds, mover.pegs, strict=True):
            if _in_each_other(planes, peg, piece):
                found[k].append(_guide(PIECE, plug, 1.0))
            for j, other in enumerate(movers):
                if j != k and _in_each_other(planes, peg, other.bulks):
                    found[k].append(_guide(j, plug, 1.0))
                    found[j].append(_guide(k, plug, -1.0))
                    fitted.add((k, j))
    return tuple(tuple(guides) for guides in found), frozenset(fitted)


def _in_each_other(planes: Planes, peg: Bulk, others: Sequence[Bulk]) -> bool:
    return any(
        both is not None and both.volume() > SLIVER
        for other in others
        if (both := meet(planes, peg.cell, other.cell))
    )


def _guide(other: int, plug: Round, sense: float) -> Guide:
    """A plug leaves its hole towards its wider end, either way if it is straight; the hole leaves the other way."""
    taper = plugs.cone(plug)
    there = add(scale(plug.axis, sense), (0.0, 0.0, 0.0))
    back = add(scale(plug.axis, -sense), (0.0, 0.0, 0.0))
    at = scale(add(plug.foot, plug.head()), 0.5)
    if abs(taper) < _STRAIGHT:
        return Guide(other, (there, back), 0.0, at)
    return Guide(other, (there,) if taper > 0.0 else (back,), abs(taper), at)
