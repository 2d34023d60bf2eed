"""Closed outlines from a DXF drawing: its lines, arcs, circles, polylines, splines and ellipses, in m.

Arcs stay arcs; splines and ellipses become arcs that run on from one another within a tolerance. A drawing without
units is refused unless the project says what they are: nobody can tell 25 mm from 25 in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise
from math import cos, hypot, pi, radians, sin, tau
from pathlib import Path
from typing import Any, Literal

from formwork.errors import GeometryError
from formwork.geometry.biarcs import Curve, Spot, arc_leg, as_arcs
from formwork.geometry.joined import FlawError, loops, nested
from formwork.geometry.outlines import Leg, Outline, Point, scaled
from formwork.record import record
from formwork.units.fields import nearest

FileUnits = Literal["mm", "cm", "m", "in", "ft"]
METRES: dict[FileUnits, float] = {"mm": 0.001, "cm": 0.01, "m": 1.0, "in": 0.0254, "ft": 0.3048}
_BY_CODE: dict[int, FileUnits] = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
"""$INSUNITS of the units an outline may be drawn in (DXF reference, header variables)."""
_MOST_LEGS = 2000
_LARGEST = 20_000_000
_PASSED_OVER = frozenset(
    {"TEXT", "MTEXT", "DIMENSION", "POINT", "LEADER", "MULTILEADER", "VIEWPORT", "HATCH"}
)
"""What a drawing of an outline may hold besides it: it says something of it and bounds nothing."""

Entity = Any
"""An entity of ezdxf, whose library is imported late."""


@record
class Drawing:
    """What to read, and how.

    Attributes:
        path: of the DXF file.
        layer: the only layer to read; None for all of them.
        units: what the file's numbers are; None where the file itself must say.
        tolerance: greatest distance of an arc from the spline or ellipse it stands for, m.
    """

    path: Path
    layer: str | None
    units: FileUnits | None
    tolerance: float


@record
class Read:
    """What a drawing holds: the outline, its holes, its units, and how many curves became arcs within the tolerance."""

    outer: Outline
    holes: tuple[Outline, ...]
    units: FileUnits
    curves: int
    said: FileUnits | None


def read(drawing: Drawing) -> Read:
    """The outline of a DXF drawing.

    Raises:
        GeometryError: where the file cannot be read, has no units, or holds no sound outline; places are told as the
            drawing has them.
    """
    document = _document(drawing.path)
    said = _BY_CODE.get(int(document.header.get("$INSUNITS", 0)))
    units = drawing.units or said
    name = drawing.path.name
    if units is None:
        raise GeometryError(
            f"{name} does not say what its units are ($INSUNITS): set them in the drawing, or add file_units = "
            '"mm" (or cm, m, in, ft)'
        )
    factor = METRES[units]
    entities = _entities(document, drawing.layer, name)
    reader = _Reader(drawing.tolerance / factor, name)
    some = [leg for entity in entities for leg in reader.legs(entity)]
    if not 2 <= len(some) <= _MOST_LEGS:
        raise GeometryError(f"{name}: got {len(some)} lines and arcs, want 2 to {_MOST_LEGS}")
    scaled_legs = [_scaled(leg, factor) for leg in some]
    try:
        outer, holes = nested(loops(scaled_legs))
    except FlawError as refused:
        raise GeometryError(f"{name}: {_told(refused, factor, units)}") from refused
    return Read(outer, holes, units, reader.curves, said)


def _told(refused: FlawError, factor: float, units: str) -> str:
    places = " and ".join(f"x {x / factor:.6g}, y {y / factor:.6g}" for x, y in refused.flaw.places)
    return f"{refused.flaw.what} {places} (in {units}, as drawn)"


def _scaled(leg: Leg, factor: float) -> Leg:
    start, end = scaled(Outline((leg.start, leg.end), (leg.bulge, 0.0)), factor).points
    return Leg(start, end, leg.bulge)


def _document(path: Path) -> Any:
    import ezdxf  # noqa: PLC0415 - slow to import, and only outlines from a file need it

    if not path.is_file():
        raise GeometryError(f"file: got '{path.name}', which is not there{_nearest(path)}")
    if path.stat().st_size > _LARGEST:
        raise GeometryError(f"{path.name}: larger than {_LARGEST // 1_000_000} MB; save the outline alone")
    try:
        return ezdxf.readfile(path)
    except (OSError, ezdxf.DXFError, ValueError, UnicodeError) as error:
        raise GeometryError(f"{path.name}: no DXF file that can be read ({error})") from error


def _nearest(path: Path) -> str:
    try:
        names = tuple(sorted(one.name for one in path.parent.iterdir() if one.suffix.casefold() == ".dxf"))
    except OSError:
        return ""
    near = nearest(path.name, names)
    return f" ({near})" if near else f", want a DXF drawing in {path.parent}"


def _entities(document: Any, layer: str | None, name: str) -> list[Entity]:
    """What bounds something, of the model space, of one layer or of all.

    Raises:
        GeometryError: where the layer is not there, or something on it cannot be read as an outline.
    """
    every = list(document.modelspace())
    if layer is not None:
        known = sorted({str(entity.dxf.layer) for entity in every})
        if layer.casefold() not in {one.casefold() for one in known}:
            raise GeometryError(f"{name}: layer: got '{layer}', want one of {', '.join(known) or 'none'}")
        every = [entity for entity in every if str(entity.dxf.layer).casefold() == layer.casefold()]
    drawn = [entity for entity in every if entity.dxftype() not in _PASSED_OVER]
    for entity in drawn:
        if entity.dxftype() not in _KINDS:
            hint = (
                "explode it into lines and arcs"
                if entity.dxftype() == "INSERT"
                else "redraw it, or name a layer"
            )
            raise GeometryError(
                f"{name}: {entity.dxftype()} on layer '{entity.dxf.layer}' is no outline; {hint}"
            )
    if not drawn:
        raise GeometryError(f"{name}: no lines or arcs in its model space")
    return drawn


class _Reader:
    """From entities to legs, in the units of the file."""

    def __init__(self, tolerance: float, name: str) -> None:
        self.tolerance = tolerance
        self.name = name
        self.curves = 0

    def legs(self, entity: Entity) -> tuple[Leg, ...]:
        flat, mirrored_plane = self._plane(entity)
        found = tuple(_KINDS[flat](self, entity))
        if not mirrored_plane or flat in _IN_SPACE:
            return found
        return tuple(Leg((-a.start[0], a.start[1]), (-a.end[0], a.end[1]), -a.bulge) for a in found)

    def _plane(self, entity: Entity) -> tuple[str, bool]:
        """Kind of the entity, and whether it is drawn from behind; refused where it does not lie in the plan."""
        x, y, z = entity.dxf.get("extrusion", (0.0, 0.0, 1.0))
        kind: str = entity.dxftype()
        if kind not in _IN_SPACE and (abs(x) > 1e-6 or abs(y) > 1e-6):
            raise GeometryError(f"{self.name}: a {kind} on layer '{entity.dxf.layer}' leans out of the plan")
        return kind, z < 0.0

    def line(self, entity: Entity) -> Iterator[Leg]:
        start, end = entity.dxf.start, entity.dxf.end
        if abs(start[2] - end[2]) > 1e-6:
            raise GeometryError(
                f"{self.name}: a line from {start[0]:.6g}, {start[1]:.6g} leans out of the plan"
            )
        yield Leg((start[0], start[1]), (end[0], end[1]), 0.0)

    def arc(self, entity: Entity) -> Iterator[Leg]:
        start, end = radians(entity.dxf.start_angle), radians(entity.dxf.end_angle)
        sweep = (end - start) % tau or tau
        centre = (entity.dxf.center[0], entity.dxf.center[1])
        parts = 2 if sweep > pi else 1
        for k in range(parts):
            yield arc_leg(centre, entity.dxf.radius, start + k * sweep / parts, sweep / parts)

    def circle(self, entity: Entity) -> Iterator[Leg]:
        centre = (entity.dxf.center[0], entity.dxf.center[1])
        for k in range(4):
            yield arc_leg(centre, entity.dxf.radius, k * pi / 2.0, pi / 2.0)

    def light_polyline(self, entity: Entity) -> Iterator[Leg]:
        points = [(x, y, bulge) for x, y, bulge in entity.get_points("xyb")]
        yield from self._polyline(points, bool(entity.closed))

    def heavy_polyline(self, entity: Entity) -> Iterator[Leg]:
        if not entity.is_2d_polyline:
            raise GeometryError(
                f"{self.name}: a polyline in space on layer '{entity.dxf.layer}' is no outline"
            )
        points = [
            (one.dxf.location[0], one.dxf.location[1], one.dxf.get("bulge", 0.0)) for one in entity.vertices
        ]
        yield from self._polyline(points, bool(entity.is_closed))

    def _polyline(self, points: list[tuple[float, float, float]], closed: bool) -> Iterator[Leg]:
        ends = [*points[1:], points[0]] if closed else points[1:]
        last = len(ends) - 1
        for i, ((x, y, bulge), (x1, y1, _)) in enumerate(zip(points, ends, strict=False)):
            if closed and i == last and hypot(x1 - x, y1 - y) == 0.0:
                continue
            yield Leg((x, y), (x1, y1), bulge)

    def spline(self, entity: Entity) -> Iterator[Leg]:
        self.curves += 1
        try:
            tool = entity.construction_tool()
        except ValueError as error:
            raise GeometryError(f"{self.name}: a spline cannot be read: {error}") from error
        knots = sorted({float(k) for k in tool.knots()})
        low, high = float(tool.knots()[tool.order - 1]), float(tool.knots()[tool.count])
        marks = [k for k in knots if low <= k <= high]
        yield from self._curve(_spline_curve(tool), marks)

    def ellipse(self, entity: Entity) -> Iterator[Leg]:
        self.curves += 1
        tool = entity.construction_tool()
        start = float(tool.start_param)
        sweep = (float(tool.end_param) - start) % tau or tau
        steps = max(1, round(sweep / (pi / 2.0)))
        marks = [start + k * sweep / steps for k in range(steps + 1)]
        yield from self._curve(_ellipse_curve(tool), marks)

    def _curve(self, curve: Curve, marks: list[float]) -> Iterator[Leg]:
        for start, end in pairwise(marks):
            yield from as_arcs(_inward(curve, start, end), start, end, self.tolerance)


def _inward(curve: Curve, start: float, end: float) -> Curve:
    """A curve between two parameters, its ends looked at from inside: at a kink the way on either side differs."""
    room = 1e-9 * (end - start)

    def spot(t: float) -> Spot:
        return Spot(curve(t).place, curve(min(max(t, start + room), end - room)).way)

    return spot


def _spline_curve(tool: Any) -> Curve:
    def spot(t: float) -> Spot:
        place, way = tool.derivative(t, 1)
        size = hypot(way[0], way[1])
        if size == 0.0:
            raise GeometryError(f"a spline stands still at {place[0]:.6g}, {place[1]:.6g}")
        return Spot((place[0], place[1]), (way[0] / size, way[1] / size))

    return spot


def _ellipse_curve(tool: Any) -> Curve:
    cx, cy = tool.center[0], tool.center[1]
    (ax, ay), (bx, by) = ((axis[0], axis[1]) for axis in (tool.major_axis, tool.minor_axis))

    def spot(t: float) -> Spot:
        c, s = cos(t), sin(t)
        way: Point = (bx * c - ax * s, by * c - ay * s)
        size = hypot(*way)
        return Spot((cx + ax * c + bx * s, cy + ay * c + by * s), (way[0] / size, way[1] / size))

    return spot


_KINDS: dict[str, Callable[[_Reader, Entity], Iterator[Leg]]] = {
    "LINE": _Reader.line,
    "ARC": _Reader.arc,
    "CIRCLE": _Reader.circle,
    "LWPOLYLINE": _Reader.light_polyline,
    "POLYLINE": _Reader.heavy_polyline,
    "SPLINE": _Reader.spline,
    "ELLIPSE": _Reader.ellipse,
}
_IN_SPACE = frozenset({"LINE", "SPLINE", "ELLIPSE"})
"""Entities whose places are told in space, not in a plane of their own."""
