"""Entering in the log, and reading what holds: the last entry of each thing that was not struck out."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from datetime import datetime

from formwork.errors import RangeError
from formwork.pour.log.file import Log, damaged, troubles, writing
from formwork.pour.log.kinds import KINDS, EntryKind, Value, Values, plain_text
from formwork.record import record

_LAST = "(SELECT max(n.id) FROM entry n WHERE n.thing = o.id)"


@record
class Entry:
    """One entry, or what holds of a thing.

    Attributes:
        number: of the thing: it stays the same through corrections.
        entry: of the entry itself.
        kind: name of the kind.
        at: time, ISO 8601.
        belongs: number of the thing it belongs to; None where to none.
        values: SI, by column; empty where it was struck out.
        note: of the person; empty where there is none.
        struck: it was struck out.
    """

    number: int
    entry: int
    kind: str
    at: str
    belongs: int | None
    values: dict[str, Value]
    note: str
    struck: bool = False

    def number_of(self, column: str) -> float:
        """A column's number; 0 where it stands empty.

        Args:
            column: of the kind.
        """
        value = self.values.get(column)
        return float(value) if isinstance(value, int | float) else 0.0

    def text_of(self, column: str) -> str:
        """A column's text; empty where it stands empty.

        Args:
            column: of the kind.
        """
        value = self.values.get(column)
        return value if isinstance(value, str) else ""


def enter(
    log: Log, kind: str, values: Values, at: str, *, belongs: int | None = None, note: str = ""
) -> Entry:
    """Add a thing to the log; when this returns, it is on the disk.

    Args:
        log: open to be written.
        kind: name of its kind.
        values: SI, by column; what is left out takes its default.
        at: time, ISO 8601.
        belongs: number of the thing it belongs to; None for the last one of that kind.
        note: of the person.

    Raises:
        RangeError: for values that cannot be, or a thing that is not in the log.
        OutputError: if it cannot be written.
    """
    sort = KINDS[kind]
    checked, at, note = sort.check(values), _time(at), _note(note)
    with writing(log) as connection:
        owner = _owner(log, sort, belongs)
        number = _next(connection)
        connection.execute(
            "INSERT INTO entry (id, at, kind, thing, note) VALUES (?, ?, ?, ?, ?)",
            (number, at, kind, number, note or None),
        )
        _insert(connection, sort, number, owner, checked)
    return Entry(number, number, kind, at, owner, checked, note)


def correct_entry(
    log: Log, number: int, values: Values, at: str, *, kind: str | None = None, note: str = ""
) -> Entry:
    """Add a corrected entry of a thing: what is given replaces what held, the rest goes on; the old one is kept.

    Args:
        log: open to be written.
        number: of the thing.
        values: SI, by column, those to change.
        at: time, ISO 8601.
        kind: name of the kind it is expected to be; None for any.
        note: of the person.

    Raises:
        RangeError: for values that cannot be, or a thing that is not in the log.
        OutputError: if it cannot be written.
    """
    at, note = _time(at), _note(note)
    with writing(log) as connection:
        held = current(log, number)
        if kind is not None and held.kind != kind:
            raise RangeError(f"number {number} is a {held.kind}, and not a {kind}")
        sort = KINDS[held.kind]
        columns = {field.column for field in sort.fields}
        checked = sort.check({**{key: held.values[key] for key in columns}, **values})
        entry = _next(connection)
        connection.execute(
            "INSERT INTO entry (id, at, kind, thing, note) VALUES (?, ?, ?, ?, ?)",
            (entry, at, held.kind, number, note or None),
        )
        _insert(connection, sort, entry, held.belongs, checked)
    return Entry(number, entry, held.kind, at, held.belongs, checked, note)


def strike(log: Log, number: int, at: str, note: str) -> None:
    """Strike out a thing entered by mistake: it no longer counts, and is still there to be seen.

    Args:
        log: open to be written.
        number: of the thing.
        at: time, ISO 8601.
        note: why.

    Raises:
        RangeError: for a thing that is not in the log, or no reason.
        OutputError: if it cannot be written.
    """
    at, note = _time(at), plain_text("why", note)
    with writing(log) as connection:
        held = current(log, number)
        connection.execute(
            "INSERT INTO entry (id, at, kind, thing, struck, note) VALUES (?, ?, ?, ?, 1, ?)",
            (_next(connection), at, held.kind, number, note),
        )


def current(log: Log, number: int) -> Entry:
    """What holds of a thing.

    Args:
        log: open.
        number: of the thing.

    Raises:
        RangeError: if there is none, or it was struck out.
    """
    last = history(log, number)[-1]
    if last.struck:
        raise RangeError(f"number {number} was struck out: {last.note}")
    return last


def history(log: Log, number: int) -> tuple[Entry, ...]:
    """Every entry of a thing, the first one first.

    Args:
        log: open.
        number: of the thing.

    Raises:
        RangeError: if there is none.
    """
    with troubles(log.path):
        rows = log.connection.execute(
            "SELECT id, at, kind, struck, note FROM entry WHERE thing = ? ORDER BY id", (number,)
        ).fetchall()
        if not rows:
            raise RangeError(f"number {number}: there is none in {log.path}")
        return tuple(_entry(log, number, *row) for row in rows)


def things(log: Log, kind: str, belongs: int | None = None) -> tuple[Entry, ...]:
    """What holds of all things of a kind, in the order in which they were first entered.

    Args:
        log: open.
        kind: name of the kind.
        belongs: number of the thing that they belong to; None for all.
    """
    return tuple(reversed(tuple(latest(log, kind, belongs))))


def latest(log: Log, kind: str, belongs: int | None = None) -> Iterator[Entry]:
    """What holds of the things of a kind, the newest first, read as they are asked for.

    Args:
        log: open.
        kind: name of the kind.
        belongs: number of the thing that they belong to; None for all.
    """
    sort = KINDS[kind]
    query = (
        f"SELECT o.id, e.id, e.at, e.note, d.* FROM entry o JOIN entry e ON e.id = {_LAST} "
        f"JOIN {kind} d ON d.id = e.id WHERE o.kind = '{kind}' AND o.thing = o.id ORDER BY o.id DESC"
        if belongs is None
        else f"SELECT e.thing, e.id, e.at, e.note, d.* FROM {kind} d JOIN entry e ON e.id = d.id "
        f"WHERE d.{sort.belongs} = ? AND NOT EXISTS (SELECT 1 FROM entry n WHERE n.thing = e.thing AND n.id > e.id) "
        "ORDER BY e.thing DESC"
    )
    with troubles(log.path):
        rows = log.connection.execute(query, () if belongs is None else (belongs,))
        names = [column[0] for column in rows.description][5:]
        for thing, entry, at, note, _, *cells in rows:
            values = dict(zip(names, cells, strict=True))
            owner = values.pop(sort.belongs) if sort.belongs else None
            yield Entry(thing, entry, kind, at, owner, values, note or "")


def last(log: Log, kind: str) -> Entry | None:
    """The newest thing of a kind that holds; None where there is none.

    Args:
        log: open.
        kind: name of the kind.
    """
    return next(latest(log, kind), None)


def as_before(log: Log, kind: str, values: Values) -> dict[str, Value]:
    """The values with what is left out taken from the last entry of the kind, where that is usual (tare and cup).

    Args:
        log: open.
        kind: name of the kind.
        values: SI, by column.
    """
    before = last(log, kind)
    usual = [field.column for field in KINDS[kind].fields if field.as_before and before is not None]
    taken = {column: before.values[column] for column in usual if before is not None}
    return {**taken, **values}


def _entry(log: Log, number: int, entry: int, at: str, kind: str, struck: int, note: str | None) -> Entry:
    if struck:
        return Entry(number, entry, kind, at, None, {}, note or "", struck=True)
    rows = log.connection.execute(f"SELECT * FROM {kind} WHERE id = ?", (entry,))
    names = [column[0] for column in rows.description][1:]
    row = rows.fetchone()
    if row is None:
        raise damaged(log.path, f"entry {entry} says nothing")
    values = dict(zip(names, row[1:], strict=True))
    belongs = KINDS[kind].belongs
    return Entry(number, entry, kind, at, values.pop(belongs) if belongs else None, values, note or "")


def _owner(log: Log, sort: EntryKind, belongs: int | None) -> int | None:
    """The number of the thing that an entry belongs to.

    Raises:
        RangeError: if there is none, or it is of another kind.
    """
    if sort.belongs is None:
        return None
    if belongs is None:
        newest = last(log, sort.belongs)
        if newest is None:
            raise RangeError(f"{sort.name}: want a {sort.belongs} first, there is none in {log.path}")
        return newest.number
    owner = current(log, belongs)
    if owner.kind != sort.belongs:
        raise RangeError(
            f"{sort.name}: got number {belongs}, a {owner.kind}, want the number of a {sort.belongs}"
        )
    return belongs


def _next(connection: sqlite3.Connection) -> int:
    """The next number; nobody else can take it while the transaction is open."""
    return int(connection.execute("SELECT coalesce(max(id), 0) + 1 FROM entry").fetchone()[0])


def _insert(
    connection: sqlite3.Connection, sort: EntryKind, entry: int, owner: int | None, values: Values
) -> None:
    columns = ["id", *([sort.belongs] if sort.belongs else []), *values]
    cells = [entry, *([owner] if sort.belongs else []), *values.values()]
    marks = ", ".join("?" for _ in columns)
    connection.execute(f"INSERT INTO {sort.name} ({', '.join(columns)}) VALUES ({marks})", cells)


def _time(at: str) -> str:
    """A time, as it is kept.

    Raises:
        RangeError: if it is none.
    """
    try:
        return datetime.fromisoformat(at).isoformat(timespec="seconds")
    except ValueError:
        raise RangeError(f"time: got {at!r}, want one such as 2026-11-25T14:00") from None


def _note(note: str) -> str:
    return plain_text("note", note) if note.strip() else ""
