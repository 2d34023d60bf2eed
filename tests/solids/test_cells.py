"""The kernel's volume of a cell or round body against the cell's own, and against the published formula."""

from math import cos, pi, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.geometry.cells import cell, minus
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.rounds import Round
from formwork.solids import kernel
from formwork.solids.build import cell_solid, round_solid

directions = st.tuples(st.floats(-1.0, 1.0), st.floats(0.0, 2.0 * pi)).map(
    lambda zt: ((1 - zt[0] ** 2) ** 0.5 * cos(zt[1]), (1 - zt[0] ** 2) ** 0.5 * sin(zt[1]), zt[0])
)
cuts = st.lists(st.tuples(directions, st.floats(0.05, 0.4)), max_size=9)


def walls(size):
    return [
        HalfSpace(normal, size)
        for normal in (
            (1.0, 0.0, 0.0),
            (-1.0, 0.0, 0.0),
            (0.0, 1.0, 0.0),
            (0.0, -1.0, 0.0),
            (0.0, 0.0, 1.0),
            (0.0, 0.0, -1.0),
        )
    ]


@given(cuts)
@settings(max_examples=60, deadline=None)
def test_a_random_convex_cell_has_the_kernel_volume(random):
    planes = Planes()
    body = cell(planes, [*walls(0.3), *(HalfSpace(n, d) for n, d in random)])
    solid = cell_solid(planes, body)
    assert solid.isValid()
    assert kernel.volume(solid) == pytest.approx(body.volume(), rel=1e-9)


@given(cuts, directions, st.floats(-0.2, 0.2))
@settings(max_examples=25, deadline=None)
def test_cells_left_by_a_cut_fuse_to_what_the_kernel_itself_cuts(random, normal, offset):
    planes = Planes()
    body = cell(planes, walls(0.3))
    tool = cell(planes, [*walls(0.25), HalfSpace(normal, offset), *(HalfSpace(n, d) for n, d in random)])
    if tool is None or tool.volume() < 1e-6:
        return
    left = minus(planes, body, tool)
    by_kernel = kernel.cut(cell_solid(planes, body), [cell_solid(planes, tool)])
    assert kernel.volume(by_kernel) == pytest.approx(sum(part.volume() for part in left), rel=1e-9)
    fused = kernel.fuse([cell_solid(planes, part) for part in left])
    assert kernel.volume(fused) == pytest.approx(kernel.volume(by_kernel), rel=1e-8)


@given(cuts.filter(len))
@settings(max_examples=8, deadline=None)
def test_a_cell_is_what_the_kernel_gets_by_cutting_half_spaces_off_a_box(random):
    """No corner of the cell is used here: the kernel is given a box and the planes alone."""
    cq = kernel.cadquery()
    planes = Planes()
    body = cell(planes, [*walls(0.3), *(HalfSpace(n, d) for n, d in random)])
    rest = cq.Workplane().box(600, 600, 600)
    for normal, offset in random:
        plane = cq.Plane(origin=tuple(1000 * offset * n for n in normal), normal=normal)
        rest = rest.cut(cq.Workplane(plane).rect(4000, 4000).extrude(2000))
    assert rest.val().Volume() / 1e9 == pytest.approx(body.volume(), rel=1e-9)


@pytest.mark.parametrize(("foot", "head"), [(0.03, 0.03), (0.03, 0.02), (0.01, 0.04)])
def test_a_round_body_has_the_published_frustum_volume(foot, head):
    """Source: frustum of a cone, CRC mensuration formulas: V = pi h / 3 (R^2 + R r + r^2)."""
    body = Round((0.1, -0.2, 0.3), (0.6, 0.0, 0.8), 0.07, foot, head)
    solid = round_solid(body)
    assert kernel.volume(solid) == pytest.approx(pi * 0.07 / 3 * (foot**2 + foot * head + head**2), rel=1e-12)
    centre = solid.Center()
    along = ((centre.x / 1000 - 0.1) * 0.6 + (centre.z / 1000 - 0.3) * 0.8) / 0.07
    assert 0.2 < along < 0.8
    assert centre.y / 1000 == pytest.approx(-0.2, abs=1e-9)
