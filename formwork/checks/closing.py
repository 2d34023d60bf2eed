"""Does the mold close: the cavity its parts enclose against the piece, and every leak by its place."""

from __future__ import annotations

from formwork.checks.check import Check
from formwork.molds.asked import BuiltMold
from formwork.strength.working import step, written

CLOSE = 1e-6
"""Greatest difference between cavity and piece, as a fraction of the piece (ours; rounding stays far below it)."""


def cavity_check(built: BuiltMold) -> Check:
    """The cavity computed from the mold's parts alone against the volume of the piece."""
    mold = built.mold
    difference = abs(mold.cavity - mold.nominal)
    limit = CLOSE * mold.nominal
    leaks = built.leaks
    return Check(
        name="cavity against piece",
        mold=mold.name,
        demand=difference,
        capacity=limit,
        unit="m3",
        ok=difference <= limit and not leaks,
        source="two routes to one volume: space the parts enclose, and envelope less formers",
        working=(
            f"V_mold = {written(mold.cavity)} m3 (enclosed by {len(mold.parts)} parts up to the fill plane)",
            f"V_piece = {written(mold.nominal)} m3 ({mold.piece.cavities} to a filling)",
            f"D = {written(difference)} m3 (their difference, taken before they are rounded to print)",
            str(step("D_max", "c * V_piece", limit, "m3", c=CLOSE, V_piece=mold.nominal)),
            *leaks,
        ),
        remedy="; ".join(leaks),
    )
