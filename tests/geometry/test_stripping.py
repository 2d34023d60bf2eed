"""What comes off a piece, which way, and what does not: molds built by hand, sweeps against scipy's hulls."""

from math import atan, cos, pi, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from formwork.errors import GeometryError
from formwork.geometry.cells import cell, cut_away, meet, minus, split, volume
from formwork.geometry.planes import HalfSpace, Planes, behind
from formwork.geometry.remedies import remedy
from formwork.geometry.rounds import Round
from formwork.geometry.stripping import Group, order
from formwork.geometry.sweeps import bulk, clash, parted, swept
from formwork.geometry.vectors import add, dot, scale

INCH = 0.0254
UP = (0.0, 0.0, 1.0)
DOWN = (0.0, 0.0, -1.0)
EAST = (1.0, 0.0, 0.0)
WEST = (-1.0, 0.0, 0.0)


def steps(result):
    return {step.group: step for step in result.steps}


def frustum(build, foot, rim, z0, z1):
    """A square frustum between two levels."""
    corners = [tuple((x, y) for x, y in build.rectangle(size, size)) for size in (foot, rim)]
    halves = [
        HalfSpace(half.normal, half.offset + half.normal[2] * z0) for half in build.sides(*corners, z1 - z0)
    ]
    return build.body([*halves, HalfSpace(DOWN, -z0), HalfSpace(UP, z1)])


def planter(build, foot, rim, *, rule="mitred", taper=6 * INCH):
    """A tapered planter, 14 in square below, its core cut off level with the rim; returns piece and groups."""
    height = 18 * INCH
    square = build.rectangle(14 * INCH, 14 * INCH)
    sides = build.sides(square, build.rectangle(14 * INCH + taper, 14 * INCH + taper), height)
    envelope = build.body([*sides, HalfSpace(DOWN, 0.0), HalfSpace(UP, height)])
    core = frustum(build, foot, rim, 2 * INCH, height)
    panels = [Group(part.name, part.cells) for part in build.panels(sides, 0.018, height, rule)]
    base = Group("base", build.base(0.4).cells, priority=3)
    return minus(build.planes, envelope, core), [*panels, Group("core", (core,), priority=1), base]


@pytest.mark.parametrize("rule", ["mitred", "past", "pairs"])
def test_a_tapered_planter_comes_apart(build, rule):
    piece, groups = planter(build, 10 * INCH, (10 + 16 / 3) * INCH, rule=rule)
    result = order(build.planes, piece, groups)
    assert result.locked == ()
    assert [step.group for step in result.steps] == [
        "panel 0",
        "panel 1",
        "panel 2",
        "panel 3",
        "core",
        "base",
    ]
    taken = steps(result)
    assert taken["core"].way == UP
    # geometry facts, section 5: the lean of the 14 -> 20 in planter, 18 in high, is 9.462 deg [V].
    assert np.degrees(taken["core"].draft) == pytest.approx(9.462, abs=5e-4)
    assert taken["base"].way == DOWN
    assert taken["base"].draft == pytest.approx(pi / 2)
    # Drawn level, a leaning panel comes off at 90 deg less its lean.
    assert taken["panel 1"].way == pytest.approx(EAST, abs=1e-9)
    assert np.degrees(taken["panel 1"].draft) == pytest.approx(90.0 - 9.462, abs=5e-4)


def test_a_straight_core_has_no_draft(build):
    piece, groups = planter(build, 10 * INCH, 10 * INCH)
    taken = steps(order(build.planes, piece, groups))
    assert taken["core"].way == UP
    assert taken["core"].draft == pytest.approx(0.0, abs=1e-12)


def test_priority_decides_where_there_is_a_choice(build):
    piece, groups = planter(build, 10 * INCH, 12 * INCH)
    turned = [Group(g.name, g.cells, priority=-g.priority) for g in groups]
    assert [step.group for step in order(build.planes, piece, turned).steps][:2] == ["base", "core"]


@pytest.mark.parametrize("count", [3, 6, 8])
@pytest.mark.parametrize("rim", [0.34, 0.4, 0.46])
def test_panels_of_a_many_sided_mold_are_pulled_level_and_square_to_their_faces(build, count, rim):
    sides = build.sides(build.regular(count, 0.4), build.regular(count, rim), 0.3)
    piece = build.body([*sides, HalfSpace(DOWN, 0.0), HalfSpace(UP, 0.3)])
    panels = [Group(part.name, part.cells) for part in build.panels(sides, 0.018, 0.3)]
    result = order(build.planes, [piece], [*panels, Group("base", build.base(0.6).cells, priority=1)])
    assert result.locked == ()
    for k, half in enumerate(sides):
        step = steps(result)[f"panel {k}"]
        assert step.way[2] == 0.0
        level = (half.normal[0] ** 2 + half.normal[1] ** 2) ** 0.5
        assert dot(step.way, half.normal) == pytest.approx(level, rel=1e-12)
        assert step.draft == pytest.approx(pi / 2 - atan(abs(rim - 0.4) / 2 / 0.3), rel=1e-6)


def test_a_panel_that_stands_on_a_slope_rising_outwards_is_pulled_up_along_it(build):
    block = build.box((-0.1, -0.1, 0.0), (0.1, 0.1, 0.2))
    slab = [HalfSpace(WEST, -0.1), HalfSpace((0.0, 1.0, 0.0), 0.1), HalfSpace((0.0, -1.0, 0.0), 0.1)]
    slope = behind((-0.2, 0.0, 1.0), (0.1, 0.0, 0.0))
    panel = build.body([*slab, HalfSpace(EAST, 0.118), slope.flipped(), HalfSpace(UP, 0.2)])
    ramp = build.body([*slab, HalfSpace(EAST, 0.3), slope, HalfSpace(DOWN, 0.02)])
    groups = [Group("panel", (panel,)), Group("base", (ramp,), ways=(DOWN,), priority=1)]
    step = order(build.planes, [block], groups).steps[0]
    assert step.group == "panel"
    assert step.way[2] / step.way[0] >= 0.2 - 1e-9
    assert step.draft > radians(9.0)


def test_a_core_that_narrows_the_wrong_way_is_locked_by_the_piece(build):
    piece, groups = planter(build, 11 * INCH, 9 * INCH)
    result = order(build.planes, piece, groups)
    (lock,) = result.locked
    assert (lock.group, lock.blocked_by) == ("core", "piece")
    assert str(lock).startswith("core is locked by the piece at x=")
    assert {step.group for step in result.steps} == {"base", "panel 0", "panel 1", "panel 2", "panel 3"}
    low, high = groups[4].cells[0].box()
    assert all(a - 1e-9 <= v <= b + 1e-9 for a, v, b in zip(low, lock.at, high, strict=True))


def through(build, foot, rim):
    """A block with a core through it from the base to the top."""
    sides = build.sides(build.rectangle(0.4, 0.4), build.rectangle(0.4, 0.4), 0.2)
    envelope = build.body([*sides, HalfSpace(DOWN, 0.0), HalfSpace(UP, 0.2)])
    core = frustum(build, foot, rim, 0.0, 0.2)
    panels = [Group(part.name, part.cells) for part in build.panels(sides, 0.018, 0.2)]
    return minus(build.planes, envelope, core), panels, core, build.base(0.4).cells


def test_a_hung_core_that_narrows_upwards_is_drawn_the_other_way(build):
    piece, panels, core, base = through(build, 0.2, 0.18)
    groups = [*panels, Group("core", (core,), ways=(UP,)), Group("base", base, priority=1)]
    (lock,) = order(build.planes, piece, groups).locked
    assert (lock.group, lock.blocked_by, lock.way) == ("core", "piece", UP)
    cure = remedy(build.planes, piece, groups, lock)
    assert cure.what == "draw the core the other way (lift the piece off it)"
    assert cure.order.locked == ()
    assert steps(cure.order)["core"].way == DOWN
    assert steps(cure.order)["core"].draft == pytest.approx(atan(0.01 / 0.2), rel=1e-9)


def test_a_core_fixed_to_the_base_is_freed_from_it(build):
    piece, panels, core, base = through(build, 0.18, 0.2)
    groups = [*panels, Group("core", (core,)), Group("base", base, priority=1)]
    joins = [("core", "base")]
    (lock,) = order(build.planes, piece, groups, joins).locked
    assert lock.group == "core and base"
    assert lock.members == ("core", "base")
    assert lock.blocked_by == "piece"
    cure = remedy(build.planes, piece, groups, lock, joins)
    assert cure.what == "free the core from the base"
    assert steps(cure.order)["core"].way == UP


def test_a_core_fixed_to_the_base_that_narrows_upwards_leaves_with_it(build):
    piece, panels, core, base = through(build, 0.2, 0.18)
    groups = [*panels, Group("core", (core,)), Group("base", base, priority=1)]
    result = order(build.planes, piece, groups, [("core", "base")])
    assert result.locked == ()
    assert result.steps[-1].group == "core and base"
    assert result.steps[-1].way == DOWN


def test_a_waisted_core_is_split(build):
    # Wide at both ends, narrow in the middle: it leaves neither up nor down in one, both ways in two.
    sides = build.sides(build.rectangle(0.4, 0.4), build.rectangle(0.4, 0.4), 0.2)
    envelope = build.body([*sides, HalfSpace(DOWN, 0.0), HalfSpace(UP, 0.2)])
    lower, upper = frustum(build, 0.2, 0.15, 0.0, 0.1), frustum(build, 0.15, 0.2, 0.1, 0.2)
    piece = cut_away(build.planes, [envelope], [lower, upper])
    groups = [Group("core", (lower, upper)), Group("base", build.base(0.4).cells, priority=1)]
    (lock,) = order(build.planes, piece, groups).locked
    assert (lock.group, lock.blocked_by) == ("core", "piece")
    halves = {"core": (Group("lower half", (lower,)), Group("upper half", (upper,)))}
    cure = remedy(build.planes, piece, groups, lock, splits=halves)
    assert cure.what == "make the core of 2 parts (lower half, upper half)"
    taken = steps(cure.order)
    assert taken["upper half"].way == UP
    assert taken["lower half"].way == DOWN


def test_a_waisted_core_fixed_to_the_base_is_split_and_freed_from_it(build):
    envelope = build.box((-0.2, -0.2, 0.0), (0.2, 0.2, 0.2))
    lower, upper = frustum(build, 0.2, 0.15, 0.0, 0.1), frustum(build, 0.15, 0.2, 0.1, 0.2)
    piece = cut_away(build.planes, [envelope], [lower, upper])
    groups = [Group("core", (lower, upper)), Group("base", build.base(0.4).cells, priority=1)]
    joins = [("core", "base")]
    (lock,) = order(build.planes, piece, groups, joins).locked
    halves = {"core": (Group("lower half", (lower,)), Group("upper half", (upper,)))}
    assert remedy(build.planes, piece, groups, lock, joins) is None
    cure = remedy(build.planes, piece, groups, lock, joins, halves)
    assert cure.what == "make the core of 2 parts (lower half, upper half), free of the base"
    assert cure.order.locked == ()


def test_a_split_whose_parts_are_locked_too_is_no_remedy(build):
    envelope = build.box((-0.2, -0.2, 0.0), (0.2, 0.2, 0.2))
    ball = build.box((-0.1, -0.1, 0.05), (0.1, 0.1, 0.15))
    left, right = split(build.planes, ball, build.planes.enter(HalfSpace(EAST, 0.0)))
    piece = minus(build.planes, envelope, ball)
    groups = [Group("core", (ball,))]
    (lock,) = order(build.planes, piece, groups).locked
    halves = {"core": (Group("left half", (left,)), Group("right half", (right,)))}
    assert remedy(build.planes, piece, groups, lock, splits=halves) is None


def test_a_core_hung_from_a_bar_is_freed_from_it_and_drawn_the_other_way(build):
    piece, panels, core, base = through(build, 0.2, 0.18)
    bar = Group("bar", (build.box((-0.25, -0.05, 0.2), (0.25, 0.05, 0.25)),), ways=(UP,))
    groups = [*panels, Group("core", (core,), ways=(UP,)), bar, Group("base", base, priority=1)]
    joins = [("core", "bar")]
    (lock,) = order(build.planes, piece, groups, joins).locked
    assert lock.group == "core and bar"
    cure = remedy(build.planes, piece, groups, lock, joins)
    assert cure.what == "free the core from the bar, and draw the core the other way (lift the piece off it)"


def test_more_draft_frees_a_core_a_little_too_wide_below(build_new):
    def at(draft):
        build = build_new()
        rim = 0.1 + 0.15 * tan(radians(-1.5) + draft)
        core = frustum(build, 0.2, 2 * rim, 0.05, 0.2)
        envelope = build.box((-0.2, -0.2, 0.0), (0.2, 0.2, 0.2))
        return build.planes, minus(build.planes, envelope, core), [Group("core", (core,))]

    planes, piece, groups = at(0.0)
    (lock,) = order(planes, piece, groups).locked
    assert remedy(planes, piece, groups, lock) is None
    cure = remedy(planes, piece, groups, lock, more_draft=at)
    assert cure.what == "give it 2 deg more draft"
    assert steps(cure.order)["core"].draft == pytest.approx(radians(0.5), rel=1e-6)


def test_a_rebuild_that_is_not_possible_is_no_remedy(build):
    piece, groups = planter(build, 11 * INCH, 9 * INCH)
    (lock,) = order(build.planes, piece, groups).locked
    assert remedy(build.planes, piece, groups, lock, more_draft=lambda draft: None) is None


@pytest.mark.parametrize(("low", "high", "free"), [(0.0, 0.2, True), (0.05, 0.15, False)])
def test_a_dovetail_key_holds_its_panel_sideways(build, low, high, free):
    # A strip wider at its root than at the panel: the panel slides off along it, unless the strip ends in the piece.
    envelope = build.box((0.0, 0.0, 0.0), (0.3, 0.3, 0.2))
    flanks = [behind((0.5, 1.0, 0.0), (0.3, 0.16, 0.0)), behind((0.5, -1.0, 0.0), (0.3, 0.14, 0.0))]
    ends = [HalfSpace(EAST, 0.3), HalfSpace(WEST, -0.28), HalfSpace(DOWN, -low), HalfSpace(UP, high)]
    key = build.body([*flanks, *ends])
    panel = build.box((0.3, 0.0, 0.0), (0.318, 0.3, 0.2))
    keyed = Group("right panel", (panel, key))
    result = order(build.planes, minus(build.planes, envelope, key), [keyed])
    if free:
        (step,) = result.steps
        assert (step.way, step.draft) == (UP, 0.0)
    else:
        (lock,) = result.locked
        assert lock.blocked_by == "piece"
        assert 0.28 <= lock.at[0] <= 0.3
        assert low - 1e-9 <= lock.at[2] <= high + 1e-9


def test_an_undercut_that_touches_nothing_on_the_way_is_found_by_the_sweep(build):
    # A straight stem through the wall with a foot inside a pocket: every plane it touches lets it slide out,
    # only the space it would pass through does not.
    envelope = build.box((0.0, 0.0, 0.0), (0.3, 0.3, 0.3))
    stem = build.box((0.1, 0.1, 0.2), (0.2, 0.2, 0.3))
    ledge = build.box((0.05, 0.1, 0.25), (0.1, 0.2, 0.3))
    piece = cut_away(build.planes, [envelope], [stem, ledge])
    bar = build.box((0.05, 0.1, 0.35), (0.25, 0.2, 0.4))
    groups = [Group("stem", (stem,), ways=(UP,)), Group("bar", (bar,), ways=(DOWN,))]
    result = order(build.planes, [*piece, build.box((0.2, 0.1, 0.32), (0.25, 0.2, 0.34))], groups)
    by_name = {lock.group: lock for lock in result.locked}
    assert by_name["bar"].blocked_by == "piece"
    assert by_name["stem"].blocked_by == "bar"
    assert by_name["stem"].at == pytest.approx((0.15, 0.15, 0.375), abs=1e-9)
    assert str(by_name["stem"]) == "stem is locked by the bar at x=150, y=150, z=375 mm"


def test_a_hollow_gang_comes_apart(build):
    # Six blocks side by side, dividers let into the end panels' inside, cores drawn up.
    width, deep, high, sheet = 0.2, 0.4, 0.2, 0.018
    count = 6
    along = count * (width + sheet) - sheet
    groups, piece = [], []
    for name, low, top in (
        ("left", (-sheet, 0.0, 0.0), (0.0, deep, high)),
        ("right", (along, 0.0, 0.0), (along + sheet, deep, high)),
        ("front", (-sheet, -sheet, 0.0), (along + sheet, 0.0, high)),
        ("back", (-sheet, deep, 0.0), (along + sheet, deep + sheet, high)),
    ):
        groups.append(Group(name, (build.box(low, top),), priority=1))
    groups.append(
        Group("base", (build.box((-0.1, -0.1, -sheet), (along + 0.1, deep + 0.1, 0.0)),), priority=4)
    )
    for k in range(count):
        x = k * (width + sheet)
        body = build.box((x, 0.0, 0.0), (x + width, deep, high))
        core = build.body(
            [
                *build.sides(
                    [(x + u, v) for u, v in ((0.05, 0.05), (0.15, 0.05), (0.15, 0.35), (0.05, 0.35))],
                    [(x + u, v) for u, v in ((0.04, 0.04), (0.16, 0.04), (0.16, 0.36), (0.04, 0.36))],
                    high,
                ),
                HalfSpace(DOWN, 0.0),
                HalfSpace(UP, high + 0.05),
            ]
        )
        piece += minus(build.planes, body, core)
        groups.append(Group(f"core {k}", (core,)))
        if k:
            divider = build.box((x - sheet, 0.0, 0.0), (x, deep, high))
            groups.append(Group(f"divider {k}", (divider,), priority=2))
    result = order(build.planes, piece, groups)
    assert result.locked == ()
    names = [step.group for step in result.steps]
    assert names[:count] == [f"core {k}" for k in range(count)]
    assert names[-1] == "base"
    for name, step in steps(result).items():
        if name.startswith("core"):
            assert (step.way, step.draft) == (UP, pytest.approx(atan(0.05), rel=1e-9))
        if name.startswith("divider"):
            assert step.draft == pytest.approx(0.0, abs=1e-12)
            assert step.way == UP


def plugged(build, plug):
    """A slab with a round plug standing on the base in it."""
    slab = build.box((0.0, 0.0, 0.0), (0.3, 0.3, 0.05))
    base = build.box((-0.1, -0.1, -0.018), (0.4, 0.4, 0.0))
    return [slab], [Group("plug", (), (plug,)), Group("base", (base,), priority=1)]


def test_a_plug_leaves_towards_its_wider_end(build):
    piece, groups = plugged(build, Round((0.15, 0.15, 0.0), UP, 0.05, 0.012, 0.014))
    taken = steps(order(build.planes, piece, groups))
    assert taken["plug"].way == UP
    assert taken["plug"].draft == pytest.approx(atan(0.002 / 0.05), rel=1e-9)


def test_a_plug_wider_below_waits_for_the_base(build):
    piece, groups = plugged(build, Round((0.15, 0.15, 0.0), UP, 0.05, 0.014, 0.012))
    result = order(build.planes, piece, groups)
    assert [step.group for step in result.steps] == ["base", "plug"]
    assert result.steps[1].way == DOWN


def test_a_plug_wider_below_that_the_base_holds_is_locked(build):
    piece, groups = plugged(build, Round((0.15, 0.15, 0.0), UP, 0.05, 0.014, 0.012))
    stuck = [groups[0], Group("base", groups[1].cells, ways=(UP,))]
    by_name = {lock.group: lock for lock in order(build.planes, piece, stuck).locked}
    assert by_name["plug"].blocked_by == "base"
    assert by_name["base"].blocked_by == "piece"


def test_a_base_with_a_straight_plug_on_it_leaves_along_the_plug(build):
    piece, groups = plugged(build, Round((0.15, 0.15, 0.0), UP, 0.05, 0.012, 0.012))
    result = order(build.planes, piece, groups, [("base", "plug")])
    (step,) = result.steps
    assert (step.group, step.way, step.draft) == ("plug and base", DOWN, 0.0)


def test_a_plug_through_a_panel_holds_the_panel_to_its_axis(build):
    # The panel would rather go sideways (it is fixed to do so), but a pin through it into the slab forbids it.
    slab = build.box((0.0, 0.0, 0.0), (0.3, 0.3, 0.05))
    panel = build.box((0.3, 0.0, 0.0), (0.318, 0.3, 0.05))
    pin = Group("pin", (), (Round((0.25, 0.15, 0.025), EAST, 0.1, 0.005, 0.005),), priority=1)
    held = Group("panel", (panel,), ways=((0.0, 1.0, 0.0),))
    result = order(build.planes, [slab], [held, pin])
    assert [step.group for step in result.steps] == ["pin", "panel"]
    assert result.steps[0].way == EAST
    stuck = Group("pin", pin.cells, pin.rounds, ways=(UP,), priority=1)
    by_name = {lock.group: lock for lock in order(build.planes, [slab], [held, stuck]).locked}
    assert by_name["panel"].blocked_by == "pin"
    assert by_name["pin"].blocked_by in {"piece", "panel"}


def test_a_plug_in_the_way_of_a_panel_stops_it(build):
    slab = build.box((0.0, 0.0, 0.0), (0.3, 0.3, 0.05))
    panel = build.box((0.3, 0.0, 0.0), (0.318, 0.3, 0.05))
    post = Group("post", (), (Round((0.5, 0.15, 0.0), UP, 0.1, 0.02, 0.02),), ways=(EAST,), priority=1)
    wall = Group("wall", (build.box((0.6, 0.0, 0.0), (0.7, 0.3, 0.1)),), ways=(WEST,), priority=2)
    held = Group("panel", (panel,), ways=(EAST,))
    result = order(build.planes, [slab], [held, post, wall])
    assert {lock.group: lock.blocked_by for lock in result.locked}["panel"] in {"post", "wall"}


def test_seats_that_contradict_each_other_lock(build):
    piece, panels, core, base = through(build, 0.18, 0.2)
    groups = [*panels, Group("core", (core,), ways=(UP,)), Group("base", base, ways=(DOWN,))]
    (lock,) = order(build.planes, piece, groups, [("core", "base")]).locked
    assert lock.blocked_by == "way it is fastened"


def test_a_join_with_an_unknown_group_is_refused(build):
    piece, groups = planter(build, 10 * INCH, 12 * INCH)
    with pytest.raises(GeometryError, match="lid"):
        order(build.planes, piece, groups, [("core", "lid")])


def test_the_order_does_not_hang_on_the_register(build, build_new):
    piece, groups = planter(build, 10 * INCH, 12 * INCH)
    once = order(build.planes, piece, groups)
    other = build_new()
    other.planes.enter(HalfSpace((0.6, 0.0, 0.8), 0.1))
    again = order(other.planes, *planter(other, 10 * INCH, 12 * INCH))
    assert once == again
    assert once == order(build.planes, piece, groups)


AXES = (EAST, WEST, (0.0, 1.0, 0.0), (0.0, -1.0, 0.0), UP, DOWN)
directions = st.tuples(st.floats(0.0, 2 * pi), st.floats(-1.5, 1.5)).map(
    lambda a: (cos(a[1]) * cos(a[0]), cos(a[1]) * sin(a[0]), sin(a[1]))
)


@st.composite
def bodies(draw, spread=0.5):
    """A box with a few corners cut off, as half-spaces."""
    centre = tuple(draw(st.floats(-spread, spread)) for _ in range(3))
    size = draw(st.floats(0.2, 0.6))
    halves = [HalfSpace(n, dot(n, centre) + size / 2) for n in AXES]
    for normal in draw(st.lists(directions, max_size=3)):
        halves.append(HalfSpace(normal, dot(normal, centre) + draw(st.floats(0.05, 0.4))))
    return halves


@settings(max_examples=60, deadline=None)
@given(bodies(), st.one_of(directions, st.sampled_from(AXES)), st.floats(0.1, 3.0))
def test_a_swept_body_is_the_hull_of_its_two_ends(halves, way, distance):
    book = Planes()
    body = cell(book, halves)
    path = swept(bulk(book, body), way, distance)
    there = [add(point, scale(way, distance)) for point in body.points()]
    hull = ConvexHull(np.array([*body.points(), *there]), qhull_options="QJ Pp")
    assert path.volume() == pytest.approx(hull.volume, rel=1e-6)


@settings(max_examples=100, deadline=None)
@given(bodies(), bodies(1.2), st.one_of(directions, st.sampled_from(AXES)))
def test_quick_partings_agree_with_the_exact_sweep(halves, others, way):
    book = Planes()
    a, b = cell(book, halves), cell(book, others)
    path = swept(bulk(book, a), way, 5.0)
    both = meet(book, path, b)
    shared = both.volume() if both is not None else 0.0
    if parted(bulk(book, a), bulk(book, b), way):
        assert shared == pytest.approx(0.0, abs=1e-8)
    found = clash(book, bulk(book, a), [bulk(book, b)], way, 5.0)
    assert (found.volume if found is not None else 0.0) == pytest.approx(shared, abs=1e-8)


@settings(max_examples=40, deadline=None)
@given(bodies(), bodies(1.2), st.one_of(directions, st.sampled_from(AXES)))
def test_a_body_moved_step_by_step_meets_only_what_its_sweep_meets(halves, others, way):
    book = Planes()
    a, b = cell(book, halves), cell(book, others)
    found = clash(book, bulk(book, a), [bulk(book, b)], way, 4.0)
    met = 0.0
    for step in range(25):
        by = scale(way, step * 4.0 / 24)
        there = cell(Planes(), [*(half.shifted(by) for half in halves), *others])
        met = max(met, there.volume() if there is not None else 0.0)
    if found is None:
        assert met == pytest.approx(0.0, abs=1e-8)
    else:
        assert found.volume >= met - 1e-8
        assert min(book.half(reference).depth(found.at) for reference in b.facets) >= -1e-9


@settings(max_examples=40, deadline=None)
@given(st.floats(-0.04, 0.04), st.floats(-0.04, 0.04), st.sampled_from([UP, DOWN]))
def test_a_core_is_free_exactly_where_it_widens_along_its_way(build_new, lean, other, way):
    build = build_new()
    envelope = build.box((-0.3, -0.3, 0.0), (0.3, 0.3, 0.2))
    foot, rim = build.rectangle(0.2, 0.2), build.rectangle(0.2 + 2 * lean, 0.2 + 2 * other)
    core = build.body([*build.sides(foot, rim, 0.2), HalfSpace(DOWN, 0.0), HalfSpace(UP, 0.2)])
    piece = minus(build.planes, envelope, core)
    assert volume(piece) == pytest.approx(envelope.volume() - core.volume(), rel=1e-9)
    result = order(build.planes, piece, [Group("core", (core,), ways=(way,))])
    least = min(lean, other) if way == UP else min(-lean, -other)
    if least > 1e-6:
        assert result.steps[0].draft == pytest.approx(atan(least / 0.2), rel=1e-6)
    elif least < -1e-6:
        assert result.locked[0].blocked_by == "piece"
