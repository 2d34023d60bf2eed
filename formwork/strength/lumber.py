"""Dimension lumber: reference values, and what they become in use.

Source: reference values: NDS Supplement Table 4A in a reprint (Southern Pine: Southern Forest Products
Association);
factors: the same reprint and University of Florida construction lecture notes, week 7, 8; C_D 1.25 for
loads under seven days: Peurifoy & Oberlender, Formwork for Concrete Structures, 4th ed., p. 137.
"""

from __future__ import annotations

from functools import cache
from typing import Literal

from formwork.errors import RangeError
from formwork.record import record
from formwork.strength.customary import INCH, MPA, PSI
from formwork.strength.tables import rows
from formwork.strength.valid import positive, within
from formwork.strength.working import Step, given, step

_TOLERANCE = 0.02 * INCH

SizeRule = Literal["factor", "stud", "included"]


@record
class Grade:
    """Reference design values of one grade of one species.

    Attributes:
        name: species and grade, as printed.
        greatest_width: of the sections the row is for, m.
        fb: bending, Pa.
        fv: shear along the grain, Pa.
        fcp: compression across the grain (bearing), Pa.
        fc: compression along the grain, Pa.
        e: modulus of elasticity, Pa.
        size: which size factor applies: of the grades, of Stud grade, or none (already in the value).
    """

    name: str
    greatest_width: float
    fb: float
    fv: float
    fcp: float
    fc: float
    e: float
    size: SizeRule


@record
class Section:
    """A stick as it stands in the mold.

    Attributes:
        breadth: side square to the load, m.
        depth: side along the load, m.
        plies: equal sticks side by side that share the load.
    """

    breadth: float
    depth: float
    plies: int = 1

    @property
    def area(self) -> float:
        """Cross section of all plies, m2."""
        return self.plies * self.breadth * self.depth

    @property
    def modulus(self) -> float:
        """Section modulus of all plies, m3."""
        return self.area * self.depth / 6.0

    @property
    def inertia(self) -> float:
        """Moment of inertia of all plies, m4."""
        return self.area * self.depth**2 / 12.0

    @property
    def flat(self) -> bool:
        """The load is square to the wide face."""
        return self.breadth > self.depth + _TOLERANCE

    @property
    def width(self) -> float:
        """The greater side of one ply, m."""
        return max(self.breadth, self.depth)


@record
class Service:
    """How the stick is used.

    Attributes:
        wet: its moisture is above 19 % in use, as beside fresh concrete.
        short: loaded for less than seven days in all: false for sticks used again and again.
        repetitive: three or more that touch the sheathing, at 24 in or closer.
    """

    wet: bool = True
    short: bool = False
    repetitive: bool = False


@record
class Adjusted:
    """Design values of a stick in its use, Pa, and how they were found."""

    name: str
    fb: float
    fv: float
    fcp: float
    e: float
    steps: tuple[Step, ...]


@cache
def grades() -> tuple[Grade, ...]:
    """Every row of the table of reference values.

    Source: module docstring.

    >>> len(grades())
    10
    """
    return tuple(
        Grade(
            name=f"{row['species']} {row['grade']}",
            greatest_width=float(row["greatest_width_in"]) * INCH,
            fb=float(row["Fb_psi"]) * PSI,
            fv=float(row["Fv_psi"]) * PSI,
            fcp=float(row["Fcp_psi"]) * PSI,
            fc=float(row["Fc_psi"]) * PSI,
            e=float(row["E_psi"]) * PSI,
            size=row["size"],  # type: ignore[arg-type]
        )
        for row in rows("nds_lumber")
    )


def grade(name: str, width: float) -> Grade:
    """Reference values of a species and grade.

    Args:
        name: species and grade ("douglas fir-larch No.2"); capitals do not matter.
        width: greater side of the real section, m.

    Returns:
        The row for that width.

    Raises:
        RangeError: no such species and grade, or wider than its rows.

    Source: module docstring.
    Valid: real width to 11.25 in (Stud grade to 5.5 in).

    >>> round(grade("Douglas Fir-Larch No.2", 3.5 * INCH).fb / PSI, 6)
    900.0
    """
    named = [each for each in grades() if each.name.casefold() == name.casefold()]
    if not named:
        known = ", ".join(dict.fromkeys(each.name for each in grades()))
        raise RangeError(f"lumber: got {name!r}, want one of {known}")
    for each in named:
        if width <= each.greatest_width + _TOLERANCE:
            return each
    raise RangeError(f"width of {name}: got {width:g} m, want up to {named[-1].greatest_width:g} m")


@cache
def cautious_grade() -> Grade:
    """Lumber of which nothing is known: the least of every value in the table.

    Source: the least of the rows; taking it is our own.
    Valid: sticks of a structural softwood grade without large knots or splits.

    >>> round(cautious_grade().fb / PSI, 6)
    500.0
    """
    table = grades()
    return Grade(
        name="softwood of unknown species and grade",
        greatest_width=max(each.greatest_width for each in table),
        fb=min(each.fb for each in table),
        fv=min(each.fv for each in table),
        fcp=min(each.fcp for each in table),
        fc=min(each.fc for each in table),
        e=min(each.e for each in table),
        size="included",
    )


def grade_of(material: str, width: float) -> Grade:
    """The row for the material of a stock record, or the cautious one where it names no row.

    Args:
        material: as the stock record has it ("spruce-pine-fir No.2", "softwood").
        width: greater side of the real section, m.

    Returns:
        A row of the table; for a species without a grade the weakest row of the species.

    Raises:
        RangeError: wider than the species' rows.

    Source: module docstring.

    >>> grade_of("softwood", 0.045).name
    'softwood of unknown species and grade'
    >>> grade_of("Spruce-Pine-Fir", 0.045).name
    'spruce-pine-fir No.3'
    """
    wanted = material.casefold().strip()
    fitting = [
        each
        for each in grades()
        if each.name.casefold() == wanted or each.name.casefold().startswith(wanted + " ")
    ]
    names = tuple(dict.fromkeys(each.name for each in fitting))
    if not wanted or not names:
        return cautious_grade()
    found = [grade(name, width) for name in names if width <= _widest(name) + _TOLERANCE] or [
        grade(names[0], width)
    ]
    return min(found, key=lambda each: each.fb)


def _widest(name: str) -> float:
    return max(each.greatest_width for each in grades() if each.name == name)


_SIZE = (
    (3.5, 1.5, 1.1),
    (4.5, 1.4, 1.0),
    (5.5, 1.3, 1.0),
    (7.25, 1.2, 1.0),
    (9.25, 1.1, 1.0),
    (11.25, 1.0, 1.0),
)
_FLAT = ((9.25, 1.2), (5.5, 1.15), (3.5, 1.1))


def size_factor(width: float, rule: SizeRule) -> float:
    """C_F on bending, by the real width; sizes between two rows take the wider row's.

    Args:
        width: greater side of the real section, m.
        rule: of the grade.

    Returns:
        C_F, a plain number.

    Raises:
        RangeError: wider than the table.

    Source: NDS Table 4A in a reprint (2 to 4 in 1.5, 5: 1.4, 6: 1.3, 8: 1.2, 10: 1.1, 12: 1.0 nominal,
    2 and 3 in thick); Stud grade 1.1 to 4 in, 1.0 to 6 in: from memory.
    Valid: real width to 11.25 in.

    >>> size_factor(3.5 * INCH, "factor")
    1.5
    """
    positive("width", width, "m")
    within("width", width, 0.0, 11.25 * INCH + _TOLERANCE, "m")
    if rule == "included":
        return 1.0
    inches = next(row for row in _SIZE if width <= row[0] * INCH + _TOLERANCE)
    return inches[1] if rule == "factor" else inches[2]


def flat_factor(section: Section) -> float:
    """C_fu on bending of a 2-in nominal stick loaded on its wide face.

    Sizes between two rows take the narrower row's.

    Args:
        section: as it stands.

    Returns:
        C_fu, a plain number; 1 for a stick on edge and for one narrower than 4 in nominal.

    Source: NDS Table 4A in a reprint: 4 in 1.1, 6 and 8 in 1.15, 10 in 1.2 nominal.
    Valid: sticks of 2 in nominal thickness; thicker ones get 1.

    >>> flat_factor(Section(3.5 * INCH, 1.5 * INCH))
    1.1
    """
    if not section.flat or section.depth > 1.75 * INCH:
        return 1.0
    return next((factor for width, factor in _FLAT if section.width >= width * INCH - _TOLERANCE), 1.0)


_DRY = {"fb": 1.0, "fv": 1.0, "fcp": 1.0, "e": 1.0}


def _wet_factors(sized_fb: float) -> dict[str, float]:
    """C_M by value; bending of a weak or large section (Fb C_F to 1150 psi) loses nothing."""
    return {"fb": 1.0 if sized_fb <= 1150.0 * PSI * (1.0 + 1e-9) else 0.85, "fv": 0.97, "fcp": 0.67, "e": 0.9}


def adjust(row: Grade, section: Section, service: Service) -> Adjusted:
    """Design values of a stick: Fb' = Fb C_D C_M C_F C_r C_fu, Fv' = Fv C_D C_M, Fcp' = Fcp C_M, E' = E C_M.

    Args:
        row: reference values.
        section: as it stands.
        service: how it is used.

    Returns:
        Design values, Pa, with their working.

    Raises:
        RangeError: a section outside the tables.

    Source: module docstring. C_M when wet: Fb 0.85 (1 where Fb C_F is not above 1150 psi), Fv 0.97, Fcp 0.67,
    E 0.9; C_r 1.15.
    Valid: real width to 11.25 in, thickness to 4 in. Boards thinner than 1-1/2 in are outside the document:
    that they take the same reference values, with no gain by C_F, is our own extension.

    >>> stud = Section(1.5 * INCH, 3.5 * INCH)
    >>> fir = grade("douglas fir-larch No.2", stud.width)
    >>> values = adjust(fir, stud, Service(short=True, repetitive=True))
    >>> round(values.fb / PSI, 1), round(values.fv / PSI, 2), round(values.fcp / PSI, 2)
    (1649.5, 218.25, 418.75)
    """
    positive("breadth", section.breadth, "m")
    positive("depth", section.depth, "m")
    C_D = 1.25 if service.short else 1.0
    within("thickness", min(section.breadth, section.depth), 0.0, 4.0 * INCH, "m")
    thin = min(section.breadth, section.depth) < 1.5 * INCH - _TOLERANCE
    C_F, C_fu = 1.0 if thin else size_factor(section.width, row.size), flat_factor(section)
    C_r = 1.15 if service.repetitive else 1.0
    C_M = _wet_factors(row.fb * C_F) if service.wet else _DRY
    fb, fv = row.fb * C_D * C_M["fb"] * C_F * C_r * C_fu, row.fv * C_D * C_M["fv"]
    fcp, e = row.fcp * C_M["fcp"], row.e * C_M["e"]
    steps = (
        given("F_b", row.fb / MPA, "MPa", row.name),
        step("F_b'", "F_b * C_D * C_Mb * C_F * C_r * C_fu", fb / MPA, "MPa",
             F_b=row.fb / MPA, C_D=C_D, C_Mb=C_M["fb"], C_F=C_F, C_r=C_r, C_fu=C_fu),
        step("F_v'", "F_v * C_D * C_Mv", fv / MPA, "MPa", F_v=row.fv / MPA, C_D=C_D, C_Mv=C_M["fv"]),
        step("F_cp'", "F_cp * C_Mp", fcp / MPA, "MPa", F_cp=row.fcp / MPA, C_Mp=C_M["fcp"]),
        step("E'", "E * C_Me", e / MPA, "MPa", E=row.e / MPA, C_Me=C_M["e"]),
    )  # fmt: skip
    return Adjusted(row.name, fb, fv, fcp, e, steps)
