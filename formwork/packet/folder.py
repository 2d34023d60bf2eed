"""A folder written whole or not at all.

Everything is first written to a new folder beside the old one; only when that is complete do two renames put it in
the old one's place. Whatever fails before leaves the old folder as it was. ``contents.csv`` in the folder names what
was written, so that a later run knows its own files from a person's: its own are replaced, a person's are kept, and a
folder that holds files but no ``contents.csv`` is refused.
"""

from __future__ import annotations

import csv
import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from glob import escape
from pathlib import Path

from formwork.errors import OutputError

CONTENTS = "contents.csv"
_HEADINGS = ["file", "what it is"]
_ENDING = "-in-writing"

Listing = tuple[tuple[str, str], ...]
"""Files of a folder, by their path in it, each with a line of what it is."""


def write_folder(folder: Path, fill: Callable[[Path], Listing]) -> tuple[str, ...]:
    """Fill a new folder and put it in the place of ``folder``.

    Args:
        folder: where it shall stand; missing parents are made.
        fill: writes every file below the folder it is given, and says which.

    Returns:
        A person's own files that stood there and were kept, by their path in the folder.

    Raises:
        OutputError: if the place cannot be written to, or is not ours to replace; what stood there is untouched.
    """
    target = _resolved(folder)
    try:
        _refuse_unusable(target)
        target.parent.mkdir(parents=True, exist_ok=True)
        _bring_back(target)
        theirs = _kept_files(target)
        with _workplace(target) as place:
            fresh = place / "new"
            fresh.mkdir()
            listing = fill(fresh)
            _write_contents(fresh, listing)
            _carry_over(theirs, target, fresh)
            _swap(fresh, target, place / "old")
    except OutputError:
        raise
    except OSError as error:
        raise OutputError(f"cannot write {folder}: {_reason(error)}; nothing there was changed") from error
    return theirs


def _resolved(folder: Path) -> Path:
    try:
        return folder.resolve()
    except (OSError, RuntimeError) as error:
        raise OutputError(f"cannot write {folder}: its links lead round in a circle") from error


def _reason(error: OSError) -> str:
    """What the system says, with the file it says it of."""
    said = (error.strerror or str(error)).lower()
    return f"{said} ({error.filename})" if error.filename else said


def _refuse_unusable(target: Path) -> None:
    """Refuse a file, and a folder that cannot be renamed because something stands in it.

    Raises:
        OutputError: saying which.
    """
    if target.exists() and not target.is_dir():
        raise OutputError(f"{target} is a file; name a folder for the packet")
    here = Path.cwd().resolve()
    if target == here or target in here.parents:
        raise OutputError(
            f"{target} is the folder you are in, or one above it; name a new folder for the packet"
        )
    if target.is_mount():
        raise OutputError(f"{target} is a whole drive; name a folder on it")


def _bring_back(target: Path) -> None:
    """Put an older packet back that a run, stopped between its two renames, left aside."""
    if target.exists():
        return
    for place in sorted(target.parent.glob(f".{escape(target.name)}-*{_ENDING}")):
        if (place / "old").is_dir():
            (place / "old").rename(target)
            shutil.rmtree(place, ignore_errors=True)
            return


def _kept_files(target: Path) -> tuple[str, ...]:
    """A person's own files in an older packet.

    Raises:
        OutputError: if the folder holds files and is no packet.
    """
    if not target.is_dir():
        return ()
    found = sorted(path for path in target.rglob("*") if path.is_symlink() or not path.is_dir())
    names = [path.relative_to(target).as_posix() for path in found]
    if not names:
        return ()
    ours = _read_contents(target / CONTENTS)
    if ours is None:
        some = ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")
        raise OutputError(
            f"{target} holds files that are not of a packet ({some}); name another folder, so that none is lost"
        )
    return tuple(name for name in names if name not in ours and name != CONTENTS)


def _read_contents(path: Path) -> frozenset[str] | None:
    """The files that an older packet names as its own; None where this is no packet."""
    try:
        with path.open(encoding="utf-8", newline="") as file:
            rows = list(csv.reader(file))
    except (OSError, UnicodeDecodeError, csv.Error):
        return None
    if not rows or rows[0] != _HEADINGS:
        return None
    return frozenset(row[0] for row in rows[1:] if row)


def _write_contents(folder: Path, listing: Listing) -> None:
    with (folder / CONTENTS).open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows([_HEADINGS, *listing])


def _carry_over(theirs: tuple[str, ...], target: Path, fresh: Path) -> None:
    """Copy a person's own files into the new packet.

    Raises:
        OutputError: if one bears the name of a file that the packet now writes.
    """
    for name in theirs:
        copy = fresh / name
        if copy.exists():
            raise OutputError(
                f"{target / name} is not of this packet, but the packet now has a file of that name"
            )
        try:
            copy.parent.mkdir(parents=True, exist_ok=True)
        except FileExistsError as error:
            raise OutputError(f"{target / name} stands where the packet now has a file") from error
        shutil.copy2(target / name, copy, follow_symlinks=False)


@contextmanager
def _workplace(target: Path) -> Iterator[Path]:
    """A new folder beside the target, on the same drive, taken away afterwards."""
    place = Path(tempfile.mkdtemp(prefix=f".{target.name}-", suffix=_ENDING, dir=target.parent))
    try:
        yield place
    finally:
        shutil.rmtree(place, ignore_errors=True)


def _swap(fresh: Path, target: Path, old: Path) -> None:
    """Two renames; where the second fails, the first is taken back."""
    if not target.exists():
        fresh.rename(target)
        return
    target.rename(old)
    try:
        fresh.rename(target)
    except OSError:
        old.rename(target)
        raise
