"""Quantities in messages that no one person's units govern: metric first, then inch-pound."""

from __future__ import annotations

from math import isfinite

from formwork.units import show


def density_text(density: float) -> str:
    """A density (kg/m3) in both systems.

    >>> density_text(480.55389)
    '481 kg/m3 (30.0 lb/ft3)'
    """
    if not isfinite(density):
        return f"{density}"
    return f"{show.density(density, 'mm')} ({show.density(density, 'in')})"


def volume_text(volume: float) -> str:
    """A volume (m3) in both systems.

    >>> volume_text(0.0566337)
    '56.6 L (2 ft3)'
    """
    if not isfinite(volume):
        return f"{volume}"
    return f"{show.volume(volume, 'mm')} ({show.volume(volume, 'in')})"


def length_text(length: float) -> str:
    """A length (m) in both systems.

    >>> length_text(0.6)
    '600 mm (23 5/8 in)'
    """
    if not isfinite(length):
        return f"{length}"
    return show.both(length)
