"""For a mold that stands: more weight, a thinner sheet or more span never lowers a percent of limit. By every method.

Over every curved shape and every method that suits it; neither is named, except where a span or a sheet is changed.
What the mix decides is fixed: where the bracing is chosen for the mix, as the rods of a dome, it is asked for by number.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields, is_dataclass, replace
from typing import Any

from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st

from formwork.checks.all import check
from formwork.checks.check import Check
from formwork.errors import GeometryError, StockError
from formwork.molds.asked import BuiltMold
from formwork.molds.load import Load
from formwork.shapes import column, outline, round_planter, turned
from formwork.shapes.shape import Shape
from tests.drawn import Drawn, curved_pieces, parameters
from tests.workshop import build, concrete, mix, shop

LOADED = ("MPa", "mm", "N", "kPa")
CHOSEN = ("skin seams",)
"""Screws of which the check takes as many as the mix asks."""
MORE = st.floats(1.01, 1.5)
FEW = settings(max_examples=10, deadline=None, phases=(Phase.generate,))


def percents(found: Iterable[object]) -> dict[str, float]:
    """Percent of limit of every check that the mix loads."""
    worst: dict[str, float] = {}
    for one in found:
        if isinstance(one, Check) and one.unit in LOADED and not one.name.startswith(CHOSEN):
            governed = one.name.startswith(("hold-down bar", "rails", "straight strips"))
            name = one.name.split(":")[0].split(",")[0] if governed else one.name
            worst[name] = max(worst.get(name, 0.0), one.utilisation)
    return worst


def never_lower(before: dict[str, float], after: dict[str, float]) -> None:
    both = before.keys() & after.keys()
    assert both
    assert all(after[name] >= before[name] * (1.0 - 1e-9) for name in both)


def loaded(built: Any, load: Load) -> Any:
    """The same mold under another load, wherever its stages keep it."""
    lined = built.lined
    if any(field.name == "load" for field in fields(lined)):
        return replace(built, lined=replace(lined, load=load))
    return replace(built, lined=replace(lined, asked=replace(lined.asked, load=load)))


def load_of(built: Any) -> Load:
    lined = built.lined
    load: Load = lined.load if any(field.name == "load" for field in fields(lined)) else lined.asked.load
    return load


def standing(drawn: Drawn, method: str, **asked: Any) -> BuiltMold | None:
    """The mold of a piece by a method; None where that method does not suit it."""
    shape, found = drawn
    for mixed in (mix(), concrete()):
        try:
            built: Any = build(shape, found, method=method, mixed=mixed, **asked)
        except (GeometryError, StockError):
            continue
        if method == "ribbed" and built.form.fluid and not asked:
            return standing(drawn, method, rods=built.form.count, seam_bolts=8)
        return built  # type: ignore[no-any-return]
    return None


@given(drawn=curved_pieces(), data=st.data(), more=MORE)
@settings(max_examples=12, deadline=None, phases=(Phase.generate,))
def test_a_heavier_mix_in_the_mold_that_stands(drawn: Drawn, data: st.DataObject, more: float) -> None:
    built = standing(
        drawn, data.draw(st.sampled_from([m for m in drawn[0].methods if m != "tube"] or ["tube"]))
    )
    assume(built is not None and built.mold.method != "tube")
    load = load_of(built)
    before, _ = check([loaded(built, load)])
    after, _ = check([loaded(built, replace(load, density=load.density * more))])
    never_lower(percents(before), percents(after))


@given(diameter=st.sampled_from([200, 250, 300, 350, 400, 450]), height=st.floats(400, 2000), more=MORE)
@FEW
def test_a_heavier_mix_in_a_slit_tube_of_as_many_straps(diameter: int, height: float, more: float) -> None:
    """A tube's joints are chosen with the mix, so its straps alone are compared: as many, of one kind."""

    def strained(density: float) -> float:
        keys = {"diameter": diameter, "height": round(height, 1)}
        built: Any = build(
            column.SHAPE, parameters(column.SHAPE, keys), method="tube", tube_off="slit", straps=5,
            mixed=concrete(density),
        )  # fmt: skip
        return float(built.straps.tension)

    assert strained(1500.0 * more) >= strained(1500.0)


SAMPLES: list[tuple[Shape, str, dict[str, Any], tuple[str, ...]]] = [
    (round_planter.SHAPE, "wrapped", {"diameter": 600, "height": 500, "wall": 50, "floor": 50, "down": "rim"},
     ("core caps", "core skin")),
    (turned.SHAPE, "stacked", dict(turned.SHAPE.samples[2]), ("rings", "ears")),
    (outline.SHAPE, "edged", dict(outline.SHAPE.samples[2]), ("straight strips",)),
]  # fmt: skip


@given(case=st.sampled_from(SAMPLES), density=st.floats(600.0, 1500.0))
@FEW
def test_a_thinner_sheet(case: tuple[Shape, str, dict[str, Any], tuple[str, ...]], density: float) -> None:
    """The sheet is taken for a thinner one wherever the mold that stands has it."""
    shape, method, keys, families = case
    built = build(shape, parameters(shape, keys), method=method, density=density, sheet="plywood 18")
    thin = next(sheet for sheet in shop().sheets if sheet.name == "plywood 12")
    thinner = swapped(built, "plywood 18", thin)
    before, after = (percents(check([one])[0]) for one in (built, thinner))
    compared = [name for name in before if name.startswith(families) and name in after]
    assert compared
    assert all(after[name] >= before[name] * (1.0 - 1e-9) for name in compared)


def swapped(value: Any, name: str, sheet: Any) -> Any:
    """A record with every sheet of a name in it taken for another, and the thickness of strips cut from it."""
    if is_dataclass(value) and getattr(value, "name", None) == name and hasattr(value, "bend_radius"):
        return sheet
    if isinstance(value, tuple) and type(value) is tuple:
        return tuple(swapped(one, name, sheet) for one in value)
    if not is_dataclass(value) or type(value).__name__ in (
        "Mold",
        "Planes",
        "Piece",
        "Part",
        "PieceOrder",
        "Shop",
    ):
        return value
    changes = {field.name: swapped(getattr(value, field.name), name, sheet) for field in fields(value)}
    if type(value).__name__ == "Edge" and getattr(value.stock, "name", "") == name:
        changes["thickness"] = sheet.thickness
    changed = {key: one for key, one in changes.items() if one is not getattr(value, key)}
    return replace(value, **changed) if changed else value


@given(rings=st.integers(3, 6), more=st.floats(1.02, 1.3))
@FEW
def test_a_wider_mold_at_the_same_number_of_rings(rings: int, more: float) -> None:
    """Every side is a share higher, with as many rings: every bay is wider, under more mix."""

    def worst(height: float) -> dict[str, float]:
        keys = {"diameter": 700, "height": round(height, 2)}
        built = build(
            column.SHAPE, parameters(column.SHAPE, keys), method="wrapped", rings=rings, density=900.0,
            stick="45x45",
        )  # fmt: skip
        return percents(check([built])[0])

    low, high = worst(600.0), worst(600.0 * more)
    compared = [name for name in low if name.startswith(("seam battens", "outer skin", "ring straps"))]
    assert compared
    assert all(high[name] >= low[name] * (1.0 - 1e-9) for name in compared if name in high)


@given(count=st.integers(12, 24), more=MORE)
@settings(max_examples=6, deadline=None, phases=(Phase.generate,))
def test_fewer_blocks_behind_a_strip(count: int, more: float) -> None:
    """Blocks further apart leave the strip a wider span and each block more to hold."""
    apart = 0.1 + 0.02 * count

    def found(far: float) -> dict[str, float]:
        built = build(
            outline.SHAPE, parameters(outline.SHAPE, LONG), method="edged", blocks_apart=far, density=900.0
        )
        return percents(check([built])[0])

    near, far = found(apart), found(apart * more)
    for name in near:
        if name.startswith(("straight strips", "wet edge", "blocks held", "strips held")) and name in far:
            assert far[name] >= near[name] * (1.0 - 1e-9)


LONG = {
    "points": [{"x": 0, "y": 0}, {"x": 2400, "y": 0}, {"x": 2400, "y": 600}, {"x": 0, "y": 600}],
    "thickness": 100,
}
