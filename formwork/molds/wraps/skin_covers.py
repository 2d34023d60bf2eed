"""Strips of a skin's own sheet over the joints of its panels, in the bays between rings. Lengths in m."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, sin, tan

from formwork.geometry.outlines import Outline, Point
from formwork.geometry.prisms import Prism
from formwork.molds.mold import Part
from formwork.molds.wraps.cones import Cone
from formwork.molds.wraps.skins import Skin, skin_blank, tangent

COVER = 0.1
"""Width of the strip that covers a joint of two panels, m (common practice, no source)."""
_SQUARE = 1e-9


def covers(
    skin: Skin, face: Cone, bays: Sequence[tuple[float, float]], joints: Sequence[float], out: bool
) -> Iterator[tuple[tuple[float, float], float, Part]]:
    """Strips of the skin's own sheet over the joints of its panels, one in each bay between two rings.

    Args:
        skin: the skin.
        face: of the skin that they lie on.
        bays: lower and upper end of each.
        joints: directions of the joints.
        out: they lie outside of the skin, else inside.
    """
    for low, high in bays:
        part_of = face.between(low, high)
        strip = part_of if out else part_of.moved(-skin.sheet.thickness)
        for at in joints:
            sweep = COVER / strip.narrowest
            foot = _strip_plan(strip.foot[0], skin.sheet.thickness, at, sweep)
            head = _strip_plan(strip.head[0], skin.sheet.thickness, at, sweep)
            square = abs(strip.foot[0] - strip.head[0]) < _SQUARE
            one = Skin(skin.sheet, skin.way, 1, skin.bend)
            blank = skin_blank(one, strip.moved(skin.sheet.thickness / 2.0), sweep)
            made = Part(
                name="",
                role="skin",
                kind="panel",
                stock=skin.sheet.name,
                group="",
                cells=(),
                blank=blank,
                placement=tangent(part_of, blank, at, skin.upright, out),
                prisms=(Prism(foot, high - low, (0.0, 0.0, low), head=None if square else head),),
            )
            yield (low, high), at, made


def _strip_plan(inner: float, thickness: float, at: float, sweep: float) -> Outline:
    bulge = tan(sweep / 4.0)
    first, last = at - sweep / 2.0, at + sweep / 2.0
    points = (
        _polar(inner, first),
        _polar(inner + thickness, first),
        _polar(inner + thickness, last),
        _polar(inner, last),
    )
    return Outline(points, (0.0, bulge, 0.0, -bulge))


def _polar(radius: float, angle: float) -> Point:
    return (radius * cos(angle), radius * sin(angle))
