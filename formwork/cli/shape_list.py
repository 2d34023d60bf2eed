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
    keys = [_section(shape, units) for shape in chosen]
    cast = [shape for shape in chosen if "embed" in shape.parameters.model_fields]
    return print_out([*keys, *(_cast_in(shape, units) for shape in cast[:1])], width)


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
    rows = [(note.key, *_told(note, units)) for note in describe(shape.parameters) if "." not in note.key]
    blocks: list[Block] = [
        Line(f"{shape.summary}. Built as: {', '.join(shape.methods)}."),
        table(("key", *_HEADINGS), rows),
    ]
    return Section(shape.name, tuple(blocks), shape.name)


def _cast_in(shape: Shape, units: UnitSystem) -> Section:
    """The keys of things that stay in a piece, which are the same for every shape: one row for each key of a kind."""
    rows: list[tuple[str, ...]] = []
    kind = ""
    for note in describe(shape.parameters):
        key = note.key.rpartition(".")[2]
        if key == note.key:
            continue
        if key == "kind":
            kind = note.range_text(units)
            rows.append((f'kind = "{kind}"', "", "", note.meaning))
        else:
            rows.append((f"  {key}", *_told(note, units)))
    about = Line(
        "Things that stay in a piece, each in a table [[piece.embed]] below its piece, with its kind."
    )
    return Section("embed", (about, table(("key", *_HEADINGS), rows)), "embed")


def _told(note: FieldNote, units: UnitSystem) -> tuple[str, str, str]:
    """What may stand there, what holds without it, and what it means."""
    allowed = "tables, see embed" if note.kind == "table" else note.range_text(units) or note.kind
    default = "must be given" if note.required else note.default_text(units)
    return allowed, "none" if default == "()" else default, note.meaning
