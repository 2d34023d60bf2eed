"""What of a plan a document reads, and nothing else: the rest is left out, so that it cannot matter.

A cut list that is handed no prices cannot differ where only a price does, and need not be made again.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from formwork.plan import Plan
from formwork.project.records import Project, Shop


def narrowed(plan: Plan, *fields: str) -> Plan:
    """The plan with its project as ``headed`` leaves it, and of everything else only these fields."""
    rest: dict[str, Any] = {
        name: () if isinstance(getattr(plan, name), tuple) else None
        for name in Plan.__match_args__
        if name not in fields and name != "project"
    }
    return replace(plan, project=headed(plan.project), **rest)


def headed(project: Project) -> Project:
    """What stands in the head of a document and how its figures are written; of the shop its saw and its sheets too."""
    return replace(project, path="", orders=(), mix=None, notes=(), shop=_shop(project.shop))


def _shop(shop: Shop) -> Shop:
    return replace(
        shop,
        sheets=tuple(replace(sheet, price=None, limit=None) for sheet in shop.sheets),
        sticks=(),
        hardware=(),
        owned=(),
        assumed=(),
        pipes=(),
        pipes_assumed=(),
        leftover_molds=(),
        tubes=(),
        straps=(),
        tubes_assumed=(),
        cup=None,
    )
