"""Planes, each held once, so that two faces that lie on one plane say so by bearing the same number.

A half-space is a signed reference: ``+k`` is the side of plane ``k`` where ``normal . x <= offset``, ``-k``
the other. Snapping happens only when a plane is entered; after that nothing compares floats to ask whether two
faces touch.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from formwork.geometry.vectors import Vec, dot, length, scale
from formwork.record import record

SNAP = 1e-9
"""Two planes nearer than this in normal and in offset (m) are one plane."""


@record
class HalfSpace:
    """All points with ``normal . x <= offset``: what lies behind a face whose outward normal is ``normal``.

    Attributes:
        normal: outward unit normal.
        offset: signed distance of the plane from the origin along the normal, m.
        name: what the plane is, for messages ("front face").
    """

    normal: Vec
    offset: float
    name: str = ""

    def depth(self, point: Vec) -> float:
        """How far the point lies behind the plane, m; negative in front of it."""
        return self.offset - dot(self.normal, point)

    def moved(self, distance: float, name: str = "") -> HalfSpace:
        """The parallel half-space whose plane lies ``distance`` (m) further out."""
        return HalfSpace(self.normal, self.offset + distance, name or self.name)

    def shifted(self, by: Vec) -> HalfSpace:
        """The half-space carried along by a translation (m)."""
        return HalfSpace(self.normal, self.offset + dot(self.normal, by), self.name)

    def grown(self, factor: float) -> HalfSpace:
        """The half-space after a scaling of space about the origin."""
        return HalfSpace(self.normal, self.offset * factor, self.name)

    def flipped(self, name: str = "") -> HalfSpace:
        """The other side of the same plane."""
        return HalfSpace(scale(self.normal, -1.0), -self.offset, name or self.name)


def behind(normal: Vec, point: Vec, name: str = "") -> HalfSpace:
    """The half-space behind the plane through ``point`` with the given outward normal (any length)."""
    size = length(normal)
    unit_normal = scale(normal, 1.0 / size)
    return HalfSpace(unit_normal, dot(unit_normal, point), name)


_BUCKET = 1e-6


def _mark(half: HalfSpace) -> float:
    """A number that both sides of one plane share and few other planes have: it finds planes quickly."""
    nx, ny, nz = half.normal
    return abs(0.31 * nx + 0.57 * ny + 0.73 * nz + half.offset) / _BUCKET


@dataclass(slots=True)
class Planes:
    """The register of planes of one mold: the only thing here that grows while a mold is laid out."""

    _planes: list[HalfSpace] = field(default_factory=list)
    _flipped: list[HalfSpace] = field(default_factory=list)
    _found: dict[int, list[int]] = field(default_factory=dict)

    def enter(self, half: HalfSpace) -> int:
        """Signed reference of a half-space, entered now or found again.

        >>> book = Planes()
        >>> book.enter(HalfSpace((0.0, 0.0, 1.0), 0.5)), book.enter(HalfSpace((0.0, 0.0, -1.0), -0.5))
        (1, -1)
        """
        mark = int(_mark(half))
        for near in (mark, mark - 1, mark + 1):
            for index in self._found.get(near, ()):
                if _same(self._planes[index - 1], half):
                    return index
                if _same(self._flipped[index - 1], half):
                    return -index
        self._planes.append(half)
        self._flipped.append(half.flipped())
        self._found.setdefault(mark, []).append(len(self._planes))
        return len(self._planes)

    def half(self, reference: int) -> HalfSpace:
        """The half-space a signed reference stands for."""
        return self._planes[reference - 1] if reference > 0 else self._flipped[-reference - 1]

    def normal(self, reference: int) -> Vec:
        """Outward unit normal of a signed reference."""
        return self.half(reference).normal

    def __len__(self) -> int:
        return len(self._planes)


def _same(known: HalfSpace, half: HalfSpace) -> bool:
    kx, ky, kz = known.normal
    nx, ny, nz = half.normal
    return (
        abs(known.offset - half.offset) < SNAP
        and abs(kx - nx) < SNAP
        and abs(ky - ny) < SNAP
        and abs(kz - nz) < SNAP
    )
