"""The measure (in print: weighing cup): how much it really holds, and how well that is known.

Its volume comes from its inside sizes, from a standard pipe's table, from the water it holds, or from what is
printed on it. Spreads are standard uncertainties (one standard deviation).
"""

from __future__ import annotations

from dataclasses import replace
from math import hypot, pi, sqrt

from formwork.errors import RangeError
from formwork.mix.both_units import length_text, volume_text
from formwork.pour.water import ZERO, water_density
from formwork.record import record
from formwork.stock.pipes import average_inside, pipe_size
from formwork.units import show
from formwork.units.show import UnitSystem

INCH = 0.0254
POUND = 0.45359237

RULED = 0.0005
"""Spread of a size read off a ruler, m: half a millimetre (common practice)."""
PRINTED = 0.01
"""Spread of a volume that is only printed on a cup, as a share of it (common practice)."""
STRUCK = 0.0003
"""Spread of the level of a surface struck off with a straight edge, m (common practice)."""
NOT_AS_MEANT = 0.005
"""A measure that holds another volume than its owner means, by more than this share, is told so."""
SMALLEST = 0.0009
"""A measure under this, m3, makes the uncertainty of a reading large: at least a litre is advised."""
LEAST_WEIGHED = 0.003
"""Accuracy asked of the scale, as a share of the load (ASTM C138/C138M-17, 4.1: 45 g or 0.3 % of it,
whichever is the greater)."""


@record
class Measure:
    """A weighing cup.

    Attributes:
        volume: that it holds when struck off, m3.
        spread: standard uncertainty of that volume, striking off included, m3.
        how: how the volume was found, as a person reads it.
        notes: what its owner should know.
    """

    volume: float
    spread: float
    how: str
    notes: tuple[str, ...] = ()


@record
class Cup:
    """The weighing cup and the scale of a shop.

    Attributes:
        holds: what it holds, and how well that is known.
        tare: mass of the empty cup, kg; 0 where the scale is set to nought with it.
        step: what one step of the scale's display is worth, kg.
    """

    holds: Measure
    tare: float = 0.0
    step: float = 0.001


@record
class CupReading:
    """What the scale shows when the cup is full of mix of a wet density.

    Attributes:
        cup: the cup.
        density: wanted, kg/m3.
        tolerance: most that it may be off, kg/m3.
    """

    cup: Cup
    density: float
    tolerance: float

    @property
    def wanted(self) -> float:
        """On the scale, the cup with it, kg."""
        return self.at(self.density)

    def at(self, density: float) -> float:
        """On the scale at some density, the cup with it, kg.

        Args:
            density: of the mix, kg/m3.
        """
        return self.cup.tare + self.cup.holds.volume * density


def by_sizes(across: float, deep: float, ruled: float = RULED) -> Measure:
    """A straight round cup from its inside diameter and depth.

    Source: volume of a cylinder; spread by the rule for products. Valid: 20 mm to 1 m each way.

    Args:
        across: inside diameter, m.
        deep: inside depth, m.
        ruled: spread of each size, m.

    Raises:
        RangeError: outside the limits.

    >>> by_sizes(6.112 * 0.0254, 6.0 * 0.0254).volume / 0.3048**3  # ft3
    0.1019
    """
    _refuse_size("inside diameter of the cup", across)
    _refuse_size("inside depth of the cup", deep)
    volume = pi / 4.0 * across**2 * deep
    spread = volume * hypot(2.0 * ruled / across, ruled / deep, STRUCK / deep)
    how = f"{_size_text(across)} across, {_size_text(deep)} deep, inside"
    return Measure(volume, spread, how, _shape_notes(across, deep))


def by_pipe(size: str, deep: float, schedule: int = 40) -> Measure:
    """A cup cut from PVC pipe, from the pipe's nominal size.

    The table's average inside diameter is taken. Pipes differ, and another figure goes round (outside less two
    least walls): the spread covers both, and a measured diameter is the better one.
    Source: ASTM D1785, outside diameters and least walls; average inside diameter = outside - 2*(least wall +
    half of its tolerance, 0.020 in or 12 % of the wall, the greater), which reproduces the printed averages.

    Args:
        size: nominal, in inches as printed on the pipe: "6", "1-1/2".
        deep: inside depth, m.
        schedule: 40 or 80.

    Raises:
        RangeError: for a pipe that is not in the table, or a depth outside the limits of ``by_sizes``.

    A cup of a tenth of a cubic foot from 6 in pipe is 6.049 in deep:

    >>> by_pipe("6", 6.049 * 0.0254).volume / 0.3048**3
    0.1000
    """
    across, other = pipe_inside(size, schedule)
    cup = by_sizes(across, deep)
    doubt = cup.volume * (other - across) / across
    note = (
        f"The table's average inside diameter was taken, {length_text(across)}; least walls would leave "
        f"{length_text(other)}. Measure the pipe: a measured diameter is the better one."
    )
    how = f"{size} in schedule {schedule} pipe, {length_text(deep)} deep"
    return Measure(cup.volume, hypot(cup.spread, doubt), how, (note, *cup.notes))


def named_pipe(text: str) -> tuple[str, int]:
    """Nominal size and schedule of a pipe as a person writes it.

    Args:
        text: "6 in", or "4 in schedule 80".

    Raises:
        RangeError: for a schedule that is no number.

    >>> named_pipe("4 in schedule 80"), named_pipe("6 in")
    (('4 in', 80), ('6 in', 40))
    """
    size, said, schedule = text.partition(" schedule ")
    if said and not schedule.strip().isdecimal():
        raise RangeError(f"pipe of the cup: got 'schedule {schedule[:20]}', want schedule 40 or 80")
    return size, int(schedule) if said else 40


def pipe_inside(size: str, schedule: int = 40) -> tuple[float, float]:
    """Average inside diameter of a PVC pipe, and what its least walls would leave, m.

    Source: as for ``by_pipe``.

    Args:
        size: nominal, in inches as printed on the pipe.
        schedule: 40 or 80.

    Raises:
        RangeError: for a pipe that is not in the table.

    >>> [round(diameter / 0.0254, 3) for diameter in pipe_inside("6")]
    [6.031, 6.065]
    """
    if schedule not in (40, 80):
        raise RangeError(f"schedule of the pipe: got {schedule}, want 40 or 80")
    trade = size.removesuffix("in").strip().replace(" ", "-")
    pipe = pipe_size(f"PVC schedule {schedule}", trade)
    if schedule == 40:
        return average_inside(trade), pipe.outside - 2.0 * pipe.wall
    mean_wall = pipe.wall + max(0.020 * INCH, 0.12 * pipe.wall) / 2.0
    return pipe.outside - 2.0 * mean_wall, pipe.outside - 2.0 * pipe.wall


def by_water(full: float, empty: float, temperature: float, step: float = 0.001) -> Measure:
    """A cup calibrated with the water it holds.

    Source: V = (full - empty)/rho_water(t), the calibration of ASTM C138 and C29. Both weighings must be made
    with the same flat plate on the cup, or both without. For the spread of striking off, the cup is taken to be
    as deep as it is wide.

    Args:
        full: mass of the cup full of water, kg.
        empty: mass of the cup, kg.
        temperature: of the water, K.
        step: what one step of the scale's display is worth, kg.

    Raises:
        RangeError: if there is no water in it, or the water is colder than 0 C or warmer than 40 C.

    31.150 lb of water at 70 F:

    >>> by_water(31.150 * 0.45359237, 0.0, 273.15 + 21.111).volume / 0.3048**3
    0.5000
    """
    if not 0.0 <= empty < full:
        raise RangeError(
            f"cup with water: got {_mass(full)} full and {_mass(empty)} empty, want it heavier full than empty"
        )
    density = water_density(temperature)
    volume = (full - empty) / density
    opening = pi / 4.0 * (4.0 * volume / pi) ** (2.0 / 3.0)
    grams, pounds = (on_scale(full - empty, step, units) for units in ("mm", "in"))
    how = f"it holds {grams} ({pounds}) of water at {temperature - ZERO:.1f} C"
    return Measure(volume, hypot(weighing_spread(step) / density, STRUCK * opening), how, _size_notes(volume))


def by_print(volume: float) -> Measure:
    """A cup whose printed or believed volume is all that is known.

    Args:
        volume: m3.

    Raises:
        RangeError: for a volume that is no cup's.
    """
    if not 1e-5 <= volume <= 0.2:
        raise RangeError(f"cup: got {volume_text(volume)}, want 10 mL to 200 L (is a unit wrong?)")
    note = "Its volume is taken as printed: weigh it full of water once, and give that instead."
    return Measure(volume, PRINTED * volume, "as printed on it", (note, *_size_notes(volume)))


def weighing_spread(step: float) -> float:
    """Spread of a difference of two weighings, kg, from the step of the scale's display.

    Source: each reading is off by up to half a step either way, all equally likely: step/sqrt(12), and there
    are two of them.

    Args:
        step: kg.

    >>> weighing_spread(0.001) * 1000.0
    0.408
    """
    return step / sqrt(6.0)


def wanted_net(measure: Measure, wet_density: float) -> float:
    """Mass of mix of a wet density that the cup holds, kg.

    Args:
        measure: the cup.
        wet_density: kg/m3.

    A US quart at 600 kg/m3:

    >>> wanted_net(by_print(946.353e-6), 600.0) * 1000.0
    567.8
    """
    return measure.volume * wet_density


def against_belief(measure: Measure, meant: float, net: float | None, units: UnitSystem) -> Measure:
    """The cup with a note where it does not hold what its owner means it to.

    Args:
        measure: the cup.
        meant: volume its owner takes it for, m3.
        net: mass of mix in it just now, kg; None where nothing was weighed.
        units: of the person.
    """
    off = measure.volume / meant - 1.0
    if abs(off) <= NOT_AS_MEANT:
        return measure
    note = (
        f"This cup is not {_precise(meant, units)}: it holds {_precise(measure.volume, units)}, "
        f"{show.share(abs(off))} {'more' if off > 0 else 'less'}."
    )
    if net is not None:
        real, taken = net / measure.volume, net / meant
        note += (
            f" What is in it now weighs {show.density(real, units)}, and not the "
            f"{show.density(taken, units)} that it would be taken for."
        )
    return replace(measure, notes=(note, *measure.notes))


def _precise(volume: float, units: UnitSystem) -> str:
    """A cup's volume with four digits, as it takes to see the difference."""
    if units == "in":
        return f"{show.plain(volume / show.FOOT**3, 4)} ft3"
    return f"{show.plain(1e6 * volume, 1 if volume < 0.001 else 0)} mL"


def on_scale(mass: float, step: float, units: UnitSystem) -> str:
    """A mass as a scale shows it: in grams or pounds, to its own step and no finer.

    Args:
        mass: kg.
        step: of the scale's display, kg.
        units: of the person.

    >>> on_scale(1.8123, 0.001, "mm"), on_scale(1.8123, 0.00453592, "in")
    ('1812 g', '4.00 lb')
    """
    factor, unit = (POUND, "lb") if units == "in" else (0.001, "g")
    places = next((places for places in range(4) if step >= 0.99 * factor * 10.0**-places), 4)
    return f"{show.plain(mass / factor, places, keep=True)} {unit}"


def _size_text(size: float) -> str:
    """A size as it was measured: the sixteenth of an inch is not the whole truth of a cup."""
    return f"{show.length(size, 'mm')} ({show.plain(size / INCH, 3)} in)"


def _refuse_size(name: str, size: float) -> None:
    if not 0.02 <= size <= 1.0:
        raise RangeError(f"{name}: got {length_text(size)}, want 20 mm to 1 m (is a unit wrong?)")


def _shape_notes(across: float, deep: float) -> tuple[str, ...]:
    notes = []
    if not 0.8 <= deep / across <= 1.5:
        notes.append(
            f"The cup is {show.share(deep / across)} as deep as it is wide; 80 to 150 % is asked of a measure "
            "(ASTM C29)."
        )
    return (*notes, *_size_notes(pi / 4.0 * across**2 * deep))


def _size_notes(volume: float) -> tuple[str, ...]:
    if volume >= SMALLEST:
        return ()
    return (f"The cup holds only {volume_text(volume)}: one of a litre or a quart and more reads better.",)


def _mass(mass: float) -> str:
    return f"{show.mass(mass, 'mm')} ({show.mass(mass, 'in')})"
