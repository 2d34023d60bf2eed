"""Working redone as a reader with a calculator would: numbers, what a symbol stands for, and units."""

from __future__ import annotations

import ast
import math
import re
from collections.abc import Iterator, Sequence
from itertools import product

from formwork.checks.check import Check

NAMES = {"sqrt": math.sqrt, "min": min, "max": max, "pi": math.pi, "sin": math.sin, "cos": math.cos}
TOKEN = re.compile(r"\(-\d[\d.]*(?:e[+-]?\d+)?\)|[A-Za-z_]\w*'?|\d+(?:\.\d+)?(?:e[+-]?\d+)?|\S")
NUMBER = re.compile(r"(-?\d+(?:\.\d+)?(?:e[+-]?\d+)?)(?: (.*))?$")
PROSE = {"comes off in order", "form passes an opening"}
"""Checks whose load is a count of what is told in words."""

Dims = tuple[float, float, float]
"""Powers of mass, length and time."""
NONE: Dims = (0.0, 0.0, 0.0)
FORCE: Dims = (1.0, 1.0, -2.0)
STRESS: Dims = (1.0, -1.0, -2.0)
LENGTH: Dims = (0.0, 1.0, 0.0)
UNITS: dict[str, Dims] = {
    "": NONE, "rad": NONE, "deg": NONE, "%": NONE, "kerfs": NONE,
    "N": FORCE, "kN": FORCE, "MPa": STRESS, "kPa": STRESS, "Pa": STRESS, "psf": STRESS,
    "m": LENGTH, "mm": LENGTH, "kg": (1.0, 0.0, 0.0),
}  # fmt: skip
AREA, STRIP = (0.0, 2.0, 0.0), (1.0, 0.0, -2.0)
USUAL: dict[str, tuple[Dims, ...]] = {
    **dict.fromkeys(
        ["B", "D_r", "t_1", "t_2", "B_1", "B_2", "B_p", "B_s", "D", "H", "IbQ", "L", "R_min", "b", "b_1", "b_2", "d", "h", "h_c", "l", "l1", "l2", "l3", "lm", "ls", "p_t", "r", "r_f", "r_i", "s", "t", "t_s", "z"], (LENGTH,)
    ),
    **dict.fromkeys(["E", "Ee", "F_b", "F_cp", "F_v", "Fyb", "k_F", "p"], (STRESS,)),
    **dict.fromkeys(["F", "G", "R_f", "U", "Z", "Z_min"], (FORCE,)),
    **dict.fromkeys(
        ["C", "C_D", "C_F", "C_M", "C_Mb", "C_Me", "C_Mp", "C_Mv", "C_eg", "C_fu", "C_p", "C_r", "Gm", "Gs", "K", "Kd", "Kt", "f", "k", "m", "n", "n_f", "n_r", "n_s"], (NONE,)
    ),
    "A": (AREA,), "KS": (AREA,), "w": (STRIP,), "rho_c": ((1.0, -3.0, 0.0),), "V": ((0.0, 3.0, 0.0),), "s_b": (STRESS,),
    "P_s": (FORCE,), "G_f": (FORCE,), "A_p": (AREA,), "EI": ((1.0, 2.0, -2.0),), "Et": ((1.0, 0.0, -2.0),), "I": ((0.0, 3.0, 0.0), (0.0, 4.0, 0.0)), "a": (LENGTH, NONE), "c": (LENGTH, NONE), "R": (FORCE, LENGTH),
}  # fmt: skip
"""What stands in a formula without a line of its own, in mm, N and MPa; some letters have two uses."""
FREE = ("P_A", "p_A")
"""Formulas of a document in its own units, which hold for these alone."""


def evaluate(numbers: str) -> float:
    """The value of printed numbers put through the printed formula."""
    return float(eval(numbers.replace("^", "**"), {"__builtins__": {}}, NAMES))


def used(line: str) -> dict[str, str]:
    """The number that stands for each symbol of a line's formula; of a value that is taken, none."""
    pieces = line.split(" = ")
    if len(pieces) == 2:
        return {}
    formula, numbers = TOKEN.findall(pieces[1]), TOKEN.findall(pieces[2])
    assert len(formula) == len(numbers), line
    return {a: b.strip("()") for a, b in zip(formula, numbers, strict=True) if a != b}


def result(line: str) -> tuple[float, str]:
    """The value a line ends in and its unit, without what is said of its origin."""
    found = NUMBER.match(line.rsplit(" = ", maxsplit=1)[-1])
    assert found, line
    return float(found[1]), (found[2] or "").partition("(")[0].strip()


def faults(working: Sequence[str]) -> Iterator[str]:
    """Everything in a working that a reader would stumble over."""
    known: dict[str, str] = {}
    units: dict[str, Dims] = {"g": (0.0, 1.0, -2.0), "rho": (1.0, -3.0, 0.0)}
    for line in working:
        pieces = line.split(" = ")
        if len(pieces) not in (2, 4):
            yield f"no symbol, formula, numbers and result: {line}"
            continue
        value, unit = result(line)
        if len(pieces) == 4 and not math.isclose(evaluate(pieces[2]), value, rel_tol=2e-5, abs_tol=1e-12):
            yield f"numbers give {evaluate(pieces[2]):.6g}: {line}"
        for symbol, number in used(line).items():
            if known.setdefault(symbol, number) != number:
                yield f"{symbol} was {known[symbol]}: {line}"
        known[pieces[0]] = line.rsplit(" = ", maxsplit=1)[-1].split()[0]
        units[pieces[0]] = dims_of(unit)
        if len(pieces) == 4 and pieces[0] not in FREE and not _fits(pieces[1], units, dims_of(unit)):
            yield f"unit is not {unit or 'a plain number'}: {line}"


def closing_faults(check: Check) -> Iterator[str]:
    """Load and limit must be results of the working."""
    found = [result(line)[0] for line in check.working if " = " in line]
    for name, value in (("load", check.demand), ("limit", check.capacity)):
        if not any(math.isclose(value, one, rel_tol=1e-5, abs_tol=1e-12) for one in found):
            yield f"{name} {value:.6g} {check.unit} stands in no line"


def dims_of(unit: str) -> Dims:
    """Powers of a unit as printed: "N mm/mm", "kg/m3"."""
    above, _, below = unit.partition("/")
    total = NONE
    for text, sign in ((above, 1.0), (below, -1.0)):
        for part in text.split():
            name, power = re.fullmatch(r"(\D+)(\d?)", part).groups()  # type: ignore[union-attr]
            one = UNITS[name]
            total = tuple(a + sign * float(power or 1) * b for a, b in zip(total, one, strict=True))  # type: ignore[assignment]
    return total


def _fits(formula: str, units: dict[str, Dims], wanted: Dims) -> bool:
    """The formula comes to such a unit, by one of the uses of every letter in it."""
    tokens = TOKEN.findall(formula.replace("^", "**"))
    names = [name for name in dict.fromkeys(tokens) if name[0].isalpha() and name not in NAMES]
    known = [(units[name],) if name in units else USUAL[name] for name in names]
    plain = {name: f"s{index}" for index, name in enumerate(names)}
    tree = ast.parse("".join(plain.get(token, token) for token in tokens), mode="eval").body
    return any(_of(tree, dict(zip(plain.values(), some, strict=True))) == wanted for some in product(*known))


def _of(node: ast.expr, units: dict[str, Dims]) -> Dims | None:
    """Powers of a formula; None where unlike things are added."""
    match node:
        case ast.Name(id=name) if name != "pi":
            return units[name]
        case ast.UnaryOp(operand=inner):
            return _of(inner, units)
        case ast.BinOp(left=left, op=ast.Pow(), right=ast.Constant(value=power)):
            return _raised(_of(left, units), float(power))  # type: ignore[arg-type]
        case ast.BinOp(left=left, op=op, right=right):
            one, other = _of(left, units), _of(right, units)
            return None if one is None or other is None else _both(one, op, other)
        case ast.Call(func=ast.Name(id=name), args=[first, *_]) if name not in ("sin", "cos"):
            return _raised(_of(first, units), 0.5 if name == "sqrt" else 1.0)
    return NONE


def _raised(one: Dims | None, power: float) -> Dims | None:
    return None if one is None else tuple(power * each for each in one)  # type: ignore[return-value]


def _both(one: Dims, op: ast.operator, other: Dims) -> Dims | None:
    match op:
        case ast.Mult():
            return tuple(a + b for a, b in zip(one, other, strict=True))  # type: ignore[return-value]
        case ast.Div():
            return tuple(a - b for a, b in zip(one, other, strict=True))  # type: ignore[return-value]
    return one if one == other else None
