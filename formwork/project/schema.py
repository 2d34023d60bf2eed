"""JSON Schemas of the project file and the shop file, so that editors complete keys and mark mistakes.

``python -m formwork.project.schema`` writes both into ``templates/`` of a checkout; a test holds them current. A
schema knows kinds, choices and whole-number ranges. It cannot know the range of a size, which may be in any unit:
that stands in the key's description, and the program checks it.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from formwork.project.shop_tables import LengthTable, OwnedMoldTable, ShopTable
from formwork.project.tables import BaggedTable, CellularTable, OrdinaryTable, PieceTable, ProjectTable
from formwork.shapes.register import register
from formwork.units.notes import FieldNote, inner_models, note_of

DRAFT = "https://json-schema.org/draft/2020-12/schema"
Schema = dict[str, Any]


def project_schema() -> Schema:
    """The schema of a project file, the keys of every shape included."""
    definitions: Schema = {}
    body = _table(ProjectTable, definitions)
    mixes = [_table(model, definitions) for model in (CellularTable, OrdinaryTable, BaggedTable)]
    for mix in mixes[1:]:
        mix["required"] = ["kind", *(key for key in mix["required"] if key != "kind")]
    body["properties"]["mix"] = {"description": "the mix", "oneOf": mixes}
    pieces = [_shaped(PieceTable, name, definitions) for name in register()]
    body["properties"]["piece"] = {
        "description": "pieces to cast",
        "type": "array",
        "minItems": 1,
        "items": {"oneOf": pieces},
    }
    body["required"] = ["piece"]
    return _document("A project: what to cast, of what mix, in which molds", body, definitions)


def shop_schema() -> Schema:
    """The schema of a shop file, the keys of every shape included for molds already owned."""
    definitions: Schema = {}
    body = _table(ShopTable, definitions)
    molds = [_shaped(OwnedMoldTable, name, definitions) for name, shape in register().items() if shape.casts]
    body["properties"]["owned_mold"] = {
        "description": "molds the shop has already",
        "type": "array",
        "items": {"oneOf": molds},
    }
    length = definitions[LengthTable.__name__]
    definitions[LengthTable.__name__] = {"anyOf": [length["properties"]["length"], length]}
    return _document("A shop: what it owns and how it works", body, definitions)


def text(schema: Schema) -> str:
    """A schema as it stands in its file.

    Args:
        schema: what ``project_schema`` or ``shop_schema`` gives.
    """
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def write(folder: Path) -> None:
    """Write both schemas.

    Args:
        folder: where to; ``templates/`` of a checkout.
    """
    for name, schema in (("project", project_schema()), ("shop", shop_schema())):
        (folder / f"{name}.schema.json").write_text(text(schema), encoding="utf-8", newline="\n")


def _document(title: str, body: Schema, definitions: Schema) -> Schema:
    return {
        "$schema": DRAFT,
        **body,
        "title": title,
        "description": title,
        "$defs": dict(sorted(definitions.items())),
    }


def _table(model: type[BaseModel], definitions: Schema) -> Schema:
    """The schema of one table, with the tables inside it among the definitions."""
    schema = model.model_json_schema()
    inner = schema.pop("$defs", {})
    for part in _models_inside(model):
        definitions[part.__name__] = _tidy(inner[part.__name__], part)
    return _tidy(schema, model)


def _models_inside(model: type[BaseModel]) -> tuple[type[BaseModel], ...]:
    parts = [part for field in model.model_fields.values() for part in inner_models(field.annotation)]
    return tuple(dict.fromkeys(each for part in parts for each in (part, *_models_inside(part))))


def _shaped(model: type[BaseModel], shape: str, definitions: Schema) -> Schema:
    """A table whose other keys are those of its shape."""
    own = _table(model, definitions)
    parameters = _table(register()[shape].parameters, definitions)
    own["title"] = shape
    own["description"] = register()[shape].summary
    own["properties"] |= {"shape": {"const": shape}} | parameters["properties"]
    own["required"] = [*own.get("required", ()), *parameters.get("required", ())]
    return own


def _tidy(schema: Schema, model: type[BaseModel]) -> Schema:
    keys = {
        key: _key(inner, note_of(key, model.model_fields[key])) for key, inner in schema["properties"].items()
    }
    about = (model.__doc__ or "").strip().splitlines()[0].replace("``", "")
    rest = {key: inner for key, inner in schema.items() if key not in ("title", "properties")}
    return {**rest, "description": about, "properties": keys}


def _key(schema: Schema, note: FieldNote) -> Schema:
    """One key: its meaning with its range, without what only Python knows (titles, SI defaults, null)."""
    ranges = list(dict.fromkeys((note.range_text("in"), note.range_text("mm"))))
    known = "" if note.choices or not ranges[0] else f" [{', '.join(ranges)}]"
    return {**_plain(schema), "description": f"{note.meaning}{known}"}


def _plain(schema: Any) -> Any:
    if isinstance(schema, list):
        return [_plain(inner) for inner in schema]
    if not isinstance(schema, dict):
        return schema
    kept = {
        key: _plain(inner)
        for key, inner in schema.items()
        if key not in ("title", "default", "discriminator")
    }
    members = [each for each in kept.get("anyOf", []) if each != {"type": "null"}]
    if len(members) == 1:
        kept.pop("anyOf")
        return {**members[0], **kept}
    return {**kept, "anyOf": members} if members else kept


if __name__ == "__main__":
    write(Path(__file__).resolve().parents[2] / "templates")
