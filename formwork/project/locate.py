"""Where each key of a TOML text stands: from a key's path to its line.

The standard parser gives values without positions. This one goes over a text the standard parser has accepted
and gives positions without values: tables, arrays of tables, dotted keys, inline tables, arrays and every
kind of string. Paths are tuples of keys and list indices: ``("piece", 0, "wall")``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

Path = tuple[str | int, ...]

_SPACE = " \t\r\n"
_BARE_END = re.compile(r"[,\]}#\r\n]|\Z")


def lines(text: str) -> dict[Path, int]:
    """The line, counted from 1, of every key, list element and table header in a TOML text.

    Args:
        text: valid TOML; of anything else the result means nothing.
    """
    scan = _Scan(text)
    while scan.skip():
        if scan.text[scan.at] == "[":
            scan.header()
        else:
            scan.pair(scan.table)
    return scan.found


def line_of(found: dict[Path, int], path: Path) -> int | None:
    """The line of a path, or of the nearest table round it; None where not even that is known.

    Args:
        found: what ``lines`` gave.
        path: of a key, which may be missing from the file.
    """
    for end in range(len(path), 0, -1):
        if path[:end] in found:
            return found[path[:end]]
    return None


@dataclass(slots=True)
class _Scan:
    """A position moving through the text, and what was found so far."""

    text: str
    at: int = 0
    table: Path = ()
    found: dict[Path, int] = field(default_factory=dict)
    elements: dict[Path, int] = field(default_factory=dict)
    counted: tuple[int, int] = (0, 1)

    def line(self) -> int:
        before, number = self.counted
        self.counted = self.at, number + self.text.count("\n", before, self.at)
        return self.counted[1]

    def mark(self, path: Path) -> None:
        self.found.setdefault(path, self.line())

    def skip(self) -> bool:
        """Move over blanks, line ends and comments; False at the end of the text."""
        while self.at < len(self.text):
            if self.text[self.at] == "#":
                end = self.text.find("\n", self.at)
                self.at = len(self.text) if end < 0 else end
            elif self.text[self.at] in _SPACE:
                self.at += 1
            else:
                return True
        return False

    def header(self) -> None:
        """``[a.b]`` or ``[[a.b]]``: the table that the next keys belong to."""
        start, listed = self.at, self.text.startswith("[[", self.at)
        self.at += 2 if listed else 1
        keys = self.key()
        self.at += 2 if listed else 1
        end, self.at = self.at, start
        path = self.inside((), keys[:-1] if listed else keys)
        if listed:
            path = (*path, keys[-1])
            self.mark(path)
            self.elements[path] = self.elements.get(path, -1) + 1
            path = (*path, self.elements[path])
        self.mark(path)
        self.table, self.at = path, end

    def inside(self, path: Path, keys: list[str]) -> Path:
        """The path of keys, each array of tables entered at its last element."""
        for key in keys:
            path = (*path, key)
            if path in self.elements:
                path = (*path, self.elements[path])
        return path

    def key(self) -> list[str]:
        """A key with its dotted parts."""
        parts = []
        while self.skip():
            parts.append(self.string() if self.text[self.at] in "\"'" else self.word())
            self.skip()
            if self.text[self.at] != ".":
                break
            self.at += 1
        return parts

    def word(self) -> str:
        start = self.at
        while self.at < len(self.text) and (self.text[self.at].isalnum() or self.text[self.at] in "_-"):
            self.at += 1
        self.at = max(self.at, start + 1)
        return self.text[start : self.at]

    def pair(self, table: Path) -> None:
        """``key = value``."""
        start = self.at
        keys = self.key()
        end, self.at = self.at, start
        for length in range(1, len(keys) + 1):
            self.mark((*table, *keys[:length]))
        self.at = end + 1
        self.value((*table, *keys))

    def value(self, path: Path) -> None:
        self.skip()
        opening = self.text[self.at : self.at + 1]
        if opening == "[":
            self.sequence(path)
        elif opening == "{":
            self.inline(path)
        elif opening in ("'", '"'):
            self.string()
        else:
            end = _BARE_END.search(self.text, self.at)
            self.at = end.start() if end else len(self.text)

    def sequence(self, path: Path) -> None:
        self.at += 1
        index = 0
        while self.skip() and self.text[self.at] != "]":
            self.mark((*path, index))
            self.value((*path, index))
            self.comma()
            index += 1
        self.at += 1

    def inline(self, path: Path) -> None:
        self.at += 1
        while self.skip() and self.text[self.at] != "}":
            self.pair(path)
            self.comma()
        self.at += 1

    def comma(self) -> None:
        if self.skip() and self.text[self.at] == ",":
            self.at += 1

    def string(self) -> str:
        quote = self.text[self.at]
        if self.text.startswith(quote * 3, self.at):
            return self._to_end(quote * 3)
        return self._to_end(quote)

    def _to_end(self, quote: str) -> str:
        start = self.at = self.at + len(quote)
        while self.at < len(self.text) and not self.text.startswith(quote, self.at):
            self.at += 2 if self.text[self.at] == "\\" and quote[0] == '"' else 1
        inner = self.text[start : self.at]
        self.at += len(quote)
        if len(quote) > 1:
            while self.text.startswith(quote[0], self.at):
                self.at += 1
        return inner
