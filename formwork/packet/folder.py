"""A folder written whole or not at all.

Everything is first written to a new folder beside the old one; only when that is complete do two renames put it in
the old one's place. Whatever fails before leaves the old folder as it was. ``contents.csv`` in the folder names what
was written, so that a later run knows its own files from a person's: its own are replaced, a person's are kept, and a
folder that holds files but no ``contents.csv`` is refused. It also says what each file held when it was written and
what it was made from, so that a later run knows which of them are as they should be.
"""

from __future__ import annotations

import csv
import shutil
import tempfile
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from glob import escape
from hashlib import sha256
from itertools import count
from pathlib import Path, PurePosixPath

from formwork.errors import OutputError
from formwork.record import record

CONTENTS = "contents.csv"
_HEADINGS = ["file", "what it is", "content (sha-256)", "made from"]
_ENDING = "-in-writing"


@record
class Listed:
    """A file of a folder.

    Attributes:
        name: its path in the folder.
        about: a line of what it is.
        content: key of what it held when it was written; empty where that is not known.
        key: of what it was made from; empty where that is not known.
    """

    name: str
    about: str
    content: str = ""
    key: str = ""


Listing = tuple[Listed, ...]


def content_key(data: bytes) -> str:
    """The key of a file's content."""
    return sha256(data).hexdigest()


def known(folder: Path) -> dict[str, Listed]:
    """The files that an older packet names as its own, by name; none where none stands there."""
    target = _resolved(folder)
    try:
        _bring_back(target)
    except OSError:
        return {}
    return _read_contents(target / CONTENTS) or {}


def present(folder: Path) -> list[str]:
    """Every file below a folder but its contents, by its path there."""
    return [name for name in _names(_resolved(folder)) if name != CONTENTS]


def write_folder(
    folder: Path, fill: Callable[[Path], Listing], changed: Collection[str] = ()
) -> tuple[str, ...]:
    """Fill a new folder and put it in the place of ``folder``.

    Args:
        folder: where it shall stand; missing parents are made.
        fill: writes every file below the folder it is given, and says which.
        changed: files of the older packet that are kept too, under names of their own; read after ``fill``.

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
        own = _kept_files(target)
        with _workplace(target) as place:
            fresh = place / "new"
            fresh.mkdir()
            listing = fill(fresh)
            _write_contents(fresh, listing)
            _carry_over(own, target, fresh)
            beside = _keep_changed(changed, target, fresh)
            _swap(fresh, target, place / "old")
    except OutputError:
        raise
    except OSError as error:
        raise OutputError(f"cannot write {folder}: {_reason(error)}; nothing there was changed") from error
    return (*own, *beside)


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
    names = _names(target)
    if not names:
        return ()
    ours = _read_contents(target / CONTENTS)
    if ours is None:
        some = ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")
        raise OutputError(
            f"{target} holds files that are not of a packet ({some}); name another folder, so that none is lost"
        )
    return tuple(name for name in names if name not in ours and name != CONTENTS)


def _names(target: Path) -> list[str]:
    """Every file below a folder."""
    found = sorted(path for path in target.rglob("*") if path.is_symlink() or not path.is_dir())
    return [path.relative_to(target).as_posix() for path in found]


def _read_contents(path: Path) -> dict[str, Listed] | None:
    """What an older packet says of its files; None where this is no packet.

    An older program told only the first two columns.
    """
    try:
        with path.open(encoding="utf-8", newline="") as file:
            head, *rows = list(csv.reader(file)) or [[]]
    except (OSError, UnicodeDecodeError, csv.Error):
        return None
    if head not in (_HEADINGS, _HEADINGS[:2]):
        return None
    return {row[0]: Listed(*row[:4]) for row in rows if len(row) >= 2}


def _write_contents(folder: Path, listing: Listing) -> None:
    with (folder / CONTENTS).open("w", encoding="utf-8", newline="") as file:
        rows = ([one.name, one.about, one.content, one.key] for one in listing)
        csv.writer(file, lineterminator="\n").writerows([_HEADINGS, *rows])


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


def _keep_changed(changed: Collection[str], target: Path, fresh: Path) -> tuple[str, ...]:
    """Copy files that a person changed into the new packet beside those that are made in their place."""
    kept = []
    for name in changed:
        path = PurePosixPath(name)
        tries = (f"{path.stem}-changed{'' if k == 1 else f'-{k}'}{path.suffix}" for k in count(1))
        copy = next(each for each in map(path.with_name, tries) if not (fresh / each).exists())
        (fresh / copy).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(target / name, fresh / copy)
        kept.append(copy.as_posix())
    return tuple(kept)


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
