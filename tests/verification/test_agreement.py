"""The table of agreement in DEVELOPERS.md says what the tests of this folder find."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.verification.agreement import Agreement, agreements, table

PAGE = Path(__file__).parents[2] / "DEVELOPERS.md"


@pytest.mark.parametrize("row", list(agreements()), ids=lambda row: row.what)
def test_every_value_agrees_but_for_rounding(row: Agreement) -> None:
    assert [case for case in row.cases if not case.agrees] == []


def test_the_page_shows_the_table() -> None:
    assert table() in PAGE.read_text(encoding="utf-8"), (
        "python -m tests.verification.agreement prints it anew"
    )
