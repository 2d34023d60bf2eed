"""What ``formwork shapes`` prints: every shape, and every key with its range, default and meaning."""

from __future__ import annotations

import click

from formwork.packet.blocks import Block, Line, Section, table
from formwork.packet.text import WIDTH, print_out
from formwork.shapes.register import register
from formwork.shapes.shape import Shape
from formwork.units.fields import nearest
from formwork.units.notes import FieldNote, describe
from formwork.units.show import UnitSystem

_EMBED = "embed"
_HEADINGS = ("what may stand there", "without it", "meaning")


def shape_list(name: str | None, units: UnitSystem, width: int = WIDTH) -> str:
    """The list as text.

    Args:
        name: one shape only; None for all.
        units: that ranges and defaults are shown in.
        width: columns to keep within.

    Raises:
        click.BadParameter: for a name that is no shape.
    """
    known = register()
    chosen = tuple(known.values()) if name is None else (known[known_name(name, tuple(known))],)
    sections = [_section(shape, units) for shape in chosen]
    casting = [shape for shape in chosen if _EMBED in shape.parameters.model_fields]
    sections += [_cast_in(shape, units) for shape in casting[:1]]
    return print_out(sections, width)


def known_name(typed: str, known: tuple[str, ...]) -> str:
    """The known name that was typed; a name of two words may be typed with a hyphen, which needs no quotes.

    Raises:
        click.BadParameter: for any other.
    """
    for name in (typed, typed.replace("-", " ")):
        if name in known:
            return name
    hint = nearest(typed.replace("-", " "), known)
    message = f"got '{typed}', want one of {', '.join(known)}" + (f" ({hint})" if hint else "")
    raise click.BadParameter(message, param_hint="SHAPE")


def _section(shape: Shape, units: UnitSystem) -> Section:
    """A shape's own keys, then those of the tables below it, but for what all shapes share."""
    blocks: list[Block] = [Line(f"{shape.summary}. Built as: {', '.join(shape.methods)}.")]
    for table_name, notes in _tables(shape):
        if table_name == _EMBED:
            continue
        if table_name:
            blocks.append(
                Line(f"Each {table_name} stands in a table [[piece.{table_name}]] below its piece.")
            )
        blocks.append(table(("key", *_HEADINGS), [(_last(note.key), *_told(note, units)) for note in notes]))
    return Section(shape.name, tuple(blocks), shape.name)


def _tables(shape: Shape) -> list[tuple[str, list[FieldNote]]]:
    """The keys of a shape by the table they stand in; its own under the empty name, first."""
    found: dict[str, list[FieldNote]] = {"": []}
    for note in describe(shape.parameters):
        found.setdefault(note.key.rpartition(".")[0], []).append(note)
    return list(found.items())


def _last(key: str) -> str:
    return key.rpartition(".")[2]


def _cast_in(shape: Shape, units: UnitSystem) -> Section:
    """The keys of things that stay in a piece, the same for every shape: a row for each key of each kind."""
    rows: list[tuple[str, ...]] = []
    for note in dict(_tables(shape))[_EMBED]:
        if _last(note.key) == "kind":
            rows.append((f'kind = "{note.range_text(units)}"', "", "", note.meaning))
        else:
            rows.append((f"  {_last(note.key)}", *_told(note, units)))
    about = Line(
        "Things that stay in a piece, each in a table [[piece.embed]] below its piece, with its kind."
    )
    return Section(_EMBED, (about, table(("key", *_HEADINGS), rows)), _EMBED)


def _told(note: FieldNote, units: UnitSystem) -> tuple[str, str, str]:
    """What may stand there, what holds without it, and what it means."""
    allowed = f"tables, see {note.key}" if note.kind == "table" else note.range_text(units) or note.kind
    default = "must be given" if note.required else note.default_text(units)
    return allowed, "none" if default == "()" else default, note.meaning
