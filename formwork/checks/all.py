"""Every check of every mold and frame, in the order in which a person would ask."""

from __future__ import annotations

from collections.abc import Iterable
from importlib import import_module
from typing import Any, Protocol, assert_never

from formwork.checks.check import Check, Found, NotChecked
from formwork.checks.closing import cavity_check
from formwork.checks.coming_off import draft_checks, stripping_check
from formwork.molds.asked import BuiltMold
from formwork.molds.structure import BuiltCentre, BuiltFrame, Structure


class MethodChecks(Protocol):
    """A file of ``checks/``, of the name of a mold method."""

    def checks(self, built: Any) -> tuple[Found, ...]:
        """What holds the mix; takes what the method's ``brace`` gave."""


NOT_MADE = (("the piece in use", "frost, impact and any structural use are not computed"),)


def check(
    molds: Iterable[BuiltMold], structures: Iterable[Structure] = ()
) -> tuple[tuple[Check, ...], tuple[NotChecked, ...]]:
    """What was checked of each mold and frame, and what was not and why."""
    of_molds = (found for built in molds for found in mold_checks(built))
    return parted((*of_molds, *(found for built in structures for found in structure_checks(built))))


def structure_checks(built: Structure) -> tuple[Found, ...]:
    """Every check of what is built and not cast."""
    match built:
        case BuiltFrame():
            from formwork.checks.frames import frame_checks  # noqa: PLC0415 - a planter needs neither

            return tuple(frame_checks(built))
        case BuiltCentre():
            from formwork.checks.centring import centre_checks  # noqa: PLC0415 - the same

            return tuple(centre_checks(built))
        case _:
            assert_never(built)


def mold_checks(built: BuiltMold) -> tuple[Found, ...]:
    """Every check of one mold, then what is never computed.

    What holds the mix is asked by a file of this folder that bears the name of the mold's method.
    """
    method: MethodChecks = import_module(f"formwork.checks.{built.mold.method}")
    return (
        cavity_check(built),
        stripping_check(built),
        *draft_checks(built),
        *method.checks(built),
        *(NotChecked(name, built.mold.name, why) for name, why in NOT_MADE),
    )


def parted(found: Iterable[Found]) -> tuple[tuple[Check, ...], tuple[NotChecked, ...]]:
    """The checks that were made, and those that were not."""
    told = tuple(found)
    return (
        tuple(one for one in told if isinstance(one, Check)),
        tuple(one for one in told if isinstance(one, NotChecked)),
    )
