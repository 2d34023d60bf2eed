"""What whoever casts a dome is told: how its sizes are meant, how it is placed, where its rings are pulled.

Lengths are given in both systems, since the notes stand on drawings of either.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import cos, degrees, pi, sin

from formwork.geometry.meridians import Meridian
from formwork.shapes.doorways import Doorway
from formwork.shapes.piece import Shell
from formwork.units import show

_STEPS = 40
_HALVINGS = 34
_CURVES = {
    "sphere": "a sphere",
    "spheroid": "half a spheroid",
    "catenary": "a catenary turned about its axis",
}


def rings_pulled(inside: Meridian, thickness: float) -> float | None:
    """Polar angle below which own weight pulls on the rings of a shell, rad; None where it does so nowhere.

    The shell is thin, of one thickness, free at both edges, and bears by forces in its middle surface alone.

    Source: membrane equations of shells of revolution, from memory: along the meridian -W / (2 pi r sin f), W the
    weight above; round it r2 (W / (2 pi r r1 sin f) - w cos f), w the weight of a square metre. That is nought where
    A / (2 pi r sin f) = r1 cos f, A the surface above.

    >>> from formwork.geometry.meridians import sphere
    >>> round(degrees(rings_pulled(sphere(1.5, 1.5), 0.0)), 2)
    51.83
    """
    middle = inside.moved(thickness / 2.0)
    start, end = inside.oculus, inside.springing

    def pull(polar: float) -> float:
        above = middle.area(start, polar) / (2.0 * pi * middle.r(polar) * sin(polar))
        return above - middle.bend(polar) * cos(polar)

    stops = [start + (end - start) * k / _STEPS for k in range(1, _STEPS + 1)]
    high = next((polar for polar in stops if pull(polar) > 0.0), None)
    if high is None:
        return None
    low = high - (end - start) / _STEPS
    for _ in range(_HALVINGS):
        between = (low + high) / 2.0
        low, high = (low, between) if pull(between) > 0.0 else (between, high)
    return (low + high) / 2.0


def shell_notes(shell: Shell, doors: Sequence[Doorway], profile: str) -> tuple[str, ...]:
    """What must be known to build the form and to place the shell.

    Args:
        shell: as it stands on its form.
        doors: through it.
        profile: name of the curve of its inside.
    """
    inside = shell.inside
    return (
        f"The inside is {_CURVES[profile]}. Span and rise are those of the inside; the thickness is square to it.",
        _foot(shell),
        *(
            ("The oculus is cut straight up: its diameter is the same inside and outside.",)
            if shell.oculus
            else ()
        ),
        _placing(shell),
        _pulled(inside, shell.thickness),
        "Ring steel at the springing, and what takes the push where an opening cuts the rings, are a licensed "
        "designer's matter; so is everything the dome stands on.",
        *(_doors(doors, shell) if doors else ()),
    )


def _foot(shell: Shell) -> str:
    inside = shell.inside
    lean = pi / 2.0 - inside.springing
    if lean < 1e-6:
        return "The foot is level, and square to the shell as well: it springs from its equator."
    if shell.radial:
        r, z = inside.moved(shell.thickness).point(inside.springing)
        return (
            f"The foot is cut square to the shell: it slopes {degrees(lean):.1f} deg down to the inside, from "
            f"{show.both(z)} over the inner edge at {show.both(r)} from the axis. What it stands on must slope alike."
        )
    return (
        f"The foot is cut level; the shell meets it {degrees(lean):.1f} deg out of plumb, so that the foot is wider "
        "than the shell is thick, and slides outward unless it is held."
    )


def _placing(shell: Shell) -> str:
    if shell.placed == "fluid":
        return (
            "Placed fluid between an inner and an outer form, through ports, in lifts that go evenly all the way "
            "round; the top of each lift is left rough, and the next one goes on as soon as the form may bear it."
        )
    return (
        "Placed stiff and built up by hand on the inner form, in rings from the springing up, evenly all the way "
        "round; a mix that flows would run off. Gauge the thickness square to the form as it is placed."
    )


def _pulled(inside: Meridian, thickness: float) -> str:
    polar = rings_pulled(inside, thickness)
    if polar is None:
        return (
            "Under its own weight alone the rings of this dome are pressed all the way down to the springing "
            "(membrane theory, from memory); wind, people, settling and openings pull on them all the same, and so "
            "does the spreading of what it stands on."
        )
    r, z = inside.point(polar)
    return (
        f"Own weight alone pulls on the rings below {degrees(polar):.1f} deg from the crown: there the inside stands "
        f"{show.both(z)} over the springing, {show.both(r)} from the axis (membrane theory of a thin shell, from "
        "memory). Plain concrete cracks there upright: it wants rings or fibres that a designer chooses."
    )


def _doors(doors: Sequence[Doorway], shell: Shell) -> tuple[str, ...]:
    """How doors are measured, and what they do to the rings; and to rings that are pulled, where they reach so low."""
    whole = replace(shell.inside, oculus=0.0)
    widest = max(door.passage.width for door in doors)
    share = sum(door.passage.width for door in doors) / (2.0 * pi * whole.r(whole.springing))
    return (
        "Doors are clear widths and heights over the springing; their sides are upright and parallel, their heads "
        "level from inside to outside.",
        f"Doors take {100.0 * share:.0f} % of the way round at the springing, the widest {show.both(widest)}. A ring "
        "cut by a door is not a closed ring: it stays propped until a frame or a thickened edge takes its push.",
    )
