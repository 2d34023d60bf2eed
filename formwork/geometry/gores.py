"""Gores: the skin of a dome's form, flat sheets bent one way over circular ribs.

Between two ribs the skin runs straight along the hoop, so all its rulings are level and parallel: it is a general
cylinder, and unrolls exactly. Its edges lie on the ribs, its middle lies inside the dome; level sections of the form
are regular polygons whose corners lie on the dome. Lengths in m, angles in rad; polar angles as in ``meridians``.
"""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, pi, sin

from formwork.geometry.meridians import Meridian
from formwork.geometry.outlines import Point
from formwork.geometry.quadrature import integral


def half_width(edge: Meridian, ribs: int, polar: float) -> float:
    """Half the width of a gore whose edges run along a meridian: r sin(pi / N), m.

    Args:
        edge: the meridian on which the gore's edges lie.
        ribs: N, all round.
        polar: where.
    """
    return edge.r(polar) * sin(pi / ribs)


def ordinate(edge: Meridian, ribs: int, start: float, end: float) -> float:
    """Distance along the middle of a gore from one polar angle to a larger one, m.

    The middle runs at cos(pi / N) of the edge's distance from the axis and at its height: the integral of
    bend(f) sqrt(cos2(pi / N) cos2 f + sin2 f).
    """
    squeeze = cos(pi / ribs)

    def along(polar: float) -> float:
        return edge.bend(polar) * hypot(squeeze * cos(polar), sin(polar))

    return integral(along, start, end) if end > start else 0.0


def pattern(edge: Meridian, ribs: int, start: float, end: float, steps: int) -> tuple[Point, ...]:
    """Ordinates of a gore from one polar angle to a larger one: distance along its middle, and half width there.

    Args:
        edge: the meridian on which the gore's edges lie.
        ribs: all round.
        start: polar angle of the upper end, where the distance is 0.
        end: polar angle of the lower end.
        steps: how many equal steps of polar angle.
    """
    stops = [start + (end - start) * k / steps for k in range(steps + 1)]
    found, run = [(0.0, half_width(edge, ribs, start))], 0.0
    for low, high in pairwise(stops):
        run += ordinate(edge, ribs, low, high)
        found.append((run, half_width(edge, ribs, high)))
    return tuple(found)


def polygon_share(ribs: int) -> float:
    """Area of a regular polygon over that of the circle through its corners: (N / 2 pi) sin(2 pi / N).

    A dome formed on flat-bent gores holds this share of the turned one.
    """
    return ribs / (2.0 * pi) * sin(2.0 * pi / ribs)


def middle_line(edge: Meridian, ribs: int, stops: tuple[float, ...]) -> tuple[Point, ...]:
    """Points on the middle line of a gore at polar angles: distance from the axis along the middle, and height."""
    squeeze = cos(pi / ribs)
    return tuple((squeeze * edge.r(polar), edge.z(polar)) for polar in stops)


def offset_line(line: tuple[Point, ...], by: float) -> tuple[Point, ...]:
    """A path of straight legs moved sideways, its corners mitred; left of its way where ``by`` is above 0."""
    normals = []
    for (x0, y0), (x1, y1) in pairwise(line):
        size = hypot(x1 - x0, y1 - y0)
        normals.append(((y0 - y1) / size, (x1 - x0) / size))
    before, after = [normals[0], *normals], [*normals, normals[-1]]
    moved = []
    for (x, y), (ax, ay), (bx, by_) in zip(line, before, after, strict=True):
        share = by / (1.0 + ax * bx + ay * by_)
        moved.append((x + share * (ax + bx), y + share * (ay + by_)))
    return tuple(moved)
