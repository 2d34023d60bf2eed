"""The glue of a mold: what is glued for good, by its parts, m2 of joint.

Glue is reckoned by the face that it is spread on, one of the two that meet; what a bottle covers is common practice.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import sqrt

from formwork.geometry.outlines import area
from formwork.molds.mold import Blank, Hardware, Part, PartRole

_SQUARE = 1e-3
GLUE = "waterproof wood glue"
_LAID_ON: tuple[PartRole, ...] = ("board", "liner")


def glue_line(found: Mapping[str, float]) -> tuple[Hardware, ...]:
    """One line for all that is glued; none where nothing is.

    Args:
        found: area of each kind of joint, m2, by what it joins.
    """
    used = {what: size for what, size in found.items() if size > 0.0}
    if not used:
        return ()
    return (Hardware(GLUE, "", sum(used.values()), "m2", "; ".join(used)),)


def layers(parts: Iterable[Part]) -> float:
    """Between the layers of what is laid up from several, m2."""
    return sum((part.layers - 1) * face(part) for part in parts)


def strips(parts: Iterable[Part]) -> float:
    """Behind strips, on the two square backs of each, m2."""
    return sum(part.blank.length * _backs(part.blank) for part in parts if part.role == "strip")


def _backs(blank: Blank) -> float:
    """Girth of a strip without its face, m: of a three-cornered one both legs, its face the larger side of the blank.

    The legs a and b of a right angle with hypotenuse w and height t over it: a b = w t, and a^2 + b^2 = w^2.
    """
    if all(abs(bevel) < _SQUARE for bevel in blank.bevels):
        return blank.width + blank.thickness
    return sqrt(blank.width**2 + 2.0 * blank.width * blank.thickness)


def laid_on(parts: Iterable[Part]) -> float:
    """Behind boards and liners on the faces that carry them, m2."""
    return sum(face(part) for part in parts if part.role in _LAID_ON)


def plies(parts: Iterable[Part], *roles: PartRole) -> float:
    """Between the two plies of ribs or rings whose plies are cut as parts of their own, m2."""
    return sum(face(part) for part in parts if part.role in roles and part.kind == "panel") / 2.0


def face(part: Part) -> float:
    """Area of the larger face of a part, what is cut out of it taken out, m2."""
    return area(part.blank.edge) - sum(area(opening) for opening in part.blank.openings)
