"""Bracing: the sticks that hold the lining. Cleats at the corners, rails round the panels, bars over a hung core.

Cleats stand upright in the corners and rails run between them. Mitred panels too narrow for that have no cleats: their
rails are mitred too and make hoops. A lapped panel too narrow for a rail beside its cleats has the cleats alone.

Rails run level on the backs of the panels: one at the foot, screwed down to the base; one at the rim; and as many
between as keep every bay of the panel within the span its sheet carries at the pressure there (see ``load``).
"""

from __future__ import annotations

from formwork.geometry.cells import box_of
from formwork.geometry.planes import HalfSpace
from formwork.geometry.vectors import Vec, cross, dot, scale, unit
from formwork.molds.mold import Part
from formwork.molds.panels.corners import Corner
from formwork.molds.panels.lining import Frame, body_of, panel_ends, stick_part
from formwork.shapes.box import UP, level
from formwork.shapes.piece import Face

_BAR_PLACES = (0.25, 0.75)
LEAST_RAIL = 0.03
"""A rail shorter than this, m, would split: it is left out (ours)."""


def cleats(frame: Frame) -> tuple[Part, ...]:
    """Corner cleats: on the back of a panel that stops, in the lee of the one that runs past; on both at a mitre."""
    made: list[Part] = []
    if hooped(frame):
        return ()
    for face in _sides(frame):
        for side, corner in zip(("left", "right"), frame.corners[face.name], strict=True):
            if corner.rule != "runs past":
                made.append(_cleat(frame, face, corner, side))
    return tuple(made)


def hooped(frame: Frame) -> bool:
    """Mitred panels, one at least too narrow for two cleats and a rail as long as a stick is wide."""
    if not frame.mitred:
        return False
    least = min(_room(frame, face, panel_ends(frame, face.name, face.half)) for face in _sides(frame))
    return least < 3.0 * frame.stocks.broad


def _room(frame: Frame, face: Face, ends: tuple[HalfSpace, ...]) -> float:
    """Least level width of a panel's back between two planes that end something on it, m."""
    return min(_level_room(frame, face, ends, height) for height in (0.0, frame.fill))


def _level_room(frame: Frame, face: Face, ends: tuple[HalfSpace, ...], height: float) -> float:
    back = face.half.moved(frame.thickness)
    along, start = unit(cross(UP, back.normal)), _at_height(back, height)
    return sum(one.depth(start) / abs(dot(one.normal, along)) for one in ends)


def _middle(frame: Frame, face: Face) -> tuple[HalfSpace, HalfSpace]:
    """Both sides of the upright plane in the middle of a panel's foot, left and right seen from outside."""
    left, right = panel_ends(frame, face.name, face.half)
    back = face.half.moved(frame.thickness)
    along, start = unit(cross(UP, back.normal)), _at_height(back, 0.0)
    reach = [one.depth(start) / abs(dot(one.normal, along)) for one in (left, right)]
    half = HalfSpace(along, dot(along, start) + (reach[1] - reach[0]) / 2.0, "middle of panel")
    return half, half.flipped()


def _cleat(frame: Frame, face: Face, corner: Corner, side: str) -> Part:
    back = face.half.moved(frame.thickness)
    name = f"{face.name} cleat {side}"
    inside = cleat_inside(frame, face, corner)
    halves = (
        back.flipped(),
        back.moved(frame.stocks.deep, "outside of cleat"),
        _stop(frame, face, corner),
        inside,
        inside.moved(-frame.stocks.broad).flipped("edge of cleat"),
        _middle(frame, face)[0 if side == "left" else 1],
        level("foot", 0.0, up=False),
        level("fill", frame.fill, up=True),
    )
    body = body_of(frame, halves, name)
    along = cross(back.normal, corner.neighbour.half.normal)
    return stick_part(frame, frame.stocks.stick, name, "cleat", f"{face.name} panel", body, unit(along), back)


def _stop(frame: Frame, face: Face, corner: Corner) -> HalfSpace:
    """What a cleat stands against at its corner: the neighbour's face, or the plane of the mitre."""
    ends = dict(zip(frame.corners[face.name], panel_ends(frame, face.name, face.half), strict=True))
    return ends[corner]


def cleat_inside(frame: Frame, face: Face, corner: Corner) -> HalfSpace:
    """The cleat's side away from the corner: square to the panel, one stick's width from the corner's furthest point.

    In a sharp corner it lies further in, so that half the stick's width bears on the panel.
    """
    stop = _stop(frame, face, corner)
    edge = unit(cross(face.half.normal, stop.normal))
    square = unit(cross(edge, face.half.normal))
    if dot(square, stop.normal) < 0.0:
        square = scale(square, -1.0)
    back, broad = face.half.moved(frame.thickness), frame.stocks.broad
    on_back, outside = (
        dot(square, _on_both(back.moved(depth), stop, edge)) for depth in (0.0, frame.stocks.deep)
    )
    inside = min(max(on_back, outside) - broad, on_back - broad / 2.0)
    return HalfSpace(scale(square, -1.0), -inside, "inside of cleat")


def _on_both(first: HalfSpace, second: HalfSpace, edge: Vec) -> Vec:
    """The point on both planes nearest the origin."""
    a, b = cross(second.normal, edge), cross(edge, first.normal)
    size = dot(first.normal, a)
    return tuple((a[i] * first.offset + b[i] * second.offset) / size for i in range(3))  # type: ignore[return-value]


def rails(frame: Frame, heights: tuple[float, ...]) -> tuple[Part, ...]:
    """Rails on every panel, at the same heights (of their middles, m) all round."""
    hoops = hooped(frame)
    return tuple(
        _rail(frame, face, ends, (number, len(heights)), height)
        for face in _sides(frame)
        if (ends := _rail_ends(frame, face, hoops)) and _room(frame, face, ends) >= LEAST_RAIL
        for number, height in enumerate(heights, start=1)
    )


def _rail(
    frame: Frame, face: Face, ends: tuple[HalfSpace, ...], turn: tuple[int, int], height: float
) -> Part:
    """One rail on the back of its panel; the lowest is ripped to stand on the base, the top one to the rim.

    ``turn`` is its number from the foot and how many there are.
    """
    number, count = turn
    back = face.half.moved(frame.thickness)
    name = f"{face.name} rail {number}"
    halves = (
        back.flipped(),
        back.moved(frame.stocks.deep, "outside of rail"),
        *ends,
        *rail_edges(frame, back, height, number == 1, number == count),
        level("fill", frame.fill, up=True),
        level("top of base", 0.0, up=False),
    )
    body = body_of(frame, halves, name)
    return stick_part(
        frame,
        frame.stocks.stick,
        name,
        "rail",
        f"{face.name} panel",
        body,
        unit(cross(UP, back.normal)),
        back,
    )


def rail_edges(
    frame: Frame, back: HalfSpace, height: float, lowest: bool, highest: bool
) -> tuple[HalfSpace, ...]:
    """The long edges of a rail, square to its panel, never further apart than the stick is wide.

    The lowest rail has the base for its under edge, the highest the fill plane for its upper one; where the panel
    leans, that edge is bevelled.
    """
    width = frame.stocks.broad
    slope = unit(cross(back.normal, cross(UP, back.normal)))
    upward = slope if slope[2] > 0.0 else scale(slope, -1.0)
    outside = back.moved(frame.stocks.deep)
    if lowest:
        start = min(dot(upward, _at_height(one, 0.0)) for one in (back, outside))
        return (HalfSpace(upward, start + width, "top of rail"),)
    if highest:
        stop = max(dot(upward, _at_height(one, frame.fill)) for one in (back, outside))
        return (HalfSpace(scale(upward, -1.0), width - stop, "underside of rail"),)
    middle = dot(upward, _at_height(back, height))
    return (
        HalfSpace(upward, middle + width / 2.0, "top of rail"),
        HalfSpace(scale(upward, -1.0), width / 2.0 - middle, "underside of rail"),
    )


def _rail_ends(frame: Frame, face: Face, hoops: bool) -> tuple[HalfSpace, ...]:
    """A rail runs the panel's whole length, or between its cleats."""
    ends = panel_ends(frame, face.name, face.half)
    return tuple(
        end
        if hoops or corner.rule == "runs past"
        else cleat_inside(frame, face, corner).flipped("beside cleat")
        for corner, end in zip(frame.corners[face.name], ends, strict=True)
    )


def _at_height(half: HalfSpace, height: float) -> Vec:
    """The point of a leaning plane at a height, straight out from the axis."""
    nx, ny, nz = half.normal
    level_size = (nx * nx + ny * ny) ** 0.5
    out = (half.offset - nz * height) / level_size
    return (nx / level_size * out, ny / level_size * out, height)


def bars(frame: Frame, outside: tuple[Part, ...]) -> tuple[Part, ...]:
    """Bars over the mold from rail to rail, two for each hung core, screwed to its end rails and to the rim rails."""
    made = []
    stick = frame.stocks.stick
    for former in frame.form.formers:
        if former.kind != "core" or former.seat != "hung":
            continue
        core = [part for part in outside if part.group == former.name]
        first, last = box_of([body for part in core for body in part.cells])
        across = 0 if last[0] - first[0] >= last[1] - first[1] else 1
        for number, share in enumerate(_BAR_PLACES, start=1):
            at = first[across] + share * (last[across] - first[across])
            made.append(_bar(frame, f"{former.name} bar {number}", former.name, across, at, stick.width))
    return tuple(made)


def _bar(frame: Frame, name: str, group: str, across: int, at: float, width: float) -> Part:
    """One bar over the fill plane, lying across the core's longer way, from rail to rail."""
    axis: Vec = (1.0, 0.0, 0.0) if across == 0 else (0.0, 1.0, 0.0)
    along: Vec = (0.0, 1.0, 0.0) if across == 0 else (1.0, 0.0, 0.0)
    lines = [_over_the_rails(frame, axis, along, at + side * width / 2.0) for side in (-1.0, 1.0)]
    start, end = min(low for low, _ in lines), max(high for _, high in lines)
    top = level("top of bar", frame.fill + frame.stocks.stick.thickness, up=True)
    under = level("fill", frame.fill, up=False)
    halves = (
        HalfSpace(axis, at + width / 2.0, "side of bar"),
        HalfSpace(scale(axis, -1.0), -(at - width / 2.0), "side of bar"),
        HalfSpace(along, end, "end of bar"),
        HalfSpace(scale(along, -1.0), -start, "end of bar"),
        top,
        under,
    )
    return stick_part(
        frame, frame.stocks.stick, name, "bar", group, body_of(frame, halves, name), along, under
    )


def _over_the_rails(frame: Frame, axis: Vec, along: Vec, at: float) -> tuple[float, float]:
    """Where a line over the mold, ``at`` along the axis, crosses the outside of the rails at the rim."""
    start, end = float("-inf"), float("inf")
    for face in _sides(frame):
        outside = face.half.moved(frame.thickness + frame.stocks.deep)
        left = outside.offset - outside.normal[2] * frame.fill - at * dot(outside.normal, axis)
        slope = dot(outside.normal, along)
        if slope > 1e-9:
            end = min(end, left / slope)
        elif slope < -1e-9:
            start = max(start, left / slope)
    return start, end


def _sides(frame: Frame) -> tuple[Face, ...]:
    return tuple(face for face in frame.form.faces if face.role == "panel")
