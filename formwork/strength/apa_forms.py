"""Concrete form plywood of PS 1: section properties and allowable stresses by class, as APA prints them.

Source: Peurifoy & Oberlender, Formwork for Concrete Structures, 4th ed., p. 121, 218 (Table 9-3), 223, which
cites APA; stresses of Class II and Structural I from memory; division by 1.25 for many uses: University of
Florida construction lecture notes, week 8. An older edition of the table circulates with other values: rows
of the two are never mixed.
"""

from __future__ import annotations

from functools import cache
from typing import Literal

from formwork.errors import RangeError
from formwork.record import record
from formwork.strength.customary import FOOT, INCH, PSI
from formwork.strength.panels import C_ACROSS, C_ALONG, Grain, PanelSection
from formwork.strength.tables import rows
from formwork.strength.valid import positive
from formwork.strength.working import Unjudged

FormClass = Literal["Class I", "Class II", "Structural I"]

REUSE = 1.25
"""Allowable stresses of forms used many times are divided by it (lecture notes, week 8)."""

_MEASURED = 1e-4
"""A sheet is taken as thick as the row that it misses by a tenth of a millimetre; PS 1 allows eight of them."""


@record
class Stresses:
    """Allowable stresses and moduli of a class, Pa, wet use and loads under seven days, and how sure they are."""

    fb: float
    fs: float
    e: float
    ee: float
    certainty: str


@cache
def stresses(form_class: str, many_uses: bool) -> Stresses:
    """Allowable stresses of a class.

    Args:
        form_class: Class I, Class II or Structural I.
        many_uses: the form is used many times: Fb and Fs are divided by 1.25.

    Returns:
        Stresses, Pa.

    Raises:
        RangeError: no such class.

    Source: module docstring.

    >>> round(stresses("Class I", many_uses=True).fb / PSI)
    1544
    """
    share = PSI / (REUSE if many_uses else 1.0)
    for row in rows("apa_form_stresses"):
        if row["class"] == form_class:
            fb, fs, e, ee = (float(row[name]) for name in ("Fb_psi", "Fs_psi", "E_psi", "Ee_psi"))
            return Stresses(fb * share, fs * share, e * PSI, ee * PSI, row["certainty"])
    raise RangeError(f"class of form plywood: got {form_class!r}, want Class I, Class II or Structural I")


def _rows_of(form_class: str) -> list[dict[str, str]]:
    return [row for row in rows("apa_form_panels") if row["class"] == form_class]


def _properties(row: dict[str, str], grain: Grain) -> tuple[float, float, float] | None:
    """I, KS and Ib/Q of one metre of width in m4, m3, m2; None where the copy read has no value."""
    texts = (row[f"I_{grain}_in4"], row[f"KS_{grain}_in3"], row[f"IbQ_{grain}_in2"])
    if not all(texts):
        return None
    inertia, ks, ib_q = map(float, texts)
    return inertia * INCH**4 / FOOT, ks * INCH**3 / FOOT, ib_q * INCH**2 / FOOT


def form_panel(form_class: FormClass, nominal: str, grain: Grain, many_uses: bool = False) -> PanelSection:
    """A concrete form panel of PS 1 by class and nominal thickness, for wet use and loads under seven days.

    Args:
        form_class: Class I, Class II or Structural I.
        nominal: thickness as printed, "3/4".
        grain: of the face, across or along the supports.
        many_uses: the form is used many times: Fb and Fs are divided by 1.25.

    Returns:
        The section.

    Raises:
        RangeError: no such row, or a row whose values were not read.

    Source: APA, read in Peurifoy & Oberlender p. 121, 218, 223; stresses of Class II and Structural I from
    memory.
    Valid: nominal thickness 15/32 to 1-1/8 in (Structural I to 7/8 in).

    >>> section = form_panel("Class I", "3/4", "across")
    >>> round(section.fb / PSI, 6), round(section.ks * FOOT / INCH**3, 6)
    (1930.0, 0.455)
    """
    for row in _rows_of(form_class):
        properties = _properties(row, grain)
        if row["nominal"] == nominal and properties:
            return _form_section(row, properties, grain, many_uses)
    known = ", ".join(row["nominal"] for row in _rows_of(form_class))
    raise RangeError(
        f"form plywood {form_class}, grain {grain}: got {nominal!r}, want one of {known or 'no row'}"
    )


def _form_section(
    row: dict[str, str], properties: tuple[float, float, float], grain: Grain, many_uses: bool
) -> PanelSection:
    stress = stresses(row["class"], many_uses)
    certainty = "" if stress.certainty == "read" else f", stresses {stress.certainty}"
    return PanelSection(
        name=f"form plywood {row['class']} {row['nominal']} in, face grain {grain} the supports",
        thickness=float(row["thickness_in"]) * INCH,
        fb=stress.fb,
        fs=stress.fs,
        e=stress.e,
        ee=stress.ee,
        inertia=properties[0],
        ks=properties[1],
        ib_q=properties[2],
        c=C_ACROSS if grain == "across" else C_ALONG,
        source=f"APA concrete form design, {row['class']}{certainty}",
    )


def form_panel_of(
    form_class: FormClass, thickness: float, grain: Grain, many_uses: bool = False
) -> PanelSection | Unjudged:
    """A concrete form panel by its real thickness: the greatest nominal size that may be as thin in PS 1.

    Args:
        form_class: Class I, Class II or Structural I.
        thickness: real, m.
        grain: of the face, across or along the supports.
        many_uses: as for :func:`form_panel`.

    Returns:
        The section, or why there is none.

    Raises:
        RangeError: thickness not above zero.

    Source: as :func:`form_panel`; thickness ranges of PS 1 as printed by APA.
    Valid: real thickness from 0.438 in.

    >>> form_panel_of("Class I", 0.70 * INCH, "across").name
    'form plywood Class I 23/32 in, face grain across the supports'
    """
    positive("thickness", thickness, "m")
    fitting = [
        (row, properties)
        for row in _rows_of(form_class)
        if float(row["least_in"]) * INCH <= thickness + _MEASURED and (properties := _properties(row, grain))
    ]
    if not fitting:
        return too_thin(f"form plywood {form_class}", thickness, 0.438 * INCH)
    return _form_section(*fitting[-1], grain, many_uses)


@cache
def _sizes() -> tuple[float, ...]:
    return tuple(sorted({float(row["thickness_in"]) * INCH for row in rows("apa_form_panels")}))


def size_below(thickness: float) -> float | None:
    """The greatest nominal thickness of the table that a sheet reaches.

    Args:
        thickness: real, m.

    Returns:
        Nominal thickness, m; None for a sheet thinner than every row.

    Source: module docstring.

    >>> round(size_below(0.0180) / INCH, 6)
    0.625
    """
    return max((size for size in _sizes() if size <= thickness + _MEASURED), default=None)


def _rows_at(size: float) -> list[dict[str, str]]:
    return [
        row for row in rows("apa_form_panels") if abs(float(row["thickness_in"]) * INCH - size) < _MEASURED
    ]


def nominal_of(size: float) -> str:
    """A nominal thickness as printed.

    Args:
        size: nominal thickness of the table, m.

    Source: module docstring.

    >>> nominal_of(0.75 * INCH)
    '3/4'
    """
    return _rows_at(size)[0]["nominal"]


@cache
def least_properties(size: float, grain: Grain) -> tuple[float, float, float]:
    """The least I, KS and Ib/Q of the classes at a nominal thickness.

    Args:
        size: nominal thickness of the table, m.
        grain: of the face, across or along the supports.

    Returns:
        I m4, KS m3 and Ib/Q m2 a metre of width.

    Source: module docstring.

    >>> inertia, ks, ib_q = least_properties(0.75 * INCH, "across")
    >>> [round(x, 3) for x in (inertia * FOOT / INCH**4, ks * FOOT / INCH**3, ib_q * FOOT / INCH**2)]
    [0.198, 0.454, 6.189]
    """
    known = [properties for row in _rows_at(size) if (properties := _properties(row, grain))]
    return min(each[0] for each in known), min(each[1] for each in known), min(each[2] for each in known)


@cache
def shear_flexibility(size: float, grain: Grain) -> float:
    """The greatest t^2/I of a nominal thickness and of every thicker one, so that thinner is never stiffer.

    Args:
        size: nominal thickness of the table, m.
        grain: of the face, across or along the supports.

    Returns:
        t^2/I, 1/m a metre of width.

    Source: module docstring.

    >>> round(shear_flexibility(0.5 * INCH, "across") * INCH**2 / FOOT, 3)
    3.333
    """
    return max(each**2 / least_properties(each, grain)[0] for each in _sizes() if each >= size - _MEASURED)


def too_thin(name: str, thickness: float, least: float) -> Unjudged:
    """That a sheet is thinner than every row.

    Args:
        name: of the sheet.
        thickness: real, m.
        least: thinnest row, m.

    Source: module docstring.

    >>> too_thin("plywood", 0.009, 0.0119).why
    'no source gives section properties of plywood 9.0 mm thick; the thinnest row is 11.9 mm'
    """
    return Unjudged(
        "panel strength",
        f"no source gives section properties of {name} {thickness * 1e3:.1f} mm thick; "
        f"the thinnest row is {least * 1e3:.1f} mm",
    )
