"""Every check of every mold and frame, in the order in which a person would ask."""

from __future__ import annotations

from collections.abc import Iterable

from formwork.checks.check import Check, Found, NotChecked
from formwork.checks.closing import cavity_check
from formwork.checks.coming_off import draft_checks, stripping_check
from formwork.checks.core_ends import bar_checks, cap_checks
from formwork.checks.corners import corner_checks
from formwork.checks.dividers import divider_checks
from formwork.checks.frames import frame_checks
from formwork.checks.holding import core_wall_checks, panel_checks, rail_check
from formwork.checks.lifting import lift_checks
from formwork.molds.design import Built
from formwork.molds.framed import BuiltFrame

NOT_MADE = (
    ("base", "the base is taken to lie on the bench all over; between bearers it is not computed"),
    ("the piece in use", "frost, impact and any structural use are not computed"),
)


def check(
    molds: Iterable[Built], frames: Iterable[BuiltFrame] = ()
) -> tuple[tuple[Check, ...], tuple[NotChecked, ...]]:
    """What was checked of each mold and frame, and what was not and why."""
    of_molds = (found for built in molds for found in mold_checks(built))
    return parted((*of_molds, *(found for frame in frames for found in frame_checks(frame))))


def mold_checks(built: Built) -> tuple[Found, ...]:
    """Every check of one mold, then what is never computed."""
    return (
        cavity_check(built),
        stripping_check(built),
        *draft_checks(built),
        *panel_checks(built),
        *core_wall_checks(built),
        *cap_checks(built),
        *bar_checks(built),
        rail_check(built),
        *corner_checks(built),
        *divider_checks(built),
        *lift_checks(built),
        *(NotChecked(name, built.mold.name, why) for name, why in NOT_MADE),
    )


def parted(found: Iterable[Found]) -> tuple[tuple[Check, ...], tuple[NotChecked, ...]]:
    """The checks that were made, and those that were not."""
    told = tuple(found)
    return (
        tuple(one for one in told if isinstance(one, Check)),
        tuple(one for one in told if isinstance(one, NotChecked)),
    )
