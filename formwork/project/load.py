"""From a path to the raw values of a TOML file and the line of each, with every fault of bytes and syntax."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

from formwork.errors import Fault
from formwork.project import locate
from formwork.record import record
from formwork.units.wording import printable

LARGEST = 1_000_000
"""Bytes; no project or shop file is as large as this."""

_MOST_SYNTAX_FAULTS = 20
_PAIR = re.compile(r"""\s*(?P<key>[A-Za-z0-9_."'-]+)\s*=(?P<value>.*)""")
_PLACE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)")
_CURLY = "\u201c\u201d\u201e\u2018\u2019\u00ab\u00bb"
"""Quotes that a word processor makes of straight ones."""
_DECIMAL_COMMA = re.compile(r"\d+,\d+")


@record
class Source:
    """A TOML file as read.

    Attributes:
        path: the file, as given.
        data: its values; empty where it could not be read at all.
        lines: the line of each key.
        faults: what is wrong with its bytes and its syntax.
        usable: the values can be checked further; where ``faults`` is not empty some keys were left out of
        them.
    """

    path: str
    data: dict[str, Any]
    lines: dict[locate.Path, int]
    faults: tuple[Fault, ...]
    usable: bool

    def where(self, path: locate.Path) -> str:
        """File and line of a key, or of the nearest table round it."""
        line = locate.line_of(self.lines, path)
        return self.path if line is None else f"{self.path}:{line}"


def load(path: Path) -> Source:
    """Read a TOML file; never raises for what stands in it or whether it is there.

    Args:
        path: the file.
    """
    text = _text(path)
    if isinstance(text, Fault):
        return Source(str(path), {}, {}, (text,), usable=False)
    return parse(text, str(path))


def parse(text: str, name: str) -> Source:
    """Read a TOML text, going on past lines that are no TOML so that all of them are named.

    Args:
        text: the text.
        name: of the file, for messages.
    """
    faults: list[Fault] = []
    rest = text
    while len(faults) < _MOST_SYNTAX_FAULTS:
        try:
            data = tomllib.loads(rest)
            return Source(name, data, locate.lines(rest), tuple(faults), usable=True)
        except tomllib.TOMLDecodeError as error:
            number, fault = _syntax_fault(str(error), text, name)
            faults.append(fault)
            without = _without_line(rest, number)
            if without is None:
                break
            rest = without
        except (RecursionError, ValueError):
            got = "values nested or numbers written too long to read"
            faults.append(Fault(name, "", got, "plain values"))
            break
    return Source(name, {}, {}, tuple(faults), usable=False)


def _text(path: Path) -> str | Fault:
    where = str(path)
    try:
        if path.is_dir():
            return Fault(where, "", "a folder", "a TOML file")
        if path.stat().st_size > LARGEST:
            return Fault(where, "", f"{path.stat().st_size:,} bytes", f"a file of at most {LARGEST:,} bytes")
        return path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        return Fault(where, "", "no such file", "a file that exists", _neighbours(path))
    except UnicodeDecodeError as error:
        got = f"bytes that are no UTF-8 text (the first at byte {error.start + 1})"
        return Fault(where, "", got, "a TOML file in UTF-8", "save it as UTF-8")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        return Fault(where, "", f"a file that cannot be read: {reason}", "a file that can be read")


def _neighbours(path: Path) -> str:
    from difflib import get_close_matches  # noqa: PLC0415 - only for a message

    try:
        names = sorted(other.name for other in path.parent.glob("*.toml"))
    except OSError:
        return ""
    near = get_close_matches(path.name, names, n=1, cutoff=0.6)
    return f"did you mean {path.with_name(near[0])}?" if near else ""


def _syntax_fault(message: str, text: str, name: str) -> tuple[int | None, Fault]:
    place = _PLACE.search(message)
    reason = _PLACE.sub("", message)
    reason = reason[:1].lower() + reason[1:]
    if place is None or place[1] is None:
        where = f"{name}:{text.count(chr(10)) + 1}"
        hint = f"{reason}: a quote or a bracket is open"
        return None, Fault(where, "", "the end of the file", "a finished value", hint)
    number = int(place[1])
    line = text.splitlines()[number - 1].strip() if number <= len(text.splitlines()) else ""
    pair = _PAIR.fullmatch(line)
    return number, Fault(
        f"{name}:{number}",
        pair["key"] if pair else "",
        printable(line),
        "valid TOML",
        _syntax_hint(reason, pair),
    )


def _syntax_hint(reason: str, pair: re.Match[str] | None) -> str:
    if "overwrite" in reason:
        return "this key or table is already given above"
    value = printable(pair["value"].partition("#")[0].strip()) if pair else ""
    if pair is None or not value:
        return reason
    if _DECIMAL_COMMA.fullmatch(value):
        return f"write a decimal point: {pair['key']} = {value.replace(',', '.')}"
    if value[0] not in "\"'[{":
        quote = "'" if '"' in value else '"'
        if value[0] in _CURLY:
            return (
                f'write straight quotes, as a plain text editor does: {pair["key"]} = "{value.strip(_CURLY)}"'
            )
        return f"what is not a plain number stands in quotes: {pair['key']} = {quote}{value}{quote}"
    return _hint_of_text(value) or reason


def _hint_of_text(value: str) -> str:
    """Why a value that begins with a quote is no TOML text, where foot or inch marks or a Windows path explain it."""
    marks = value.strip("\"'")
    if "'" in marks and '"' in value:
        return 'feet and inches with both their marks stand in three quotes, or are written "2 ft 6 1/2 in"'
    if value.startswith('"') and value.count('"') == 1:
        return 'the text is not closed: put another " at its end'
    if value.count('"') > 2:
        return "a text with an inch mark in it stands in single quotes: '23-1/2\"'"
    return "write / for every backslash, or put the text in single quotes" if "\\" in value else ""


def _without_line(text: str, number: int | None) -> str | None:
    """The text with a faulty line ``key = value`` emptied; None where the line is anything else."""
    rows = text.split("\n")
    if number is None or number > len(rows) or not _PAIR.match(rows[number - 1]):
        return None
    rows[number - 1] = ""
    return "\n".join(rows)
