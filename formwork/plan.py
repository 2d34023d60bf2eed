"""The whole program on one page: from a project to a plan, stage by stage.

A Plan is one frozen result that every output reads; nothing downstream computes a figure of its own.
"""

from __future__ import annotations

from dataclasses import dataclass

from formwork.checks.check import Check, NotChecked
from formwork.cutting.records import Bound, SheetLayout, StickLayout
from formwork.mix.records import Mix, Pour
from formwork.molds.mold import Mold, Part
from formwork.project.records import PieceOrder, Project


@dataclass(frozen=True, slots=True)
class PieceSummary:
    """One kind of piece, with what it weighs.

    Attributes:
        order: the project's order for it.
        volume: concrete in one piece, m3 (embedded things taken out).
        wet_mass: of one piece as poured, kg, embedded things included.
        dry_mass: oven-dry, kg, embedded things included.
        stripped_mass: when the mold comes off, taken as the wet mass: little water has left by then, kg.
        pours: fillings of its molds needed for all of them.
    """

    order: PieceOrder
    volume: float
    wet_mass: float
    dry_mass: float
    stripped_mass: float
    pours: int


@dataclass(frozen=True, slots=True)
class CutLine:
    """One line of the cut list: equal parts of one mold under one label.

    Attributes:
        label: as written on the part, unique in the plan ("A3": mold A, third line).
        mold: name of the mold.
        names: names of the parts it stands for in one mold.
        part: one of them.
        quantity: how many are cut for all copies of the mold, layers counted one by one.
    """

    label: str
    mold: str
    names: tuple[str, ...]
    part: Part
    quantity: int


@dataclass(frozen=True, slots=True)
class BuyLine:
    """One line of the buy list; cost is None where the shop gives no price."""

    item: str
    quantity: float
    unit: str
    cost: float | None
    use: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything a project comes to."""

    project: Project
    pieces: tuple[PieceSummary, ...]
    molds: tuple[Mold, ...]
    cut_list: tuple[CutLine, ...]
    checks: tuple[Check, ...]
    not_checked: tuple[NotChecked, ...]
    sheets: tuple[SheetLayout, ...]
    sticks: tuple[StickLayout, ...]
    bounds: tuple[Bound, ...]
    mix: Mix
    pours: tuple[Pour, ...]
    buy: tuple[BuyLine, ...]
    cautions: tuple[str, ...]
