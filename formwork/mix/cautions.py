"""What to mind while mixing and after: short lines, in our own words, that give way to the product sheets.

Behind them: the warning on caustic fresh mixtures printed in ASTM C1074-04, 1.4; OSHA 3351-07 (2008) and HSE
Construction Information Sheet 26 on cement and skin; OSHA 29 CFR 1926.1153 and HSE sheet 36 on silica dust.
Foam tank,
mixer and lifting: common practice, no source.
"""

from __future__ import annotations

from formwork.mix.records import Mix, Mixer
from formwork.units import show

_GALLON = 3.785411784e-3
_HEAVY_BAG = 25.0
"""A bag above this, kg, is more than one person lifts (common practice)."""

_SKIN = (
    "Wet cement is caustic: it burns skin slowly and can blind. Wear waterproof gloves, boots and eye "
    "protection, never kneel in it, take off what it has soaked. Wash it off at once with plenty of "
    "clean water; for eyes keep rinsing and get medical help."
)
_DUST = (
    "Cement dust and silica dust harm the lungs. Empty bags low and out of the wind with a fitted "
    "fine-dust mask on; cut, drill or sand hardened pieces wet or with extraction."
)
_TANK = (
    "The foam tank is a pressure vessel: keep under its rated pressure, with a working relief valve, "
    "and let the pressure off before any cap or hose is loosened."
)
_MIXER = (
    "A turning mixer pulls in hands, sleeves, cords and hair. Stop it and pull the plug before anything"
    " but mix goes in; feed electric tools through ground-fault protection, for the place is wet."
)
_DRILL = (
    "A mixing drill kicks when the paddle catches: hold it with both hands and keep the tub from turning."
)
_WASH = "Wash-out water is caustic too: keep it out of drains, ditches and planted ground."
_SHEETS = "The safety data sheets of what you mix and the rules where you work go before these lines."


def cautions(mix: Mix, mixer: Mixer | None = None) -> tuple[str, ...]:
    """The lines that belong with a mix, the gravest first.

    Args:
        mix: one cubic metre of it.
        mixer: at hand, for what belongs to its kind.
    """
    lines = [_SKIN, _DUST, _MIXER]
    if mixer is not None and mixer.kind == "drill and tub":
        lines.append(_DRILL)
    if mix.foam_volume > 0.0:
        lines.append(_TANK)
    return (*lines, _lifting(mix), _WASH, _SHEETS)


def in_short(mix: Mix) -> str:
    """The same in a few words, for the head of every pour.

    Args:
        mix: one cubic metre of it.
    """
    tank = " No fitting of the foam tank is loosened under pressure." if mix.foam_volume > 0.0 else ""
    return (
        "Gloves, boots and eye protection on: wet cement burns. Mask on while bags are emptied. Plug out before a hand "
        f"goes into the mixer; ground-fault protection on every cord.{tank} Nobody lifts a bag or bucket "
        "alone that is too heavy for one."
    )


def _lifting(mix: Mix) -> str:
    bag = f"A bag of {mix.dry_mix or 'cement'} weighs {show.mass(mix.bag, 'mm')} ({show.mass(mix.bag, 'in')})"
    two = ": nobody lifts it alone, roll it or scoop out of it" if mix.bag > _HEAVY_BAG else ""
    litres = f"20 L of this mix weigh {show.mass(0.020 * mix.wet_density, 'mm')}"
    gallons = f"5 US gal weigh {show.mass(5.0 * _GALLON * mix.wet_density, 'in')}"
    return f"{bag}{two}; {litres}, {gallons}."
