"""What must hold for any mold: heavier, taller, thinner or wider is never easier."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from formwork.strength import beams
from formwork.strength.apa_forms import form_panel
from formwork.strength.lumber import Section, Service, adjust, cautious_grade, grade_of
from formwork.strength.panels import Bay, PanelSection, homogeneous, panel_verdicts, utilisation
from formwork.strength.pressure import Lift
from formwork.strength.sheets import section_for
from formwork.strength.spanning import max_pressure, max_span
from formwork.strength.spans import DeflectionLimit
from formwork.strength.working import Verdict

few = settings(max_examples=60, deadline=None, derandomize=True)
densities = st.floats(300.0, 2500.0)
heights = st.floats(0.05, 2.5)
spans = st.integers(1, 4)
widths = st.floats(0.12, 0.9)
supports = st.floats(0.0, 0.1)
limits = st.builds(
    DeflectionLimit, st.sampled_from((1 / 180, 1 / 270, 1 / 360)), st.none() | st.floats(0.0005, 0.003)
)
sheets = st.sampled_from(("plywood", "overlaid plywood", "birch plywood"))
grains = st.sampled_from(("across", "along"))
thicknesses = st.floats(0.012, 0.030)


def each(section: PanelSection, bay: Bay, limit: DeflectionLimit) -> list[float]:
    return [
        verdict.utilisation for verdict in panel_verdicts(section, bay, limit) if isinstance(verdict, Verdict)
    ]


def never_lower(easier: list[float], harder: list[float]) -> bool:
    return all(a <= b * (1 + 1e-12) + 1e-15 for a, b in zip(easier, harder, strict=True))


@few
@given(densities, st.floats(1.0, 3.0), heights, st.floats(1.0, 3.0), st.floats(0.0, 1.0))
def test_heavier_and_taller_push_harder(density, heavier, height, taller, share):
    at = height * share
    lift = Lift(density, height)
    assert Lift(density * heavier, height).at(at) >= lift.at(at)
    assert Lift(density, height * taller).at(at) >= lift.at(at)
    assert Lift(density, height * taller).resultant(0.0, height) >= lift.resultant(0.0, height) * (1 - 1e-12)


@few
@given(sheets, grains, thicknesses, densities, heights, st.floats(1.0, 3.0), widths, spans, supports, limits)
def test_heavier_mix(sheet, grain, thickness, density, height, factor, width, n, support, limit):
    section = section_for(sheet, thickness, grain)
    bay = Bay(Lift(density, height).at(0.0), width, n, support)
    assert never_lower(
        each(section, bay, limit), each(section, replace(bay, pressure=bay.pressure * factor), limit)
    )


@few
@given(
    sheets, grains, thicknesses, st.floats(0.0, 0.015), st.floats(100.0, 3e4), widths, spans, supports, limits
)
def test_thinner_sheet(sheet, grain, thin, more, pressure, width, n, support, limit):
    assume(thin + more <= 0.030)
    bay = Bay(pressure, width, n, support)
    thick = section_for(sheet, thin + more, grain)
    assert never_lower(each(thick, bay, limit), each(section_for(sheet, thin, grain), bay, limit))


@few
@given(st.floats(0.003, 0.03), st.floats(1.0, 3.0), st.floats(100.0, 3e4), widths, spans, limits)
def test_thinner_homogeneous_sheet(thin, factor, pressure, width, n, limit):
    def made(t: float) -> PanelSection:
        return homogeneous("board", t, fb=8e6, e=2e9, fs=1e6, source="maker")

    bay = Bay(pressure, width, n)
    assert never_lower(each(made(thin * factor), bay, limit), each(made(thin), bay, limit))


@few
@given(
    sheets, grains, thicknesses, st.floats(100.0, 3e4), widths, st.floats(1.0, 3.0), spans, supports, limits
)
def test_wider_span_at_the_same_number_of_bays(
    sheet, grain, thickness, pressure, width, factor, n, support, limit
):
    section, bay = section_for(sheet, thickness, grain), Bay(pressure, width, n, support)
    assert never_lower(each(section, bay, limit), each(section, replace(bay, span=width * factor), limit))


@few
@given(
    grains,
    st.sampled_from(("1/2", "3/4", "1-1/8")),
    st.floats(500.0, 5e4),
    spans,
    st.floats(0.0, 0.05),
    limits,
)
def test_max_span_is_where_the_utilisation_is_one(grain, nominal, pressure, n, support, limit):
    section = form_panel("Class I", nominal, grain)
    span = max_span(section, pressure, n, limit, support).least
    assume(span > support * 1.01)
    assert utilisation(section, Bay(pressure, span, n, support), limit) == pytest.approx(1.0, rel=1e-6)
    assert max_pressure(section, span, n, limit, support).least == pytest.approx(pressure, rel=1e-6)


@few
@given(
    st.sampled_from(("softwood", "hem-fir", "southern pine", "spruce-pine-fir Stud")),
    st.floats(0.03, 0.09),
    st.floats(0.03, 0.09),
    st.floats(10.0, 2e4),
    st.floats(1.0, 3.0),
    st.floats(0.1, 2.0),
    spans,
    limits,
)
def test_sticks(material, breadth, depth, load, factor, span, n, limit):
    section = Section(breadth, depth)
    values = adjust(grade_of(material, section.width), section, Service())

    def use(w: float, length: float) -> list[float]:
        return [v.utilisation for v in beams.beam_verdicts(values, section, beams.Run(w, length, n), limit)]

    assert never_lower(use(load, span), use(load * factor, span))
    assert never_lower(use(load, span), use(load, span * factor))
    longest = beams.beam_span(values, section, load, n, limit).least
    assert max(use(load, longest)) == pytest.approx(1.0, rel=1e-6)


@few
@given(
    st.sampled_from(("hem-fir No.2", "douglas fir-larch", "southern pine", "nonsense")), st.floats(0.02, 0.28)
)
def test_unknown_lumber_is_the_weakest(material, width):
    known, unknown = grade_of(material, width), cautious_grade()
    assert all(getattr(unknown, name) <= getattr(known, name) for name in ("fb", "fv", "fcp", "fc", "e"))
