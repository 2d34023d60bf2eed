"""What the mix lifts, and what holds it down.

Mix that gets under a part floats it with the weight of the mix it displaces; mix that stands on a leaning
face pushes it up or down with its pressure on the face's plan area. Every part of a mold is asked, not cores
only: the outer form of anything that narrows upward is lifted by its own sides, and a form that begins to
rise opens more area to the pressure.

Source: Archimedes; American Concrete Pipe Association, Design Data 22M (flotation); University of Florida
construction lecture notes, week 8 (column form lifted off its base).
"""

from __future__ import annotations

from math import pi

from formwork.errors import RangeError
from formwork.record import record
from formwork.strength.customary import GRAVITY
from formwork.strength.pressure import liquid_head
from formwork.strength.valid import not_negative, positive, within
from formwork.strength.working import Step, Verdict, step

SAFETY = 1.5
"""Factor on the lift for hold-downs and ballast: our own recommendation.

No published value for form cores was found; pipelines keep a weight of 1.1 times the buoyancy (DNV-RP-F109,
quoted by a web guide)."""


def buoyancy(density: float, volume: float) -> float:
    """Lift on a part with mix all round and under it: U = rho g V.

    Args:
        density: of the fresh mix, kg/m3.
        volume: of mix displaced below its surface, m3.

    Returns:
        Lift, N.

    Raises:
        RangeError: outside the limits.

    Source: Archimedes; American Concrete Pipe Association, Design Data 22M.
    Valid: fluid mix; density above 0.

    >>> round(buoyancy(800.0, 0.60 * 0.30 * 0.35))
    494
    """
    not_negative("volume", volume, "m3")
    return liquid_head(density, 1.0) * volume


def sealed_relief(density: float, area: float, depth: float) -> float:
    """What a sealed contact would take off the buoyancy: rho g h A; to be reported, never relied on.

    Args:
        density: of the fresh mix, kg/m3.
        area: of contact no mix gets under, m2.
        depth: of that contact below the surface, m.

    Returns:
        Force, N.

    Raises:
        RangeError: outside the limits.

    Source: statics.
    Valid: a contact that stays sealed.

    >>> round(sealed_relief(800.0, 0.18, 0.35))
    494
    """
    not_negative("area", area, "m2")
    return liquid_head(density, depth) * area


def face_lift(density: float, area: float, depth: float, up: float) -> float:
    """Vertical push of the mix on a flat face of a part.

    Args:
        density: of the fresh mix, kg/m3.
        area: of the face, m2.
        depth: of its centroid below the surface of the mix, m.
        up: vertical component of the unit normal that points from the mix into the part: above 0 where the
            mix is below the face, 0 for an upright face.

    Returns:
        Force, N, up positive: pressure at the centroid times the plan area.

    Raises:
        RangeError: outside the limits.

    Source: hydrostatics: the force on a plane face is its area times the pressure at its centroid.
    Valid: face wholly below the surface.

    >>> round(face_lift(1000.0, 2.0, 0.5, 0.5), 3)
    4903.325
    """
    not_negative("area", area, "m2")
    within("normal", up, -1.0 - 1e-9, 1.0 + 1e-9, "")
    return liquid_head(density, depth) * area * up


def ring_lift(density: float, *, foot: float, head: float, height: float, cover: float = 0.0) -> float:
    """Lift on the outer form of a round piece whose side is a cone.

    Args:
        density: of the fresh mix, kg/m3.
        foot: radius at the bottom of the cone, m.
        head: radius at its top, m.
        height: of the cone, m.
        cover: depth of the cone's top below the surface of the mix, m.

    Returns:
        Force, N, up positive; negative where the form widens upward.

    Raises:
        RangeError: outside the limits.

    Source: hydrostatics: integral of rho g z over the ring of plan area, = rho g (cylinder of the foot -
    frustum) for a cover of 0.
    Valid: a straight side.

    >>> round(ring_lift(1000.0, foot=0.5, head=0.5, height=1.0), 6)
    0.0
    >>> round(ring_lift(1000.0, foot=0.3, head=0.0, height=0.6) / (1000.0 * GRAVITY * pi * 0.3**2 * 0.6), 6)
    0.666667
    """
    not_negative("foot radius", foot, "m")
    not_negative("head radius", head, "m")
    positive("height", height, "m")
    not_negative("cover", cover, "m")
    frustum = pi * height * (foot**2 + foot * head + head**2) / 3.0
    above = pi * foot**2 * (height + cover) - pi * head**2 * cover - frustum
    return liquid_head(density, 1.0) * above


def dome_lift(density: float, radius: float) -> float:
    """Lift on the closed outer form of a hemisphere filled to its crown: rho g pi R^3 / 3.

    Args:
        density: of the fresh mix, kg/m3.
        radius: of the face of the outer form, m.

    Returns:
        Force, N.

    Raises:
        RangeError: outside the limits.

    Source: hydrostatics: cylinder less hemisphere.
    Valid: full head over the whole height, the form closed to the crown.

    >>> round(dome_lift(800.0, 1.58) / 1000)
    32
    """
    positive("radius", radius, "m")
    return liquid_head(density, 1.0) * pi * radius**3 / 3.0


def hold_down(lift: float, weight: float, safety: float = SAFETY) -> float:
    """Force that fasteners or ballast must give: safety times the lift, less the dead weight of the part.

    Args:
        lift: of the mix on the part, N.
        weight: of the part and of what already lies on it, N.
        safety: factor on the lift.

    Returns:
        Force, N; 0 where the weight is enough.

    Raises:
        RangeError: outside the limits; a safety below 1.

    Source: H = U - W (American Concrete Pipe Association, Design Data 22M); the factor of 1.5 is our own
    recommendation.
    Valid: lift and weight 0 or more.

    >>> hold_down(494.0, 100.0)
    641.0
    """
    not_negative("weight", weight, "N")
    if safety < 1.0:
        raise RangeError(f"safety: got {safety:g}, want 1 or more")
    return max(0.0, safety * max(lift, 0.0) - weight)


@record
class HoldDown:
    """What keeps a part down.

    Attributes:
        weight: of the part and of what lies on it, ballast included, N.
        fasteners: what fasteners or straps hold in all, N.
        safety: factor on the lift.
    """

    weight: float
    fasteners: float = 0.0
    safety: float = SAFETY


def held_down(name: str, lift: float, by: HoldDown, lift_steps: tuple[Step, ...] = ()) -> Verdict:
    """Lift times safety against weight and fasteners.

    Args:
        name: what is judged ("core held down").
        lift: N.
        by: what keeps it down.
        lift_steps: the working of the lift.

    Returns:
        Verdict in N.

    Raises:
        RangeError: outside the limits.

    Source: :func:`hold_down`.
    Valid: as :func:`hold_down`.
    """
    not_negative("fasteners", by.fasteners, "N")
    hold_down(lift, by.weight, by.safety)
    load, limit = by.safety * max(lift, 0.0), by.weight + by.fasteners
    steps = (
        *lift_steps,
        step("F", "n * U", load, "N", n=by.safety, U=max(lift, 0.0)),
        step("R_all", "G + R_f", limit, "N", G=by.weight, R_f=by.fasteners),
    )
    return Verdict(
        name, load, limit, "N", f"Archimedes; factor of {by.safety:g} our own recommendation", steps
    )


def ballast(force: float) -> float:
    """Mass that gives a hold-down force where it lies in the air: F / g, kg.

    Args:
        force: N.

    Raises:
        RangeError: a negative force.

    >>> round(ballast(641.0), 2)
    65.36
    """
    not_negative("force", force, "N")
    return force / GRAVITY


def buoyancy_steps(density: float, volume: float) -> tuple[Step, ...]:
    """The working of a buoyancy.

    Args:
        density: kg/m3.
        volume: m3.

    Returns:
        One step, N.

    Source: :func:`buoyancy`.

    >>> str(buoyancy_steps(1000.0, 0.1)[0])
    'U = rho * g * V = 1000 * 9.80665 * 0.1 = 980.665 N'
    """
    value = buoyancy(density, volume)
    return (step("U", "rho * g * V", value, "N", rho=density, g=GRAVITY, V=volume),)
