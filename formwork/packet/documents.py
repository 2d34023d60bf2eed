"""Documents of a packet: which files, made by what from what; and the packet made of them, only where they changed."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from formwork.packet.folder import Listed, Listing, content_key, known, present, write_folder
from formwork.packet.keys import Keys, handed, program
from formwork.record import record

Progress = Callable[[str], None]
Work = Callable[..., Sequence[str | bytes]]
Described = tuple[tuple[str, str], ...]
"""Files by their path in the packet, each with a line of what it is."""


@record
class File:
    """The content of a file of the packet, for a document that reads it.

    Attributes:
        name: its path in the packet.
        key: of the document it is of.
    """

    name: str
    key: str


@record
class Document:
    """One or more files that are made together.

    Attributes:
        files: their paths in the packet and what each is.
        key: of all that they are made from, the program included.
        work: makes their contents, in the order of the files, from ``reads`` and from nothing else.
        reads: what it is handed: values, shared things, and files of documents before this one.
        saying: what is being done while it is made, in a few words.
        kernel: the CAD kernel is needed for it.
    """

    files: Described
    key: str
    work: Work
    reads: tuple[Any, ...]
    saying: str
    kernel: bool = False

    def file(self, name: str) -> File:
        """One of its files, for another document to read."""
        return File(name, self.key)


def document(
    keys: Keys, files: Iterable[tuple[str, str]], work: Work, *reads: Any, saying: str, kernel: bool = False
) -> Document:
    """A document with its key; arguments as its attributes."""
    described = tuple(files)
    return Document(described, keys.key(program(), described, work, reads), work, reads, saying, kernel)


@record
class Written:
    """What became of a packet.

    Attributes:
        count: files it has.
        made: files that were made now; the others were as they should be.
        kept: a person's own files beside them.
        changed: files of the packet that a person had changed: made anew, the person's kept under a name of its own.
    """

    count: int
    made: tuple[str, ...]
    kept: tuple[str, ...]
    changed: tuple[str, ...]


def write_documents(folder: Path, documents: Sequence[Document], progress: Progress) -> Written:
    """Bring a folder to hold these documents: what is there as it should be stays, the rest is made.

    Args:
        folder: where to; what stands there is replaced once the new packet is complete.
        documents: in an order in which each reads only files of those before it.
        progress: told in a few words what is being done.

    Raises:
        OutputError: if the folder cannot be written to or is not ours to replace.
    """
    before = known(folder)
    sound = {one.key for one in documents if _is_sound(one, folder, before)}
    wanted = [name for one in documents for name, _ in one.files]
    stale = [one for one in documents if one.key not in sound]
    if not stale and set(wanted) == set(before):
        return Written(len(wanted), (), tuple(name for name in present(folder) if name not in before), ())
    changed: list[str] = []

    def fill(fresh: Path) -> Listing:
        changed.extend(_changed(folder, before))
        return tuple(_fill(fresh, folder, documents, sound, before, progress))

    kept = write_folder(folder, fill, changed)
    return Written(len(wanted), tuple(name for one in stale for name, _ in one.files), kept, tuple(changed))


def _changed(folder: Path, before: Mapping[str, Listed]) -> list[str]:
    """Files of a packet that no longer hold what was written, emptied ones left out."""
    ours = [before[name] for name in present(folder) if name in before and before[name].content]
    return [one.name for one in ours if _content(folder / one.name) not in ("", one.content)]


def _is_sound(one: Document, folder: Path, before: Mapping[str, Listed]) -> bool:
    """Whether the files of a document stand in the folder as they were made, from the same as now."""
    listed = [before.get(name) for name, _ in one.files]
    return all(entry is not None and entry.key == one.key for entry in listed) and all(
        entry is not None and _content(folder / entry.name) == entry.content for entry in listed
    )


def _content(path: Path) -> str:
    """The key of a file's content; empty where there is nothing to read."""
    try:
        data = path.read_bytes()
    except OSError:
        return ""
    return content_key(data) if data else ""


def _fill(
    fresh: Path,
    folder: Path,
    documents: Sequence[Document],
    sound: set[str],
    before: Mapping[str, Listed],
    progress: Progress,
) -> Iterable[Listed]:
    """Every file of the packet, taken over or made."""
    loaded, said = False, ""
    for one in documents:
        for name, _ in one.files:
            (fresh / name).parent.mkdir(parents=True, exist_ok=True)
        if one.key in sound:
            for name, about in one.files:
                _take_over(folder / name, fresh / name)
                yield Listed(name, about, before[name].content, one.key)
            continue
        if one.kernel and not loaded:
            loaded = _load_kernel(progress)
        if one.saying != said:
            progress(said := one.saying)
        for (name, about), data in zip(one.files, contents(one, fresh), strict=True):
            (fresh / name).write_bytes(data)
            yield Listed(name, about, content_key(data), one.key)


def contents(one: Document, folder: Path) -> list[bytes]:
    """What a document's files hold, made now from what it reads; files of others are read from the folder."""
    made = one.work(*_handed(one.reads, folder))
    return [content.encode() if isinstance(content, str) else content for content in made]


def _load_kernel(progress: Progress) -> bool:
    progress("loading the CAD kernel for the 3-D files (some seconds)")
    from formwork.solids.kernel import cadquery  # noqa: PLC0415 - only where solids are made

    cadquery()
    return True


def _take_over(old: Path, new: Path) -> None:
    """The same file in the new packet: a second name for it where the drive has such, else a copy."""
    try:
        os.link(old, new)
    except OSError:
        shutil.copy2(old, new)


def _handed(value: Any, fresh: Path) -> Any:
    """What a document reads as its maker takes it, files by their text."""
    if isinstance(value, File):
        return (fresh / value.name).read_text(encoding="utf-8")
    if type(value) is tuple:
        return tuple(_handed(one, fresh) for one in value)
    return handed(value)
