"""The import rule, read off the code itself: data flows one way, and what is slow to import is imported late.

A new room takes its place in the table below; a room may import itself and those that its line names.
"""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "formwork"

GROUND = {"record", "errors"}
FORMULAS = GROUND | {"units", "geometry", "stock", "strength", "mix"}
PIECES = FORMULAS | {"pour", "shapes", "project"}
STREAM = PIECES | {"molds", "checks", "cutting", "cautions"}

ROOMS: dict[str, set[str]] = {
    "record": set(),
    "errors": {"record"},
    "shipped": GROUND,
    "units": GROUND,
    "geometry": GROUND,
    "strength": GROUND,
    "mix": GROUND | {"units"},
    "stock": GROUND | {"units"},
    "pour": FORMULAS,
    "shapes": GROUND | {"units", "geometry"},
    "project": GROUND | {"units", "stock", "mix", "shapes", "pour"},
    "molds": PIECES,
    "checks": PIECES | {"molds"},
    "cutting": PIECES | {"molds"},
    "cautions": PIECES | {"molds", "checks"},
    "plan": STREAM,
    "drawings": STREAM | {"plan"},
    "solids": STREAM | {"plan"},
    "packet": STREAM | {"shipped", "plan", "drawings", "solids"},
    "cli": STREAM | {"plan", "packet", "shipped"},
    "__main__": {"cli"},
}
"""Which room may import which, down the stream. Outputs read a plan; only the packet calls drawings and solids."""

LATE = {
    "cadquery",
    "OCP",
    "vtk",
    "vtkmodules",
    "casadi",
    "pint",
    "ezdxf",
    "rich",
    "numpy",
    "scipy",
    "shapely",
    "PIL",
    "typst",
}
"""Libraries that cost more than a few milliseconds to import: only inside the functions that need them."""

AT_ONCE = {"drawings": {"ezdxf", "shapely", "numpy"}}
"""What a room whose every function needs them may import with its modules; it is itself imported late."""

HOMES: dict[str, tuple[str, ...]] = {
    "cadquery": ("solids",),
    "OCP": ("solids",),
    "pint": ("units",),
    "ezdxf": ("drawings", "shapes"),
    "typst": ("packet",),
    "click": ("cli",),
}
"""Libraries that only some rooms may touch at all: drawings are written in one and read in another."""


BROUGHT_BY = {"OCP": "cadquery", "numpy": "shapely", "pydantic_core": "pydantic"}
"""Libraries that a declared one cannot be installed without."""


def files() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def room_of(path: Path) -> str:
    return path.relative_to(PACKAGE).with_suffix("").parts[0]


def typing_only(node: ast.AST) -> bool:
    return isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test)


def imports(tree: ast.AST, *, inside: bool = False) -> Iterator[tuple[str, list[str], bool]]:
    """Module, names taken from it, and whether that happens inside a function."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, [], inside
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports name their room in full"
            yield node.module or "", [alias.name for alias in node.names], inside
        elif not typing_only(node):
            yield from imports(
                node, inside=inside or isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
            )


def rooms_imported(module: str, names: list[str]) -> list[str]:
    head, *rest = module.split(".")
    if head != "formwork":
        return []
    return rest[:1] or [name for name in names if name != "__version__"]


def test_every_library_that_is_imported_is_declared():
    text = (PACKAGE.parent / "pyproject.toml").read_text(encoding="utf-8")
    declared = {re.split(r"[><=~ ]", entry)[0] for entry in tomllib.loads(text)["project"]["dependencies"]}
    for path in files():
        for module, _, _ in imports(ast.parse(path.read_text(encoding="utf-8"))):
            library = module.split(".")[0]
            known = library in sys.stdlib_module_names or library == "formwork"
            assert known or BROUGHT_BY.get(library, library) in declared, f"{path.name}: {library}"


def test_the_table_names_every_room_and_runs_one_way():
    assert {room_of(path) for path in files()} - {"__init__"} == set(ROOMS)
    before: set[str] = set()
    for name, allowed in ROOMS.items():
        assert allowed <= before, f"{name} imports what comes after it"
        before.add(name)


@pytest.mark.parametrize("path", files(), ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_a_file_imports_only_what_its_room_may(path):
    here = room_of(path)
    allowed = ROOMS.get(here, set()) | {here}
    for module, names, inside in imports(ast.parse(path.read_text(encoding="utf-8"))):
        wanted = rooms_imported(module, names)
        assert set(wanted) <= allowed, f"{here} may not import {module}"
        library = module.split(".")[0]
        assert here in HOMES.get(library, (here,)), f"{library} belongs in {HOMES[library]}"
        late = LATE - AT_ONCE.get(here, set())
        assert inside or library not in late, f"{library} is imported with the module, not where it is needed"


@pytest.mark.parametrize("path", files(), ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_rooms_that_import_slow_libraries_at_once_are_imported_late(path):
    for module, names, inside in imports(ast.parse(path.read_text(encoding="utf-8"))):
        slow = set(rooms_imported(module, names)) & set(AT_ONCE)
        assert inside or not slow - {room_of(path)}, (
            f"{module} is imported with the module, not where it is needed"
        )


@pytest.mark.parametrize("path", files(), ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_no_room_takes_what_another_keeps_to_itself(path):
    for module, names, _ in imports(ast.parse(path.read_text(encoding="utf-8"))):
        if room_of(path) not in rooms_imported(module, names) and module.startswith("formwork"):
            assert not [name for name in names if name.startswith("_") and name != "__version__"], module
