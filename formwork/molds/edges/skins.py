"""Strips that go round arcs, as they are cut flat: thin ones by their pattern, thick ones with their kerfs.

Lengths in m, angles in rad.
"""

from __future__ import annotations

from math import cos, pi, sin, tan

from formwork.geometry.crossings import direction
from formwork.geometry.offsets import beside
from formwork.geometry.outlines import (
    Outline,
    Point,
    box,
    rectangle,
    shifted,
    turned_by,
)
from formwork.geometry.prisms import Prism
from formwork.geometry.vectors import Vec, cross
from formwork.molds.edges.edging import Edge
from formwork.molds.edges.kerfing import in_words
from formwork.molds.mold import Blank, Part, Placement
from formwork.stock.records import SheetStock
from formwork.units import show

X: Vec = (1.0, 0.0, 0.0)
Y: Vec = (0.0, 1.0, 0.0)
UP: Vec = (0.0, 0.0, 1.0)
DOWN: Vec = (0.0, 0.0, -1.0)


def kerfed_strip(edge: Edge, space: Prism) -> Part:
    """A kerfed strip, flat: what its kerfs take when they close is longer on the face that is sawn."""
    start = edge.stretch.foot[0]
    length = sum(leg.length for leg in edge.stretch.foot)
    length += sum(one.count * one.width for one in edge.kerfs if one.towards_mix)
    way = direction(start)
    return Part(
        name=edge.name,
        role="panel",
        kind="panel",
        stock=edge.stock.name,
        group=edge.name,
        cells=(),
        blank=Blank(
            length,
            space.height,
            edge.thickness,
            rectangle((0.0, 0.0), (length, space.height)).points,
            (0.0,) * 4,
        ),
        placement=Placement((*start.start, 0.0), (*way, 0.0), UP, (way[1], -way[0], 0.0)),
        good_face="outline",
        prisms=(space,),
        work=f"{in_words(edge.kerfs)}; trim its ends to their joints in place",
    )


def bent_strip(edge: Edge, space: Prism, fill: float, lean: float) -> Part:
    """A bent strip: its flat pattern is that of the middle of its thickness."""
    assert isinstance(edge.stock, SheetStock)
    pattern = flat_pattern(edge, fill, lean)
    if edge.upright:
        pattern = turned_by(pattern, pi / 2.0)
    (x0, y0), (x1, y1) = box(pattern)
    pattern = shifted(pattern, (-x0, -y0))
    leg = edge.stretch.foot[0]
    way = direction(leg)
    up: Vec = (-way[1] * -sin(lean), way[0] * -sin(lean), cos(lean))
    out = cross((*way, 0.0), up)
    place = Placement((*leg.start, 0.0), up, (-way[0], -way[1], 0.0), out)
    if not edge.upright:
        place = Placement((*leg.start, 0.0), (*way, 0.0), up, out)
    return Part(
        name=edge.name,
        role="skin",
        kind="panel",
        stock=edge.stock.name,
        group=edge.name,
        cells=(),
        blank=Blank(
            x1 - x0,
            y1 - y0,
            edge.thickness,
            pattern.points,
            (0.0,) * len(pattern.points),
            bulges=pattern.bulges if any(pattern.bulges) else (),
        ),
        placement=place,
        good_face="outline",
        prisms=(space,),
        work=_bending(edge),
    )


def _bending(edge: Edge) -> str:
    radius = edge.stretch.tightest.arc().radius
    grain = ", its face grain upright" if edge.upright else ""
    return f"bend it to a radius of {show.both(radius)} at its tightest{grain}; trim its ends to their joints in place"


def flat_pattern(edge: Edge, fill: float, lean: float) -> Outline:
    """A bent strip unrolled: sectors of flat rings side by side, one for each leg; a rectangle where it does not lean.

    The side of a cone of half angle ``lean`` unrolls about its apex: an arc whose length grows from foot to head by d
    over the slant height s turns through d / s in the flat.
    """
    half, slant = edge.thickness / cos(lean) / 2.0, fill / cos(lean)
    foot: list[Point] = [(0.0, 0.0)]
    head: list[Point] = [(0.0, slant)]
    turns, way = [], 0.0
    for low, high in zip(edge.stretch.foot, edge.stretch.head, strict=True):
        a, b = beside(low, half).length, beside(high, half).length
        turned = -(b - a) / slant
        turns.append(turned)
        foot.append(_onward(foot[-1], way, a, turned))
        way += turned
        head.append((foot[-1][0] - slant * sin(way), foot[-1][1] + slant * cos(way)))
    points = (*foot, *reversed(head))
    bulges = (*(tan(t / 4.0) for t in turns), 0.0, *(-tan(t / 4.0) for t in reversed(turns)), 0.0)
    return turned_by(Outline(points, bulges), -way / 2.0)


def _onward(start: Point, way: float, length: float, turned: float) -> Point:
    """Where an arc of a length ends that leaves a point in a direction and turns through an angle."""
    chord = length if turned == 0.0 else length * sin(turned / 2.0) / (turned / 2.0)
    middle = way + turned / 2.0
    return (start[0] + chord * cos(middle), start[1] + chord * sin(middle))
