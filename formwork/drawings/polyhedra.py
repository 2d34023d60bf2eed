"""Curved bodies as plane facets: what the eye's sight of them is reckoned with, and which chords stand for true arcs.

All facets meet corner to corner, so that an edge lies on both its facets and neither hides it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import cos, sin, tau

from formwork.drawings.stations import (
    Path,
    Step,
    grazing,
    leg_shares,
    profile_path,
    share_point,
    stations,
    step_of,
)
from formwork.geometry.outlines import Leg, Outline, Point, legs
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec, across, add, cross, dot, length, scale, sub

_PLANE = 1e-7

Ring = tuple[Vec, ...]
Curve = Round | Turned | Prism


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle in space that some edges are chords of."""

    centre: Vec
    axis: Vec
    radius: float


@dataclass(frozen=True, slots=True)
class Facet:
    """A plane face of a body.

    Attributes:
        normal: outward unit normal.
        rings: its outline, counter-clockwise seen from outside, and its openings, clockwise.
        convex: it has no openings and no inner corner.
    """

    normal: Vec
    rings: tuple[Ring, ...]
    convex: bool = True

    @property
    def offset(self) -> float:
        """Of its plane, m."""
        return dot(self.normal, self.rings[0][0])

    def flipped(self) -> Facet:
        """The same face of the space outside the body."""
        return Facet(scale(self.normal, -1.0), tuple(ring[::-1] for ring in self.rings), self.convex)


@dataclass(frozen=True, slots=True)
class Chord:
    """An edge between two facets that stands for an arc of a circle."""

    start: Vec
    end: Vec
    circle: Circle


@dataclass(frozen=True, slots=True)
class Polyhedron:
    """A closed surface of facets, and those of its edges that stand for arcs."""

    facets: tuple[Facet, ...]
    chords: tuple[Chord, ...]

    def hollow(self) -> Polyhedron:
        """The same surface seen from inside."""
        return replace(self, facets=tuple(facet.flipped() for facet in self.facets))


def of_round(body: Round) -> Polyhedron:
    """A cone frustum."""
    u, v = across(body.axis)
    step = step_of(max(body.foot_radius, body.head_radius))
    angles = stations(0.0, tau, step, grazing(u, v))[:-1]
    ends = ((body.foot, body.foot_radius), (body.head(), body.head_radius))
    foot, head = (_circle_points(centre, u, v, radius, angles) for centre, radius in ends)
    facets = [
        Facet(scale(body.axis, -1.0), (foot[::-1],)),
        Facet(body.axis, (head,)),
        *_sides(foot, head),
    ]
    chords = [
        chord
        for ring, (centre, radius) in zip((foot, head), ends, strict=True)
        for chord in _round_chords(ring, Circle(centre, body.axis, radius))
    ]
    return Polyhedron(tuple(f for f in facets if len(f.rings[0]) > 2), tuple(chords))


def _circle_points(centre: Vec, u: Vec, v: Vec, radius: float, angles: Sequence[float]) -> Ring:
    return tuple(add(centre, add(scale(u, radius * cos(a)), scale(v, radius * sin(a)))) for a in angles)


def _round_chords(ring: Ring, circle: Circle) -> Iterator[Chord]:
    """The chords of a ring that goes all the way round."""
    for a, b in _pairs(ring):
        yield Chord(a, b, circle)


def _pairs(ring: Ring) -> Iterator[tuple[Vec, Vec]]:
    """Each point of a ring with the one after it."""
    yield from zip(ring, (*ring[1:], ring[0]), strict=True)


def _sides(foot: Ring, head: Ring) -> Iterator[Facet]:
    """The faces between two rings with as many points, counter-clockwise seen from the head."""
    for (a, b), (d, c) in zip(_pairs(foot), _pairs(head), strict=True):
        yield from _quad(a, b, c, d)


def _quad(a: Vec, b: Vec, c: Vec, d: Vec) -> Iterator[Facet]:
    """Four corners as one face where they lie in a plane, else as two."""
    ring = _distinct((a, b, c, d))
    if len(ring) < 3:
        return
    normal = (
        cross(sub(c, a), sub(d, b)) if len(ring) == 4 else cross(sub(ring[1], ring[0]), sub(ring[2], ring[0]))
    )
    size = length(normal)
    if size < 1e-14:
        return
    normal = scale(normal, 1.0 / size)
    if len(ring) == 4 and abs(dot(normal, sub(b, a))) > _PLANE:
        yield from _quad(a, b, c, c)
        yield from _quad(a, c, d, d)
        return
    yield Facet(normal, (ring,))


def _distinct(ring: Ring) -> Ring:
    """The ring without points that repeat the one before."""
    return tuple(p for i, p in enumerate(ring) if length(sub(p, ring[i - 1])) > 1e-9)


def of_turned(body: Turned, steps_of: Step = step_of) -> Polyhedron:
    """A turned body, whole or a sector."""
    return swept(body, [profile_path(body.profile, steps_of)], steps_of)


def swept(body: Turned, paths: Sequence[Path], steps_of: Step = step_of) -> Polyhedron:
    """What a turned body's sweep makes of the paths round a profile, which may be another than its own.

    Args:
        body: whose axis and sweep it has.
        paths: each with what it encloses to its left.
        steps_of: stations round a circle.
    """
    step = steps_of(max(point[0] for path in paths for point, _ in path))
    if body.whole:
        angles = stations(0.0, tau, step)[:-1]
        steps = list(zip(angles, (*angles[1:], angles[0]), strict=True))
    else:
        angles = stations(body.start, body.sweep, step)
        steps = list(pairwise(angles))
    turn = _Turn(body.axis, angles, steps, whole=body.whole)
    facets: list[Facet] = []
    chords: list[Chord] = []
    for path in paths:
        points = [point for point, _ in path]
        for p, q in zip(points, (*points[1:], points[0]), strict=True):
            facets.extend(turn.band(p, q))
        facets.extend(() if body.whole else turn.ends(points))
        chords.extend(turn.chords(path))
    return Polyhedron(tuple(facets), tuple(chords))


@dataclass(frozen=True, slots=True)
class _Turn:
    """The stations round an upright axis: their angles, and each step from one to the next."""

    axis: tuple[float, float]
    angles: Sequence[float]
    steps: Sequence[tuple[float, float]]
    whole: bool

    def at(self, point: Point, angle: float) -> Vec:
        return (self.axis[0] + point[0] * cos(angle), self.axis[1] + point[0] * sin(angle), point[1])

    def band(self, p: Point, q: Point) -> Iterator[Facet]:
        """The faces that one leg of the profile sweeps."""
        if p[0] == q[0] == 0.0:
            return
        if abs(p[1] - q[1]) < 1e-12:
            yield self._level(p, q)
            return
        for a, b in self.steps:
            yield from _quad(self.at(p, a), self.at(p, b), self.at(q, b), self.at(q, a))

    def _level(self, p: Point, q: Point) -> Facet:
        """A level face: a disc, a ring, or a sector of one."""
        up = 1.0 if q[0] < p[0] else -1.0
        outer, inner = max(p[0], q[0]), min(p[0], q[0])
        far = tuple(self.at((outer, p[1]), a) for a in self.angles)
        near = tuple(self.at((inner, p[1]), a) for a in self.angles)
        if not self.whole:
            back = near[::-1] if inner > 0.0 else near[:1]
            return _turned_up(Facet((0.0, 0.0, 1.0), ((*far, *back),), convex=False), up)
        rings = (far,) if inner == 0.0 else (far, near[::-1])
        return _turned_up(Facet((0.0, 0.0, 1.0), rings, convex=inner == 0.0), up)

    def ends(self, profile: Sequence[Point]) -> Iterator[Facet]:
        """The two upright faces of a sector."""
        first, last = self.angles[0], self.angles[-1]
        ring = tuple(self.at(p, first) for p in profile)
        yield Facet((sin(first), -cos(first), 0.0), (ring,), convex=False)
        ring = tuple(self.at(p, last) for p in reversed(profile))
        yield Facet((-sin(last), cos(last), 0.0), (ring,), convex=False)

    def chords(self, path: Path) -> Iterator[Chord]:
        """Level chords at every point of the profile, upright ones along its arcs."""
        x, y = self.axis
        for i, (point, leg) in enumerate(path):
            if point[0] > 0.0:
                circle = Circle((x, y, point[1]), (0.0, 0.0, 1.0), point[0])
                for a, b in self.steps:
                    yield Chord(self.at(point, a), self.at(point, b), circle)
            if leg.bulge != 0.0:
                after = path[(i + 1) % len(path)][0]
                arc = leg.arc()
                for angle in self.angles:
                    normal = (-sin(angle), cos(angle), 0.0)
                    circle = Circle(self.at(arc.centre, angle), normal, arc.radius)
                    yield Chord(self.at(point, angle), self.at(after, angle), circle)


def _turned_up(facet: Facet, up: float) -> Facet:
    return facet if up > 0.0 else facet.flipped()


def of_prism(body: Prism, steps_of: Step = step_of) -> Polyhedron:
    """A prism with its openings."""
    facets: list[Facet] = []
    chords: list[Chord] = []
    rims: list[tuple[Ring, Ring]] = []
    heads = body.head_openings or body.openings
    walls = [(body.outline, body.top), *zip(body.openings, heads, strict=True)]
    for number, (outline, head) in enumerate(walls):
        foot, top, arcs = _rims(body, outline, head, steps_of)
        rims.append((foot, top))
        chords.extend(arcs)
        facets.extend(side if number == 0 else side.flipped() for side in _sides(foot, top))
    convex = len(rims) == 1 and _is_convex(rims[0][0], body.axis)
    feet, tops = ([pair[end] for pair in rims] for end in (0, 1))
    facets.append(Facet(body.axis, (feet[0], *(ring[::-1] for ring in feet[1:])), convex).flipped())
    facets.append(Facet(body.axis, (tops[0], *(ring[::-1] for ring in tops[1:])), convex))
    return Polyhedron(tuple(facets), tuple(chords))


def _rims(body: Prism, outline: Outline, head: Outline, steps_of: Step) -> tuple[Ring, Ring, list[Chord]]:
    """An outline at the foot and the one at the head, station above station, and which of their edges are arcs."""
    grazed = grazing(body.along, body.across)
    foot: list[Vec] = []
    top: list[Vec] = []
    circles: list[tuple[Circle | None, Circle | None]] = []
    for low, high in zip(legs(outline), legs(head), strict=True):
        pair = (_circle_of(body, low, 0.0), _circle_of(body, high, body.height))
        for share in leg_shares(low if low.bulge else high, grazed, steps_of)[:-1]:
            foot.append(body.place(*share_point(low, share), 0.0))
            top.append(body.place(*share_point(high, share), body.height))
            circles.append(pair)
    chords = [
        Chord(*edge, circle)
        for end, ring in enumerate((foot, top))
        for edge, pair in zip(_pairs(tuple(ring)), circles, strict=True)
        if (circle := pair[end]) is not None
    ]
    return tuple(foot), tuple(top), chords


def _circle_of(body: Prism, leg: Leg, up: float) -> Circle | None:
    """The circle of an arc as it stands in space; None for a straight leg."""
    if leg.bulge == 0.0:
        return None
    arc = leg.arc()
    return Circle(body.place(*arc.centre, up), body.axis, arc.radius)


def _is_convex(ring: Ring, normal: Vec) -> bool:
    """Whether a ring, counter-clockwise seen against a normal, has no inner corner."""
    before = ring[-1]
    for here, after in _pairs(ring):
        if dot(cross(sub(here, before), sub(after, here)), normal) < -1e-12:
            return False
        before = here
    return True


def polyhedron(body: Curve) -> Polyhedron:
    """Any curved body."""
    if isinstance(body, Round):
        return of_round(body)
    return of_turned(body) if isinstance(body, Turned) else of_prism(body)
