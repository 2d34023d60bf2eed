"""How well the formulas agree with what others published: each source with its cases and the worst difference.

``python -m tests.verification.agreement`` prints the table that stands in DEVELOPERS.md; a test compares the two.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from importlib import import_module


@dataclass(frozen=True)
class Case:
    """One published value beside what the program finds, in the unit of its source.

    Attributes:
        name: what it is, with its place in the source.
        printed: as published.
        found: by the program.
        within: greatest difference that the printed rounding, or that of the source's own constants, explains.
    """

    name: str
    printed: float
    found: float
    within: float

    @property
    def agrees(self) -> bool:
        """The difference is one of rounding."""
        return abs(self.found - self.printed) <= self.within * (1.0 + 1e-9)

    @property
    def difference(self) -> float:
        """Over the published value."""
        return abs(self.found - self.printed) / abs(self.printed)


@dataclass(frozen=True)
class Agreement:
    """One row of the table.

    Attributes:
        what: was compared.
        source: with which document.
        cases: value by value.
        but: what rounding does not explain, or what the source leaves out.
        bound: how the values lie, where the source only bounds them; empty where it is to be met.
    """

    what: str
    source: str
    cases: tuple[Case, ...]
    but: str = ""
    bound: str = ""

    def __str__(self) -> str:
        return f"| {self.what} | {self.source} | {len(self.cases)} | {self.bound or self._worst()} |"

    def _worst(self) -> str:
        worst = max(self.cases, key=lambda case: case.difference)
        found = f"{100.0 * worst.difference:.2g} % ({worst.name})" if worst.difference > 5e-6 else "none"
        return f"{found}; {self.but}" if self.but else found


FILES = (
    "pressure",
    "apa_form_plywood",
    "form_ply_18",
    "army_forms",
    "plates",
    "uf_lumber",
    "nds_fasteners",
    "nds_bolts",
    "bands_and_uplift",
    "outside_pressure",
    "stakes",
)
"""Test files of this folder that give rows, in the order of the table."""


def agreements() -> Iterable[Agreement]:
    """Every row, as the files have it."""
    for name in FILES:
        yield from import_module(f"tests.verification.test_{name}").agreements()


def table() -> str:
    """The table as it stands in DEVELOPERS.md."""
    head = "| what | source | values | worst difference |\n| --- | --- | --- | --- |\n"
    return head + "\n".join(map(str, agreements())) + "\n"


if __name__ == "__main__":
    print(table())
