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
            if part.is_file():
                with part.open("rb") as file:
                    os.fsync(file.fileno())
        refuse_existing(target)
        partial.rename(target)
    except OSError as error:
        if isinstance(error, OutputError):
            raise
        raise OutputError(f"cannot write {target}: {(error.strerror or str(error)).lower()}") from error


def remove(path: Path) -> None:
    """Remove a log that is not to be, with what SQLite keeps beside it.

    Args:
        path: of its file.
    """
    for suffix in ("", "-wal", "-shm", "-journal"):
        path.with_name(path.name + suffix).unlink(missing_ok=True)
