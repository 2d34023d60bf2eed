"""Integrals of smooth functions, where no closed form exists."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from math import cos, pi

from formwork.errors import RangeError

_NODES = 16
_MOST_PANELS = 1024


def integral(function: Callable[[float], float], low: float, high: float, tolerance: float = 1e-12) -> float:
    """The integral of a smooth function from ``low`` to ``high``, to a share of ``tolerance`` of its size.

    Gauss-Legendre with sixteen nodes a panel; the panels are halved until two results agree.

    Raises:
        RangeError: where they do not agree on 1024 panels: the function is not smooth there.

    >>> round(integral(cos, 0.0, pi / 2.0), 12)
    1.0
    """
    panels, last = 1, _panelled(function, low, high, 1)
    while panels < _MOST_PANELS:
        panels *= 2
        found = _panelled(function, low, high, panels)
        if abs(found - last) <= tolerance * abs(found) + 1e-300:
            return found
        last = found
    raise RangeError(f"an integral from {low:g} to {high:g} did not settle to {tolerance:g} of its size")


def short_integral(function: Callable[[float], float], low: float, high: float) -> float:
    """The integral over a stretch so short that the function is nearly a polynomial there; nothing is halved.

    >>> round(short_integral(cos, 0.0, 0.1), 12)
    0.099833416647
    """
    return _panelled(function, low, high, 1)


def _panelled(function: Callable[[float], float], low: float, high: float, panels: int) -> float:
    half = (high - low) / panels / 2.0
    middles = (low + (2 * i + 1) * half for i in range(panels))
    return half * sum(
        weight * function(middle + half * node) for middle in middles for node, weight in _rule()
    )


@cache
def _rule() -> tuple[tuple[float, float], ...]:
    """Nodes and weights on -1 to 1: roots of the Legendre polynomial by Newton's method, weights 2/((1 - x2) P'2).

    Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 25.4.29, from memory.
    """
    return tuple(_node(k) for k in range(1, _NODES + 1))


def _node(k: int) -> tuple[float, float]:
    x = cos(pi * (k - 0.25) / (_NODES + 0.5))
    for _ in range(8):
        value, slope = _legendre(x)
        x -= value / slope
    slope = _legendre(x)[1]
    return x, 2.0 / ((1.0 - x * x) * slope * slope)


def _legendre(x: float) -> tuple[float, float]:
    """The polynomial of degree ``_NODES`` and its slope."""
    before, value = 1.0, x
    for n in range(2, _NODES + 1):
        before, value = value, ((2 * n - 1) * x * value - (n - 1) * before) / n
    return value, _NODES * (x * value - before) / (x * x - 1.0)
