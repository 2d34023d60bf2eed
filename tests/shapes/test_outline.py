"""Outlines: volumes by closed form, the polygon library and the CAD kernel; drawings there and back; every refusal."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import cos, pi, radians, sin, sqrt, tan
from pathlib import Path
from typing import Any

import ezdxf
import pytest
import shapely

from formwork.errors import GeometryError
from formwork.geometry.outlines import Leg, Outline, area, circle, flattened, legs, mirrored, perimeter
from formwork.geometry.planes import Planes
from formwork.geometry.prisms import Prism
from formwork.shapes.body import piece_volume
from formwork.shapes.outline import SHAPE
from formwork.shapes.outline_file import Drawing, FileUnits, read
from formwork.shapes.piece import Piece, curved
from tests.drawn import parameters, single
from tests.shapes.pond_stone import CONTROL, FILE, LAMP, drawing

SQUARE = [{"x": 0, "y": 0}, {"x": 600, "y": 0}, {"x": 600, "y": 400}, {"x": 0, "y": 400}]


def piece(**keys: Any) -> Piece:
    return single(SHAPE, parameters(SHAPE, {"thickness": 60, **keys}))


def outside(made: Piece) -> Prism:
    body = curved(made).outside
    assert isinstance(body, Prism)
    return body


def volume(made: Piece) -> float:
    return piece_volume(Planes(), made)


def test_a_square_stone_with_everything_by_closed_form() -> None:
    """Obelisk for the draft, strip and cone frustum for chamfer and hole: CRC mensuration formulas."""
    a, b, h, c = 0.6, 0.4, 0.06, 0.01
    made = piece(points=SQUARE, draft="5 deg", chamfer=10, holes=[{"x": 200, "y": 150, "diameter": 80}])
    d = 2.0 * h * tan(radians(5.0))
    whole = h / 6.0 * (a * b + (2.0 * a + d) * (2.0 * b + d) + (a + d) * (b + d))
    up, out = c * cos(radians(5.0)), 2.0 * c * sin(radians(5.0))
    outer = up / 6.0 * (a * b + (2.0 * a + out) * (2.0 * b + out) + (a + out) * (b + out))
    i, j = a - 2.0 * c, b - 2.0 * c
    inner = up / 6.0 * (i * j + (i + a + out) * (j + b + out) + (a + out) * (b + out))
    r, s = 0.04, 0.04 - h * tan(radians(3.0))
    hole = pi * h / 3.0 * (r * r + r * s + s * s)
    assert volume(made) == pytest.approx(whole - (outer - inner) - hole, rel=1e-12)


def test_a_rounded_stone_grows_with_its_draft_as_steiner_says() -> None:
    made = piece(points=[{**corner, "round": 120} for corner in SQUARE], draft="6 deg")
    body = outside(made)
    d = 0.06 * tan(radians(6.0))
    base, round_it = area(body.outline), perimeter(body.outline)
    assert base == pytest.approx(0.24 - (4.0 - pi) * 0.0144)
    expected = 0.06 * (base + round_it * d / 2.0 + pi * d * d / 3.0)
    assert volume(made) == pytest.approx(expected, rel=1e-12)


def test_a_half_moon_by_via_and_by_bulge_is_one() -> None:
    moons = [
        piece(points=[{"x": 0, "y": 0}, {"x": 800, "y": 0, "via_x": 400, "via_y": 400}]),
        piece(points=[{"x": 0, "y": 0}, {"x": 800, "y": 0, "bulge": 1}]),
    ]
    for made in moons:
        assert volume(made) == pytest.approx(pi * 0.16 / 2.0 * 0.06, rel=1e-12)


@pytest.mark.parametrize("keys", SHAPE.samples, ids=range(len(SHAPE.samples)))
def test_the_area_of_every_sample_is_that_of_a_polygon_library(keys: dict[str, Any]) -> None:
    made = single(SHAPE, parameters(SHAPE, keys))
    body = outside(made)
    holes = [f.body for f in curved(made).formers if f.kind == "core"]
    for share in (0.0, 1.0):
        known = shapely.Polygon(
            flattened(body.at(share), 1e-7),
            [flattened(hole.at(share), 1e-7) for hole in holes if isinstance(hole, Prism)],
        )
        ours = area(body.at(share)) - sum(area(h.at(share)) for h in holes if isinstance(h, Prism))
        assert known.is_valid
        assert ours == pytest.approx(known.area, rel=1e-6)


@pytest.mark.parametrize("keys", SHAPE.samples, ids=range(len(SHAPE.samples)))
def test_the_kernel_gives_every_sample_its_volume(keys: dict[str, Any]) -> None:
    from formwork.solids import kernel  # noqa: PLC0415 - slow
    from formwork.solids.build import piece_solid  # noqa: PLC0415 - slow

    made = single(SHAPE, parameters(SHAPE, keys))
    assert kernel.volume(piece_solid(Planes(), made)) == pytest.approx(volume(made), rel=1e-9)


def test_cast_face_down_it_lies_mirrored_and_says_so() -> None:
    ell = [(0, 0), (700, 0), (700, 300), (300, 300), (300, 800), (0, 800)]
    made = piece(points=[{"x": x, "y": y} for x, y in ell])
    x0, y0, _ = outside(made).origin
    lies = {(round(x0 + x, 9), round(y0 + y, 9)) for x, y in outside(made).outline.points}
    assert lies == {(round(0.35 - x / 1000, 9), round(y / 1000 - 0.4, 9)) for x, y in ell}
    assert made.turned_over
    assert any("mirrored" in note for note in made.notes)


def test_the_place_to_pour_is_in_the_concrete() -> None:
    for keys in SHAPE.samples:
        made = single(SHAPE, parameters(SHAPE, keys))
        (x, y, z) = made.pour_points[0]
        body = outside(made)
        known = shapely.Polygon(
            [(px + body.origin[0], py + body.origin[1]) for px, py in flattened(body.outline, 1e-4)],
            [
                [(px + f.body.origin[0], py + f.body.origin[1]) for px, py in flattened(f.body.outline, 1e-4)]
                for f in curved(made).formers
                if f.kind == "core" and isinstance(f.body, Prism)
            ],
        )
        assert known.buffer(-0.02).contains(shapely.Point(x, y)) and 0.0 < z < curved(made).fill


REFUSED = [
    ({}, "got neither file nor points"),
    ({"points": SQUARE, "file": "stone.dxf"}, "got both file and points"),
    ({"points": SQUARE[:1]}, "got 1 corner"),
    ({"points": SQUARE[:2]}, "encloses nothing"),
    ({"points": [SQUARE[i] for i in (0, 2, 1, 3)]}, "crosses or touches itself at x 300 mm .*y 200 mm"),
    ({"points": [*SQUARE[:2], *SQUARE[1:]]}, "point 3 is point 2 again, at x 600 mm"),
    ({"points": [*SQUARE, SQUARE[0]]}, "point 5 is point 1 again"),
    ({"points": [{"x": 0, "y": 0}, {"x": 24, "y": 0}, {"x": 24, "y": 12}]}, "are its units right"),
    ({"points": [{"x": 0, "y": 0}, {"x": 24000, "y": 0}, {"x": 0, "y": 12000}]}, "are its units right"),
    ({"points": [{"x": 0.0, "y": 0}, {"x": 0.1, "y": 0}, *SQUARE[1:]]}, "0.1 mm apart"),
    ({"points": [{**SQUARE[0], "round": 250}, {**SQUARE[1], "round": 400}, *SQUARE[2:]]}, "more than the edge"),
    ({"points": [{**SQUARE[0], "via_x": 3}, *SQUARE[1:]]}, "via_x and via_y together"),
    ({"points": [{**SQUARE[0], "via_x": 0, "via_y": 0}, *SQUARE[1:]]}, "one of its ends"),
    ({"points": [{**SQUARE[0], "via_x": 3, "via_y": -9, "bulge": 1}, *SQUARE[1:]]}, "want one of them"),
    ({"points": SQUARE, "layer": "EDGE"}, "layer belongs to a drawing"),
    ({"points": SQUARE, "holes": [{"x": 900, "y": 200, "diameter": 50}]}, "holes.0 lies outside the outline, at x 925"),
    ({"points": SQUARE, "holes": [{"x": 590, "y": 200, "diameter": 50}]}, "hole crosses or touches the outline at x 600"),
    ({"points": SQUARE, "holes": [{"x": 567, "y": 200, "diameter": 50}]}, "only 8 mm .* of concrete"),
    ({"points": SQUARE, "holes": [{"x": 200, "y": 200}]}, "want x, y and diameter"),
    ({"points": SQUARE, "holes": [{"x": 200, "y": 200, "diameter": 8}]}, "want at least 10 mm"),
    ({"points": SQUARE, "holes": [{"x": 200, "points": SQUARE}]}, "not both"),
    ({"points": SQUARE, "holes": [{"x": 200 + k, "y": 200, "diameter": 50} for k in (0, 20)]}, "two holes cross"),
    ({"points": SQUARE, "thickness": 400, "hole_draft": "5 deg", "holes": [{"x": 99, "y": 99, "diameter": 40}]},
     "hole_draft: an arc of radius 20.0 mm would close"),
    ({"points": SQUARE, "chamfer": 20}, "more than a quarter"),
    ({"points": SQUARE, "gang": 2}, "cast alone"),
    ({"points": [*SQUARE[:3], {"x": 310, "y": 400}, {"x": 305, "y": 500}, {"x": 300, "y": 400}, SQUARE[3]],
      "chamfer": 12}, "chamfer: a straight leg .* would close, at x 30[0-9.]+ mm"),
]  # fmt: skip


@pytest.mark.parametrize(("keys", "words"), REFUSED, ids=[words[:30] for _, words in REFUSED])
def test_an_outline_that_cannot_be_is_refused_with_its_place(keys: dict[str, Any], words: str) -> None:
    found = parameters(SHAPE, {"thickness": 60, **keys})
    with pytest.raises(GeometryError, match=words) as refused:
        from formwork.shapes.cast import lots  # noqa: PLC0415 - as the program does

        lots(SHAPE, found, "stone", 0.018)
    assert str(refused.value).startswith("stone")


# Drawings.

Draw = Callable[[Any], object]


def written(path: Path, draw: Draw, units: int = 4, version: str = "R2000") -> Path:
    document = ezdxf.new(version, units=units)
    draw(document.modelspace())
    document.saveas(path)
    return path


def as_read(path: Path, units: FileUnits | None = None, layer: str | None = None) -> Outline:
    return read(Drawing(path, layer, units, 1e-4)).outer


def test_an_outline_comes_back_from_a_drawing_as_it_was(tmp_path: Path) -> None:
    """Written as a polyline, as lines and arcs out of order, and from behind: read as one and the same."""
    q = tan(pi / 8.0)
    points = [(0, 0, 0), (500, 0, q), (600, 100, 0), (600, 400, -0.3), (0, 400, 0)]
    light = as_read(
        written(tmp_path / "light.dxf", lambda s: s.add_lwpolyline(points, format="xyb", close=True))
    )
    behind = as_read(
        written(
            tmp_path / "behind.dxf",
            lambda s: s.add_lwpolyline(
                [(-x, y, -b) for x, y, b in points],
                format="xyb",
                close=True,
                dxfattribs={"extrusion": (0, 0, -1)},
            ),
        )
    )
    heavy = as_read(
        written(tmp_path / "heavy.dxf", lambda s: s.add_polyline2d(points, format="xyb", close=True))
    )

    def loose(space: Any) -> None:
        for leg in reversed(list(legs(light))):
            (x0, y0), (x1, y1) = leg.start, leg.end
            if leg.bulge == 0.0:
                space.add_line((1000 * x1, 1000 * y1), (1000 * x0, 1000 * y0))
            else:
                arc = leg.arc()
                start = arc.start if arc.sweep > 0 else arc.start + arc.sweep
                ends = [180.0 / pi * angle for angle in (start, start + abs(arc.sweep))]
                space.add_arc([1000 * c for c in arc.centre], 1000 * arc.radius, *ends)

    pieces = as_read(written(tmp_path / "loose.dxf", loose))
    known = Outline(tuple((x / 1000, y / 1000) for x, y, _ in points), tuple(b for *_, b in points))
    for found in (light, behind, heavy, pieces):
        assert area(found) == pytest.approx(area(known), rel=1e-9)
        assert perimeter(found) == pytest.approx(perimeter(known), rel=1e-9)
        assert len(found.points) == 5


@pytest.mark.parametrize(("code", "metres"), [(1, 0.0254), (2, 0.3048), (4, 0.001), (5, 0.01), (6, 1.0)])
def test_the_units_of_a_drawing_are_heeded(tmp_path: Path, code: int, metres: float) -> None:
    """Codes of $INSUNITS: DXF reference, header section."""
    found = as_read(written(tmp_path / "a.dxf", lambda s: s.add_circle((0, 0), 3.0), code))
    assert area(found) == pytest.approx(pi * (3.0 * metres) ** 2)


def test_units_that_the_project_gives_win_and_are_told(tmp_path: Path) -> None:
    path = written(tmp_path / "a.dxf", lambda s: s.add_circle((0, 0), 30.0), 4)
    made = piece(file=str(path), file_units="cm")
    assert volume(made) == pytest.approx(pi * 0.09 * 0.06)
    assert any("says mm" in note and "read in cm" in note for note in made.notes)
    bare = written(tmp_path / "b.dxf", lambda s: s.add_circle((0, 0), 30.0), 0)
    assert volume(piece(file=str(bare), file_units="cm")) == pytest.approx(pi * 0.09 * 0.06)


def test_ellipses_and_splines_keep_to_the_tolerance(tmp_path: Path) -> None:
    ellipse = as_read(written(tmp_path / "e.dxf", lambda s: s.add_ellipse((0, 0), (300, 0), 0.5)))
    assert area(ellipse) == pytest.approx(pi * 0.3 * 0.15, rel=1e-3)
    axis = shapely.LinearRing(flattened(ellipse, 1e-6))
    for k in range(360):
        t = radians(k)
        assert axis.distance(shapely.Point(0.3 * cos(t), 0.15 * sin(t))) < 1.1e-4


def test_the_example_is_what_its_drawing_says() -> None:
    """The uniform cubic B-spline of the control points, by its own polynomial, against the file read as arcs."""
    found = read(Drawing(FILE, "EDGE", None, 1e-4))
    assert found.units == found.said == "mm" and found.curves == 1
    line = shapely.LinearRing(flattened(found.outer, 1e-6))
    count = len(CONTROL)
    for i in range(count):
        p = [CONTROL[(i + k) % count] for k in range(4)]
        for t in (0.0, 0.3, 0.7):
            w = ((1 - t) ** 3, 3 * t**3 - 6 * t**2 + 4, -3 * t**3 + 3 * t**2 + 3 * t + 1, t**3)
            x, y = (sum(wk * pk[axis] for wk, pk in zip(w, p, strict=True)) / 6000.0 for axis in (0, 1))
            assert line.distance(shapely.Point(x, y)) < 1.1e-4
    (hole,) = found.holes
    assert area(hole) == pytest.approx(pi * (LAMP[2] / 1000) ** 2)
    shown = {entity.dxftype() for entity in drawing().modelspace()}
    assert {entity.dxftype() for entity in ezdxf.readfile(FILE).modelspace()} == shown


def lines(*places: tuple[float, float]) -> Draw:
    def draw(space: Any) -> None:
        for start, end in pairwise(places):
            space.add_line(start, end)

    return draw


TRIANGLE = ((0, 0), (600, 0), (600, 400))
FAULTY: list[tuple[str, Draw, str]] = [
    ("open", lines((0, 0), (600, 0), (600, 400), (0.5, 0)), r"gap of 0.5 mm between x 0, y 0 and x 0.5, y 0 \(in mm"),
    ("open polyline", lambda s: s.add_lwpolyline(TRIANGLE), "the outline is open"),
    ("twice", lambda s: (s.add_lwpolyline(TRIANGLE, close=True), s.add_line(*TRIANGLE[:2])),
     "drawn twice, between x 0, y 0 and x 600, y 0"),
    ("twice the other way", lambda s: (s.add_lwpolyline(TRIANGLE, close=True), s.add_line(*TRIANGLE[1::-1])),
     "drawn twice"),
    ("crossing", lines((0, 0), (400, 400), (400, 0), (0, 400), (0, 0)), "crosses or touches itself at x 200, y 200"),
    ("no length", lambda s: s.add_lwpolyline([TRIANGLE[0], *TRIANGLE], close=True), "no length, at x 0, y 0"),
    ("beside", lambda s: (s.add_circle((0, 0), 200), s.add_circle((900, 0), 100)), "beside the first"),
    ("hole over the edge", lambda s: (s.add_circle((0, 0), 200), s.add_circle((190, 0), 50)), "hole crosses or touches"),
    ("block", lambda s: s.add_blockref("A", (0, 0)), "explode it"),
    ("nothing", lambda s: s.add_text("A"), "no lines or arcs"),
    ("leaning", lambda s: s.add_line((0, 0, 0), (100, 0, 50)), "leans out of the plan"),
    ("leaning circle", lambda s: s.add_circle((0, 0), 100, dxfattribs={"extrusion": (1, 0, 0)}), "leans out of the plan"),
    ("in space", lambda s: s.add_polyline3d([(0, 0, 0), (1, 0, 0), (1, 1, 5)], close=True), "polyline in space"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "draw", "words"), FAULTY, ids=[name for name, *_ in FAULTY])
def test_a_drawing_that_cannot_be_cast_is_refused_with_its_place(
    tmp_path: Path, name: str, draw: Draw, words: str
) -> None:
    path = written(tmp_path / "stone.dxf", draw)
    with pytest.raises(GeometryError, match=words) as refused:
        piece(file=str(path))
    assert "stone.dxf" in str(refused.value)


def test_a_drawing_without_units_is_refused(tmp_path: Path) -> None:
    path = written(tmp_path / "stone.dxf", lambda s: s.add_circle((0, 0), 200), 0)
    with pytest.raises(GeometryError, match="does not say what its units are"):
        piece(file=str(path))


def test_files_that_are_none_or_no_drawing(tmp_path: Path) -> None:
    (tmp_path / "junk.dxf").write_text("hello")
    with pytest.raises(GeometryError, match="no DXF file that can be read"):
        piece(file=str(tmp_path / "junk.dxf"))
    with pytest.raises(GeometryError, match=r"not there \(did you mean 'junk.dxf'"):
        piece(file=str(tmp_path / "junkk.dxf"))
    path = written(tmp_path / "stone.dxf", lambda s: s.add_circle((0, 0), 200))
    with pytest.raises(GeometryError, match="layer: got 'EDGE', want one of 0"):
        piece(file=str(path), layer="EDGE")


def test_one_layer_is_read_and_text_is_passed_over() -> None:
    made = piece(file=str(FILE), layer="edge")
    whole = piece(file=str(FILE))
    assert volume(made) == volume(whole)


def test_holes_of_the_keys_join_those_of_the_drawing() -> None:
    more = piece(file=str(FILE), holes=[{"x": 400, "y": 250, "diameter": 40}])
    assert len(curved(more).formers) == 2
    r, s = 0.02, 0.02 - 0.06 * tan(radians(3.0))
    taken = pi * 0.06 / 3.0 * (r * r + r * s + s * s)
    assert volume(piece(file=str(FILE))) - volume(more) == pytest.approx(taken)


def test_a_mirrored_circle_is_a_circle() -> None:
    ring = mirrored(circle((0.3, 0.1), 0.05))
    assert area(ring) == pytest.approx(pi * 0.0025)
    assert all(isinstance(leg, Leg) and leg.arc().radius == pytest.approx(0.05) for leg in legs(ring))
    assert sqrt(area(ring) / pi) == pytest.approx(0.05)
