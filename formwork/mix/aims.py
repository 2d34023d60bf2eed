"""A density taken from a published class: by the class's name, or by a strength or conductivity that is looked for.

Nothing here is a promise. A class says what others asked of, or found in, mixes of such a density; what is chosen is a
density, and the words of ``CAVEAT`` go with it wherever it is printed.
"""

from __future__ import annotations

from difflib import get_close_matches
from typing import Literal

from formwork.errors import RangeError
from formwork.mix.indicative import CAVEAT, POUND_PER_CUBIC_FOOT, PSI
from formwork.mix.shrinkage import SOURCE as ASSOCIATION
from formwork.mix.tables import rows
from formwork.record import record
from formwork.units import show

TOLERANCE = 3.0 * POUND_PER_CUBIC_FOOT
"""What a batch may be off, kg/m3: so far above a class's least density it is aimed, so that a light batch is still in
it (3 lb/ft3: ASTM C869-91(1999), Table 1)."""

_CALTRANS = "Caltrans section 19-10 (2013), fill"
_INDIANA = "Indiana DOT 215-R-189 (1996), fill"
_STANDARD = "ASTM C869-91(1999), Table 1, the standard batch, neat"
_MAKER = "a block maker's table, which follows IS 2185-4"


@record
class DensityClass:
    """One class of a document.

    Attributes:
        name: as a project file writes it.
        basis: whether its densities are of the mix as placed or oven-dry.
        least, most: its densities, kg/m3.
        strength: least and greatest compressive strength published for it, Pa; None for a greatest that is not said.
        conductivity: least and greatest thermal conductivity published for it, W/(m K); None where none is.
        source: the document.
        certainty: whether it was read or is from memory.
        age: of the strength, in words.
    """

    name: str
    basis: Literal["wet", "dry"]
    least: float
    most: float
    strength: tuple[float, float | None]
    conductivity: tuple[float, float] | None
    source: str
    certainty: Literal["read", "from memory"] = "read"
    age: str = "28-day"

    @property
    def density(self) -> float:
        """What to aim at, kg/m3: a tolerance above the least, and never above the middle of the class."""
        return min(self.least + TOLERANCE, (self.least + self.most) / 2.0)

    def said(self) -> str:
        """The class in a sentence, with its bounds, its source and the caveat."""
        placed = "as placed" if self.basis == "wet" else "oven-dry"
        ends = dict.fromkeys(_both(each) for each in (self.least, self.most))
        low, high = self.strength
        strength = f"{_pressure(low)} or more" if high is None else f"{_pressure(low)} to {_pressure(high)}"
        parts = [f"{' to '.join(ends)} {placed}", f"{self.age} strength {strength}"]
        if self.conductivity:
            least, most = self.conductivity
            span = f"{least:g}" if least == most else f"{least:g} to {most:g}"
            parts.append(f"conductivity {span} W/(m K)")
        memory = (
            ", from memory" if self.certainty == "from memory" and "from memory" not in self.source else ""
        )
        return f"{self.name}: {', '.join(parts)} ({self.source}{memory}; {CAVEAT})"


def classes() -> tuple[DensityClass, ...]:
    """Every class that a density can be taken from, document by document."""
    return (*_caltrans(), *_indiana(), _standard_batch(), *_block_maker(), *_association())


def class_named(name: str) -> DensityClass:
    """The class of a name, in any case of letters.

    Args:
        name: as typed.

    Raises:
        RangeError: if there is none.

    >>> class_named("caltrans iii").density  # 36 to 41 lb/ft3: the middle
    616.71
    """
    by_name = {each.name.casefold(): each for each in classes()}
    found = by_name.get(" ".join(name.casefold().split()))
    if found is None:
        near = get_close_matches(name.casefold(), by_name, n=1)
        hint = f" (did you mean '{by_name[near[0]].name}'?)" if near else ""
        raise RangeError(
            f"got {name[:40]!r}, want one of {', '.join(each.name for each in by_name.values())}{hint}"
        )
    return found


def class_of_strength(strength: float) -> DensityClass:
    """The class, of those that were read, that is aimed lightest of all with at least this strength.

    Args:
        strength: Pa.

    Raises:
        RangeError: for a strength of 0 or less, or beyond every class.

    >>> class_of_strength(1.0e6).name
    'C869'
    """
    fitting = [each for each in classes() if each.certainty == "read" and each.strength[0] >= strength]
    if not strength > 0.0 or not fitting:
        most = max(each.strength[0] for each in classes() if each.certainty == "read")
        raise RangeError(
            f"got {_pressure(strength)}, want more than 0 and no more than {_pressure(most)}, the most of any class"
        )
    return min(fitting, key=_placed)


def class_of_conductivity(conductivity: float) -> DensityClass:
    """The heaviest class that is said to conduct no more than this; all of them are from memory.

    Args:
        conductivity: W/(m K).

    Raises:
        RangeError: for a conductivity under that of every class.

    >>> class_of_conductivity(0.12).name
    'BCA 600'
    """
    known = [each for each in classes() if each.conductivity]
    fitting = [each for each in known if each.conductivity and each.conductivity[1] <= conductivity]
    if not fitting:
        least = min(each.conductivity[1] for each in known if each.conductivity)
        raise RangeError(f"got {conductivity:g} W/(m K), want {least:g} or more, the least of any class")
    return max(fitting, key=lambda each: each.density)


def _placed(each: DensityClass) -> float:
    """A density as placed to compare classes by: what is oven-dry is 154 kg/m3 heavier then (ASTM C869: 641, 487)."""
    return each.density if each.basis == "wet" else each.density + 154.0


def _caltrans() -> list[DensityClass]:
    return [
        DensityClass(
            f"Caltrans {row['class']}",
            "wet",
            float(row["cast_low_lb_ft3"]) * POUND_PER_CUBIC_FOOT,
            float(row["cast_high_lb_ft3"]) * POUND_PER_CUBIC_FOOT,
            (float(row["strength_psi"]) * PSI, None),
            None,
            _CALTRANS,
        )
        for row in rows("caltrans_19_10")
    ]


def _indiana() -> list[DensityClass]:
    """Only a greatest density is printed; it is aimed a tolerance below it, as the class has no least."""
    found = []
    for row in rows("indiana_215_r_189"):
        most = float(row["cast_most_lb_ft3"]) * POUND_PER_CUBIC_FOOT
        strength = (float(row["strength_psi"]) * PSI, None)
        found.append(
            DensityClass(
                f"Indiana {row['class']}", "wet", most - 2.0 * TOLERANCE, most, strength, None, _INDIANA
            )
        )
    return found


def _standard_batch() -> DensityClass:
    return DensityClass("C869", "wet", 641.0, 641.0, (1.4e6, None), None, _STANDARD)


def _block_maker() -> list[DensityClass]:
    return [
        DensityClass(
            f"IS {row['class']}",
            "dry",
            float(row["dry_density_kg_m3"]),
            float(row["dry_density_kg_m3"]),
            (float(row["strength_mpa"]) * 1e6, None),
            None,
            _MAKER,
        )
        for row in rows("block_maker")
    ]


def _association() -> list[DensityClass]:
    return [
        DensityClass(
            f"BCA {row['dry_density_kg_m3']}",
            "dry",
            float(row["dry_density_kg_m3"]),
            float(row["dry_density_kg_m3"]),
            (float(row["strength_low_mpa"]) * 1e6, float(row["strength_high_mpa"]) * 1e6),
            (float(row["conductivity_low_w_mk"]), float(row["conductivity_high_w_mk"])),
            ASSOCIATION,
            "from memory",
            "7-day",
        )
        for row in rows("bca_1994")
    ]


def _both(density: float) -> str:
    return f"{show.density(density, 'mm')} ({show.density(density, 'in')})"


def _pressure(pressure: float) -> str:
    return f"{pressure / 1e6:.2g} MPa ({pressure / PSI:.0f} psi)"
