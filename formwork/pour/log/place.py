"""A file or folder takes its name when all of it is on the disk, and never from another."""

from __future__ import annotations

import os
from pathlib import Path

from formwork.errors import OutputError


def refuse_existing(path: Path) -> None:
    """Refuse to write over what is there.

    Args:
        path: to be written.

    Raises:
        OutputError: if it exists.
    """
    if path.exists() or path.is_symlink():
        raise OutputError(f"{path} exists and is left as it is; name another")


def partial_of(target: Path) -> Path:
    """The name under which something is written until it is complete; no other process uses the same.

    Args:
        target: its name then.
    """
    return target.with_name(f"{target.name}.{os.getpid()}.partial")


def settle(partial: Path, target: Path) -> None:
    """Give a complete file or folder its name, once all of it is on the disk.

    Args:
        partial: written in full.
        target: its name from now on.

    Raises:
        OutputError: if that name has been taken meanwhile, or it cannot be written.
    """
    try:
        for part in [partial, *partial.rglob("*")] if partial.is_dir() else [partial]:
            _on_disk(part)
        _name(partial, target)
        _on_disk(target.parent)
    except FileExistsError as error:
        raise OutputError(f"{target} exists and is left as it is; name another") from error
    except OSError as error:
        if isinstance(error, OutputError):
            raise
        raise OutputError(f"cannot write {target}: {(error.strerror or str(error)).lower()}") from error


def _name(partial: Path, target: Path) -> None:
    """Rename without ever taking the place of a file, also when another process is as quick."""
    if partial.is_file():
        try:
            os.link(partial, target)
        except FileExistsError:
            raise
        except OSError:
            refuse_existing(target)
        else:
            partial.unlink()
            return
    else:
        refuse_existing(target)
    partial.rename(target)


def _on_disk(path: Path) -> None:
    """See that a file, or the list of a folder, is on the disk; some systems open no folders, and need it not."""
    try:
        handle = os.open(path, os.O_RDONLY)
    except OSError:
        if path.is_dir():
            return
        raise
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def remove(path: Path) -> None:
    """Remove a log that is not to be, with what SQLite keeps beside it.

    Args:
        path: of its file.
    """
    for suffix in ("", "-wal", "-shm", "-journal"):
        path.with_name(path.name + suffix).unlink(missing_ok=True)
