"""What a mixer must be able to do, what is refused, and how much of a mix it handles at once."""

from __future__ import annotations

from formwork.errors import RangeError
from formwork.mix.both_units import volume_text
from formwork.mix.records import Mix, Mixer
from formwork.units import show


def refuse_mixer(mixer: Mixer) -> None:
    """Refuse a mixer that cannot work.

    Valid: usable volume above 0 and not above a whole drum's; least slurry not above it; residue and least batch under
    what the vessel holds in which the foam is blended.

    Raises:
        RangeError: saying what was got and wanted.
    """
    usable, holds = volume_text(mixer.usable), volume_text(mixer.holds)
    if not 0.0 < mixer.usable < float("inf"):
        raise RangeError(f"mixer {mixer.name}: got a usable volume of {usable}, want more than 0")
    if mixer.rating == "whole drum" and mixer.usable > mixer.rated:
        raise RangeError(
            f"mixer {mixer.name}: got a usable volume of {usable}, want {volume_text(mixer.rated)} or less"
        )
    if not 0.0 <= mixer.tub < float("inf"):
        raise RangeError(f"mixer {mixer.name}: got a second tub of {volume_text(mixer.tub)}, want 0 or more")
    if not 0.0 <= mixer.residue < mixer.holds:
        raise RangeError(
            f"mixer {mixer.name}: got a residue of {volume_text(mixer.residue)}, want 0 or more and less "
            f"than the usable {holds}"
        )
    if not 0.0 <= mixer.least <= mixer.holds:
        raise RangeError(
            f"mixer {mixer.name}: got a least batch of {volume_text(mixer.least)}, want 0 or more and not "
            f"above the usable {holds}"
        )
    if not 0.0 <= mixer.least_slurry <= mixer.usable:
        raise RangeError(
            f"mixer {mixer.name}: got {volume_text(mixer.least_slurry)} as the least slurry, want 0 or more and not "
            f"above the usable {usable}"
        )
    if not 0.0 <= mixer.heaviest < float("inf"):
        raise RangeError(
            f"mixer {mixer.name}: got {mixer.heaviest:g} kg as the heaviest batch, want 0 or more"
        )


def handled(mixer: Mixer, mix: Mix) -> tuple[float, float]:
    """Least and most finished mix that a batch may be, m3.

    Paddles that reach no less than some slurry, and a second tub in which the foam is blended, set bounds that depend
    on the mix: a cubic metre of it holds (D - m_f)/rho_s of slurry. Source: mass and volume balance (derived).

    Args:
        mixer: at hand.
        mix: one cubic metre of it.

    Raises:
        RangeError: for a mixer that cannot work, or that cannot make this mix.
    """
    refuse_mixer(mixer)
    slurry = (mix.wet_density - mix.foam_mass - mix.fibres) / mix.slurry_density
    most = min(mixer.tub, mixer.usable / slurry) if mixer.tub else mixer.usable
    if mixer.heaviest:
        most = min(most, mixer.heaviest / mix.wet_density)
    least = max(mixer.least, mixer.least_slurry / slurry)
    if least > most * (1.0 + 1e-9):
        raise RangeError(
            f"mixer {mixer.name}: got {volume_text(most)} of finished mix as the most of a batch and "
            f"{volume_text(least)} as the least ({_why(mixer)}), want a mixer that suits this mix"
        )
    if most <= mixer.residue:
        raise RangeError(
            f"mixer {mixer.name}: got {volume_text(most)} of finished mix as the most of a batch, want more than the "
            f"{volume_text(mixer.residue)} that stay in it"
        )
    return min(least, most), most


def _why(mixer: Mixer) -> str:
    said = []
    if mixer.least_slurry:
        said.append(f"its paddles reach no less than {volume_text(mixer.least_slurry)} of slurry")
    if mixer.heaviest:
        weights = f"{show.mass(mixer.heaviest, 'mm')} ({show.mass(mixer.heaviest, 'in')})"
        said.append(f"a batch weighs no more than {weights}")
    return " and ".join(said) or "as the shop file says"
