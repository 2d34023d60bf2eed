"""The correction table, held against mass and volume worked by hand."""

from __future__ import annotations

import pytest

from formwork.packet.corrections import TITLE, correction_entries
from formwork.plan import Plan, plan
from formwork.project.read import read_project
from tests.packet.test_printed_examples import EXAMPLES


@pytest.fixture(scope="module")
def planter() -> Plan:
    return plan(read_project(EXAMPLES / "tapered-planter.toml"))


def test_each_size_of_batch_has_a_table_and_every_reading_a_line(planter: Plan) -> None:
    (part,) = correction_entries(planter)
    assert part["title"] == TITLE
    tables = [block for block in part["blocks"] if block["kind"] == "table"]
    sizes = {round(batch.volume, 6) for pour in planter.pours for batch in pour.batches}
    assert len(tables) == len(sizes)
    for one in tables:
        densities = [float(row[0].split()[0]) for row in one["rows"]]
        assert densities == sorted(densities, reverse=True)
        assert {"foam" in row[1] for row in one["rows"] if float(row[0].split()[0]) > 50.0} == {True}
        assert {"slurry" in row[1] for row in one["rows"] if float(row[0].split()[0]) < 50.0} == {True}


def test_foam_for_a_reading_a_tenth_too_heavy_is_that_of_the_balance_of_mass_and_volume(
    planter: Plan,
) -> None:
    """V (rho_m - rho_t) / (rho_t v - rho_f), V = m / rho_m; the batch then holds m + m_f at rho_t."""
    (part,) = correction_entries(planter)
    table = next(block for block in part["blocks"] if block["kind"] == "table")
    row = next(row for row in table["rows"] if row[0].startswith("55"))
    batch, foam, wet = planter.pours[0].batches[0], planter.project.shop.foam, planter.mix.wet_density
    mass = batch.cement + batch.water + batch.foam_mass
    volume = mass / (1.1 * wet)
    grows = foam.survival * (1.0 - foam.density / 997.0) + foam.density / 997.0
    needed = volume * 0.1 * wet / (wet * grows - foam.density)
    cubic_foot = 0.3048**3
    assert float(row[1].split()[0]) == pytest.approx(needed / cubic_foot, rel=0.01)
    assert float(row[3].split()[0]) == pytest.approx(
        (mass + foam.density * needed) / wet / cubic_foot, rel=0.01
    )
