"""Put a STEP file into one settled order, so that the same model gives the same bytes.

The kernel stamps the time, numbers assembly usages on through the life of the process, and lists colours in
the order of memory addresses. Here the instances of the DATA section are numbered anew by a walk from those
that nothing refers to: first the product tree in the kernel's order, which is the order the bodies were
given in, then the colours, sorted by a digest of all that each of them leads to.

Source: ISO 10303-21 (clear text encoding), from memory: instances "#n = ... ;", strings in single quotes
with quotes doubled, letters outside the basic alphabet by code, order of instances without meaning.
"""

from __future__ import annotations

import re
from hashlib import sha256

from formwork.errors import InternalError

Tokens = tuple[str, ...]

FIXED_TIME = "1970-01-01T00:00:00"
_ORIGIN = re.compile(r"^FILE_NAME\(.*?\);$", re.DOTALL | re.MULTILINE)
_DATA = re.compile(r"^DATA;\n(.*)^ENDSEC;\n(?=END-ISO)", re.DOTALL | re.MULTILINE)
_TOKEN = re.compile(r"'(?:[^']|'')*'|#\d+|;|[^#';]+")
_STYLES = "=MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION("
_USAGE = "=NEXT_ASSEMBLY_USAGE_OCCURRENCE("


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


def _instances(data: str) -> dict[str, Tokens]:
    """Every instance by its old number, its text as tokens: references, strings, and what stands between."""
    found: dict[str, Tokens] = {}
    current: list[str] = []
    for token in _TOKEN.findall(data):
        if token == ";":
            found[current[0]] = tuple(_one_line(part) for part in current[1:])
            current = []
        elif current or token.strip():
            current.append(token)
    return {number: _uncounted(tokens) for number, tokens in found.items()}


def _one_line(token: str) -> str:
    """A token without the line breaks that the kernel put in, its letters as the standard has them."""
    return _spelled(token.replace("\n", "")) if token.startswith("'") else "".join(token.split())


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


def _uncounted(tokens: Tokens) -> Tokens:
    """An assembly usage without its running number; anything else as it is."""
    if tokens[0] != _USAGE:
        return tokens
    return (tokens[0], "''", *tokens[2:])


def _renumbered(instances: dict[str, Tokens]) -> str:
    """The instances in settled order, one a line."""
    numbers = _numbers(instances)
    lines = []
    usages = 0
    for old, new in numbers.items():
        tokens = [f"#{numbers[token]}" if token in numbers else token for token in instances[old]]
        if tokens[0] == _USAGE:
            usages += 1
            tokens[1] = f"'{usages}'"
        lines.append(f"#{new}{''.join(tokens)};\n")
    return "".join(lines)


def _numbers(instances: dict[str, Tokens]) -> dict[str, int]:
    """New number of each old one, in the order of the walk."""
    digests = _digests(instances)
    referred = {token for tokens in instances.values() for token in tokens if token in instances}
    heads = [number for number in instances if number not in referred]
    heads.sort(key=lambda number: digests[number] if instances[number][0].startswith(_STYLES) else b"")
    numbers: dict[str, int] = {}
    ahead = heads[::-1]
    while ahead:
        number = ahead.pop()
        if number not in numbers:
            numbers[number] = len(numbers) + 1
            ahead.extend(token for token in reversed(instances[number]) if token in instances)
    if len(numbers) != len(instances):
        raise InternalError("the CAD kernel wrote a STEP file whose instances refer to one another in a ring")
    return numbers


def _digests(instances: dict[str, Tokens]) -> dict[str, bytes]:
    """A digest of each instance and of everything it leads to; old numbers play no part in it."""
    done: dict[str, bytes] = {}
    ahead = list(instances)
    while ahead:
        number = ahead[-1]
        missing = [t for t in instances[number] if t in instances and t not in done]
        if number in done or not missing:
            ahead.pop()
            if number not in done:
                parts = (done.get(token, token.encode()) for token in instances[number])
                done[number] = sha256(b"\x00".join(parts)).digest()
        else:
            ahead.extend(missing)
    return done
