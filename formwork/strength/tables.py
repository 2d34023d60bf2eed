"""The tables of this room: one CSV a document, read when first asked for and kept.

A line that starts with ``#`` says where the rows come from; the first other line names the columns. Files
hold the units of the document (said in the column's name), so that a reviewer can lay the page beside them.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

_DATA = Path(__file__).with_name("data")


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """The rows of a table, each by column name, as text.

    Args:
        name: the file's name without ``.csv``.

    Returns:
        The rows in the order of the file.

    >>> rows("nds_lumber")[0]["species"]
    'spruce-pine-fir'
    """
    with (_DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(line for line in file if not line.startswith("#")))


@cache
def names() -> tuple[str, ...]:
    """The tables there are, by name.

    >>> "nds_lumber" in names()
    True
    """
    return tuple(sorted(path.stem for path in _DATA.glob("*.csv")))
