"""The day's foam loss, learnt from what went into the batches and what they weighed."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite, sqrt

from formwork.errors import RangeError
from formwork.mix.absolute_volume import WATER
from formwork.pour.correction import Slurry
from formwork.record import record

PLAUSIBLE = (0.5, 1.05)
"""Survivals outside this are not believed: then an amount, the foam's density or the cup is not as written."""


@record
class Made:
    """What went into one batch and what it weighed.

    Attributes:
        cement: kg; water, sand and ash go by the slurry's proportions.
        slurry: proportions.
        foam_volume: m3.
        foam_density: kg/m3.
        density: read, kg/m3.
        spread: standard uncertainty of that density, kg/m3.
    """

    cement: float
    slurry: Slurry
    foam_volume: float
    foam_density: float
    density: float
    spread: float = 0.0


@record
class Survival:
    """The share of the foam's air that stayed in the mix.

    Attributes:
        mean: over the batches.
        spread: standard deviation between batches; of one batch alone, what its reading leaves open.
        count: batches that it is from.
        set_aside: survivals that were not believed.
    """

    mean: float
    spread: float
    count: int
    set_aside: tuple[float, ...] = ()

    @property
    def usable(self) -> float:
        """The survival to work the next batch with: never above 1."""
        return min(self.mean, 1.0)


def survival_of(made: Made) -> float:
    """The share of the foam's air that stayed in one batch.

    eta = (V - V_s - m_f/rho_w)/(V_f*(1 - rho_f/rho_w)) with V = M/rho_m. Source: volume balance (derived).
    Valid: foam went in, and it is lighter than water.

    Args:
        made: what went in and what it weighed.

    Raises:
        RangeError: outside the limits.

    The 25 kg bag that takes 51.193 litres of foam at a survival of 0.90 to come out at 600 kg/m3:

    >>> survival_of(Made(25.0, Slurry(0.5), 0.051193, 50.0, 600.0))
    0.900
    """
    if not (made.foam_volume > 0.0 and 0.0 < made.foam_density < WATER and made.density > 0.0):
        raise RangeError("foam survival: want a batch with foam, foam lighter than water, and a reading")
    mass = made.slurry.mass * made.cement + made.foam_density * made.foam_volume
    liquid = made.foam_density * made.foam_volume / WATER
    air = mass / made.density - made.slurry.volume * made.cement - liquid
    return air / (made.foam_volume - liquid)


def learn(batches: Sequence[Made]) -> Survival | None:
    """The day's survival from its batches; None where none of them can be believed.

    Source: mean and standard deviation of ``survival_of`` (common practice); of one batch, the spread of its reading
    carried through.

    Args:
        batches: with foam in them.

    Raises:
        RangeError: as for ``survival_of``.
    """
    least, most = PLAUSIBLE
    found = [(survival_of(made), made) for made in batches]
    kept = [(eta, made) for eta, made in found if least <= eta <= most]
    aside = tuple(eta for eta, _ in found if not least <= eta <= most)
    if not kept:
        return None
    mean = sum(eta for eta, _ in kept) / len(kept)
    if len(kept) == 1:
        return Survival(mean, _from_reading(kept[0][1]), 1, aside)
    spread = sqrt(sum((eta - mean) ** 2 for eta, _ in kept) / (len(kept) - 1))
    return Survival(mean, spread, len(kept), aside)


def _from_reading(made: Made) -> float:
    """What the spread of a batch's reading leaves open of its survival."""
    mass = made.slurry.mass * made.cement + made.foam_density * made.foam_volume
    spread = mass / made.density**2 * made.spread / (made.foam_volume * (1.0 - made.foam_density / WATER))
    return spread if isfinite(spread) else 0.0
