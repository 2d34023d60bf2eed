"""What is checked of a mold of flat panels: panels, cores, rails, corners, dividers, and what the mix lifts."""

from __future__ import annotations

from formwork.checks.base import base_checks, joint_check
from formwork.checks.check import Found
from formwork.checks.core_ends import bar_checks, cap_checks
from formwork.checks.corners import corner_checks
from formwork.checks.dividers import divider_checks
from formwork.checks.holding import core_wall_checks, panel_checks, rail_check
from formwork.checks.lifting import lift_checks
from formwork.molds.panelled import Built
from formwork.molds.panels.base_boards import battens


def checks(built: Built) -> tuple[Found, ...]:
    """What holds the mix, in the order in which a person would ask."""
    return (
        *panel_checks(built),
        *core_wall_checks(built),
        *cap_checks(built),
        *bar_checks(built),
        rail_check(built),
        *corner_checks(built),
        *divider_checks(built),
        *lift_checks(built),
        *base_checks(built.mold.name, built.bearers, built.lined.load),
        *_joined(built),
    )


def _joined(built: Built) -> tuple[Found, ...]:
    """The joints of a base that one sheet is too small for."""
    if not battens(built.mold.parts):
        return ()
    stick = built.lined.frame.stocks.stick
    return (joint_check(built.mold.name, stick, built.bearers, built.lined.load),)
