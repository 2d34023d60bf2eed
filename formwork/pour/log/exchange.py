"""The log as a folder of CSV files, one a table, and back without loss.

A cell that stands empty is one that holds nothing; a text is never empty, so the two are not mistaken. Numbers are
written with all their digits. ``about.csv`` says which version of the log it is; one of an older version is read too.
"""

from __future__ import annotations

import csv
import shutil
import sqlite3
from collections.abc import Iterator
from pathlib import Path

from formwork.errors import Fault, InputError, OutputError
from formwork.pour.log.file import Log, damage, make, opened, troubles, writing
from formwork.pour.log.kinds import KINDS
from formwork.pour.log.place import partial_of, refuse_existing, remove, settle
from formwork.pour.log.schema import MIGRATIONS, VERSION

ABOUT = "about.csv"


def export(log: Log, folder: Path) -> int:
    """Write the whole log, as it stands at one moment, to a folder of CSV files.

    Args:
        log: open.
        folder: to make; never over one that exists.

    Returns:
        The number of entries written.

    Raises:
        OutputError: if it exists or cannot be written; nothing is left of it then.
    """
    refuse_existing(folder)
    partial = partial_of(folder)
    try:
        shutil.rmtree(partial, ignore_errors=True)
        partial.mkdir()
        with troubles(log.path):
            log.connection.execute("BEGIN")
            try:
                counts = {table: _write(log.connection, table, partial) for table in ("entry", *KINDS)}
            finally:
                log.connection.execute("ROLLBACK")
        _rows_out(partial / ABOUT, ("version", *counts), [(VERSION, *counts.values())])
        settle(partial, folder)
    except BaseException as error:
        shutil.rmtree(partial, ignore_errors=True)
        if isinstance(error, OSError) and not isinstance(error, OutputError):
            raise OutputError(f"cannot write {folder}: {(error.strerror or str(error)).lower()}") from error
        raise
    return counts["entry"]


def import_folder(folder: Path, path: Path) -> int:
    """Make a log from a folder that ``export`` wrote.

    Args:
        folder: of the CSV files.
        path: of the log to make; never over one that exists.

    Returns:
        The number of entries read.

    Raises:
        InputError: naming file and line, if the folder is not whole.
        OutputError: if the log cannot be written; nothing is left of it then.
    """
    refuse_existing(path)
    version, counts = _about(folder)
    partial = partial_of(path)
    try:
        remove(partial)
        make(partial, MIGRATIONS[:version])
        with opened(partial, write=True, update=False) as log:
            _fill(log, folder, counts)
        with opened(partial, write=True):
            pass
        settle(partial, path)
    except BaseException:
        remove(partial)
        raise
    return counts["entry"]


def _write(connection: sqlite3.Connection, table: str, folder: Path) -> int:
    rows = connection.execute(f"SELECT * FROM {table} ORDER BY id")
    names = [column[0] for column in rows.description]
    return _rows_out(folder / f"{table}.csv", names, rows)


def _rows_out(path: Path, names: Iterator[str] | list[str] | tuple[str, ...], rows: object) -> int:
    count = 0
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(names)
        for row in rows:  # type: ignore[attr-defined]
            writer.writerow("" if cell is None else cell for cell in row)
            count += 1
    return count


def _about(folder: Path) -> tuple[int, dict[str, int]]:
    """Version of a folder, and how many rows each table has."""
    rows = list(_rows_in(folder / ABOUT))
    if len(rows) != 1:
        raise _wrong(folder / ABOUT, 0, f"{len(rows)} rows", "one")
    line, cells = rows[0]
    if not all(cell.isdecimal() for cell in cells.values()) or {"version", "entry"} - set(cells):
        raise _wrong(folder / ABOUT, line, ",".join(cells.values()), "the version and whole numbers of rows")
    counts = {name: int(cell) for name, cell in cells.items()}
    version = counts.pop("version")
    if not 1 <= version <= VERSION:
        raise _wrong(
            folder / ABOUT, line, f"version {version}", f"version 1 to {VERSION} (use a newer formwork)"
        )
    return version, counts


def _fill(log: Log, folder: Path, counts: dict[str, int]) -> None:
    """Every row of the folder, in one transaction; what belongs to what is checked at its end."""
    for table in counts:
        if table != "entry" and table not in KINDS:
            raise _wrong(folder / ABOUT, 1, table, f"one of entry, {', '.join(KINDS)}")
    with writing(log) as connection:
        connection.execute("PRAGMA defer_foreign_keys=ON")
        for table in sorted(counts, key=["entry", *KINDS].index):
            read = _read(connection, table, folder / f"{table}.csv")
            if read != counts[table]:
                raise _wrong(folder / f"{table}.csv", 0, f"{read} rows", f"{counts[table]}, as {ABOUT} says")
        found = damage(log)
        if found:
            raise _wrong(folder, 0, found[0], "entries that go together")


def _read(connection: sqlite3.Connection, table: str, path: Path) -> int:
    sorts = {row[1]: (row[2], row[6]) for row in connection.execute(f"PRAGMA table_xinfo({table})")}
    count = 0
    for line, cells in _rows_in(path):
        if set(cells) != set(sorts):
            raise _wrong(path, 1, ",".join(cells), ",".join(sorts))
        names = [name for name in cells if not sorts[name][1]]
        marks = ", ".join("?" for _ in names)
        row = [_value(path, line, name, cells[name], sorts[name][0]) for name in names]
        try:
            connection.execute(f"INSERT INTO {table} ({', '.join(names)}) VALUES ({marks})", row)
        except sqlite3.IntegrityError as error:
            raise _wrong(path, line, str(error), "a row that may stand in the log") from None
        count += 1
    return count


def _value(path: Path, line: int, name: str, cell: str, sort: str) -> float | int | str | None:
    if cell == "":
        return None
    try:
        return float(cell) if sort == "REAL" else int(cell) if sort == "INTEGER" else cell
    except ValueError:
        raise _wrong(path, line, f"{name} {cell!r}", "a number") from None


def _rows_in(path: Path) -> Iterator[tuple[int, dict[str, str]]]:
    """Each row with its line, by the headings.

    Raises:
        InputError: for a file that cannot be read, or a row that does not fit the headings.
    """
    try:
        with path.open(encoding="utf-8", newline="") as file:
            reader = csv.reader(file, strict=True)
            names = next(reader, [])
            for row in reader:
                if len(row) != len(names):
                    raise _wrong(path, reader.line_num, f"{len(row)} cells", f"{len(names)}")
                yield reader.line_num, dict(zip(names, row, strict=True))
    except (csv.Error, UnicodeDecodeError) as error:
        raise _wrong(path, 0, str(error), "a CSV file as the log wrote it") from None
    except OSError as error:
        raise _wrong(
            path, 0, (error.strerror or str(error)).lower(), "a CSV file as the log wrote it"
        ) from None


def _wrong(path: Path, line: int, got: str, want: str) -> InputError:
    return InputError((Fault(f"{path}:{line}" if line else str(path), "", got, want),))
