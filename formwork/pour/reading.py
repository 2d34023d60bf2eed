"""A weighing cup's reading: the density it shows, how well it is known, and whether the batch is as wanted."""

from __future__ import annotations

from math import hypot
from typing import Literal

from formwork.errors import RangeError
from formwork.mix.both_units import density_text
from formwork.pour.measure import LEAST_WEIGHED, Cup, CupReading, Measure, weighing_spread
from formwork.record import record
from formwork.units import show

TOLERANCE = 48.0
"""Off the density wanted by no more than this, kg/m3: 3 lb/ft3, ASTM C869-91(1999), Table 1 (there for its test
batch of 641 kg/m3)."""
CLOSE = 0.05
"""Share of the density wanted within which nothing need be done (common practice, no source)."""
CLOSE_OF_TOLERANCE = 2.0 / 3.0
"""Share of the tolerance within which nothing need be done, where that is less: 5 % of a dense mix is much (ours)."""

Verdict = Literal["as wanted", "in tolerance", "too heavy", "too light"]


@record
class Reading:
    """What was weighed.

    Attributes:
        net: mass of mix in the cup, kg.
        density: of the mix, kg/m3.
        spread: standard uncertainty of the density, kg/m3.
        notes: what the reader should know of it.
    """

    net: float
    density: float
    spread: float
    notes: tuple[str, ...] = ()


def weigh(gross: float, tare: float, measure: Measure, step: float = 0.001) -> Reading:
    """The density that a weighing shows.

    Source: (mass full - mass empty)/volume, ASTM C138. Valid: the cup heavier full than empty.

    Args:
        gross: mass of the full cup, kg.
        tare: mass of the empty cup, kg; 0 where the scale was set to nought with it.
        measure: the cup.
        step: what one step of the scale's display is worth, kg.

    Raises:
        RangeError: outside the limits.

    >>> from formwork.pour.measure import by_print
    >>> weigh(0.720, 0.110, by_print(0.001)).density
    610.0
    """
    if not 0.0 <= tare < gross < float("inf"):
        raise RangeError(
            f"reading: got {_mass(gross)} for the full cup and {_mass(tare)} for the empty one, want the full "
            "cup to weigh more (are they the wrong way round, or was the scale set to nought with the cup on it?)"
        )
    net = gross - tare
    density = net / measure.volume
    spread = density_spread(net, weighing_spread(step), measure.volume, measure.spread)
    return Reading(net, density, spread, _scale_notes(net, step))


def density_spread(mass: float, mass_spread: float, volume: float, volume_spread: float) -> float:
    """Standard uncertainty of a density, kg/m3: rho*sqrt((s_m/m)^2 + (s_V/V)^2).

    Source: propagation of independent spreads through a quotient (derived).

    Args:
        mass: kg.
        mass_spread: its standard uncertainty, kg.
        volume: m3.
        volume_spread: its standard uncertainty, m3.

    600 kg/m3 in half a litre, to 1 g and 5 mL:

    >>> density_spread(0.300, 0.001, 0.0005, 5e-6)
    6.3
    """
    return mass / volume * hypot(mass_spread / mass, volume_spread / volume)


def refuse_density(density: float, foam: float, slurry: float) -> None:
    """Refuse a density that no mix of this slurry and this foam can have.

    Valid: more than the foam's and not more than the slurry's, each with 2 % of room for the reading.

    Args:
        density: read, kg/m3.
        foam: density of the foam, kg/m3.
        slurry: density of the slurry, kg/m3.

    Raises:
        RangeError: outside the limits, saying what may have happened.
    """
    if density <= 1.02 * foam:
        raise RangeError(
            f"reading: got {density_text(density)}, want more than the foam's own {density_text(foam)} (was the "
            "cup full, and its tare taken off only once? is the cup's volume right?)"
        )
    if density > 1.02 * slurry:
        raise RangeError(
            f"reading: got {density_text(density)}, want no more than {density_text(slurry)}, the slurry before "
            "any foam (is the tare taken off? are the cup's volume and the water-cement ratio right?)"
        )


def judge(density: float, wanted: float, tolerance: float = TOLERANCE, close: float = CLOSE) -> Verdict:
    """Whether a density is as wanted.

    Source: ASTM C869 for the tolerance; the closer band is common practice.

    Args:
        density: read, kg/m3.
        wanted: kg/m3.
        tolerance: most that it may be off, kg/m3.
        close: share of the density wanted within which nothing need be done, up to two thirds of the tolerance.

    Raises:
        RangeError: for a wanted density or a tolerance of 0 or less.

    >>> judge(650.0, 600.0), judge(640.0, 600.0), judge(610.0, 600.0)
    ('too heavy', 'in tolerance', 'as wanted')
    """
    for name, value in (("wet density wanted", wanted), ("tolerance", tolerance)):
        if not 0.0 < value < float("inf"):
            raise RangeError(f"{name}: got {value:g}, want more than 0")
    off = density - wanted
    if abs(off) > tolerance * (1.0 + 1e-12):
        return "too heavy" if off > 0.0 else "too light"
    near = min(close * wanted, CLOSE_OF_TOLERANCE * tolerance)
    return "as wanted" if abs(off) <= near * (1.0 + 1e-12) else "in tolerance"


def reading_wanted(cup: Cup, wet_density: float) -> CupReading:
    """What the scale shows with the cup full of a mix that is right, and how far it may be off.

    Source: ASTM C869 for the tolerance.

    Args:
        cup: of the shop.
        wet_density: kg/m3.
    """
    return CupReading(cup, wet_density, TOLERANCE)


def _scale_notes(net: float, step: float) -> tuple[str, ...]:
    if step <= LEAST_WEIGHED * net:
        return ()
    return (
        f"The scale's step of {_mass(step)} is more than 0.3 % of the {_mass(net)} weighed (ASTM C138, 4.1): a finer "
        "scale or a larger cup reads better.",
    )


def _mass(mass: float) -> str:
    return f"{show.mass(mass, 'mm')} ({show.mass(mass, 'in')})"
