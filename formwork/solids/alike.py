"""Parts that are one another moved: such a part is made once by the kernel and stands in many places.

A part is told in the frame of its blank. Where all that it fills reads the same there, to ten nanometres, two parts are
one shape; a mirrored part reads differently and is made for itself.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, sin

from formwork.geometry.outlines import Outline
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec, cross, dot, sub
from formwork.molds.mold import Part
from formwork.record import record

_DIGITS = 8
Told = tuple[object, ...]
"""A shape in figures, equal for equal shapes."""
Turn = Callable[[Vec], Vec]


@record
class Stand:
    """Where a part stands: the origin of its blank and two directions square to one another, m and unit vectors."""

    origin: Vec
    along: Vec
    across: Vec

    @property
    def up(self) -> Vec:
        """The third direction, right-handed with the two."""
        return cross(self.along, self.across)

    def turned(self, direction: Vec) -> Vec:
        """A direction of space in this frame, rounded."""
        return _rounded((dot(direction, self.along), dot(direction, self.across), dot(direction, self.up)))

    def seen(self, point: Vec) -> Vec:
        """A point of space in this frame, rounded."""
        return self.turned(sub(point, self.origin))


def stand(part: Part) -> Stand:
    """Where a part's blank stands."""
    return Stand(part.placement.origin, part.placement.along, part.placement.across)


def told(part: Part) -> Told:
    """What a part fills, as seen from its own blank."""
    frame = stand(part)
    return (
        tuple(sorted(tuple(sorted({frame.seen(point) for point in body.points()})) for body in part.cells)),
        tuple(_round(body, frame) for body in part.rounds),
        tuple(_round(body, frame) for body in part.holes),
        tuple(_turned(body, frame) for body in part.turned),
        tuple(_prism(body, frame) for body in part.prisms),
    )


def _round(body: Round, frame: Stand) -> Told:
    return (
        frame.seen(body.foot),
        frame.turned(body.axis),
        _rounded((body.length, body.foot_radius, body.head_radius)),
    )


def _turned(body: Turned, frame: Stand) -> Told:
    x, y = body.axis
    first = (cos(body.start), sin(body.start), 0.0)
    return (
        _outline(body.profile),
        frame.seen((x, y, 0.0)),
        frame.turned((0.0, 0.0, 1.0)),
        frame.turned(first),
        round(body.sweep, _DIGITS),
    )


def _prism(body: Prism, frame: Stand) -> Told:
    outlines = (body.outline, body.top, *body.openings, *body.head_openings)
    return (
        tuple(_outline(one) for one in outlines),
        round(body.height, _DIGITS),
        frame.seen(body.origin),
        frame.turned(body.along),
        frame.turned(body.across),
    )


def _outline(outline: Outline) -> Told:
    return (
        tuple((_near(x), _near(y)) for x, y in outline.points),
        tuple(_near(bulge) for bulge in outline.bulges),
    )


def _rounded(vector: Vec) -> Vec:
    return _near(vector[0]), _near(vector[1]), _near(vector[2])


def _near(value: float) -> float:
    """Rounded, no minus zero."""
    return round(value, _DIGITS) + 0.0
