"""Quantities in messages that no one person's units govern: metric first, then inch-pound."""

from __future__ import annotations

from collections.abc import Callable
from math import isfinite

from formwork.units import show


def density_text(density: float) -> str:
    """A density (kg/m3) in both systems.

    >>> density_text(480.55389)
    '481 kg/m3 (30.0 lb/ft3)'
    """
    return _text(density, lambda: f"{show.density(density, 'mm')} ({show.density(density, 'in')})")


def volume_text(volume: float) -> str:
    """A volume (m3) in both systems.

    >>> volume_text(0.0566337)
    '56.6 L (2 ft3)'
    """
    return _text(volume, lambda: f"{show.volume(volume, 'mm')} ({show.volume(volume, 'in')})")


def length_text(length: float) -> str:
    """A length (m) in both systems.

    >>> length_text(0.6)
    '600 mm (23 5/8 in)'
    """
    return _text(length, lambda: show.both(length))


def _text(value: float, shown: Callable[[], str]) -> str:
    """What is shown of a number; nan and inf as they are."""
    return shown() if isfinite(value) else f"{value}"
