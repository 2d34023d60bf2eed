"""Outline: any closed outline of straight edges and arcs with a thickness, from points or from a DXF drawing.

Stepping stones, letters, table tops with a cut-out. Cast with the good face down on the base and struck off on the
back, so that the mold, seen from above, shows it mirrored.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, tan
from pathlib import Path

from formwork.errors import GeometryError
from formwork.geometry.biarcs import through
from formwork.geometry.clearance import gap, roomiest
from formwork.geometry.crossings import encloses, first_meeting
from formwork.geometry.joined import FlawError, nested, sound, straightened
from formwork.geometry.offsets import OffsetError, eased, in_step, offset
from formwork.geometry.outlines import Outline, Point, box, circle, mirrored
from formwork.geometry.prisms import Prism
from formwork.geometry.rounding import rounded
from formwork.record import record
from formwork.shapes.box import refuse_chamfer
from formwork.shapes.outline_file import Drawing, Read, read
from formwork.shapes.outline_keys import REACH, Corner, Hole, OutlineParameters
from formwork.shapes.piece import Curved, CurvedFormer, Lot, Measure, Piece
from formwork.shapes.shape import Shape
from formwork.units import show

LEAST = 0.05
"""Least extent of an outline either way, m."""
MOST = 8.0
"""Greatest extent of an outline either way, m."""
LEAST_HOLE = 0.01
"""Least extent of a hole either way, m."""
WEB = 0.015
"""Least concrete between a hole and the edge, or another hole, m (common practice, no source)."""


@record
class _Drawn:
    """What the keys draw, as seen on the good face: the outline, its holes, and what must be said of them."""

    outer: Outline
    holes: tuple[Outline, ...]
    notes: tuple[str, ...] = ()


def lay_out(parameters: OutlineParameters, name: str) -> tuple[Lot, ...]:
    """The piece as it lies in its mold, good face down.

    Raises:
        GeometryError: where the outline or its keys contradict themselves; says at which place.
    """
    p = parameters
    refuse_chamfer(p.chamfer, p.thickness, "thickness", p.deep_chamfer, name)
    try:
        return (Lot(_piece(p, _drawn(p, name), name)),)
    except FlawError as flawed:
        raise GeometryError(f"{name}: {flawed.flaw.what} {_places(flawed.flaw.places)}") from flawed


def _places(places: Sequence[Point]) -> str:
    return " and ".join(f"x {show.both(x)}, y {show.both(y)}" for x, y in places)


def _drawn(p: OutlineParameters, name: str) -> _Drawn:
    """The outline and its holes, from the drawing or from the points."""
    if bool(p.file) == bool(p.points):
        got = "both file and points" if p.file else "neither file nor points"
        raise GeometryError(f"{name}: got {got}, want one of them")
    own = tuple(_hole(hole, number, name) for number, hole in enumerate(p.holes, start=1))
    if p.file:
        found = _from_file(p, name)
        outer, holes = nested((found.outer, *found.holes, *own))
        return _checked(_Drawn(outer, holes, _said(p, found)), name)
    for key in ("layer", "file_units"):
        if getattr(p, key) is not None:
            raise GeometryError(
                f"{name}: {key} belongs to a drawing; leave it out, or name the drawing: file = ..."
            )
    first = _path(p.points, "points", name)
    for number, hole in enumerate(own):
        if not encloses(first, hole.points[0]) and first_meeting(first, hole) is None:
            raise GeometryError(
                f"{name}: holes.{number} lies outside the outline, at {_places(hole.points[:1])}"
            )
    outer, holes = nested((first, *own))
    return _checked(_Drawn(outer, holes), name)


def _from_file(p: OutlineParameters, name: str) -> Read:
    assert p.file is not None
    try:
        return read(Drawing(Path(p.file), p.layer, p.file_units, p.tolerance))
    except GeometryError as refused:
        raise GeometryError(f"{name}: {refused}") from refused


def _said(p: OutlineParameters, found: Read) -> tuple[str, ...]:
    (x0, y0), (x1, y1) = box(found.outer)
    lines = [
        f"As read from the drawing in {found.units} it measures {show.both(x1 - x0)} by {show.both(y1 - y0)}: "
        "make sure of that before you cut."
    ]
    if found.said is not None and found.said != found.units:
        lines.append(f"The drawing says {found.said}; it is read in {found.units}, as file_units says.")
    if found.curves:
        lines.append(
            f"Splines and ellipses of the drawing are cut as arcs within {show.both(p.tolerance)} of them."
        )
    return tuple(lines)


def _path(corners: Sequence[Corner], key: str, name: str) -> Outline:
    """The outline that corners say."""
    if len(corners) < 2:
        raise GeometryError(f"{name}: {key}: got {len(corners)} corner, want at least 3, or 2 with an arc")
    places = [(one.x, one.y) for one in corners]
    ends = [*places[1:], places[0]]
    bulges = [
        _bulge(one, end, f"{key}.{number}", name)
        for number, (one, end) in enumerate(zip(corners, ends, strict=True))
    ]
    _refuse_repeated(places, key, name)
    whole = straightened(Outline(tuple(places), tuple(bulges)))
    return sound(rounded(whole, [one.round or 0.0 for one in corners]))


def _refuse_repeated(places: Sequence[Point], key: str, name: str) -> None:
    for number, place in enumerate(places):
        if place in places[:number]:
            first = places.index(place)
            raise GeometryError(
                f"{name}: {key}: point {number + 1} is point {first + 1} again, at {_places([place])}; leave it out: "
                "the last edge closes the outline by itself"
            )


def _bulge(one: Corner, end: Point, key: str, name: str) -> float:
    if (one.via_x is None) != (one.via_y is None):
        raise GeometryError(f"{name}: {key}: give via_x and via_y together, or neither")
    if one.via_x is None or one.via_y is None:
        return one.bulge or 0.0
    if one.bulge is not None:
        raise GeometryError(f"{name}: {key}: got via and bulge, want one of them")
    start, via = (one.x, one.y), (one.via_x, one.via_y)
    if via in (start, end):
        raise GeometryError(f"{name}: {key}: the arc's via is one of its ends, {_places([via])}")
    return through(start, via, end)


def _hole(hole: Hole, number: int, name: str) -> Outline:
    key = f"holes.{number - 1}"
    middle = (hole.x, hole.y, hole.diameter)
    if hole.points:
        if any(value is not None for value in middle):
            raise GeometryError(f"{name}: {key}: give x, y and diameter, or points, not both")
        return _path(hole.points, f"{key}.points", name)
    x, y, diameter = middle
    if x is None or y is None or diameter is None:
        raise GeometryError(f"{name}: {key}: want x, y and diameter of a round hole, or points of any other")
    return circle((x, y), diameter / 2.0)


def _checked(drawn: _Drawn, name: str) -> _Drawn:
    """Refuse what is too small to be meant, too far off to be reckoned with, or too thin to hold."""
    (x0, y0), (x1, y1) = box(drawn.outer)
    if min(x1 - x0, y1 - y0) < LEAST or max(x1 - x0, y1 - y0) > MOST:
        raise GeometryError(
            f"{name}: the outline measures {show.both(x1 - x0)} by {show.both(y1 - y0)}, want {show.both(LEAST)} to "
            f"{show.both(MOST)} either way; are its units right?"
        )
    if max(abs(x0), abs(y0), abs(x1), abs(y1)) > REACH:
        raise GeometryError(
            f"{name}: the outline lies more than {REACH:.0f} m from the zero of its drawing; move it there, "
            "or see whether its units are right"
        )
    for number, hole in enumerate(drawn.holes):
        _refuse_thin(hole, (drawn.outer, *drawn.holes[:number]), name)
    return drawn


def _refuse_thin(hole: Outline, others: Sequence[Outline], name: str) -> None:
    (x0, y0), (x1, y1) = box(hole)
    if min(x1 - x0, y1 - y0) < LEAST_HOLE:
        raise GeometryError(
            f"{name}: a hole at {_places(hole.points[:1])} measures {show.both(x1 - x0)} by {show.both(y1 - y0)}, "
            f"want at least {show.both(LEAST_HOLE)} either way"
        )
    for other in others:
        width, place = gap(hole, other)
        if width < WEB:
            raise GeometryError(
                f"{name}: only {show.both(width)} of concrete would stand beside a hole at {_places([place])}, want "
                f"at least {show.both(WEB)}"
            )


def _piece(p: OutlineParameters, drawn: _Drawn, name: str) -> Piece:
    """The piece good face down: what is drawn on that face is mirrored, and the struck back is the larger one."""
    foot, head, inner = _levels(p, mirrored(drawn.outer), name)
    (x0, y0), (x1, y1) = box(foot)
    middle = (-(x0 + x1) / 2.0, -(y0 + y1) / 2.0, 0.0)
    outside = Prism(foot, p.thickness, middle, head=head if p.draft else None)
    holes = [mirrored(hole) for hole in drawn.holes]
    spot = roomiest(outside.outline, holes)
    return Piece(
        name=name,
        shape="outline",
        form=Curved(
            outside, (*_chamfer(p, outside, inner, holes, name), *_cores(p, holes, middle, name)), p.thickness
        ),
        plugs=(),
        pour_points=((spot[0] + middle[0], spot[1] + middle[1], p.thickness / 2.0),),
        turned_over=True,
        measures=_measures(p, outside, holes),
        notes=(
            "Cast with the good face down; the back is struck off. Seen from above, the mold shows the piece mirrored, "
            "and so do its drawings and patterns: lay them out as they are printed.",
            *_on_edges(p, bool(holes)),
            *drawn.notes,
        ),
    )


def _levels(p: OutlineParameters, foot: Outline, name: str) -> list[Outline]:
    """The outline at the foot, at the head, and inside the chamfer, leg for leg; arcs that change do so in step."""
    reach = max(p.thickness * tan(p.draft), p.chamfer)
    if reach == 0.0:
        return [foot, foot, foot]
    base = eased(foot, reach)
    head = _beside(base, p.thickness * tan(p.draft), "draft", name)
    return in_step([base, head, _beside(base, -p.chamfer, "chamfer", name)])


def _on_edges(p: OutlineParameters, holed: bool) -> tuple[str, ...]:
    lines = []
    if p.draft:
        lines.append("The outline as drawn is that of the good face; the struck back is larger by the draft.")
    if holed:
        lines.append(
            "Holes are as drawn at the good face and narrow towards the struck back; their edges stay sharp."
        )
    return tuple(lines)


def _beside(outline: Outline, distance: float, key: str, name: str) -> Outline:
    """The outline a distance outside.

    Raises:
        GeometryError: where a leg would close, saying where on the good face.
    """
    try:
        return offset(outline, distance)
    except OffsetError as closed:
        x, y = closed.place
        raise GeometryError(
            f"{name}: {key}: {closed}, at {_places([(-x, y)])} on the good face; less {key}, or a wider place"
        ) from closed


def _chamfer(
    p: OutlineParameters, outside: Prism, inner: Outline, holes: Sequence[Outline], name: str
) -> tuple[CurvedFormer, ...]:
    """The strip round the foot of the edge; nothing where there is no chamfer."""
    if p.chamfer == 0.0:
        return ()
    if p.chamfer > 0.8 * p.thickness:
        raise GeometryError(f"{name}: the chamfer leaves no edge; make it less than 0.8 of the thickness")
    height = p.chamfer * cos(p.draft)
    head = outside.at(height / p.thickness)
    for hole in holes:
        if gap(hole, outside.outline)[0] < p.chamfer:
            x, y = gap(hole, outside.outline)[1]
            raise GeometryError(f"{name}: the chamfer runs into a hole at {_places([(-x, y)])}")
    body = Prism(
        outside.outline,
        height,
        outside.origin,
        head=None if outside.head is None else head,
        openings=(inner,),
        head_openings=(head,),
    )
    return (CurvedFormer("edge strip", "strip", body, "solid", "base"),)


def _cores(
    p: OutlineParameters, holes: Sequence[Outline], middle: tuple[float, float, float], name: str
) -> tuple[CurvedFormer, ...]:
    """A core for each hole, wide end on the base."""
    made = []
    for number, hole in enumerate(holes, start=1):
        narrower = p.thickness * tan(p.hole_draft)
        base = eased(hole, narrower)
        foot, head = in_step([base, _beside(base, -narrower, "hole_draft", name)])
        body = Prism(foot, p.thickness, middle, head=head)
        called = "core" if len(holes) == 1 else f"core {number}"
        made.append(CurvedFormer(called, "core", body, "solid", "base"))
    return tuple(made)


def _measures(p: OutlineParameters, outside: Prism, holes: Sequence[Outline]) -> tuple[Measure, ...]:
    """Extents of the good face, thickness, and the extents of each hole."""
    (x0, y0), (x1, y1) = ((a + outside.origin[0], b + outside.origin[1]) for a, b in box(outside.outline))
    lines = [
        Measure("length", "top", (x0, y0, 0.0), (x1, y0, 0.0)),
        Measure("width", "top", (x1, y0, 0.0), (x1, y1, 0.0)),
        Measure("thickness", "front", (x1, y0, 0.0), (x1, y0, p.thickness)),
    ]
    for number, hole in enumerate(holes, start=1):
        (a, b), (c, d) = ((u + outside.origin[0], v + outside.origin[1]) for u, v in box(hole))
        which = "hole" if len(holes) == 1 else f"hole {number}"
        lines.append(Measure(f"{which} length", "top", (a, d, 0.0), (c, d, 0.0)))
        lines.append(Measure(f"{which} width", "top", (c, b, 0.0), (c, d, 0.0)))
    return tuple(lines)


def _corners(*places: tuple[float, ...]) -> list[dict[str, float]]:
    """Corners as a project file has them: x, y, and a radius that rounds them."""
    return [dict(zip(("x", "y", "round"), place, strict=False)) for place in places]


SHAPE = Shape(
    name="outline",
    summary="Any closed outline of straight edges and arcs: stepping stone, letter, table top with a cut-out",
    methods=("edged", "stacked"),
    parameters=OutlineParameters,
    lay_out=lay_out,
    samples=(
        {
            "points": _corners((0, 0, 200), (900, 0, 200), (900, 600, 200), (0, 600, 200)),
            "holes": [{"x": 450, "y": 300, "diameter": 120}],
            "thickness": 60,
            "chamfer": 8,
        },
        {
            "points": [{"x": -400, "y": 0}, {"x": 400, "y": 0, "via_x": 0, "via_y": 400}],
            "thickness": 50,
            "draft": "4 deg",
            "chamfer": 6,
        },
        {"points": _corners((0, 0), (700, 0), (700, 300), (300, 300), (300, 800), (0, 800)), "thickness": 70},
        {
            "points": [
                {"x": 0, "y": 0},
                {"x": 1200, "y": 0, "via_x": 1350, "via_y": 300},
                {"x": 1200, "y": 600},
                {"x": 0, "y": 600, "via_x": 150, "via_y": 300},
            ],
            "holes": [{"points": _corners((500, 200), (800, 200), (800, 400), (500, 400))}],
            "thickness": 80,
        },
    ),
)
