"""Small square codes for a telephone's camera, as SVG: a link, or words that are shown without any network."""

from __future__ import annotations

from itertools import groupby

_QUIET = 4
"""White round a code, in modules (ISO/IEC 18004, from memory)."""


def code_svg(text: str) -> str:
    """A text as a QR code, black on white.

    The error correction is the least of the four, for the modules are largest then and labels stay clean.
    """
    import segno  # noqa: PLC0415 - only labels need it

    rows = [list(row) for row in segno.make(text, error="l", micro=False, boost_error=False).matrix]
    side = len(rows) + 2 * _QUIET
    path = "".join(
        f"M{_QUIET + start} {_QUIET + y}h{length}v1h-{length}z"
        for y, row in enumerate(rows)
        for start, length in _runs(row)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{side}mm" height="{side}mm" viewBox="0 0 {side} {side}">'
        f'<rect width="{side}" height="{side}" fill="#fff"/><path fill="#000" d="{path}"/></svg>\n'
    )


def _runs(row: list[int]) -> list[tuple[int, int]]:
    """Start and length of each run of dark modules."""
    found, at = [], 0
    for dark, run in groupby(row):
        length = len(list(run))
        if dark:
            found.append((at, length))
        at += length
    return found
