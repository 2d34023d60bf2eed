"""Lateral pressure of ordinary, internally vibrated concrete after ACI 347; never for flowing mixes.

The formulas stand in the document's own units (psf, ft/h, degree Fahrenheit, lb/ft3); SI goes in and comes
out.

Source: base formulas and the choice between them: University of Florida construction lecture notes, week 7;
Nunnally, Construction Methods and Management, ch. 12, eq. 12-1; Concrete Construction (2006) on ACI 347-04.
Least pressure 600 Cw and "need not exceed w h": note c of the APA concrete form pressure table. Chemistry and
unit weight coefficients, the depth of vibration and the size that makes a column: ACI 347R-14 from memory.
"""

from __future__ import annotations

from typing import Literal

from formwork.record import record
from formwork.strength.customary import FOOT, INCH, PCF, PSF, fahrenheit_of_kelvin
from formwork.strength.valid import positive, within
from formwork.strength.working import Step, given, step

Member = Literal["wall", "column"]
Cement = Literal["plain", "retarded or blended", "blended and retarded", "high slag or ash"]

GREATEST_SLUMP = 7.0 * INCH
"""Concrete of more slump takes the full liquid head, m."""

CHEMISTRY: dict[Cement, float] = {
    "plain": 1.0,
    "retarded or blended": 1.2,
    "blended and retarded": 1.4,
    "high slag or ash": 1.4,
}
"""Cc: 1.0 for types I, II, III without retarder (lecture notes); the others ACI 347R-14 from memory."""

COLUMN_SIDE = 6.5 * FOOT
"""A member with no plan side above this is a column, m (ACI 347R-14, from memory)."""

DEEPEST = 4.0 * FOOT
"""Depth to which internal vibration may reach, m (ACI 347R-14, from memory)."""

HOUR = 3600.0


@record
class Placing:
    """How ordinary concrete is placed.

    Attributes:
        density: of the fresh concrete, kg/m3.
        height: of concrete placed in one go, m.
        rate: rise of the concrete in the form, m/s.
        temperature: of the concrete as placed, K.
        member: wall or column (no plan side above 6.5 ft).
        cement: what slows it.
        slump: m.
    """

    density: float
    height: float
    rate: float
    temperature: float
    member: Member = "wall"
    cement: Cement = "plain"
    slump: float = 4.0 * INCH


def unit_weight_coefficient(density: float) -> float:
    """Cw of ACI 347.

    Args:
        density: of the fresh concrete, kg/m3.

    Returns:
        Cw, a plain number.

    Raises:
        RangeError: outside the limits.

    Source: ACI 347R-14, from memory: below 140 lb/ft3 0.5 (1 + w/145) but at least 0.80; 140 to 150: 1;
    above: w/145.
    Valid: 100 to 200 lb/ft3 (1602 to 3204 kg/m3): ordinary aggregate concrete; the limits are our own.

    >>> round(unit_weight_coefficient(116 * PCF), 6)
    0.9
    >>> unit_weight_coefficient(150 * PCF)
    1.0
    """
    w = density / PCF
    within("density", round(w, 9), 100.0, 200.0, "lb/ft3")
    if w < 140.0 - 1e-9:
        return max(0.5 * (1.0 + w / 145.0), 0.8)
    return 1.0 if w <= 150.0 + 1e-9 else w / 145.0


def base_pressure(placing: Placing) -> float | None:
    """The formula of ACI 347 with Cw = Cc = 1, or None where it calls for the full liquid head.

    Args:
        placing: how the concrete is placed.

    Returns:
        Pressure, Pa: 150 + 9000 R/T psf for columns and for walls up to 7 ft/h and 14 ft high;
        150 + 43 400/T + 2800 R/T psf for higher walls and for walls at 7 to 15 ft/h; None above 15 ft/h.

    Source: University of Florida lecture notes, week 7; which formula when: Concrete Construction (2006).
    Valid: see :func:`aci_pressure`.

    >>> from formwork.strength.customary import kelvin_of_fahrenheit
    >>> at_80 = Placing(150 * PCF, 15 * FOOT, 10 * FOOT / HOUR, kelvin_of_fahrenheit(80))
    >>> round(base_pressure(at_80) / PSF, 1)
    1042.5
    """
    R = round(placing.rate * HOUR / FOOT, 9)
    T = fahrenheit_of_kelvin(placing.temperature)
    if placing.member == "column" or (R <= 7.0 and placing.height <= 14.0 * FOOT):
        return (150.0 + 9000.0 * R / T) * PSF
    if R <= 15.0:
        return (150.0 + 43400.0 / T + 2800.0 * R / T) * PSF
    return None


def aci_pressure(placing: Placing) -> float:
    """Greatest lateral pressure of ordinary, internally vibrated concrete.

    Args:
        placing: how the concrete is placed.

    Returns:
        Pressure, Pa: Cw Cc times the base formula, at least 600 Cw psf, never more than w h.

    Raises:
        RangeError: outside the limits; then the full liquid head applies.

    Source: ACI 347 as given in the module's docstring.
    Valid: slump to 7 in; concrete at 40 to 100 F (the range of the published tables, from memory); density
    100 to 200 lb/ft3; internal vibration to 4 ft depth (from memory).

    >>> from formwork.strength.customary import kelvin_of_fahrenheit
    >>> case = Placing(150 * PCF, 12 * FOOT, 6 * FOOT / HOUR, kelvin_of_fahrenheit(80))
    >>> round(aci_pressure(case) / PSF, 6)
    825.0
    """
    positive("height", placing.height, "m")
    positive("rate", placing.rate, "m/s")
    within("slump", placing.slump, 0.0, GREATEST_SLUMP + 1e-9, "m")
    within("temperature", round(fahrenheit_of_kelvin(placing.temperature), 6), 40.0, 100.0, "F")
    Cw = unit_weight_coefficient(placing.density)
    head = placing.density / PCF * placing.height / FOOT * PSF
    base = base_pressure(placing)
    if base is None:
        return head
    return min(max(Cw * CHEMISTRY[placing.cement] * base, 600.0 * Cw * PSF), head)


_COLUMN = "Cw * Cc * (150 + 9000 * R / T)"
_WALL = "Cw * Cc * (150 + 43400 / T + 2800 * R / T)"


def least_of(head: float, placing: Placing) -> tuple[Step, ...]:
    """The working of the pressure where the formula and the liquid head are compared.

    Args:
        head: full liquid head at the height asked about, kPa.
        placing: how the concrete is placed.

    Returns:
        R, T, Cw and Cc as taken, the formula in psf, and the pressure in kPa: the lesser of it and the head.

    Raises:
        RangeError: outside the limits of :func:`aci_pressure`.

    Source: :func:`aci_pressure`.
    """
    cap, base = aci_pressure(placing), base_pressure(placing)
    if base is None:
        return (given("P", head, "kPa", "concrete that rises so fast takes the full liquid head, ACI 347"),)
    R, T = placing.rate * HOUR / FOOT, fahrenheit_of_kelvin(placing.temperature)
    Cw, Cc = unit_weight_coefficient(placing.density), CHEMISTRY[placing.cement]
    low = placing.member == "column" or (round(R, 9) <= 7.0 and placing.height <= 14.0 * FOOT)
    formula = Cw * Cc * base / PSF
    value = min(head, cap / 1000.0)
    return (
        given("R", R, "ft/h", "rise of the concrete"),
        given("T", T, "F", "as placed"),
        given("Cw", Cw, "", "unit weight coefficient, ACI 347R-14, from memory"),
        given("Cc", Cc, "", f"chemistry coefficient, {placing.cement}"),
        step("P_A", _COLUMN if low else _WALL, formula, "psf", Cw=Cw, Cc=Cc, R=R, T=T),
        step("p_A", "max(P_A, 600 * Cw) * k", max(formula, 600.0 * Cw) * PSF / 1000.0, "kPa", P_A=formula, Cw=Cw,
             k=PSF / 1000.0),
        step("P", "min(P_h, p_A)", value, "kPa", P_h=head, p_A=max(formula, 600.0 * Cw) * PSF / 1000.0),
    )  # fmt: skip
