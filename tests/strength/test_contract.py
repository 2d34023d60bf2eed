"""Every public formula says what it takes, in which unit, where it comes from; and importing the room reads no table."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import subprocess
import sys

import pytest

import formwork.strength
from formwork.strength.tables import names, rows

MODULES = sorted(info.name for info in pkgutil.iter_modules(formwork.strength.__path__))


def public_functions() -> list:
    return list(_functions())


def _functions():
    for name in MODULES:
        module = importlib.import_module(f"formwork.strength.{name}")
        for label, member in vars(module).items():
            function = inspect.unwrap(member) if callable(member) else member
            if inspect.isfunction(function) and function.__module__ == module.__name__ and label[0] != "_":
                yield pytest.param(module, function, id=f"{name}.{label}")


@pytest.mark.parametrize(("module", "function"), public_functions())
def test_every_argument_is_documented(module, function):
    text = inspect.getdoc(function) or ""
    for argument in inspect.signature(function).parameters:
        assert f"    {argument}: " in text or f"    **{argument}: " in text, argument


FORMULAS = [name for name in MODULES if name not in ("tables", "valid", "working", "customary")]


@pytest.mark.parametrize(
    ("module", "function"), [p for p in public_functions() if p.id.split(".")[0] in FORMULAS]
)
def test_every_formula_has_a_source(module, function):
    assert "Source:" in (inspect.getdoc(function) or "") or "Source:" in (module.__doc__ or "")


@pytest.mark.parametrize("name", names())
def test_every_table_is_whole(name):
    table = rows(name)
    assert table
    assert all(None not in row and None not in row.values() for row in table)


def test_importing_the_room_reads_no_table_and_nothing_heavy():
    lines = [f"import formwork.strength.{name}" for name in MODULES]
    lines += [
        "import sys",
        "from formwork.strength.tables import rows, names",
        "assert rows.cache_info().currsize == names.cache_info().currsize == 0",
        "heavy = {'numpy', 'pint', 'shapely', 'pydantic', 'ezdxf', 'OCP', 'cadquery', 'rich'} & set(sys.modules)",
        "assert not heavy, heavy",
    ]
    subprocess.run([sys.executable, "-c", "\n".join(lines)], check=True)
