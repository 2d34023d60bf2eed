"""Tables of published values, one file a document, read as they are printed."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

_HERE = Path(__file__).parent


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """The rows of a table, by column name.

    Args:
        name: of the file, without its ending.

    Raises:
        FileNotFoundError: if there is no such table.

    >>> rows("caltrans_19_10")[0]["class"]
    'I'
    """
    text = (_HERE / f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))
