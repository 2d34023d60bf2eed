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
    if name is None:
        chosen = tuple(known.values())
    elif name in known:
        chosen = (known[name],)
    else:
        raise click.BadParameter(unknown(name, tuple(known)), param_hint="SHAPE")
    keys = [_section(shape, units) for shape in chosen]
    return print_out([*keys, _cast_in(chosen[0], units)], width)


def unknown(name: str, known: tuple[str, ...]) -> str:
    """What to say of a shape that is not there."""
    hint = nearest(name, known)
    return f"got '{name}', want one of {', '.join(known)}" + (f" ({hint})" if hint else "")


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
