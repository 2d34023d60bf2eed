"""Round plugs among flat parts: the prism round a plug, what of it is below the fill, which holes it fills.

A plug is taken off a cavity analytically, once the prism round it is shown to stand in the cavity. Lengths in m.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import atan2, cos, sin, tau

from formwork.geometry.cells import Cell, cell
from formwork.geometry.planes import HalfSpace, Planes, behind
from formwork.geometry.rounds import Round
from formwork.geometry.vectors import Vec, across, add, dot, length, scale, sub

SIDES = 16
SLACK = 0.5e-3
"""A plug this much smaller in radius (m) than its hole still closes it: mix does not run through (ours)."""
_ALONG = 1e-9
_ON_AXIS = 1e-6


def prism(planes: Planes, plug: Round, what: str = "plug") -> Cell | None:
    """The many-sided frustum drawn round a plug; None for a plug without length or thickness."""
    u, v = across(plug.axis)
    slope = (plug.head_radius - plug.foot_radius) / plug.length
    halves = [
        HalfSpace(plug.axis, dot(plug.axis, plug.head()), f"{what} end"),
        HalfSpace(scale(plug.axis, -1.0), -dot(plug.axis, plug.foot), f"{what} end"),
    ]
    for k in range(SIDES):
        turn = tau * k / SIDES
        spoke = add(scale(u, cos(turn)), scale(v, sin(turn)))
        halves.append(
            behind(
                sub(spoke, scale(plug.axis, slope)),
                add(plug.foot, scale(spoke, plug.foot_radius)),
                f"{what} side",
            )
        )
    return cell(planes, halves, what)


def between(plug: Round, start: float, end: float) -> Round:
    """The part of a plug between two distances (m) along its axis."""
    slope = (plug.head_radius - plug.foot_radius) / plug.length
    return Round(
        add(plug.foot, scale(plug.axis, start)),
        plug.axis,
        end - start,
        plug.foot_radius + slope * start,
        plug.foot_radius + slope * end,
    )


def below(plug: Round, fill: float) -> Round | None:
    """The part of a plug below a level (m); None where there is none or the level cuts it at a slant."""
    rise = plug.axis[2]
    low, high = sorted((plug.foot[2], plug.head()[2]))
    widest = max(plug.foot_radius, plug.head_radius) * max(0.0, 1.0 - rise * rise) ** 0.5
    if high + widest <= fill + _ALONG:
        return plug
    if low - widest >= fill or abs(rise) < 1.0 - _ALONG:
        return None
    at = min(max((fill - plug.foot[2]) / rise, 0.0), plug.length)
    start, end = (0.0, at) if rise > 0.0 else (at, plug.length)
    return between(plug, start, end) if end - start > _ALONG else None


def outside_of_holes(plug: Round, holes: Iterable[Round]) -> list[Round]:
    """The lengths of a plug that run through none of the holes on its own axis."""
    spans = sorted(span for hole in holes if (span := span_in(plug, hole)) is not None)
    left = []
    at = 0.0
    for start, end in spans:
        if start - at > _ALONG:
            left.append(between(plug, at, start))
        at = max(at, end)
    if plug.length - at > _ALONG:
        left.append(between(plug, at, plug.length))
    return left


def span_in(plug: Round, hole: Round) -> tuple[float, float] | None:
    """From where to where along its axis (m) a plug runs through a hole on that axis; None for nowhere."""
    if abs(dot(plug.axis, hole.axis)) < 1.0 - _ALONG:
        return None
    off = sub(hole.foot, plug.foot)
    along = dot(off, plug.axis)
    if length(sub(off, scale(plug.axis, along))) > _ON_AXIS:
        return None
    ends = sorted((along, along + hole.length * dot(plug.axis, hole.axis)))
    start, end = max(0.0, ends[0]), min(plug.length, ends[1])
    return (start, end) if end - start > _ALONG else None


def fills(plug: Round, hole: Round) -> bool:
    """Whether a plug closes a hole somewhere along it."""
    span = span_in(plug, hole)
    if span is None:
        return False
    part = between(plug, *span)
    return max(part.foot_radius, part.head_radius) >= max(hole.foot_radius, hole.head_radius) - SLACK


def end_spots(hole: Round, beyond: float) -> tuple[list[Vec], list[Vec]]:
    """Points just beyond either end of a hole: on its axis and on a ring well inside its edge."""
    u, v = across(hole.axis)
    foot = sub(hole.foot, scale(hole.axis, beyond))
    head = add(hole.head(), scale(hole.axis, beyond))
    return _spots(foot, u, v, 0.8 * hole.foot_radius), _spots(head, u, v, 0.8 * hole.head_radius)


def _spots(centre: Vec, u: Vec, v: Vec, radius: float) -> list[Vec]:
    ring = [
        add(centre, add(scale(u, radius * cos(tau * k / 8)), scale(v, radius * sin(tau * k / 8))))
        for k in range(8)
    ]
    return [centre, *ring]


def holds(hole: Round, point: Vec) -> bool:
    """Whether a point lies in a round body."""
    along = dot(sub(point, hole.foot), hole.axis)
    if not -_ALONG <= along <= hole.length + _ALONG:
        return False
    radius = hole.foot_radius + (hole.head_radius - hole.foot_radius) * along / hole.length
    return length(sub(sub(point, hole.foot), scale(hole.axis, along))) <= radius


def cone(plug: Round) -> float:
    """Half angle of a plug's taper, rad; positive where it widens from foot to head.

    >>> from math import degrees
    >>> round(degrees(cone(Round((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 1.0, 0.0, 1.0))), 6)
    45.0
    """
    return atan2(plug.head_radius - plug.foot_radius, plug.length)
