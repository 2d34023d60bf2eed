"""Starter files and schemas: they work as they are and say of every key what the program says of it."""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from formwork.errors import InputError
from formwork.project import schema, shop_tables, tables
from formwork.project.read import read_project
from formwork.project.records import METHODS_WITH
from formwork.project.shop import read_shop
from formwork.shapes.register import register
from formwork.units.notes import describe

ROOT = Path(__file__).parents[2]
TEMPLATES = ROOT / "templates"
PROJECTS = sorted(path for path in TEMPLATES.glob("*.toml") if path.name != "shop.toml")
EXAMPLES = sorted(path for path in (ROOT / "examples").rglob("*.toml"))
OWN_KEYS = (tables.PieceTable, shop_tables.OwnedMoldTable)


def is_shop(path: Path) -> bool:
    return "piece" not in tomllib.loads(path.read_text(encoding="utf-8"))


def lines_of(path: Path) -> dict[str, list[str]]:
    """Every line of a key, taken or left out with a leading #, by the key."""
    found: dict[str, list[str]] = {}
    for line in path.read_text(encoding="utf-8").splitlines():
        match = re.match(r"#?([a-z_]+) = ", line)
        if match:
            found.setdefault(match[1], []).append(line)
    return found


def test_every_shape_has_its_starter():
    assert sorted(path.stem for path in PROJECTS) == sorted(register())


@pytest.mark.parametrize("path", PROJECTS, ids=lambda path: path.name)
def test_a_starter_project_reads_as_it_is(path):
    project = read_project(path)
    assert [order.shape for order in project.orders] == [path.stem]
    for order in project.orders:
        assert register()[order.shape].lay_out(order.parameters, order.name)


@pytest.mark.parametrize("path", PROJECTS, ids=lambda path: path.name)
def test_a_starter_project_works_with_every_line_taken(path, tmp_path):
    """Lines left out must be right too: each is taken by itself."""
    text = path.read_text(encoding="utf-8")
    (tmp_path / "shop.toml").write_text(
        (TEMPLATES / "shop.toml").read_text(encoding="utf-8").replace("#", "")
    )
    skip = (
        "dry_density", "aim_class", "aim_strength", "aim_conductivity", "shop", "owned", "sheet", "stick",
    )  # fmt: skip
    for line in re.findall(r"^#[a-z_]+ = .*$", text.partition("[[piece.embed]]")[0], re.M):
        if line[1:].split(" =")[0] not in skip:
            copy = tmp_path / "copy.toml"
            copy.write_text(text.replace(line, line[1:]), encoding="utf-8")
            read_project(copy)


@pytest.mark.parametrize(
    "path", [path for path in PROJECTS if register()[path.stem].casts], ids=lambda path: path.name
)
def test_a_starter_project_takes_its_embedded_things(path, tmp_path):
    head, _, rest = path.read_text(encoding="utf-8").partition("#[[piece.embed]]")
    block, _, tail = rest.partition("\n\n")
    copy = tmp_path / "copy.toml"
    copy.write_text(
        f"{head}[[piece.embed]]{block.replace(chr(10) + '#', chr(10))}\n\n{tail}", encoding="utf-8"
    )
    assert len(read_project(copy).orders[0].parameters.embed) == 1


@pytest.mark.parametrize("path", PROJECTS, ids=lambda path: path.name)
def test_a_starter_project_says_of_every_key_what_the_program_says(path):
    units = tomllib.loads(path.read_text(encoding="utf-8"))["units"]
    found = lines_of(path)
    shape = register()[path.stem]
    of_casting = (tables.CellularTable, tables.BatchesTable, tables.MoldTable) if shape.casts else ()
    for model in (tables.ProjectTable, tables.PieceTable, shape.parameters, *of_casting):
        for note in describe(model):
            if "." in note.key or note.kind == "table" or (note.key, model) == ("kind", tables.CellularTable):
                continue
            if not shape.casts and note.key in ("molds", "spares") and model is tables.PieceTable:
                continue
            if model is tables.MoldTable and not set(shape.methods) & set(
                METHODS_WITH.get(note.key, shape.methods)
            ):
                continue
            allowed = note.range_text(units)
            assert any(note.meaning in line and allowed in line for line in found[note.key]), (
                note.key,
                allowed,
            )


def test_the_starter_shop_reads_and_says_of_every_key_what_the_program_says():
    path = TEMPLATES / "shop.toml"
    shop = read_shop(path)
    assert shop.sheets and shop.sticks and any(sheet.offcut for sheet in shop.sheets)
    found = lines_of(path)
    for model in (
        shop_tables.ShopTable, shop_tables.SawTable, shop_tables.MixerTable, shop_tables.FoamTable, shop_tables.CementTable, shop_tables.SheetTable,
        shop_tables.StickTable, shop_tables.PipeTable, shop_tables.TubeTable, shop_tables.StrapTable, shop_tables.HardwareTable,
        shop_tables.LeftoverMoldTable, shop_tables.TimesTable, shop_tables.CupTable,
    ):  # fmt: skip
        for note in describe(model):
            if "." not in note.key and note.kind != "table":
                allowed = note.range_text("in")
                assert any(note.meaning in line and allowed in line for line in found[note.key]), (
                    note.key,
                    allowed,
                )


def test_the_starter_projects_work_with_the_starter_shop(tmp_path):
    (tmp_path / "shop.toml").write_bytes((TEMPLATES / "shop.toml").read_bytes())
    for path in PROJECTS:
        copy = tmp_path / path.name
        copy.write_text(path.read_text(encoding="utf-8").replace('#shop = "shop.toml"', 'shop = "shop.toml"'))
        assert read_project(copy).shop.name == "the shop"


JUNK = [
    "",
    "0",
    "-1",
    "1e300",
    "nan",
    '"5 kg"',
    "[]",
    "{}",
    "true",
    '"x"',
    "2020-01-01",
    "2 in",
    "1,5",
    '"""',
    "[[",
    "'",
]


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data(), st.sampled_from([*PROJECTS, TEMPLATES / "shop.toml"]))
def test_a_spoilt_starter_is_read_or_refused_with_places(tmp_path, data, path):
    rows = path.read_text(encoding="utf-8").splitlines()
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(rows) - 1))
        key, _, value = rows[at].lstrip("#").partition(" = ")
        junk = data.draw(st.sampled_from(JUNK))
        change = data.draw(st.sampled_from(["drop", "twice", "value", "key", "all"]))
        rows[at : at + 1] = {
            "drop": [],
            "twice": [rows[at], rows[at]],
            "value": [f"{key} = {junk}"],
            "key": [f"{key}x = {value}"],
            "all": [junk],
        }[change] or [""]
    copy = tmp_path / path.name
    copy.write_text("\n".join(rows), encoding="utf-8")
    try:
        read_shop(copy) if path.name == "shop.toml" else read_project(copy)
    except InputError as error:
        assert error.faults
        assert all(fault.where.startswith(str(copy)) and fault.want for fault in error.faults)


@pytest.mark.parametrize("name", ["project", "shop"])
def test_shipped_schemas_are_current_and_sound(name):
    made = {"project": schema.project_schema, "shop": schema.shop_schema}[name]()
    assert (TEMPLATES / f"{name}.schema.json").read_text(encoding="utf-8") == schema.text(made)
    Draft202012Validator.check_schema(made)


@pytest.mark.parametrize(
    "path", [*PROJECTS, TEMPLATES / "shop.toml", *EXAMPLES], ids=lambda path: str(path.relative_to(ROOT))
)
def test_schemas_accept_what_ships(path):
    made = schema.shop_schema() if is_shop(path) else schema.project_schema()
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    assert [error.message for error in Draft202012Validator(made).iter_errors(data)] == []


@pytest.mark.parametrize(
    "change",
    [
        ("units", "cm"),
        ("colour", "red"),
        ("mix", {"kind": "cellular", "sand": 9}),
        ("mix", {"kind": "ordinary", "wet_density": 2300}),
        ("batches", {"split": "some"}),
        ("piece", []),
        ("piece", [{"shape": "planter"}]),
        ("piece", [{"shape": "slab", "length": "in", "width": "400 mm", "thickness": "60 mm"}]),
        ("piece", [{"shape": "slab", "length": 400, "width": 400, "thickness": 60, "wall": 3}]),
        ("piece", [{"shape": "slab", "length": 400, "width": 400, "thickness": 60, "count": 0}]),
        (
            "piece",
            [{"shape": "slab", "length": 400, "width": 400, "thickness": 60, "embed": [{"kind": "rope"}]}],
        ),
    ],
)
def test_schema_marks_mistakes(change):
    good = {
        "units": "mm",
        "mix": {"wet_density": 600},
        "piece": [{"shape": "slab", "length": 400, "width": "16 in", "thickness": 60}],
    }
    validator = Draft202012Validator(schema.project_schema())
    assert validator.is_valid(good)
    assert not validator.is_valid(good | dict([change]))


def test_every_key_of_the_schema_has_a_meaning():
    def keys(part):
        if isinstance(part, dict):
            for key, inner in part.get("properties", {}).items():
                yield key, inner
            for inner in part.values():
                yield from keys(inner)
        elif isinstance(part, list):
            for inner in part:
                yield from keys(inner)

    for made in (schema.project_schema(), schema.shop_schema()):
        text = json.dumps(made)
        assert '"default"' not in text and '"null"' not in text
        assert all(inner.get("description") or "const" in inner for _, inner in keys(made))


@pytest.mark.parametrize("own", OWN_KEYS, ids=lambda model: model.__name__)
@pytest.mark.parametrize("shape", register())
def test_no_shape_has_a_key_of_the_table_it_stands_in(own, shape):
    assert not set(own.model_fields) & set(register()[shape].parameters.model_fields)


@pytest.mark.parametrize("shape", register())
def test_every_key_of_a_shape_says_what_it_is(shape):
    for note in describe(register()[shape].parameters):
        assert note.meaning and not note.meaning.endswith(".")
        assert note.kind in ("table", "choice", "yes or no", "text", "list") or (
            note.least is not None and note.most is not None
        ), note
        if isinstance(note.default, int | float) and note.least is not None and note.most is not None:
            assert note.least <= note.default <= note.most, note


def toml(value):
    """A value as TOML; tables inline."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {toml(inner)}" for key, inner in value.items()) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(toml(inner) for inner in value) + "]"
    return json.dumps(value, ensure_ascii=False)


@pytest.mark.parametrize("shape", register())
def test_every_sample_of_a_shape_reads_from_a_file_as_it_does_from_python(shape, tmp_path):
    entry = register()[shape]
    assert entry.samples
    for sample in entry.samples:
        rows = "\n".join(f"{key} = {toml(value)}" for key, value in sample.items())
        path = tmp_path / "sample.toml"
        path.write_text(
            f'units = "mm"\n[mix]\nwet_density = 600\n[[piece]]\nshape = "{shape}"\n{rows}\n',
            encoding="utf-8",
        )
        data = {key: list(value) if isinstance(value, tuple) else value for key, value in sample.items()}
        expected = entry.parameters.model_validate(data, context={"units": "mm"})
        assert read_project(path).orders[0].parameters == expected
        made = tomllib.loads(path.read_text(encoding="utf-8"))
        assert Draft202012Validator(schema.project_schema()).is_valid(made)
