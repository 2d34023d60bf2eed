"""Line views: the lines a person counts on a cube, true isometric lengths, the right way up, no line lost."""

import re
from dataclasses import replace
from math import dist, hypot, pi, sqrt
from xml.etree import ElementTree

import pytest

from formwork.errors import GeometryError
from formwork.geometry.meridians import outlined, spheroid
from formwork.geometry.planes import Planes
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.solids import lines as lines_of_kernel
from formwork.solids.build import (
    Body,
    Model,
    cell_solid,
    empty_mold_model,
    piece_solid,
    round_solid,
    turned_solid,
)
from formwork.solids.views import ISOMETRIC, UP, drawn, line_view, picture_svg

FRONT = (0.0, -1.0, 0.0)


@pytest.fixture(scope="module")
def cube(box):
    planes = Planes()
    return cell_solid(planes, box(planes, (0.0, 0.0, 0.0), (1.0, 1.0, 1.0)))


def lengths(lines):
    return [sum(map(dist, line, line[1:])) for line in lines]


def test_a_cube_shows_six_outline_and_three_inner_edges_and_hides_three(cube):
    view = line_view(cube, ISOMETRIC, UP)
    assert (len(view.outline), len(view.edges), len(view.hidden)) == (6, 3, 3)


def test_isometric_foreshortening_is_the_root_of_two_thirds(cube):
    """Axonometry: with equal foreshortening k on three axes 3 k^2 = 2, so k = sqrt(2/3) = 0.8165."""
    view = line_view(cube, ISOMETRIC, UP)
    assert lengths([*view.visible, *view.hidden]) == pytest.approx(
        [sqrt(2 / 3)] * 12, abs=3e-9
    )  # ends are kept to 1e-9


def test_the_view_is_upright_and_not_mirrored(tapered):
    """Seen from the front, x runs to the right and z upward: bottom 400, rim 520 wide, 350 high."""
    sizes = replace(tapered(), chamfer=0.004)
    view = line_view(piece_solid(Planes(), sizes.piece()), FRONT, UP)
    points = [p for line in view.visible for p in line]
    low = [x for x, y in points if abs(y) < 1e-9]
    high = [x for x, y in points if abs(y - 0.35) < 1e-9]
    assert (min(low), max(low)) == pytest.approx((-0.2, 0.2), abs=1e-9)
    assert (min(high), max(high)) == pytest.approx((-0.26, 0.26), abs=1e-9)


def test_right_is_right(box):
    planes = Planes()
    view = line_view(cell_solid(planes, box(planes, (2.0, 5.0, 7.0), (3.0, 6.0, 8.0))), FRONT, UP)
    assert min(x for line in view.visible for x, _ in line) == pytest.approx(2.0)
    assert min(y for line in view.visible for _, y in line) == pytest.approx(7.0)


def test_a_body_in_front_hides_lines_of_the_body_behind(box):
    planes = Planes()
    near = Body("near", cell_solid(planes, box(planes, (0.0, -1.0, 0.0), (1.0, 0.0, 1.0))), (0, 0, 0, 1))
    far = Body("far", cell_solid(planes, box(planes, (0.25, 1.0, 0.25), (0.75, 2.0, 0.75))), (0, 0, 0, 1))
    alone = line_view(Model("far", (far,)), FRONT, UP)
    both = line_view(Model("both", (near, far)), FRONT, UP)
    assert sum(lengths(alone.visible)) == pytest.approx(4 * 0.5)
    assert sum(lengths(both.visible)) == pytest.approx(4 * 1.0)
    assert sum(length for length in lengths(both.hidden) if length < 0.9) == pytest.approx(4 * 0.5)


def test_a_cylinder_shows_its_round_end_and_its_two_sides():
    """Seen along (0, -1, 1): the top is an ellipse of half axes r and r / sqrt 2, perimeter by Ramanujan's formula."""
    solid = round_solid(Round((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 0.2, 0.1, 0.1))
    view = line_view(solid, (0.0, -1.0, 1.0), UP)
    a, b = 0.1, 0.1 / sqrt(2)
    ellipse = pi * (3 * (a + b) - sqrt((3 * a + b) * (a + 3 * b)))
    total = ellipse + ellipse / 2 + 2 * 0.2 / sqrt(2)
    assert sum(lengths(view.visible)) == pytest.approx(total, rel=2e-3)
    assert sum(lengths(view.outline)) == pytest.approx(total - ellipse / 2, rel=2e-2)


def test_a_flush_joint_is_narrow_and_a_step_is_wide(box):
    """Two equal blocks make one bar with a narrow seam all round. Where one is higher, the step is wide, the seam not."""
    planes = Planes()

    def bar(height):
        left = cell_solid(planes, box(planes, (-1.0, 0.0, 0.0), (0.0, 1.0, 1.0)))
        right = cell_solid(planes, box(planes, (0.0, 0.0, 0.0), (1.0, 1.0, height)))
        bodies = (Body("left", left, (0, 0, 0, 1)), Body("right", right, (0, 0, 0, 1)))
        return line_view(Model("bar", bodies), ISOMETRIC, UP)

    unit = sqrt(2 / 3)
    flush, stepped = bar(1.0), bar(1.2)
    assert sorted(lengths(flush.outline)) == pytest.approx([unit] * 8, rel=2e-3)
    assert sorted(lengths(flush.edges)) == pytest.approx([unit] * 6, rel=2e-3)
    assert min(lengths(stepped.outline)) == pytest.approx(0.2 * unit, rel=1e-2)
    front = [line for line in stepped.edges if all(abs(x) < 1e-6 for x, _ in line)]
    assert front
    assert lengths(front) == pytest.approx([unit] * len(front), rel=2e-3)


def test_up_along_the_line_of_sight_is_refused(cube):
    with pytest.raises(GeometryError, match="upward"):
        line_view(cube, (0.0, 0.0, 1.0), UP)


def paths(svg):
    """Stroke width to the points of each path's runs, from the parsed document."""
    root = ElementTree.fromstring(svg)
    found = {}
    for path in root.iter("{http://www.w3.org/2000/svg}path"):
        runs = path.get("d").split("M")[1:]
        found[float(path.get("stroke-width"))] = [
            [tuple(map(float, p.split())) for p in re.split("L", run)] for run in runs
        ]
    return root, found


def test_the_svg_of_a_cube_is_a_hexagon_in_wide_lines_and_a_y_in_narrow_ones(cube):
    root, found = paths(drawn("a <cube>", line_view(cube, ISOMETRIC, UP)))
    assert sorted(found) == [0.25, 0.5]
    assert len(found[0.5]) == 6
    middle = set.intersection(*({run[0], run[-1]} for run in found[0.25]))
    assert len(middle) == 1
    width, height = (float(root.get(side).removesuffix("mm")) for side in ("width", "height"))
    assert max(width, height) == 160.0
    points = [p for runs in found.values() for run in runs for p in run]
    assert all(0 < x < width and 0 < y < height for x, y in points)
    assert root.find("{http://www.w3.org/2000/svg}title").text == "a <cube>"


def test_a_piece_is_drawn_as_it_stands_in_use(tapered):
    """The rim, wider than the bottom, is at the top of the picture (least y); turned over, at the bottom."""
    piece = tapered().piece()
    for turned, wide_end in ((False, min), (True, max)):
        _, found = paths(picture_svg(replace(piece, turned_over=turned)))
        points = [p for run in found[0.5] for p in run]
        left, right = min(points), max(points)
        middle = (min(y for _, y in points) + max(y for _, y in points)) / 2
        assert hypot(right[0] - left[0], 0.0) > 100.0
        assert wide_end(left[1], middle) == left[1]
        assert wide_end(right[1], middle) == right[1]


def test_a_mold_is_drawn_empty(tray):
    """The plug stands in the open tray: its top, hidden by concrete if that were drawn, shows as a full ellipse.

    In isometric a level circle of radius r is an ellipse with the half axes r and r / sqrt 3.
    """
    svg = picture_svg(tray)
    _, found = paths(svg)
    everything = [p for runs in found.values() for run in runs for p in run]
    scale = (max(x for x, _ in everything) - min(x for x, _ in everything)) / ((0.4 + 0.3) / sqrt(2))
    ring = [p for runs in found.values() for run in runs if len(run) > 8 for p in run]
    wide = max(x for x, _ in ring) - min(x for x, _ in ring)
    assert wide > 2 * 0.018 * scale
    assert svg == picture_svg(tray)


def test_arcs_that_run_into_one_another_show_no_line_between_them():
    """From above, half a spheroid of two dozen arcs is the circle of its foot and nothing more."""
    line = spheroid(0.9, 0.5)
    view = line_view(turned_solid(Turned(outlined(line.traced(line.springing, 0.0)))), UP, (0.0, 1.0, 0.0))
    assert sum(lengths(view.visible)) == pytest.approx(2.0 * pi * 0.9, rel=1e-3)
    for point in (point for path in view.visible for point in path):
        assert hypot(*point) == pytest.approx(0.9, abs=1e-6)


def test_many_bodies_show_the_same_lines_by_their_triangles(tray, monkeypatch):
    """The kernel's two ways of hiding, the one by surfaces, the other by triangles."""
    model = empty_mold_model(tray)
    exact = line_view(model, ISOMETRIC, UP)
    monkeypatch.setattr(lines_of_kernel, "MANY", 0)
    rough = line_view(model, ISOMETRIC, UP)
    assert sum(lengths(rough.visible)) == pytest.approx(sum(lengths(exact.visible)), rel=1e-2)
    assert sum(lengths(rough.outline)) == pytest.approx(sum(lengths(exact.outline)), rel=2e-2)
