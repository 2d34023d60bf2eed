"""From a page template and what stands on the pages to a PDF: the same bytes every time.

The typesetter brings its own fonts, which hold Latin, Greek, Cyrillic and Hebrew letters. Fonts of the machine are let
in only where a text needs other letters, for they differ from one machine to the next.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

from formwork.errors import InternalError
from formwork.shipped import read_template

DATA = "pages.json"
"""What the template reads; pictures lie beside it under their own names."""
_OWN_LETTERS = ((0x0000, 0x052F), (0x05D0, 0x05EA), (0x1E00, 0x1FFF), (0x2000, 0x22FF), (0xFB00, 0xFB06))
"""Ranges of Unicode that the typesetter's own fonts cover, but for rare signs."""
_LONGEST_WORD = 18
_SIZE = re.compile(r'\b(?:width|height)="([0-9.]+)mm"')
_DENSEST, _LONGEST_SIDE = 200.0, 3400.0
"""Of a picture: dots an inch at the most, and dots along its longer side at the most."""
BREAK = "\u200b"
"""Where a word may be broken; of no width."""


def typeset(template: str, data: Mapping[str, object], pictures: Mapping[str, str]) -> bytes:
    """The PDF of a page template.

    Args:
        template: name of a file of ``templates/``.
        data: what the template reads, ready for JSON.
        pictures: SVG by the file names that the data uses.

    Raises:
        InternalError: if the template refuses what it was given.
    """
    import typst  # noqa: PLC0415 - a large library that only the printed pages need

    text = json.dumps(data, ensure_ascii=False, allow_nan=False)
    with TemporaryDirectory(prefix="formwork-") as folder:
        place = Path(folder)
        (place / "main.typ").write_text(read_template(template), encoding="utf-8", newline="")
        (place / DATA).write_text(text, encoding="utf-8", newline="")
        for name, svg in pictures.items():
            (place / name).write_text(svg, encoding="utf-8", newline="")
        own = not needs_other_fonts(text + "".join(pictures.values()))
        try:
            made = typst.compile(str(place / "main.typ"), root=folder, ignore_system_fonts=own)
        except typst.TypstError as error:
            raise InternalError(f"{template}: {error}") from error
    return bytes(made)


def png(svg: str) -> bytes:
    """An SVG of ours, which states its size in mm, as a picture; letters as in the printed pages.

    Raises:
        InternalError: if the typesetter refuses it.
    """
    import typst  # noqa: PLC0415 - a large library that only the packet needs

    wide, high = (float(found) for found in _SIZE.findall(svg)[:2])
    dense = min(_DENSEST, _LONGEST_SIDE / (max(wide, high) / 25.4))
    with TemporaryDirectory(prefix="formwork-") as folder:
        place = Path(folder)
        (place / "picture.svg").write_text(svg, encoding="utf-8", newline="")
        page = f"#set page(width: {wide}mm, height: {high}mm, margin: 0pt)\n"
        image = f'#image("picture.svg", width: {wide}mm, height: {high}mm)\n'
        (place / "main.typ").write_text(page + image, encoding="utf-8", newline="")
        own = not needs_other_fonts(svg)
        try:
            made = typst.compile(
                str(place / "main.typ"), root=folder, ignore_system_fonts=own, format="png", ppi=dense
            )
        except typst.TypstError as error:
            raise InternalError(f"a picture could not be drawn: {error}") from error
    return bytes(made)


def needs_other_fonts(text: str) -> bool:
    """Whether a text holds letters that the typesetter's own fonts lack.

    >>> needs_other_fonts("Größe ½ Ω"), needs_other_fonts("日本")
    (False, True)
    """
    return any(not any(low <= ord(letter) <= high for low, high in _OWN_LETTERS) for letter in set(text))


def breakable(text: str) -> str:
    """The text with places to break within words that are too long for a column.

    >>> breakable("a" * 20).split("\u200b")
    ['aaaaaaaaa', 'aaaaaaaaa', 'aa']
    """
    if len(text) <= _LONGEST_WORD:
        return text
    return " ".join(_cut_up(word) for word in text.split(" "))


def _cut_up(word: str) -> str:
    if len(word) <= _LONGEST_WORD:
        return word
    half = _LONGEST_WORD // 2
    return BREAK.join(word[at : at + half] for at in range(0, len(word), half))
