"""What to add to a batch whose density is not as wanted, and what it then is.

Too heavy: foam. Too light: slurry of the batch's own proportions. Both follow from mass and volume, and both make the
batch larger.
"""

from __future__ import annotations

from typing import Literal

from formwork.errors import InternalError, RangeError
from formwork.mix.absolute_volume import absolute_volume, effective_volume, foam_needed
from formwork.mix.both_units import density_text
from formwork.mix.records import Foam, Ingredient
from formwork.record import record


@record
class Slurry:
    """The proportions of a slurry by mass, over its cement.

    Attributes:
        water, sand, ash: over cement.
        cement_gravity, sand_gravity, ash_gravity: specific gravities.
        others: other powders, and admixtures.
    """

    water: float
    sand: float = 0.0
    ash: float = 0.0
    cement_gravity: float = 3.15
    sand_gravity: float = 2.65
    ash_gravity: float = 2.2
    others: tuple[Ingredient, ...] = ()

    @property
    def mass(self) -> float:
        """Of the slurry of one kilogram of cement, kg."""
        return 1.0 + self.water + self.sand + self.ash + sum(each.share for each in self.others)

    @property
    def volume(self) -> float:
        """Of the slurry of one kilogram of cement, m3."""
        solids = (
            (1.0, self.cement_gravity),
            (self.sand, self.sand_gravity),
            (self.ash, self.ash_gravity),
            *((each.share, each.gravity) for each in self.others),
        )
        return absolute_volume(solids, self.water)

    @property
    def density(self) -> float:
        """kg/m3."""
        return self.mass / self.volume


@record
class Correction:
    """What goes into the batch, and what the batch then is.

    Attributes:
        adds: foam, slurry, or nothing.
        foam_volume: m3.
        foam_mass: kg.
        foam_seconds: running time of the generator; None where its output was not measured.
        slurry_volume: m3.
        cement, water, sand, ash: kg, the parts of that slurry.
        mass_before, volume_before: of the batch as read, kg and m3.
        mass, volume: of the batch with what is added, kg and m3.
        others: other powders and admixtures in that slurry, by name, kg.
    """

    adds: Literal["foam", "slurry", "nothing"]
    foam_volume: float
    foam_mass: float
    foam_seconds: float | None
    slurry_volume: float
    cement: float
    water: float
    sand: float
    ash: float
    mass_before: float
    volume_before: float
    mass: float
    volume: float
    others: tuple[tuple[str, float], ...] = ()

    @property
    def density(self) -> float:
        """Of the batch with what is added, kg/m3."""
        return self.mass / self.volume


def correct(batch_mass: float, density: float, wanted: float, slurry: Slurry, foam: Foam) -> Correction:
    """What brings a batch from the density that was read to the one that is wanted.

    Foam, when too heavy: V_f = V*(rho_m - rho_t)/(rho_t*v_eff - rho_f). Slurry, when too light:
    V_s = V*(rho_t - rho_m)/(rho_s - rho_t). Source: mass and volume balance (derived).
    Valid: rho_t above what the foam comes to by itself and under the slurry's density.

    Args:
        batch_mass: of everything in the mixer, foam included, kg.
        density: read, kg/m3.
        wanted: wet density wanted, kg/m3.
        slurry: proportions of the batch.
        foam: at hand: density, survival, output.

    Raises:
        RangeError: outside the limits.

    75 kg at 650 kg/m3, to 600 with foam of 50 kg/m3 that loses nothing: 10.490 litres of it.

    >>> correct(75.0, 650.0, 600.0, Slurry(0.5), Foam(50.0, 1.0, 40.0)).foam_volume * 1000.0
    10.490
    """
    for name, value in (
        ("mass of the batch", batch_mass),
        ("reading", density),
        ("wet density wanted", wanted),
    ):
        if not 0.0 < value < float("inf"):
            raise RangeError(f"{name}: got {value:g}, want more than 0")
    volume = batch_mass / density
    if density > wanted:
        made = _with_foam(batch_mass, volume, wanted, foam)
    elif density < wanted:
        made = _with_slurry(batch_mass, volume, wanted, slurry)
    else:
        made = _made(batch_mass, volume, "nothing", foam=(0.0, 0.0, 0.0), slurry=(0.0, slurry))
    _check_balance(made, wanted)
    return made


def _with_foam(mass: float, volume: float, wanted: float, foam: Foam) -> Correction:
    needed = foam_needed(mass, volume, wanted, foam.density, survival=foam.survival)
    seconds = None if foam.output is None else needed / foam.output
    grows = needed * effective_volume(foam.density, foam.survival)
    return _made(mass, volume, "foam", foam=(needed, foam.density * needed, grows), seconds=seconds)


def _with_slurry(mass: float, volume: float, wanted: float, slurry: Slurry) -> Correction:
    if wanted >= slurry.density:
        raise RangeError(
            f"wet density wanted: got {density_text(wanted)}, want less than {density_text(slurry.density)}, "
            "the slurry's own density"
        )
    added = volume * (wanted - mass / volume) / (slurry.density - wanted)
    return _made(mass, volume, "slurry", slurry=(added, slurry))


def _made(
    mass: float,
    volume: float,
    adds: Literal["foam", "slurry", "nothing"],
    foam: tuple[float, float, float] = (0.0, 0.0, 0.0),
    slurry: tuple[float, Slurry] = (0.0, Slurry(0.5)),
    seconds: float | None = None,
) -> Correction:
    """The correction by foam (volume, mass, what the batch grows by) or by slurry (volume, proportions)."""
    foam_volume, foam_mass, grows = foam
    slurry_volume, parts = slurry
    cement = slurry_volume / parts.volume
    return Correction(
        adds=adds,
        foam_volume=foam_volume,
        foam_mass=foam_mass,
        foam_seconds=seconds,
        slurry_volume=slurry_volume,
        cement=cement,
        water=parts.water * cement,
        sand=parts.sand * cement,
        ash=parts.ash * cement,
        mass_before=mass,
        volume_before=volume,
        mass=mass + foam_mass + parts.mass * cement,
        volume=volume + grows + slurry_volume,
        others=tuple((each.name, each.share * cement) for each in parts.others),
    )


def _check_balance(made: Correction, wanted: float) -> None:
    """What is added must add up, and give the density that is wanted.

    Raises:
        InternalError: if either is off by more than 1e-9.
    """
    added = made.foam_mass + made.cement + made.water + made.sand + made.ash
    added += sum(mass for _, mass in made.others)
    by_parts = (made.mass_before + added) / made.mass - 1.0
    if abs(by_parts) > 1e-9 or abs(made.density / wanted - 1.0) > 1e-9:
        raise InternalError(
            f"correction does not balance: {made.mass:.9g} kg in {made.volume:.9g} m3 for {wanted:.9g} kg/m3"
        )
