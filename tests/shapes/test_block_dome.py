"""Domes of wedge blocks: courses, planes and corners against points on two spheres, rings against one another.

No printed table of such blocks is known. The figures of ``TABLE`` and of the corner cuts were proved numerically for
this project by other means than this code (kernel solids and hulls of corner points), and are marked so below.
"""

from __future__ import annotations

from itertools import pairwise
from math import acos, asin, atan, atan2, cos, degrees, pi, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import GeometryError
from formwork.geometry.cells import Cell, cell, meet
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.vectors import Vec, add, cross, dot, length, scale, sub, unit
from formwork.molds.design import line
from formwork.molds.mold import Part
from formwork.project.records import MoldOptions, PieceOrder
from formwork.shapes import block_dome
from formwork.shapes.body import piece_volume
from formwork.shapes.courses import Course, Shell, Wedge, bed_joint, grouped, openings, plug_volume, wedge
from formwork.shapes.piece import Lot, planar
from tests.drawn import parameters
from tests.workshop import mix, shop

DOME: dict[str, object] = {
    "inside_radius": 1500,
    "thickness": 150,
    "course_height": 200,
    "block_length": 300,
    "joint": 8,
}
MODULE: dict[str, object] = DOME | {"course_height": 208, "block_length": 308, "joint": 0}
"""The same courses with the joints counted as concrete: blocks corner to corner."""
SHELL = Shell(1.5, 1.65)

POINTED = Shell(2.4, 2.55, 0.6)
"""An arm of 2.4 m whose pivot stands 0.6 m beyond the axis: inside radius 1.8 m at the equator."""

TABLE = (
    (1, 90.00, 0.00, 31, 0.3035, 0.3004, 0.414, 90.000, 90.829, 0.010613),
    (3, 73.64, 16.36, 30, 0.3009, 0.2852, 2.093, 88.304, 92.500, 0.010297),
    (5, 57.27, 32.73, 26, 0.3042, 0.2733, 4.142, 86.244, 94.546, 0.010127),
    (7, 40.91, 49.09, 21, 0.2928, 0.2417, 6.853, 83.501, 97.226, 0.009337),
    (9, 24.55, 65.45, 13, 0.2982, 0.2023, 12.957, 77.363, 103.306, 0.008585),
    (10, 16.36, 73.64, 9, 0.2891, 0.1460, 19.524, 70.749, 109.812, 0.007222),
)
"""Course, lower bed from the crown (deg), its slope (deg), blocks, lower and upper edge (m), taper (deg), lower and upper
corner (deg), volume (m3): numeric proof, no print. Inside radius 1.5 m, thickness 0.15, modules 0.208 x 0.308 m."""


def lots(**keys: object) -> tuple[Lot, ...]:
    return block_dome.lay_out(parameters(block_dome.SHAPE, keys), "dome")


def courses(module: float = 0.308) -> tuple[Course, ...]:
    """The ten courses, from their definition alone."""
    beds = [pi / 2.0 * (1.0 - i / 11.0) for i in range(11)]
    return tuple(
        Course(i + 1, low, high, -int(-2.0 * pi * 1.5 * sin(low) // module))
        for i, (low, high) in enumerate(pairwise(beds))
    )


def on_spheres(course: Course) -> dict[tuple[int, int, int], Vec]:
    """Corners of a block by sphere, bed and side: polar angle and azimuth, nothing else."""
    return {
        (k, b, s): (r * sin(p) * cos(a), r * sin(p) * sin(a), r * cos(p))
        for k, r in enumerate((1.5, 1.65))
        for b, p in enumerate((course.lower, course.upper))
        for s, a in enumerate((-course.half, course.half))
    }


def hull_volume(corners: dict[tuple[int, int, int], Vec]) -> float:
    """Volume of a body with six plane faces by tetrahedra from its middle."""
    rings = [(0, 1), (1, 1), (1, 0), (0, 0)]
    faces = [[corners[k, b, s] for b, s in rings] for k in (0, 1)]
    faces += [[corners[k, b, s] for k, s in rings] for b in (0, 1)]
    faces += [[corners[k, b, s] for k, b in rings] for s in (0, 1)]
    middle = scale(tuple(map(sum, zip(*corners.values(), strict=True))), 0.125)  # type: ignore[arg-type]
    total = 0.0
    for face in faces:
        first, *rest = (sub(point, middle) for point in face)
        total += sum(abs(dot(first, cross(a, b))) for a, b in pairwise(rest))
    return total / 6.0


def between(one: HalfSpace, other: HalfSpace) -> float:
    """The angle of the piece's corner between two faces, degrees."""
    return 180.0 - degrees(acos(dot(one.normal, other.normal)))


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"course {row[0]}")
def test_the_table_of_courses(row: tuple[float, ...]) -> None:
    number, bed, slope, count, low, high, taper, lower, upper, volume = row
    lot = lots(**MODULE, joint_tolerance=0)[int(number) - 1]
    course = courses()[int(number) - 1]
    block = wedge(course, SHELL, 0.0)
    assert degrees(course.lower) == pytest.approx(bed, abs=0.005)
    assert degrees(course.slope) == pytest.approx(slope, abs=0.005)
    assert lot.each == count
    assert block.width(block.lower, 0.0) == pytest.approx(low, abs=0.00005)
    assert block.width(block.upper, 0.0) == pytest.approx(high, abs=0.00005)
    found = atan((block.width(block.lower, 0.0) - block.width(block.upper, 0.0)) / 2.0 / block.height(0.0))
    assert degrees(found) == pytest.approx(taper, abs=0.0005)
    halves = {face.name: face.half for face in planar(lot.piece).faces}
    assert between(halves["lower bed"], halves["right"]) == pytest.approx(lower, abs=0.0005)
    assert between(halves["upper bed"], halves["left"]) == pytest.approx(upper, abs=0.0005)
    assert piece_volume(Planes(), lot.piece) == pytest.approx(volume, abs=5e-7)


def test_ten_courses_and_a_plug_of_the_eleventh_step() -> None:
    """Numeric proof, no print: 230 blocks, half-angle of the plug 8.182 degrees."""
    found = lots(**DOME, joint_tolerance=0)
    assert len(found) == 10
    assert sum(lot.each for lot in found) == 230
    assert degrees(courses()[-1].upper) == pytest.approx(8.182, abs=0.0005)


def test_blocks_are_the_hulls_of_points_on_two_spheres() -> None:
    for lot, course in zip(lots(**MODULE, joint_tolerance=0), courses(), strict=True):
        assert lot.each == course.blocks
        assert piece_volume(Planes(), lot.piece) == pytest.approx(hull_volume(on_spheres(course)), rel=1e-9)


def test_true_blocks_fill_the_sphere_and_flat_ones_nearly() -> None:
    """Sectors cut by cones and half-planes add up to the shell; flat faces take 1.85 % less (numeric proof)."""
    solid = (1.65**3 - 1.5**3) / 3.0
    true = [c.blocks * solid * 2.0 * c.half * (cos(c.upper) - cos(c.lower)) for c in courses()]
    plug = 2.0 * pi * solid * (1.0 - cos(courses()[-1].upper))
    assert sum(true) + plug == pytest.approx(2.0 * pi / 3.0 * (1.65**3 - 1.5**3), rel=1e-12)
    flat = sum(lot.each * piece_volume(Planes(), lot.piece) for lot in lots(**MODULE, joint_tolerance=0))
    assert 1.0 - flat / sum(true) == pytest.approx(0.0185, abs=0.00005)


def test_half_a_joint_comes_off_every_joint_face() -> None:
    """Course 5 with joints of 8 mm (numeric proof, no print): .2956 and .2658 by .2054 m, .009505 m3, 6.1 % less."""
    lot = lots(**DOME, joint_tolerance=0)[4]
    block = wedge(courses()[4], SHELL, 0.008)
    assert block.width(block.lower, 0.0) == pytest.approx(0.2956, abs=0.00005)
    assert block.width(block.upper, 0.0) == pytest.approx(0.2658, abs=0.00005)
    assert block.height(0.0) == pytest.approx(0.2054, abs=0.00005)
    volume = piece_volume(Planes(), lot.piece)
    assert volume == pytest.approx(0.009505, abs=5e-7)
    assert volume / hull_volume(on_spheres(courses()[4])) - 1.0 == pytest.approx(-0.061, abs=0.0005)


def panels(number: int, joint: str) -> dict[str, Part]:
    """The side panels of the mold of one course, by the face they form."""
    keys = parameters(block_dome.SHAPE, DOME | {"joint_tolerance": 0})
    order = PieceOrder("dome", "block dome", keys, 1, 1, MoldOptions(joint=joint))  # type: ignore[arg-type]
    lined = line(order, shop(), mix(), "mm")[number - 1]
    return {part.name.removesuffix(" panel"): part for part in lined.parts if part.role == "panel"}


def edges(part: Part) -> list[tuple[Vec, Vec, float]]:
    """Every edge of a panel's blank where it stands in the mold: its ends and its bevel in degrees."""
    spot = part.placement
    points = [
        add(spot.origin, add(scale(spot.along, x), scale(spot.across, y))) for x, y in part.blank.outline
    ]
    return [
        (a, b, degrees(bevel))
        for a, b, bevel in zip(points, (*points[1:], points[0]), part.blank.bevels, strict=True)
    ]


def foot(part: Part) -> tuple[Vec, Vec, float]:
    return next(edge for edge in edges(part) if abs(edge[0][2]) < 1e-9 and abs(edge[1][2]) < 1e-9)


def end_cut(part: Part, toward: Vec) -> tuple[float, float]:
    """Mitre from square and bevel, degrees, of the end of a panel that lies furthest along ``toward``."""
    ends = [edge for edge in edges(part) if abs(edge[0][2] - edge[1][2]) > 0.01]
    a, b, bevel = max(ends, key=lambda edge: dot(toward, add(edge[0], edge[1])))
    start, stop, _ = foot(part)
    across = abs(dot(unit(sub(b, a)), unit(sub(stop, start))))
    return degrees(asin(across)), abs(bevel)


@pytest.mark.parametrize(
    ("face", "lean"), [("left", 5.552), ("right", 5.552), ("lower bed", 3.699), ("upper bed", 4.499)]
)
@pytest.mark.parametrize("joint", ["lapped", "mitred"])
def test_mold_boards_of_course_5_lean_outward(face: str, lean: float, joint: str) -> None:
    """The bevel that the saw cuts along the foot of each board (numeric proof, no print)."""
    assert abs(foot(panels(5, joint)[face])[2]) == pytest.approx(lean, abs=0.0005)


@pytest.mark.parametrize(
    ("bed", "side_mitre", "bed_mitre", "bevel"),
    [("lower bed", 4.091, 5.820, 46.878), ("upper bed", 4.091, 5.227, 42.727)],
)
def test_saw_settings_of_the_mitred_corners_of_course_5(
    bed: str, side_mitre: float, bed_mitre: float, bevel: float
) -> None:
    """Read from the blanks of the mold's own panels (numeric proof by vectors, no print)."""
    found = panels(5, "mitred")
    way: Vec = (0.0, -1.0 if bed == "lower bed" else 1.0, 0.0)
    assert end_cut(found["right"], way) == pytest.approx((side_mitre, bevel), abs=0.0005)
    assert end_cut(found[bed], (1.0, 0.0, 0.0)) == pytest.approx((bed_mitre, bevel), abs=0.0005)


@pytest.mark.parametrize("number", [1, 4, 6, 8])
def test_mitred_corners_follow_the_rule_of_unequal_leans(number: int) -> None:
    """Two boards leaning b1 and b2 from plumb, their feet turning by e in plan: x1 = (tan b2 - tan b1 cos e) / sin e,
    mitre = atan(x1 cos b1), bevel = half the angle between the faces. Hopper joint rule of the trade for equal leans;
    for unequal ones a numeric proof by vectors, no print.
    """
    found = panels(number, "mitred")
    block = wedge(courses()[number - 1], SHELL, 0.008)
    for bed, half, way in (("lower bed", block.lower, -1.0), ("upper bed", block.upper, 1.0)):
        mine, other = block.right.normal, half.normal
        plan = [atan2(n[1], n[0]) for n in (mine, other)]
        turn = abs((plan[1] - plan[0] + pi) % (2.0 * pi) - pi)
        lean = [asin(-n[2]) for n in (mine, other)]
        mitres = [
            degrees(atan((tan(b) - tan(a) * cos(turn)) / sin(turn) * cos(a)))
            for a, b in (lean, reversed(lean))
        ]
        bevel = degrees(acos(dot(mine, other))) / 2.0
        assert end_cut(found["right"], (0.0, way, 0.0)) == pytest.approx((mitres[0], bevel), abs=1e-6)
        assert end_cut(found[bed], (1.0, 0.0, 0.0)) == pytest.approx((mitres[1], bevel), abs=1e-6)


def laid(block: Wedge, course: Course, azimuth: float, planes: Planes, shell: Shell = SHELL) -> Cell:
    """A block where it stands in the dome: the equator's centre at the origin, crown up."""
    low, high = (
        ((shell.inside * sin(polar) - shell.beyond) * cos(course.half), 0.0, shell.inside * cos(polar))
        for polar in (course.lower, course.upper)
    )
    up = unit(sub(high, low))
    origin = scale(add(low, high), 0.5)
    axes: tuple[Vec, Vec, Vec] = ((0.0, 1.0, 0.0), up, cross((0.0, 1.0, 0.0), up))
    ends = (HalfSpace((0.0, 0.0, -1.0), 0.0), HalfSpace((0.0, 0.0, 1.0), block.thickness))
    halves = []
    for half in (*block.sides, *ends):
        x, y, z = (sum(half.normal[k] * axes[k][i] for k in range(3)) for i in range(3))
        offset = half.offset + dot((x, y, z), origin)
        c, s = cos(azimuth), sin(azimuth)
        halves.append(HalfSpace((c * x - s * y, s * x + c * y, z), offset))
    body = cell(planes, halves)
    assert body is not None
    return body


def shared(planes: Planes, one: Cell, other: Cell) -> float:
    both = meet(planes, one, other)
    return both.volume() if both is not None else 0.0


@pytest.mark.parametrize("course", courses(), ids=lambda course: f"course {course.number}")
def test_neighbours_in_a_ring_stand_a_joint_apart(course: Course) -> None:
    planes = Planes()
    block = wedge(course, SHELL, 0.008)
    one, other = (laid(block, course, azimuth, planes) for azimuth in (0.0, 2.0 * course.half))
    joint = (sin(course.half), -cos(course.half), 0.0)
    assert min(dot(joint, p) for p in one.points()) == pytest.approx(0.004, abs=1e-12)
    assert max(dot(joint, p) for p in other.points()) == pytest.approx(-0.004, abs=1e-12)
    assert max(length(p) for p in one.points()) < 1.65


def pointed_courses() -> tuple[Course, ...]:
    beds = [pi / 2.0 + (POINTED.crown - pi / 2.0) * i / 12 for i in range(11)]
    return tuple(
        Course(i + 1, low, high, -int(-2.0 * pi * POINTED.radius(low) // 0.3))
        for i, (low, high) in enumerate(pairwise(beds))
    )


PAIRS = [(SHELL, *pair) for pair in pairwise(courses())] + [
    (POINTED, *pair) for pair in pairwise(pointed_courses())
]


@pytest.mark.parametrize(("shell", "below", "above"), PAIRS)
def test_flat_beds_clash_where_the_bed_joint_is_too_thin(shell: Shell, below: Course, above: Course) -> None:
    """A corner over the middle of the block below: free at the joint that is asked for, a clash well below it."""
    planes = Planes()
    need = -bed_joint(below, above, shell, 0.0)[0]

    def clash(joint: float) -> float:
        low = laid(wedge(below, shell, joint), below, 0.0, planes, shell)
        high = laid(wedge(above, shell, joint), above, above.half, planes, shell)
        return shared(planes, low, high)

    assert clash(need) == pytest.approx(0.0, abs=1e-12)
    assert clash(0.8 * need) > 1e-9


def test_a_mold_is_shared_where_joints_only_open_and_within_the_tolerance() -> None:
    """Courses 1 and 2 both count 31: their edges differ by 3.1 mm below and 9.2 above inside, a tenth more outside."""
    apart = grouped(courses(), SHELL, 0.008, 0.0100)
    together = grouped(courses(), SHELL, 0.008, 0.0102)
    assert len(apart) == 10
    assert [ring.number for ring in together[0].rings] == [1, 2]
    assert together[0].cast.number == 2
    assert together[0].blocks == 62


@given(tolerance=st.floats(0.0, 0.03), joint=st.floats(0.0, 0.02), module=st.floats(0.15, 0.4))
@settings(max_examples=30, deadline=None)
def test_every_ring_has_one_mold_and_no_joint_closes(tolerance: float, joint: float, module: float) -> None:
    found = grouped(courses(module), SHELL, joint, tolerance)
    assert sorted(ring.number for group in found for ring in group.rings) == list(range(1, 11))
    for group in found:
        assert group.cast in group.rings
        for ring in group.rings:
            least, most = openings(wedge(group.cast, SHELL, joint), wedge(ring, SHELL, joint))
            assert -1e-9 <= least <= most <= tolerance + 1e-9


def test_a_plug_as_a_block_fits_the_last_ring() -> None:
    """Its own mold, as many sides as the ring has blocks; half a joint away from each of them."""
    plug = lots(**DOME, plug="block")[-1]
    last = courses()[-1]
    assert plug.each == 1
    assert plug.piece.name == "dome crown plug"
    assert sum(face.role == "panel" for face in planar(plug.piece).faces) == last.blocks
    assert piece_volume(Planes(), plug.piece) == pytest.approx(plug_volume(last, SHELL, 0.004), rel=1e-9)
    beds = {
        round(dot(face.half.normal, (0.0, 0.0, -1.0)), 12) for face in planar(plug.piece).faces[: last.blocks]
    }
    assert beds == {round(sin(atan(tan(last.upper) * cos(last.half))), 12)}


def test_a_plug_is_a_little_less_than_the_cap_it_fills() -> None:
    """A pyramid frustum inside the spherical one of the same corners; the difference falls with the square of the side."""
    for last in courses()[-3:]:
        cap = 2.0 * pi / 3.0 * (1.65**3 - 1.5**3) * (1.0 - cos(last.upper))
        flat = plug_volume(last, SHELL, 0.0)
        bound = 1.0 - cos(last.half) ** 2 * cos(last.upper) ** 2
        assert cap * (1.0 - bound) < flat < cap


def test_the_arm_of_a_pointed_dome() -> None:
    """Numeric proof, no print: radius 1.8 m and an arm of 2.4 m rise 2.32379 m and enclose 14.59835 m3."""
    assert POINTED.radius(pi / 2.0) == pytest.approx(1.8, rel=1e-12)
    assert POINTED.level(POINTED.crown) == pytest.approx(2.32379, abs=5e-6)
    steps = [pi / 2.0 + (POINTED.crown - pi / 2.0) * i / 4000 for i in range(4001)]
    slices = [
        (POINTED.level(b) - POINTED.level(a)) * pi * POINTED.radius((a + b) / 2.0) ** 2
        for a, b in pairwise(steps)
    ]
    assert sum(slices) == pytest.approx(14.59835, abs=1e-5)
    found = lots(
        inside_radius=1800, rise=2323.790, thickness=150, course_height=200, block_length=300, joint=8
    )
    whole = " ".join(found[0].piece.notes)
    for words in ("circle of 600 mm", "marked at 2400 mm", "2550 mm", "pointed dome is not computed"):
        assert words in whole


def test_blocks_of_a_pointed_dome_are_the_hulls_of_points_on_its_surfaces() -> None:
    for course in pointed_courses():
        corners = {
            (k, b, s): ((r * sin(p) - 0.6) * cos(a), (r * sin(p) - 0.6) * sin(a), r * cos(p))
            for k, r in enumerate((2.4, 2.55))
            for b, p in enumerate((course.lower, course.upper))
            for s, a in enumerate((-course.half, course.half))
        }
        block, planes = wedge(course, POINTED, 0.0), Planes()
        ends = (HalfSpace((0.0, 0.0, -1.0), 0.0), HalfSpace((0.0, 0.0, 1.0), block.thickness))
        body = cell(planes, (*block.sides, *ends))
        assert body is not None
        assert body.volume() == pytest.approx(hull_volume(corners), rel=1e-9)
        sides = [length(sub(corners[0, b, 0], corners[0, b, 1])) for b in (0, 1)]
        assert [block.width(bed, 0.0) for bed in (block.lower, block.upper)] == pytest.approx(sides, rel=1e-9)


BAD: list[tuple[dict[str, object], str]] = [
    ({"springing": "100 deg"}, "below the equator"),
    ({"oculus": 1500}, "nothing is left to build"),
    ({"springing": "30 deg", "oculus": 760}, "not less than that of the springing"),
    ({"block_length": 1350}, "too long for its course"),
    ({"springing": "0 deg"}, "at the crown"),
    ({"inside_radius": 300, "thickness": 300, "block_length": 100}, "no shell"),
    ({"course_height": 1000}, "course 2 would be .* make course_height smaller, or let two"),
    ({"oculus": 1400, "course_height": 700}, "leaves 1 course of blocks"),
    ({"oculus": 100}, "course 11 .* want at least 8 blocks; .* make the oculus wider"),
    ({"oculus": 160, "course_height": 90}, "lower bed leans in; .* make the oculus wider"),
    (
        {"oculus": 200, "course_height": 330, "block_length": 150},
        "upper edge at least half .* make the oculus wider",
    ),
    ({"springing": "15 deg", "course_height": 40}, "lower bed leans in; .* below the plug"),
    ({"inside_radius": 10000, "course_height": 60}, "at most 60"),
    ({"rise": 1200}, "less than the inside radius"),
    ({"inside_diameter": 3000}, "got both"),
    ({"inside_radius": None}, "got neither"),
]


@pytest.mark.parametrize(("keys", "words"), BAD, ids=str)
def test_contradictions_are_told(keys: dict[str, object], words: str) -> None:
    with pytest.raises(GeometryError, match=words):
        lots(**(DOME | keys))


def test_every_refusal_is_a_message_of_its_own() -> None:
    told = set()
    for keys, _ in BAD:
        with pytest.raises(GeometryError) as refused:
            lots(**(DOME | keys))
        told.add(str(refused.value))
    assert len(told) == len(BAD)


@given(
    radius=st.floats(300, 10000),
    rise=st.none() | st.floats(1.0, 2.0),
    thickness=st.floats(30, 1000) | st.floats(50, 200),
    height=st.floats(40, 1000) | st.floats(100, 400),
    block=st.floats(50, 3000) | st.floats(150, 400),
    joint=st.floats(0, 30),
    springing=st.floats(0, 180) | st.floats(50, 90),
    oculus=st.just(0.0) | st.floats(0, 10000) | st.floats(300, 900),
    plug=st.sampled_from(["in place", "block"]),
)
@settings(max_examples=80, deadline=None)
def test_any_keys_give_a_sound_dome_or_are_refused(
    radius: float,
    rise: float | None,
    thickness: float,
    height: float,
    block: float,
    joint: float,
    springing: float,
    oculus: float,
    plug: str,
) -> None:
    keys = {
        "inside_radius": radius,
        "thickness": thickness,
        "course_height": height,
        "block_length": block,
        "joint": joint,
        "springing": f"{springing} deg",
        "oculus": oculus,
        "plug": plug,
    }
    if rise is not None:
        keys["rise"] = radius * rise
    try:
        found = lots(**keys)
    except GeometryError:
        return
    assert sum(lot.each for lot in found) >= 16
    for lot in found:
        assert lot.each >= 8 or lot.piece.name.endswith("plug")
        assert all(face.half.normal[2] < 0.0 for face in planar(lot.piece).faces if face.role == "panel")
        assert piece_volume(Planes(), lot.piece) > 0.0


def test_what_must_be_said_is_said() -> None:
    found = lots(**DOME, joint_tolerance=0)
    whole = " ".join(found[0].piece.notes)
    for words in (
        "230 blocks",
        "closed ring",
        "doorway",
        "thrust",
        "1500 mm",
        "1650 mm",
        "51.8 deg",
        "closed in place",
    ):
        assert words in whole
    steep = ["Beds steeper than 30 deg" in " ".join(lot.piece.notes) for lot in found]
    assert steep == [False] * 4 + [True] * 6
    assert "slopes 32.7 deg" in " ".join(found[4].piece.notes)


def test_a_dome_from_above_the_equator_names_its_pivot() -> None:
    found = lots(**DOME, springing="60 deg", oculus=400)
    whole = " ".join(found[0].piece.notes)
    assert "pivot at the centre of the sphere, 750 mm" in whole
    assert "rim of the oculus" in whole
