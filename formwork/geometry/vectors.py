"""Vectors of three floats, as tuples: enough arithmetic for planes and cells, and no more."""

from __future__ import annotations

from math import sqrt

Vec = tuple[float, float, float]


def add(a: Vec, b: Vec) -> Vec:
    """Sum of two vectors."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def sub(a: Vec, b: Vec) -> Vec:
    """Difference ``a - b``."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def scale(a: Vec, k: float) -> Vec:
    """Vector times a number."""
    return (a[0] * k, a[1] * k, a[2] * k)


def dot(a: Vec, b: Vec) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vec, b: Vec) -> Vec:
    """Vector product.

    >>> cross((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    (0.0, 0.0, 1.0)
    """
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def length(a: Vec) -> float:
    """Euclidean length."""
    return sqrt(dot(a, a))


def unit(a: Vec) -> Vec:
    """The vector at length one.

    Raises:
        ValueError: if the vector has no direction.
    """
    size = length(a)
    if size < 1e-15:
        raise ValueError("a vector of no length has no direction")
    return (a[0] / size, a[1] / size, a[2] / size)


def mean(points: tuple[Vec, ...]) -> Vec:
    """Arithmetic mean of the points."""
    n = len(points)
    return (sum(p[0] for p in points) / n, sum(p[1] for p in points) / n, sum(p[2] for p in points) / n)


def across(normal: Vec) -> tuple[Vec, Vec]:
    """Two unit vectors that span the plane of a unit ``normal``; the first is level where there is a choice.

    The pair (first, second, normal) is right-handed; for an upright plane the second points up.

    >>> across((1.0, 0.0, 0.0))
    ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    """
    if abs(normal[0]) < 1e-12 and abs(normal[1]) < 1e-12:
        first: Vec = (1.0, 0.0, 0.0)
    else:
        first = unit((-normal[1], normal[0], 0.0))
    return first, cross(normal, first)
