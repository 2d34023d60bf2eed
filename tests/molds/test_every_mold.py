"""What holds for the mold of every registered shape, under every joint rule and base rule."""

from __future__ import annotations

from math import cos, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.geometry.cavity import Solid, enclosed, overlaps
from formwork.geometry.cells import split, volume
from formwork.geometry.vectors import add, scale
from formwork.molds.mold import Part
from formwork.molds.panelled import Built
from formwork.shapes.box import level
from formwork.shapes.parameters import Parameters
from formwork.shapes.shape import Shape
from tests.drawn import Drawn, pieces, samples
from tests.steps import assert_put_together
from tests.workshop import build

RULES = [
    {"joint": joint, "sides": sides, "base": base}
    for joint, sides in (("lapped", "long"), ("lapped", "short"), ("mitred", "long"))
    for base in ("stands on", "runs past")
]
rules = st.sampled_from(RULES)


def solids(built: Built) -> list[Solid]:
    return [Solid(p.name, p.cells, p.rounds, p.holes) for p in built.mold.parts if p.role != "bar"]


@given(drawn=pieces(), options=rules)
@settings(max_examples=60, deadline=None)
def test_the_parts_enclose_the_piece(drawn: Drawn, options: dict[str, str]) -> None:
    built = build(*drawn, **options)
    assert built.cavity.leaks == ()
    assert built.mold.cavity == pytest.approx(built.mold.nominal, rel=1e-9)


@given(drawn=pieces(), options=rules)
@settings(max_examples=40, deadline=None)
def test_no_two_parts_fill_the_same_space(drawn: Drawn, options: dict[str, str]) -> None:
    built = build(*drawn, **options)
    every = [Solid(part.name, part.cells) for part in built.mold.parts]
    assert overlaps(built.mold.planes, every) == []
    piece = [Solid("piece", built.lined.frame.poured)]
    clashes = [pair for pair in overlaps(built.mold.planes, [*piece, *every]) if "piece" in pair[:2]]
    assert clashes == []


@given(drawn=pieces(), options=rules)
@settings(max_examples=40, deadline=None)
def test_everything_comes_off(drawn: Drawn, options: dict[str, str]) -> None:
    built = build(*drawn, **options)
    assert built.mold.locked == ()
    groups = {part.group for part in built.mold.parts}
    assert {step.group for step in built.mold.stripping} == groups


@given(drawn=pieces(), options=rules)
@settings(max_examples=40, deadline=None)
def test_no_part_is_larger_than_what_it_is_cut_from(drawn: Drawn, options: dict[str, str]) -> None:
    built = build(*drawn, **options)
    stocks = built.lined.frame.stocks
    sections = {stick.name: sorted((stick.thickness, stick.width)) for stick in stocks.sticks}
    for part in built.mold.parts:
        if part.kind == "stick":
            thin, wide = sections[part.stock]
            low, high = sorted((part.blank.thickness, part.blank.width))
            assert low <= thin + 1e-6, part.name
            assert high <= wide + 1e-6, part.name
        elif part.kind == "panel":
            assert part.blank.thickness == pytest.approx(stocks.sheet.thickness, abs=1e-9)


@given(drawn=pieces(), options=rules)
@settings(max_examples=30, deadline=None)
def test_a_blank_put_back_in_its_place_is_the_part(drawn: Drawn, options: dict[str, str]) -> None:
    """The outline face of every blank, carried by its placement, lies on the part's own corners."""
    built = build(*drawn, **options)
    for part in built.mold.parts:
        if not part.cells or part.kind == "hardware":
            continue
        corners = part.cells[0].points()
        for x, y in part.blank.outline:
            point = add(
                part.placement.origin, add(scale(part.placement.along, x), scale(part.placement.across, y))
            )
            nearest = min(sum((a - b) ** 2 for a, b in zip(point, corner, strict=True)) for corner in corners)
            assert nearest < 1e-14, part.name


@given(drawn=pieces(gangs=False), options=rules)
@settings(max_examples=30, deadline=None)
def test_blank_and_bevels_give_the_volume_back(drawn: Drawn, options: dict[str, str]) -> None:
    """A panel rebuilt from outline, thickness and bevels alone has the volume of the part."""
    built = build(*drawn, **options)
    for part in built.mold.parts:
        if part.kind == "panel" and part.layers == 1 and part.cells:
            assert rebuilt(part) == pytest.approx(volume(part.cells), rel=1e-6), part.name


def rebuilt(part: Part) -> float:
    """Volume of a blank after its bevelled edges are cut: outline moved in by depth times the tangent of each bevel.

    Integrated by Simpson's rule, exact for the quadratic area of such a body.
    """

    def area(depth: float) -> float:
        lines = []
        outline = part.blank.outline
        for (x1, y1), (x2, y2), bevel in zip(
            outline, (*outline[1:], outline[0]), part.blank.bevels, strict=True
        ):
            size = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
            nx, ny = (y2 - y1) / size, (x1 - x2) / size
            lines.append((nx, ny, nx * x1 + ny * y1 - depth * tan(bevel)))
        corners = []
        for (a, b, c), (d, e, f) in zip(lines, (*lines[1:], lines[0]), strict=True):
            det = a * e - b * d
            corners.append(((c * e - b * f) / det, (a * f - c * d) / det))
        return 0.5 * abs(
            sum(
                x1 * y2 - x2 * y1
                for (x1, y1), (x2, y2) in zip(corners, (*corners[1:], corners[0]), strict=True)
            )
        )

    t = part.blank.thickness
    return t / 6.0 * (area(0.0) + 4.0 * area(t / 2.0) + area(t))


@pytest.mark.parametrize(("shape", "parameters"), samples())
def test_a_side_made_an_inch_low_leaks_over_its_top_and_is_named(
    shape: Shape, parameters: Parameters
) -> None:
    built = build(shape, parameters)
    name = next(part.group for part in built.mold.parts if part.role == "panel")
    side = {part.name for part in built.mold.parts if part.group == name}
    low = [lowered(built, solid, 0.0254) if solid.name in side else solid for solid in solids(built)]
    cavity = enclosed(built.mold.planes, low, built.lined.frame.fill, built.mold.piece.pour_points)
    named = [leak for leak in cavity.leaks if side & set(leak.between)]
    assert any(0.0254 * cos(0.2) < leak.width < 0.0254 / cos(0.2) for leak in named), (
        "an inch, along a leaning panel"
    )


@pytest.mark.parametrize(("shape", "parameters"), samples())
def test_a_panel_made_an_inch_short_shows_in_the_volume(shape: Shape, parameters: Parameters) -> None:
    """The lowest rail stands behind a panel's foot, so the mold closes on a cavity larger than the piece.

    Only where a liner covers the panel's foot does the mix never see the gap.
    """
    built = build(shape, parameters)
    name = next(part.name for part in built.mold.parts if part.role == "panel")
    short = [raised(built, solid, 0.0254) if solid.name == name else solid for solid in solids(built)]
    cavity = enclosed(built.mold.planes, short, built.lined.frame.fill, built.mold.piece.pour_points)
    lined = any(part.role == "liner" for part in built.mold.parts)
    assert lined or cavity.leaks or cavity.volume > built.mold.nominal * (1.0 + 1e-6)


def lowered(built: Built, solid: Solid, by: float) -> Solid:
    """The part with everything above the fill plane less ``by`` (m) cut off."""
    return cut_level(built, solid, built.lined.frame.fill - by, up=True)


def raised(built: Built, solid: Solid, by: float) -> Solid:
    """The part with its lowest ``by`` (m) cut off."""
    foot = min(point[2] for body in solid.cells for point in body.points())
    return cut_level(built, solid, foot + by, up=False)


def cut_level(built: Built, solid: Solid, height: float, up: bool) -> Solid:
    planes = built.mold.planes
    reference = planes.enter(level("cut", height, up))
    kept = [split(planes, body, reference)[0] for body in solid.cells]
    return Solid(solid.name, tuple(body for body in kept if body is not None), solid.rounds, solid.holes)


@pytest.mark.parametrize(("shape", "parameters"), samples())
def test_hardware_is_counted_and_sized(shape: Shape, parameters: Parameters) -> None:
    built = build(shape, parameters)
    for line in built.mold.hardware:
        assert line.quantity > 0.0
        if line.item in ("screw", "bolt"):
            assert line.size
    assert any(line.item == "release agent" for line in built.mold.hardware)


@given(drawn=pieces(), options=rules)
@settings(max_examples=40, deadline=None)
def test_the_steps_put_every_part_in_its_place_once(drawn: Drawn, options: dict[str, str]) -> None:
    mold = build(*drawn, **options).mold
    assert_put_together(mold)
    bench = [name for step in mold.steps if step.bench for name in step.parts]
    assert {part.name for part in mold.parts if part.role not in ("base", "bar", "divider", "plug")} <= set(
        bench
    )
