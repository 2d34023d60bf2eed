"""Turned piece: a profile revolved about an upright axis: bowl, bird bath, baluster, finial, ring.

The profile is laid out as the piece stands in use, its foot at z = 0, and turned over where it is cast rim down.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, inf, radians, tan
from typing import Annotated, Literal

from pydantic import AfterValidator, Field
from pydantic_core import PydanticCustomError

from formwork.errors import GeometryError
from formwork.geometry import sides
from formwork.geometry.outlines import Leg, Outline, Point, area, flattened, reversed_outline
from formwork.geometry.rounds import Round
from formwork.geometry.sides import Side
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec
from formwork.record import record
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Curved, CurvedFormer, Lot, Measure, Piece, Plug, Seat
from formwork.shapes.shape import Shape
from formwork.units import show
from formwork.units.fields import quantity

LEAST_WALL = 0.012
"""Least thickness anywhere between the hollow and the outside, m (ours)."""
_LEAST_HEIGHT = 0.02
_LEAST_REACH = 0.02
_SAME = 1e-7
_PLUG_DRAFT = tan(radians(3.0))
_LEAST_PLUG_DRAFT = tan(radians(1.0))
_NARROW = 0.6
"""Least width of a drain plug's free end, as a share of the other (ours)."""

Coordinate = Annotated[float, quantity("length", -4.0, 4.0)]


def _two_or_three(corner: tuple[float, ...]) -> tuple[float, ...]:
    if len(corner) in (2, 3):
        return corner
    raise PydanticCustomError(
        "corner",
        "got {got}, want {want}",
        {
            "got": f"a list of {len(corner)}",
            "want": "[distance from the axis, height], and a third number where an arc leads there",
            "hint": "",
        },
    )


Corner = Annotated[tuple[Coordinate, ...], AfterValidator(_two_or_three)]
Corners = Annotated[tuple[Corner, ...], Field(min_length=2, max_length=200)]


class TurnedParameters(Parameters):
    """Keys of a turned piece in the project file."""

    outside: Corners | None = Field(
        default=None,
        description="corners of the outside from the foot up, each [distance from the axis, height]; a third number "
        "is how far the line to that corner bows out (inward if below 0)",
    )
    inside: Corners | None = Field(
        default=None, description="corners of the hollow, from its lower end up; solid if left out"
    )
    profile: Corners | None = Field(
        default=None,
        description="instead of outside and inside: the corners all round the cut face, counter-clockwise; a third "
        "number bows the line out to the right as you go",
    )
    cast: Literal["over", "up"] | None = Field(
        default=None,
        description="how it lies in the mold: turned over, or as it stands; a bowl is cast over if left out",
    )
    drain_diameter: Annotated[float, quantity("length", 0.0, 0.15)] = Field(
        default=0.0, description="drain hole in the middle of the floor, at its wider end; 0 for none"
    )


@record
class Sides:
    """A turned piece by its sides.

    Attributes:
        outer: the outside, from the foot to the head.
        hollow: the inside of the hollow, from its lower end to its upper one; None where the piece is solid.
        from_foot: what was taken off every height so that the foot is at 0, m.
    """

    outer: Side
    hollow: Side | None
    from_foot: float = 0.0

    @property
    def height(self) -> float:
        """Overall height, m."""
        return self.outer.head

    @property
    def open_below(self) -> bool:
        """The hollow opens at the foot."""
        return self.hollow is not None and self.hollow.foot < _SAME

    @property
    def open_above(self) -> bool:
        """The hollow opens at the head."""
        return self.hollow is not None and self.hollow.head > self.height - _SAME

    def turned_over(self) -> Sides:
        """The same upside down."""
        hollow = self.hollow.turned_over(self.height) if self.hollow else None
        return Sides(self.outer.turned_over(self.height), hollow)


def lay_out(parameters: Parameters, name: str) -> tuple[Lot, ...]:
    """The piece as it lies in its mold.

    Raises:
        GeometryError: where the profile crosses the axis or itself, turns down, leaves too thin a wall, or holds its
            core fast; it says where.
    """
    assert isinstance(parameters, TurnedParameters)
    p = parameters
    used = _sides(p, name)
    _refuse_thin(used, name)
    over = p.cast == "over" if p.cast else used.open_above and not used.open_below
    cast = used.turned_over() if over else used
    core, seat = _core(cast, used, over, name)
    piece = Piece(
        name=name,
        shape="turned",
        form=Curved(Turned(sides.solid(cast.outer)), core, cast.height),
        plugs=_drain(p, cast, seat, name),
        pour_points=(_pour_point(cast),),
        turned_over=over,
        measures=_measures(cast),
        notes=_notes(p, used),
    )
    return (Lot(piece),)


def _sides(p: TurnedParameters, name: str) -> Sides:
    """The sides that the keys describe, foot at 0.

    Raises:
        GeometryError: where they contradict one another.
    """
    if (p.profile is None) == (p.outside is None) or (p.profile is not None and p.inside is not None):
        raise GeometryError(
            f"{name}: give either outside, with inside where it is hollow, or profile, the corners all round the cut "
            "face"
        )
    found = (
        _from_profile(p.profile, name)
        if p.profile is not None
        else Sides(
            _path(p.outside or (), f"{name}: outside"),
            _path(p.inside, f"{name}: inside") if p.inside else None,
        )
    )
    _refuse_down(found.outer, f"{name}: {'profile' if p.profile else 'outside'}")
    if found.hollow is not None:
        _refuse_down(found.hollow, f"{name}: {'profile' if p.profile else 'inside'}")
    return _on_the_foot(found, name)


def _on_the_foot(found: Sides, name: str) -> Sides:
    by = found.outer.foot
    if max(found.outer.fine())[0] < _LEAST_REACH:
        raise GeometryError(
            f"{name}: outside: it stands at most {show.both(max(found.outer.fine())[0])} from the axis; at least "
            f"{show.both(_LEAST_REACH)} wanted"
        )
    if found.outer.height < _LEAST_HEIGHT:
        raise GeometryError(
            f"{name}: outside: it rises only {show.both(found.outer.height)}; at least {show.both(_LEAST_HEIGHT)} "
            "wanted"
        )
    hollow = found.hollow.moved_up(-by) if found.hollow else None
    moved = Sides(found.outer.moved_up(-by), hollow, by)
    if hollow is not None and not (moved.open_below or moved.open_above):
        raise GeometryError(
            f"{name}: inside: the hollow runs from {_high(hollow.foot + by)} to {_high(hollow.head + by)} and opens "
            f"nowhere, so its core could never come out; let it begin at the foot ({_high(by)}) or end at the top "
            f"({_high(found.outer.head)})"
        )
    return moved


def _path(corners: Sequence[tuple[float, ...]], where: str) -> Side:
    """An open path of corners, refused where it leaves the half-plane.

    Raises:
        GeometryError: where a corner stands twice, or the path crosses the axis or itself.
    """
    if len(corners[0]) == 3 and corners[0][2] != 0.0:
        raise GeometryError(f"{where}: no line leads to its first corner, so nothing there can bow out")
    points, bulges = _corners(corners, where)
    side = Side(points, bulges[1:])
    fine = side.fine()
    _refuse_beyond_axis(fine, where)
    _refuse_crossing(sides.crossing(fine, closed=False), where)
    return side


def _corners(corners: Sequence[tuple[float, ...]], where: str) -> tuple[tuple[Point, ...], tuple[float, ...]]:
    """Points, and the bulge of the leg that ends in each.

    Raises:
        GeometryError: where two corners fall together, or a leg bows out by half its length or more.
    """
    points = tuple((one[0], one[1]) for one in corners)
    bulges = []
    for number, one in enumerate(corners):
        (x0, y0), (x1, y1) = points[number - 1], points[number]
        chord = float(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)
        bow = one[2] if len(one) == 3 else 0.0
        if chord < _SAME:
            raise GeometryError(
                f"{where}: {_at(points[number])} stands there twice, one after the other; leave one of them out"
            )
        if abs(bow) > chord / 2.0 + _SAME:
            raise GeometryError(
                f"{where}: the line to {_at(points[number])} is {show.both(chord)} long and cannot bow out by "
                f"{show.both(abs(bow))}; at most half its length, which is a half circle"
            )
        bulges.append(2.0 * bow / chord if abs(bow) > _SAME else 0.0)
    return points, tuple(bulges)


def _from_profile(corners: Sequence[tuple[float, ...]], name: str) -> Sides:
    """Outside and hollow of a closed profile.

    Raises:
        GeometryError: where it is no sound profile.
    """
    where = f"{name}: profile"
    points, ending = _corners(corners, where)
    outline = Outline(points, (*ending[1:], ending[0]))
    fine = flattened(outline, sides.FINE)
    _refuse_beyond_axis(fine, where)
    _refuse_crossing(sides.crossing(fine, closed=True), where)
    if area(outline) < 0.0:
        outline = reversed_outline(outline)
    return _parted(outline)


def _parted(outline: Outline) -> Sides:
    """Outside: from the lowest corner furthest out to the highest furthest out; hollow: the way back of the rest."""
    low, high = (pick(z for _, z in outline.points) for pick in (min, max))
    every = sorted(range(len(outline.points)), key=lambda i: outline.points[i][0])
    feet = [i for i in every if outline.points[i][1] < low + _SAME]
    heads = [i for i in every if outline.points[i][1] > high - _SAME]
    outer = _walk(outline, feet[-1], heads[-1])
    back = _walk(outline, heads[0], feet[0])
    hollow = Side(back.points[::-1], tuple(-bulge for bulge in back.bulges[::-1]))
    return Sides(outer, _off_axis(hollow))


def _walk(outline: Outline, first: int, last: int) -> Side:
    """The legs from one corner on to another."""
    count = len(outline.points)
    order = [(first + i) % count for i in range((last - first) % count + 1)]
    return Side(tuple(outline.points[i] for i in order), tuple(outline.bulges[i] for i in order[:-1]))


def _off_axis(hollow: Side) -> Side | None:
    """A hollow's side without what of it runs along the axis; None where that is all of it."""
    points, bulges = list(hollow.points), list(hollow.bulges)
    while len(points) > 1 and max(points[0][0], points[1][0]) < _SAME:
        points, bulges = points[1:], bulges[1:]
    while len(points) > 1 and max(points[-1][0], points[-2][0]) < _SAME:
        points, bulges = points[:-1], bulges[:-1]
    return Side(tuple(points), tuple(bulges)) if len(points) > 1 else None


def _refuse_beyond_axis(fine: Sequence[Point], where: str) -> None:
    """A side may end on the axis; it may not cross it."""
    worst = min(fine)
    if worst[0] < -_SAME:
        raise GeometryError(
            f"{where}: it crosses the axis at {_at(worst)}; distances from the axis are 0 or more"
        )


def _refuse_crossing(place: Point | None, where: str) -> None:
    if place is not None:
        raise GeometryError(
            f"{where}: it crosses or touches itself at {_at(place)}; mend the corners near there"
        )


def _refuse_down(side: Side, where: str) -> None:
    """A mold of rings, even one parted in two halves, lets go of nothing that reaches down behind itself."""
    place = sides.turns_down(side)
    if place is None:
        return
    arc = next((leg for leg in side.legs() if leg.bulge and sides.turns_down(_alone(leg)) == place), None)
    mend = "keep every height at or above the one before"
    if arc is not None and arc.end[1] > arc.start[1]:
        mend = f"the arc to {_at(arc.end)} may bow by at most {show.both(_most_bow(arc))}"
    raise GeometryError(
        f"{where}: at {_at(place)} it turns down on its way up: no mold that draws off or parts in two halves lets go "
        f"of what hooks behind itself; {mend}"
    )


def _alone(leg: Leg) -> Side:
    return Side((leg.start, leg.end), (leg.bulge,))


def _most_bow(leg: Leg) -> float:
    """How far a leg may bow out before it runs level at one of its ends, m."""
    lean = atan2(leg.end[1] - leg.start[1], abs(leg.end[0] - leg.start[0]))
    return leg.chord / 2.0 * tan(lean / 2.0)


def _refuse_thin(used: Sides, name: str) -> None:
    if used.hollow is None:
        return
    through = next((place for place in used.hollow.fine(1e-4) if _comes_through(place, used.outer)), None)
    least, place = sides.gap(used.hollow, used.outer)
    if through is not None or least < LEAST_WALL - _SAME:
        r, z = through or place
        thick = "comes through the outside" if through else f"is {show.both(least)} from the outside"
        raise GeometryError(
            f"{name}: inside: at {_at((r, z + used.from_foot))} the hollow {thick}; at least {show.both(LEAST_WALL)} "
            "of wall wanted"
        )
    floor = min(
        used.hollow.foot if not used.open_below else inf,
        used.height - used.hollow.head if not used.open_above else inf,
    )
    if floor < LEAST_WALL - _SAME:
        raise GeometryError(
            f"{name}: inside: the floor is only {show.both(floor)} thick; at least {show.both(LEAST_WALL)} wanted"
        )


def _comes_through(place: Point, outer: Side) -> bool:
    r, z = place
    if not outer.foot - _SAME < z < outer.head + _SAME:
        return True
    return r > (outer.below(z) if z > _SAME else outer.above(0.0)) - _SAME


def _core(cast: Sides, used: Sides, over: bool, name: str) -> tuple[tuple[CurvedFormer, ...], Seat]:
    """The hollow's core as cast: standing on the base, or hung where the hollow opens above only.

    Raises:
        GeometryError: where the hollow holds its core fast.
    """
    hollow = cast.hollow
    if hollow is None:
        return (), "base"
    down, up = cast.open_below, cast.open_above
    stuck = sides.widens(hollow) if down else sides.narrows(hollow)
    if stuck is not None and down and up:
        stuck = (
            sides.narrows(hollow) if sides.draft(hollow, up=False) < sides.draft(hollow, up=True) else stuck
        )
    if stuck is not None:
        r, z = stuck
        as_typed = (r, (used.height - z if over else z) + used.from_foot)
        raise GeometryError(
            f"{name}: inside: the hollow holds its core fast at {_at(as_typed)}: on the way to its opening it must "
            "never grow narrower; widen it towards the opening from there"
        )
    seat: Seat = "base" if down else "hung"
    return (CurvedFormer("core", "core", Turned(sides.solid(hollow)), "solid", seat),), seat


def _drain(p: TurnedParameters, cast: Sides, seat: Seat, name: str) -> tuple[Plug, ...]:
    """A round plug through the floor, wider where it is fastened.

    Raises:
        GeometryError: where there is no flat floor for it.
    """
    if p.drain_diameter == 0.0:
        return ()
    hollow = cast.hollow
    if hollow is None or (cast.open_below and cast.open_above):
        raise GeometryError(f"{name}: drain_diameter: there is no floor to drain; leave it out")
    start = hollow.head if seat == "base" else 0.0
    length = cast.height - hollow.head if seat == "base" else hollow.foot
    flat = hollow.below(hollow.head) if seat == "base" else hollow.above(hollow.foot)
    flat = min(flat, cast.outer.below(cast.height) if seat == "base" else cast.outer.above(0.0))
    if p.drain_diameter > 2.0 * flat:
        raise GeometryError(
            f"{name}: drain_diameter: {show.both(p.drain_diameter)} is more than the flat of the floor, "
            f"{show.both(2.0 * flat)} across"
        )
    wide, narrow = p.drain_diameter / 2.0, _narrow_end(p.drain_diameter, length, name) / 2.0
    body = Round((0.0, 0.0, start), (0.0, 0.0, 1.0), length, wide, narrow)
    held: tuple[Seat, str] = ("former", "core") if seat == "base" else ("base", "")
    return (Plug("drain plug", body, *held),)


def _narrow_end(diameter: float, length: float, name: str) -> float:
    """Diameter of the plug at its free end: 3 degrees of draft, or as much as leaves it thick enough, m."""
    narrow = max(diameter - 2.0 * length * _PLUG_DRAFT, _NARROW * diameter)
    if (diameter - narrow) / 2.0 < length * _LEAST_PLUG_DRAFT:
        raise GeometryError(
            f"{name}: drain_diameter: a plug of {show.both(diameter)} through a floor of {show.both(length)} has no "
            "draft to speak of; make it larger, or the floor thinner"
        )
    return narrow


def _pour_point(cast: Sides) -> Vec:
    """A point inside the concrete: in the middle of the wall just under the fill plane, or near the axis."""
    z = cast.height - min(0.002, 0.1 * cast.height)
    out = cast.outer.below(z)
    if cast.hollow is not None and cast.hollow.foot < z < cast.hollow.head:
        return ((out + cast.hollow.below(z)) / 2.0, 0.0, z)
    return (out / 2.0, 0.0, z)


def _measures(cast: Sides) -> tuple[Measure, ...]:
    """Height and the diameters at foot, head and where it is widest, as it lies in the mold."""
    h = cast.height
    wide = max(cast.outer.fine())
    found = [
        _diameter("diameter below", cast.outer.above(0.0), 0.0),
        _diameter("diameter on top", cast.outer.below(h), h),
        Measure("height", "front", (wide[0], 0.0, 0.0), (wide[0], 0.0, h)),
    ]
    if wide[0] > max(cast.outer.above(0.0), cast.outer.below(h)) + _SAME:
        found.append(_diameter("greatest diameter", *wide))
    if cast.hollow is not None:
        found += _hollow_measures(cast, cast.hollow)
    return tuple(one for one in found if one.start != one.end)


def _hollow_measures(cast: Sides, hollow: Side) -> list[Measure]:
    found = []
    if cast.open_below:
        found.append(_diameter("opening", hollow.above(0.0), 0.0))
    if cast.open_above:
        found.append(_diameter("opening on top", hollow.below(cast.height), cast.height))
    if not cast.open_below:
        found.append(Measure("floor", "front", (0.0, 0.0, 0.0), (0.0, 0.0, hollow.foot)))
    if not cast.open_above:
        found.append(Measure("floor", "front", (0.0, 0.0, hollow.head), (0.0, 0.0, cast.height)))
    return found


def _diameter(name: str, r: float, z: float) -> Measure:
    return Measure(name, "front", (-r, 0.0, z), (r, 0.0, z))


def _notes(p: TurnedParameters, used: Sides) -> tuple[str, ...]:
    notes = ["Heights and distances from the axis are those of the finished piece as it stands in use."]
    if used.hollow is not None:
        least, place = sides.gap(used.hollow, used.outer)
        notes.append(f"Thinnest wall: {show.both(least)}, at {_at((place[0], place[1] + used.from_foot))}.")
    if p.drain_diameter:
        notes.append(f"Drain plug: {show.both(p.drain_diameter)} across at its wider end.")
    return tuple(notes)


def _at(place: Point) -> str:
    """A place of the profile as a person finds it."""
    return f"{show.both(place[0])} from the axis and {_high(place[1])} up"


def _high(z: float) -> str:
    return show.both(z)


SHAPE = Shape(
    name="turned",
    summary="Turned piece: a profile revolved about an upright axis, such as a bowl, a bird bath or a baluster",
    methods=("stacked",),
    parameters=TurnedParameters,
    lay_out=lay_out,
    samples=(
        {
            "outside": ((0, 0), (200, 0), (250, 300)),
            "inside": ((180, 40), (225, 300)),
            "drain_diameter": 25,
        },
        {"profile": ((0, 0), (160, 0), (230, 110, 15), (190, 110), (0, 45, -14)), "cast": "up"},
        {
            "outside": (
                (90, 0),
                (90, 60),
                (60, 75),
                (85, 200, 18),
                (45, 330, -12),
                (45, 350),
                (80, 365),
                (80, 420),
            )
        },
        {"outside": ((210, 0), (150, 120)), "inside": ((165, 0), (100, 120)), "cast": "up"},
    ),
)
