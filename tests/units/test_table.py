"""The shipped table, entry by entry against pint, an independent implementation."""

from __future__ import annotations

import math
import subprocess
import sys

import pint
import pytest

from formwork.units.table import BARE, EXAMPLES, SI_UNIT, TABLE, ZERO, find, kinds_of

REGISTRY = pint.UnitRegistry()

OURS = {
    '"': "inch", "'": "foot", "sqin": "inch**2", "sqft": "foot**2", "sqyd": "yard**2", "cuin": "inch**3",
    "cuft": "foot**3", "cuyd": "yard**3", "floz": "fluid_ounce", "cc": "cm**3", "pcf": "lb/foot**3", "psf": "lbf/foot**2",
    "lbs": "lb", "ton": "short_ton", "tons": "short_ton", "t": "tonne", "gpm": "gallon/minute", "cfm": "foot**3/minute",
    "psi": "lbf/inch**2", "°": "degree", "%": "percent", "K": "kelvin", "C": "delta_degree_Celsius",
    "degC": "delta_degree_Celsius", "°C": "delta_degree_Celsius", "celsius": "delta_degree_Celsius",
    "F": "delta_degree_Fahrenheit", "degF": "delta_degree_Fahrenheit", "°F": "delta_degree_Fahrenheit",
    "fahrenheit": "delta_degree_Fahrenheit",
}  # fmt: skip
"""Names of the trade in pint's own words; every other spelling is pint's too."""

POUND_FORCE = {"lb", "lbs", "pound", "pounds"}


def in_pints_words(name: str, kind: str) -> str:
    if name in OURS and kind not in ("force", "pressure"):
        return OURS[name]
    parts = []
    for part in name.split("/"):
        if kind in ("force", "pressure") and part in POUND_FORCE:
            parts.append("lbf")
        else:
            word, power = (part[:-1], part[-1]) if part[-1] in "23" else (part, "")
            word = OURS.get(part, OURS.get(word, word))
            parts.append(f"({word})**{power}" if power and part not in OURS else f"({word})")
    return "/".join(parts)


ENTRIES = [(kind, name) for kind, rows in TABLE.items() for name in rows]


@pytest.mark.parametrize(("kind", "name"), ENTRIES, ids=[f"{kind} {name}" for kind, name in ENTRIES])
def test_factor_is_pints(kind, name):
    target = in_pints_words(SI_UNIT[kind], "length") if SI_UNIT[kind] else "dimensionless"
    theirs = REGISTRY.Quantity(1.0, in_pints_words(name, kind)).to(target).magnitude
    assert float(TABLE[kind][name][1]) == pytest.approx(theirs, rel=1e-12)


@pytest.mark.parametrize(("name", "pints"), [("C", "degC"), ("F", "degF")])
def test_zero_of_a_temperature_scale_is_pints(name, pints):
    assert float(ZERO[name]) == pytest.approx(REGISTRY.Quantity(0.0, pints).to("kelvin").magnitude, rel=1e-12)


def test_each_kind_has_its_si_unit_and_examples():
    for kind, unit in SI_UNIT.items():
        assert kind == "ratio" or find(unit, kind) == (unit, 1)
        assert EXAMPLES[kind]


def test_bare_units_are_in_the_table():
    for kinds in BARE.values():
        for kind, unit in kinds.items():
            assert kind == "ratio" or find(unit, kind) is not None


@pytest.mark.parametrize(
    ("name", "kind"), [("Inches", "length"), ("MM", "length"), ("KG", "mass"), ("kpa", "pressure")]
)
def test_case_is_forgiven(name, kind):
    assert find(name, kind) is not None


@pytest.mark.parametrize(("name", "kind"), [("mPa", "pressure"), ("Mg", "mass"), ("hogshead", "volume")])
def test_what_may_be_meant_or_is_not_there_is_not_found(name, kind):
    assert find(name, kind) is None


def test_a_pound_is_a_mass_and_a_force():
    assert kinds_of("lb") == ("mass", "force")
    assert kinds_of("cubit") == ()


def test_degrees_are_exact_to_the_last_bit():
    assert float(TABLE["angle"]["deg"][1]) == math.pi / 180


def test_reading_a_common_unit_imports_no_pint():
    code = (
        "import sys; from formwork.units.parse import read; read('2 ft 6 1/2 in', 'length', None);"
        "read('30 lb/ft3', 'density', None); read('70 F', 'temperature', None); sys.exit('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
