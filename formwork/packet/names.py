"""File names for what people name as they like."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

_LONGEST = 60


def plain_names(names: list[str]) -> list[str]:
    """File names that every system takes, made of names that people give: small letters, figures and hyphens.

    >>> plain_names(["Größe 2", "grosse 2", "///"])
    ['grosse-2', 'grosse-2-2', 'piece']
    >>> plain_names(["Bed", "bed"])
    ['bed', 'bed-2']
    """
    made: list[str] = []
    for name in names:
        letters = unicodedata.normalize("NFKD", name.casefold()).encode("ascii", "ignore").decode()
        plain = re.sub(r"[^a-z0-9]+", "-", letters).strip("-")[:_LONGEST] or "piece"
        made.append(next(each for each in _variants(plain) if each not in made))
    return made


def _variants(name: str) -> Iterator[str]:
    yield name
    number = 2
    while True:
        yield f"{name}-{number}"
        number += 1
