"""Put a STEP file into one settled order, so that the same model gives the same bytes.

The kernel stamps the time, numbers assembly usages on through the life of the process, and lists colours in
the order of memory addresses. Here the instances of the DATA section are numbered anew by a walk from those
that nothing refers to: first the product tree in the kernel's order, which is the order the bodies were
given in, then the colours, sorted by what each of them says of which numbered instances.

Source: ISO 10303-21 (clear text encoding), from memory: instances "#n = ... ;", strings in single quotes
with quotes doubled, letters outside the basic alphabet by code, order of instances without meaning.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from formwork.errors import InternalError

FIXED_TIME = "1970-01-01T00:00:00"
_ORIGIN = re.compile(r"^FILE_NAME\(.*?\);$", re.DOTALL | re.MULTILINE)
_DATA = re.compile(r"^DATA;\n(.*)^ENDSEC;\n(?=END-ISO)", re.DOTALL | re.MULTILINE)
_INSTANCE = re.compile(r"#(\d+)\s*=\s*((?:[^';]|'(?:[^']|'')*')*);")
_PIECE = re.compile(r"('(?:[^']|'')*')")
_REFERENCE = re.compile(r"#(\d+)")
_STYLES = "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION("
_USAGE = "NEXT_ASSEMBLY_USAGE_OCCURRENCE("
_COUNT = re.compile(r"\('[^']*'")


class _Instance(NamedTuple):
    """What stands behind the sign of equality, strings apart from the rest, and to which instances it refers."""

    pieces: tuple[str, ...]
    refers: tuple[str, ...]

    @property
    def kind(self) -> str:
        """How it begins."""
        return self.pieces[0]


def settled(text: str, title: str) -> str:
    """The same model under a title, with a fixed time, its instances in an order that their content alone decides.

    Args:
        text: the file as the kernel wrote it.
        title: what the header gives as the file's name.

    Raises:
        InternalError: if the text is no STEP file as the kernel writes it.
    """
    data = _DATA.search(text)
    if data is None:
        raise InternalError("the CAD kernel wrote a STEP file without a data section")
    quoted = _spelled("'" + title.replace("\\", "\\\\").replace("'", "''") + "'")
    origin = f"FILE_NAME({quoted},'{FIXED_TIME}',(''),(''),'Open CASCADE','formwork','');"
    header = _ORIGIN.sub(lambda _: origin, text[: data.start(1)], count=1)
    return header + _renumbered(_instances(data.group(1))) + text[data.end(1) :]


def _instances(data: str) -> dict[str, _Instance]:
    """Every instance by its old number."""
    return {number: _read(text) for number, text in _INSTANCE.findall(data)}


def _read(text: str) -> _Instance:
    """An instance without the line breaks that the kernel put in, its letters as the standard has them."""
    if "'" not in text:
        bare = "".join(text.split())
        return _Instance((bare,), tuple(_REFERENCE.findall(bare)))
    pieces = tuple(
        _spelled(piece.replace("\n", "")) if piece.startswith("'") else "".join(piece.split())
        for piece in _PIECE.split(text)
    )
    bare = " ".join(piece for piece in pieces if not piece.startswith("'"))
    if pieces[0] == _USAGE:
        pieces = (pieces[0], "''", *pieces[2:])
    return _Instance(pieces, tuple(_REFERENCE.findall(bare)))


def _spelled(string: str) -> str:
    r"""A string in the basic alphabet, other letters by their code.

    >>> print(_spelled("'caf\u00e9'"))
    'caf\X2\00E9\X0\'
    """
    return "".join(c if " " <= c <= "~" else _code(c) for c in string)


def _code(letter: str) -> str:
    r"""One letter outside the basic alphabet: ``\X2\`` and four digits, or ``\X4\`` and eight."""
    number = ord(letter)
    return f"\\X2\\{number:04X}\\X0\\" if number < 0x10000 else f"\\X4\\{number:08X}\\X0\\"


def _renumbered(instances: Mapping[str, _Instance]) -> str:
    """The instances in settled order, one a line."""
    numbers = _numbers(instances)
    lines = []
    usages = 0
    for old, new in numbers.items():
        text = _written(instances[old], numbers)
        if instances[old].kind == _USAGE:
            usages += 1
            text = _COUNT.sub(f"('{usages}'", text, count=1)
        lines.append(f"#{new}={text};\n")
    return "".join(lines)


def _written(instance: _Instance, numbers: Mapping[str, int]) -> str:
    """An instance with new numbers for old; what has none yet stands without."""

    def new(found: re.Match[str]) -> str:
        return f"#{numbers.get(found[1], '')}"

    return "".join(
        piece if piece.startswith("'") else _REFERENCE.sub(new, piece) for piece in instance.pieces
    )


def _numbers(instances: Mapping[str, _Instance]) -> dict[str, int]:
    """New number of each old one, in the order of the walk."""
    referred = {number for one in instances.values() for number in one.refers}
    heads = [number for number in instances if number not in referred]
    styles = [number for number in heads if instances[number].kind.startswith(_STYLES)]
    others = set(heads).difference(styles)
    numbers: dict[str, int] = {}
    _walk([number for number in heads if number in others], instances, numbers)
    told = {number: _told(number, instances, numbers) for number in styles}
    _walk(sorted(styles, key=told.__getitem__), instances, numbers)
    if len(numbers) != len(instances):
        raise InternalError("the CAD kernel wrote a STEP file whose instances refer to one another in a ring")
    return numbers


def _walk(heads: Iterable[str], instances: Mapping[str, _Instance], numbers: dict[str, int]) -> None:
    """Number each head and then what it leads to that has no number yet."""
    for number in _reached(heads, instances, numbers):
        numbers[number] = len(numbers) + 1


def _told(head: str, instances: Mapping[str, _Instance], known: Mapping[str, int]) -> list[str]:
    """What a head and all that it leads to say, without the numbers that are still to come."""
    return [_written(instances[number], known) for number in list(_reached([head], instances, known))]


def _reached(
    heads: Iterable[str], instances: Mapping[str, _Instance], known: Mapping[str, int]
) -> Iterator[str]:
    """Heads and what they lead to beyond what is known: depth first, what an instance names first first, each once."""
    ahead, found = list(heads)[::-1], set[str]()
    while ahead:
        number = ahead.pop()
        if number not in found and number not in known:
            found.add(number)
            yield number
            ahead.extend(reversed(instances[number].refers))
