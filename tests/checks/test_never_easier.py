"""For a mold that stands: more weight, more height, less sheet or more span never lowers a percent of limit.

Over every registered shape: no shape is named here, so one that is added is held to it as well.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from formwork.checks.all import check
from formwork.checks.check import Check
from formwork.checks.dividers import divider_checks
from formwork.checks.holding import core_wall_checks, panel_checks
from formwork.molds.load import Load, worst_rail
from formwork.molds.panelled import Built, longest_side
from tests.drawn import Drawn, pieces
from tests.workshop import build, shop

LOADED = ("MPa", "mm", "N")
THINNER = {"plywood 18": "plywood 15", "plywood 15": "plywood 12"}
MORE = st.floats(1.01, 1.5)
FEW = settings(max_examples=12, deadline=None)


def percents(found: Iterable[object]) -> dict[str, float]:
    """Percent of limit of every check that the mix loads; families by what is judged, whatever limit governs."""
    worst: dict[str, float] = {}
    for one in found:
        if isinstance(one, Check) and one.unit in LOADED:
            name = "rails" if one.name.startswith("rails") else one.name
            worst[name] = max(worst.get(name, 0.0), one.utilisation)
    return worst


def loaded(built: Built, load: Load) -> dict[str, float]:
    return percents(check([replace(built, lined=replace(built.lined, load=load))])[0])


def never_lower(before: dict[str, float], after: dict[str, float]) -> None:
    assert before
    assert before.keys() == after.keys()
    assert all(after[name] >= value * (1.0 - 1e-9) for name, value in before.items())


@given(drawn=pieces(), more=MORE)
@FEW
def test_a_heavier_mix(drawn: Drawn, more: float) -> None:
    built = build(*drawn)
    load = built.lined.load
    never_lower(loaded(built, load), loaded(built, replace(load, density=load.density * more)))


@given(drawn=pieces(), more=MORE)
@FEW
def test_a_taller_lift(drawn: Drawn, more: float) -> None:
    built = build(*drawn)
    load = built.lined.load
    before, after = loaded(built, load), loaded(built, replace(load, fill=load.fill * more))
    never_lower(before, {name: after[name] for name in before})


@given(drawn=pieces())
@FEW
def test_a_thinner_sheet(drawn: Drawn) -> None:
    """What the sheet itself carries: panels, walls of cores, dividers."""
    built = build(*drawn)
    frame, named = built.lined.frame, {sheet.name: sheet for sheet in shop().sheets}
    assume(frame.stocks.sheet.name in THINNER)
    thin = named[THINNER[frame.stocks.sheet.name]]
    thinner = replace(
        built, lined=replace(built.lined, frame=replace(frame, stocks=replace(frame.stocks, sheet=thin)))
    )
    before, after = (
        percents((*panel_checks(one), *core_wall_checks(one), *divider_checks(one)))
        for one in (built, thinner)
    )
    assert before.keys() == after.keys()
    assert all(after[name] >= value for name, value in before.items())


@given(drawn=pieces(), more=MORE)
@FEW
def test_a_wider_span_at_as_many_rails(drawn: Drawn, more: float) -> None:
    built = build(*drawn)
    stocks, load = built.lined.frame.stocks, built.lined.load
    span = longest_side(built.lined.frame.piece) + stocks.sheet.thickness
    near, far = (
        worst_rail(load, built.rails, stocks.stick, stocks.deep, each).utilisation
        for each in (span, more * span)
    )
    assert near <= far


@given(drawn=pieces(), more=MORE)
@FEW
def test_rails_further_apart(drawn: Drawn, more: float) -> None:
    """The whole side stretched upward: every bay is taller, under more mix."""
    built = build(*drawn)
    assume(len(built.rails) > 1)
    load = replace(built.lined.load, fill=built.lined.load.fill * more)
    taller = replace(built, rails=tuple(z * more for z in built.rails), lined=replace(built.lined, load=load))
    before, after = percents(panel_checks(built)), percents(panel_checks(taller))
    assert all(after[name] >= value for name, value in before.items())
