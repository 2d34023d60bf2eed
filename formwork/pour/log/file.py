"""The file of the log: made, opened, brought up to date, copied, and its troubles said plainly.

SQLite in WAL mode with synchronous=FULL: what was acknowledged stands on the disk, whatever ends the process; two
people may write at once, one after the other. WAL does not work over a network share: keep the file on the machine.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from urllib.parse import quote

from formwork.errors import Fault, InputError, OutputError
from formwork.pour.log.place import partial_of, refuse_existing, remove, settle
from formwork.pour.log.schema import APPLICATION, MIGRATIONS, VERSION, statements
from formwork.record import record

PATIENCE = 5.0
"""Seconds to wait for another writer."""
_MAGIC = b"SQLite format 3\0"


@record
class Log:
    """An open log.

    Attributes:
        path: of its file.
        connection: to it; transactions are begun and ended by ``writing`` alone.
        writable: rows can be added.
    """

    path: Path
    connection: sqlite3.Connection
    writable: bool


def create(path: Path) -> None:
    """Make a new log; never over a file that exists.

    Args:
        path: of the file.

    Raises:
        OutputError: if it exists or cannot be written.
    """
    make(path, MIGRATIONS)


def make(path: Path, scripts: tuple[str, ...]) -> None:
    """Make a log of some version; never over a file that exists.

    Args:
        path: of the file.
        scripts: the first ones of ``MIGRATIONS``.

    Raises:
        OutputError: if it exists or cannot be written.
    """
    refuse_existing(path)
    partial = partial_of(path)
    try:
        remove(partial)
        partial.open("xb").close()
        with troubles(path), closing(_connect(partial, "rw", PATIENCE)) as connection:
            _set_up(connection, path)
            connection.execute("BEGIN IMMEDIATE")
            connection.execute(f"PRAGMA application_id={APPLICATION}")
            _run(connection, scripts, len(scripts))
        settle(partial, path)
    except BaseException as error:
        with suppress(OSError):
            remove(partial)
        if isinstance(error, OSError) and not isinstance(error, OutputError):
            raise OutputError(f"cannot write {path}: {(error.strerror or str(error)).lower()}") from error
        raise


@contextmanager
def opened(
    path: Path, *, write: bool = False, patience: float = PATIENCE, update: bool = True
) -> Iterator[Log]:
    """The log of a file, brought up to date, closed at the end.

    Args:
        path: of the file.
        write: rows are to be added; without it a log that cannot be written is opened all the same, to be read.
        patience: seconds to wait for another writer.
        update: bring a log of an older version up to date.

    Raises:
        InputError: if it is no log, damaged, or of a newer version.
        OutputError: if it cannot be written, is busy, or the disk is full.
    """
    _refuse_stranger(path)
    with troubles(path):
        connection, writable = _open(path, write, patience)
        with closing(connection):
            version = _version(connection, path)
            if writable:
                _set_up(connection, path)
            if version < VERSION and update:
                if not writable:
                    raise OutputError(
                        f"{path} is of an older version ({version}) and cannot be written here; open it once where it "
                        "can, and it is brought up to date"
                    )
                _update(connection, path)
            yield Log(path, connection, writable)


@contextmanager
def writing(log: Log) -> Iterator[sqlite3.Connection]:
    """One transaction: all of it is on the disk when it ends, or nothing of it is.

    Args:
        log: open to be written.

    Raises:
        OutputError: if it cannot be written, is busy, or the disk is full; nothing was entered then.
    """
    with troubles(log.path):
        log.connection.execute("BEGIN IMMEDIATE")
        try:
            yield log.connection
            log.connection.execute("COMMIT")
        except BaseException:
            if log.connection.in_transaction:
                log.connection.execute("ROLLBACK")
            raise


def back_up(log: Log, target: Path) -> None:
    """Write a copy of the log as it stands at one moment, while others may be writing to it.

    Args:
        log: open.
        target: file to write; never over one that exists.

    Raises:
        OutputError: if it exists or cannot be written; nothing is left of it then.
    """
    refuse_existing(target)
    partial = partial_of(target)
    try:
        with troubles(target):
            remove(partial)
            log.connection.execute("VACUUM INTO ?", (str(partial),))
            settle(partial, target)
    except BaseException:
        with suppress(OSError):
            remove(partial)
        raise


def damage(log: Log) -> tuple[str, ...]:
    """What is wrong inside the file; empty where all is well. Reads the whole of it.

    Args:
        log: open.
    """
    try:
        found = [str(row[0]) for row in log.connection.execute("PRAGMA integrity_check(20)")]
        found += [
            f"row {row[1]} of {row[0]} belongs to nothing"
            for row in log.connection.execute("PRAGMA foreign_key_check")
        ]
    except (sqlite3.DatabaseError, UnicodeDecodeError) as error:
        return (str(error),)
    return tuple(line for line in found if line != "ok")


@contextmanager
def troubles(path: Path) -> Iterator[None]:
    """Say in plain words what the database says of a file.

    Args:
        path: of the file.

    Raises:
        InputError: if it is damaged or no log.
        OutputError: if it cannot be written, is busy, or the disk is full.
    """
    try:
        yield
    except sqlite3.Error as error:
        raise _plainly(path, error) from error
    except UnicodeDecodeError as error:
        raise damaged(path, "letters that are none") from error


def damaged(path: Path, what: str) -> InputError:
    """The error of a damaged log.

    Args:
        path: of the file.
        what: what was found in it.
    """
    hint = "leave it as it is and go on with the last backup; formwork log check says more"
    return _wrong(path, f"a damaged file ({what})", "a log that is whole", hint)


def _refuse_stranger(path: Path) -> None:
    """Refuse what is no SQLite file, before SQLite is let near it.

    Raises:
        InputError: saying what it is.
    """
    try:
        with path.open("rb") as file:
            start = file.read(len(_MAGIC))
    except FileNotFoundError:
        raise _wrong(path, "no such file", "a log", "make one: formwork log start") from None
    except OSError as error:
        raise _wrong(path, (error.strerror or str(error)).lower(), "a log that can be read", "") from None
    if start != _MAGIC:
        hint = (
            "the last backup has what it had"
            if start
            else "nothing is in it: remove it, then: formwork log start"
        )
        raise _wrong(path, "a file that is no log, or a damaged one", "a log", hint)


def _open(path: Path, write: bool, patience: float) -> tuple[sqlite3.Connection, bool]:
    """A connection, and whether rows can be added through it.

    Raises:
        sqlite3.Error: if it cannot be opened.
    """
    if os.access(path, os.W_OK) and os.access(path.parent, os.W_OK):
        return _connect(path, "rw", patience), True
    if write:
        raise OutputError(
            f"{path} cannot be written: the file or its folder is read-only; nothing was entered, what is in it "
            "is whole"
        )
    return _read_only(path, patience), False


def _read_only(path: Path, patience: float) -> sqlite3.Connection:
    """A connection to a log in a folder that nothing may be written to.

    Raises:
        OutputError: where rows wait beside the file that cannot be read without writing.
    """
    waiting = path.with_name(f"{path.name}-wal")
    if not waiting.exists():
        return _connect(path, "ro&immutable=1", patience)
    connection = _connect(path, "ro", patience)
    try:
        connection.execute("SELECT count(*) FROM sqlite_schema")
    except sqlite3.OperationalError as error:
        connection.close()
        raise OutputError(
            f"{path}: rows wait in {waiting.name} that can only be read where the folder can be written; copy both "
            "files to such a folder and open it there"
        ) from error
    return connection


def _connect(path: Path, mode: str, patience: float) -> sqlite3.Connection:
    place = f"file:{quote(str(path.absolute()))}?mode={mode}"
    connection = sqlite3.connect(place, uri=True, isolation_level=None, timeout=patience)
    connection.execute("PRAGMA foreign_keys=ON")
    connection.execute("PRAGMA trusted_schema=OFF")
    return connection


def _set_up(connection: sqlite3.Connection, path: Path) -> None:
    """Write-ahead log, and every commit on the disk before it is acknowledged.

    Raises:
        OutputError: where the file system does not allow it.
    """
    connection.execute("PRAGMA synchronous=FULL")
    mode = connection.execute("PRAGMA journal_mode=WAL").fetchone()[0]
    if mode != "wal":
        raise OutputError(
            f"{path} cannot be kept safe here (a network share?): keep it on a disk of this machine"
        )


def _version(connection: sqlite3.Connection, path: Path) -> int:
    """The version of a log.

    Raises:
        InputError: if it is no log of ours, or of a newer version.
    """
    application = connection.execute("PRAGMA application_id").fetchone()[0]
    version = int(connection.execute("PRAGMA user_version").fetchone()[0])
    if application != APPLICATION:
        raise _wrong(path, "a database of another program", "a log", "make one: formwork log start")
    if version > VERSION:
        hint = "use a newer formwork; nothing in the file was touched"
        raise _wrong(path, f"a log of version {version}", f"version {VERSION} or older", hint)
    return version


def _update(connection: sqlite3.Connection, path: Path) -> None:
    """Bring a log up to date, in one transaction: another that did it meanwhile is noticed."""
    connection.execute("BEGIN IMMEDIATE")
    version = _version(connection, path)
    _run(connection, MIGRATIONS[version:], VERSION)


def _run(connection: sqlite3.Connection, scripts: tuple[str, ...], version: int) -> None:
    """Run scripts inside the transaction that is open, and commit with the version they make."""
    try:
        for script in scripts:
            for statement in statements(script):
                connection.execute(statement)
        connection.execute(f"PRAGMA user_version={version}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _plainly(path: Path, error: sqlite3.Error) -> InputError | OutputError:
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    kept = "nothing was entered, what was there before is whole"
    match code:
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED:
            return OutputError(f"{path}: another one is writing to it; {kept}: try again")
        case sqlite3.SQLITE_FULL:
            return OutputError(f"{path}: the disk is full; {kept}")
        case sqlite3.SQLITE_IOERR:
            return OutputError(f"{path}: the disk takes or gives no more; {kept}")
        case sqlite3.SQLITE_READONLY | sqlite3.SQLITE_CANTOPEN | sqlite3.SQLITE_PERM:
            return OutputError(f"{path} cannot be written: the file or its folder is read-only; {kept}")
        case sqlite3.SQLITE_CONSTRAINT:
            return OutputError(f"{path}: {error}; {kept}")
        case _:
            return damaged(path, str(error))


def _wrong(path: Path, got: str, want: str, hint: str) -> InputError:
    return InputError((Fault(str(path), "", got, want, hint),))
