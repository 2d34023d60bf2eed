"""Integer programs for jobs that the quick ways leave open: which of many known ways of cutting, and how often.

HiGHS solves them (https://highs.dev). It is imported when the first one is asked for, so an ordinary plan, whose
quick ways meet their bound, neither loads nor needs it. One thread, one seed and a limit counted in branches: the
same program gives the same answer on any machine.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import highspy

_WHOLE = 1e-6
"""An amount nearer than this to a whole number is that number."""


class Program(NamedTuple):
    """Ways of cutting to choose from.

    Attributes:
        costs: of each way.
        holds: what each way gives: row numbers and amounts.
        wanted: amount that each row must reach.
        most: amount that a row must not pass; a missing row has no such limit.
    """

    costs: Sequence[float]
    holds: Sequence[Mapping[int, int]]
    wanted: Sequence[int]
    most: Mapping[int, int]


def choose(program: Program, ceiling: float, nodes: int) -> list[int] | None:
    """How often each way is taken, at the lowest cost found; None where none at or below the ceiling is found.

    Args:
        program: the ways.
        ceiling: dearest cost of interest.
        nodes: branches to look at.
    """
    solver = _loaded(program)
    solver.setOptionValue("mip_max_nodes", nodes)
    solver.setOptionValue("objective_bound", ceiling + _WHOLE)
    solver.run()
    amounts = list(solver.getSolution().col_value)
    taken = [round(amount) for amount in amounts]
    if not taken or any(abs(amount - count) > 1e-3 for amount, count in zip(amounts, taken, strict=True)):
        return None
    return taken if _serves(program, taken, ceiling) else None


def _loaded(program: Program) -> highspy.Highs:
    """The program in a solver that says nothing: ``highspy.Highs`` writes a line before it can be told not to."""
    import highspy  # noqa: PLC0415 - takes a tenth of a second, and few jobs ask for it
    from highspy._core import _Highs  # noqa: PLC0415

    solver = _Highs()
    for option, value in (("output_flag", False), ("threads", 1), ("random_seed", 0)):
        solver.setOptionValue(option, value)
    model = highspy.HighsLp()
    columns, rows = len(program.costs), len(program.wanted)
    model.num_col_, model.num_row_ = columns, rows
    model.col_cost_ = list(program.costs)
    model.col_lower_, model.col_upper_ = [0.0] * columns, [highspy.kHighsInf] * columns
    model.row_lower_ = [float(amount) for amount in program.wanted]
    model.row_upper_ = [float(program.most.get(row, highspy.kHighsInf)) for row in range(rows)]
    matrix = model.a_matrix_
    matrix.format_ = highspy.MatrixFormat.kColwise
    starts = [0]
    for held in program.holds:
        starts.append(starts[-1] + len(held))
    matrix.start_ = starts
    matrix.index_ = [row for held in program.holds for row in held]
    matrix.value_ = [float(amount) for held in program.holds for amount in held.values()]
    model.integrality_ = [highspy.HighsVarType.kInteger] * columns
    solver.passModel(model)
    return solver


def _serves(program: Program, taken: Sequence[int], ceiling: float) -> bool:
    """The answer, looked at in whole numbers: every row reached, none passed, the cost within the ceiling."""
    if sum(cost * count for cost, count in zip(program.costs, taken, strict=True)) > ceiling + _WHOLE:
        return False
    reached = [0] * len(program.wanted)
    for held, count in zip(program.holds, taken, strict=True):
        for row, amount in held.items():
            reached[row] += amount * count
    return all(count >= need for count, need in zip(reached, program.wanted, strict=True)) and all(
        reached[row] <= limit for row, limit in program.most.items()
    )
