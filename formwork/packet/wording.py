"""Words that several sections share: ways out of a mold, sizes without their unit, loads and limits."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import asin, ceil, cos, degrees, hypot, isfinite, pi

from formwork.geometry.vectors import Vec
from formwork.shapes.piece import Face
from formwork.units import show
from formwork.units.show import UnitSystem
from formwork.units.table import find

LEVEL = 0.5 * pi / 180.0
"""A way nearer to level or to upright than this (rad) is called level or straight up."""

_PARTING = pi / 6.0
"""A way steeper than this (rad) to every face lifts off rather than slides along."""


def size(value: float, units: UnitSystem, *, exact: bool = False) -> str:
    """A length without its unit, for a column whose heading names it.

    Args:
        value: m.
        units: of the person.
        exact: add the exact decimal inches where the nearest sixteenth is not the whole truth.

    >>> size(0.6, "in", exact=True), size(0.6, "mm")
    ('23 5/8 (23.622)', '600')
    """
    return show.length(value, units, exact=exact and units == "in").replace(f" {units}", "", 1)


def stretch(value: float, units: UnitSystem) -> str:
    """A length of which more or less is bought: whole feet, or metres to a tenth, rounded up.

    Args:
        value: m.
        units: of the person.

    >>> stretch(8.0343, "mm"), stretch(0.31, "in")
    ('8.1 m', '2 ft')
    """
    if units == "in":
        return f"{ceil(value / show.FOOT - 1e-9)} ft"
    return f"{show.plain(ceil(value * 10.0 - 1e-9) / 10.0, 1)} m"


def way(direction: Vec, faces: Sequence[Face]) -> str:
    """A direction as a carpenter says it, the mold lying as it is filled, by the sides that its piece names.

    Args:
        direction: unit vector.
        faces: of the piece's envelope; upright or leaning ones name the sides.
    """
    rise = asin(max(-1.0, min(1.0, direction[2])))
    if abs(rise) > pi / 2.0 - LEVEL:
        return "straight up" if rise > 0.0 else "straight down"
    side = _side(direction, faces)
    if abs(rise) < LEVEL:
        return side
    return f"{side}, {'rising' if rise > 0.0 else 'sinking'} {show.angle(abs(rise))}"


def _side(direction: Vec, faces: Sequence[Face]) -> str:
    """The side a direction points to, or the corner of two; outward where no side has a name."""
    level = [(face.name, _level(face.half.normal)) for face in faces if face.role == "panel"]
    if not level:
        return "straight out"
    x, y = _level(direction)
    nearness = sorted(((x * nx + y * ny, name) for name, (nx, ny) in level), key=lambda entry: -entry[0])
    if nearness[0][0] > cos(pi / 8.0):
        return f"to the {nearness[0][1]}"
    return f"to the corner of {' and '.join(sorted((nearness[0][1], nearness[1][1])))}"


def _level(direction: Vec) -> tuple[float, float]:
    """The level part of a direction, at length one."""
    size = hypot(direction[0], direction[1]) or 1.0
    return direction[0] / size, direction[1] / size


def draft(angle: float) -> str:
    """The draft on a way out, that there is none, or that no face slides along another.

    Args:
        angle: least angle between the way and the faces it parts, rad.
    """
    if angle > _PARTING:
        return "nothing drags"
    return "no draft" if abs(degrees(angle)) < 0.05 else f"draft {show.angle(angle)}"


def amount(value: float, unit: str, units: UnitSystem) -> str:
    """A load or a limit in the person's units, where its own unit is one that has a counterpart.

    Args:
        value: in ``unit``.
        unit: as the check states it.
        units: of the person.
    """
    if not isfinite(value):
        return "none"
    if unit not in _PER_UNIT:
        return f"{_figure(value)} {unit}".strip()
    text = _PER_UNIT[unit](value, units)
    number, _, named = text.rpartition(" ")
    return f"{_figure(_number(number))} {named}" if number.startswith(("0.000", "-0.000")) else text


def _fine(millimetres: float, units: UnitSystem) -> str:
    """A small movement: inches to a thousandth, or millimetres to a hundredth."""
    return f"{show.plain(millimetres / 25.4, 3)} in" if units == "in" else f"{show.plain(millimetres, 2)} mm"


def fine_up(value: float, units: UnitSystem) -> str:
    """A small gap rounded up: inches to a thousandth, or millimetres to a hundredth.

    Args:
        value: m.
        units: of the person.

    >>> fine_up(0.0000781, "mm"), fine_up(0.0000781, "in")
    ('0.08 mm', '0.004 in')
    """
    step = show.INCH / 1000.0 if units == "in" else 1e-5
    return _fine(ceil(value / step - 1e-9) * step * 1000.0, units)


def _stress(megapascals: float, units: UnitSystem) -> str:
    """A stress: pounds per square inch, or megapascals."""
    psi = find("psi", "pressure")
    if units == "mm" or psi is None:
        return f"{_figure(megapascals)} MPa"
    return f"{show.plain(megapascals * 1e6 / float(psi[1]), 0)} psi"


_PER_UNIT: dict[str, Callable[[float, UnitSystem], str]] = {
    "N": show.force,
    "Pa": show.pressure,
    "m3": show.volume,
    "m2": show.area,
    "kg": show.mass,
    "kg/m3": show.density,
    "m": show.length,
    "mm": _fine,
    "MPa": _stress,
}
"""How a load in this unit is shown to a person."""


def _number(text: str) -> float:
    return float(text.replace(",", ""))


def _figure(value: float) -> str:
    """Three digits that count; powers of ten where there would be a row of noughts."""
    return f"{value:.1e}" if value and abs(value) < 0.001 else show.digits(value)


def percent(utilisation: float) -> str:
    """Load over limit in percent; ``over`` where there is a load and no limit at all."""
    if not isfinite(utilisation):
        return "over"
    return "under 1 %" if 0.0 < utilisation < 0.005 else f"{show.plain(100.0 * utilisation, 0)} %"


def counted(number: int, one: str, many: str = "") -> str:
    """A number with its noun.

    >>> counted(1, "batch", "batches"), counted(3, "mold")
    ('1 batch', '3 molds')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"


def runs(numbers: list[int]) -> str:
    """Ascending numbers in words.

    >>> runs([1, 2, 3, 4]), runs([1, 2]), runs([1, 3, 4]), runs([7])
    ('1 to 4', '1 and 2', '1, 3 and 4', '7')
    """
    first, last = numbers[0], numbers[-1]
    if len(numbers) > 2 and last - first == len(numbers) - 1:
        return f"{first} to {last}"
    before = ", ".join(str(number) for number in numbers[:-1])
    return f"{before} and {last}" if before else str(last)
