"""Which lines of a picture are drawn wide: those that bound a body against what lies behind it.

A line in view is wide where it runs along the rim of its body's shadow, the region of the picture that the body covers.
Where two bodies touch and show the same line, a joint, it stays wide only along the rim of both shadows together: so
flush joints and mitred corners are drawn as the narrow lines they look like. Lengths are in m on the picture.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from formwork.geometry.vectors import Vec
from formwork.solids.lines import Line

_SHARE, _LEAST = 3e-4, 2e-4
_TOUCH = 1e-6


@dataclass(frozen=True, slots=True)
class Seen:
    """One body as it shows on the picture.

    Attributes:
        lines: its lines in view.
        triangles: its surface towards the one who looks, flattened, counter-clockwise.
        low: least corner of the box round it in space, m.
        high: greatest corner of that box, m.
    """

    lines: tuple[Line, ...]
    triangles: tuple[Line, ...]
    low: Vec
    high: Vec

    def touches(self, other: Seen) -> bool:
        """The boxes of the two bodies touch or overlap."""
        return all(
            self.low[axis] <= other.high[axis] + _TOUCH and other.low[axis] <= self.high[axis] + _TOUCH
            for axis in range(3)
        )


def weighed(bodies: Sequence[Seen]) -> tuple[list[Line], list[Line]]:
    """The lines in view of all bodies, parted into wide and narrow ones."""
    from shapely import MultiLineString, polygons, union_all  # noqa: PLC0415 - only where a picture is drawn

    shadows = [union_all(polygons([*body.triangles])) for body in bodies]
    near = _near(shadows)
    drawn = [MultiLineString([*body.lines]) for body in bodies]
    bands: dict[int, Any] = {}
    wide: list[Line] = []
    narrow: list[Line] = []
    for i, body in enumerate(bodies):
        along, inside = parted(body.lines, _band(shadows[i].boundary, near), near)
        for j, other in enumerate(bodies):
            if i != j and along and body.touches(other):
                if j not in bands:
                    bands[j] = _band(drawn[j], near)
                joint, along = parted(along, bands[j], near)
                both = _band(shadows[i].union(shadows[j]).boundary, near) if joint else None
                rim, seam = parted(joint, both, near) if joint else ([], [])
                along += rim
                inside += seam
        wide += along
        narrow += inside
    return wide, narrow


def _band(lines: Any, near: float) -> Any:
    """All within ``near`` of shapely lines, made ready to be asked of many others."""
    from shapely import prepare  # noqa: PLC0415 - only where a picture is drawn

    band = lines.buffer(near)
    prepare(band)
    return band


def _near(shadows: Sequence[Any]) -> float:
    """How near a line must run to a rim to be on it: beyond the chords of round faces, within any real part."""
    lows_x, lows_y, highs_x, highs_y = zip(*(shadow.bounds for shadow in shadows), strict=True)
    size = float(max(max(highs_x) - min(lows_x), max(highs_y) - min(lows_y)))
    return max(_LEAST, _SHARE * size)


def parted(lines: Iterable[Line], band: Any, near: float) -> tuple[list[Line], list[Line]]:
    """Lines that run within a band along a rim, and the rest; a line is parted where it leaves the band.

    Where lines only cross the band, or stray from it for less than five times ``near``, they are not parted.
    """
    from shapely import covers, intersects, linestrings  # noqa: PLC0415 - only where a picture is drawn

    given = list(lines)
    paths = [linestrings(line) for line in given]
    least = 5.0 * near
    on: list[Line] = []
    off: list[Line] = []
    for line, path, within, meets in zip(
        given, paths, covers(band, paths), intersects(band, paths), strict=True
    ):
        rest = [] if within else _runs(path.difference(band) if meets else path, least)
        along = _runs(path.intersection(band), least) if rest and meets else []
        if not rest:
            on.append(line)
        elif not along:
            off.append(line)
        else:
            on += along
            off += rest
    return on, off


def _runs(found: Any, least: float) -> list[Line]:
    """The pieces of a shapely result that are lines no shorter than ``least``."""
    parts = getattr(found, "geoms", [found])
    return [tuple(part.coords) for part in parts if part.geom_type == "LineString" and part.length >= least]
