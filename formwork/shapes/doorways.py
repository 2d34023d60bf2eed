"""Doorways through the shell of a dome: what forms them, and where there is no room for one."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from math import asin, cos, pi, sin, sqrt, tau

from formwork.errors import GeometryError
from formwork.geometry.meridians import Meridian
from formwork.geometry.passages import Passage, reach, taken
from formwork.geometry.prisms import Prism
from formwork.geometry.turned import Turned
from formwork.record import record
from formwork.shapes.piece import CurvedFormer
from formwork.units import show

_LEVELS = 24


@record
class Doorway:
    """A passage through a dome and the way it looks: angle from the x axis, counter-clockwise from above, rad."""

    passage: Passage
    bearing: float


def formers(doors: Sequence[Doorway], shell: Turned, thickness: float) -> tuple[CurvedFormer, ...]:
    """The bodies that keep the doorways free: boxes from inside the shell to outside of it, numbered from 1.

    Args:
        doors: through the shell.
        shell: the whole shell.
        thickness: of the shell; the boxes stand out by half of it on both sides, m.
    """
    return tuple(
        CurvedFormer(
            f"door {number}",
            "board",
            _box(door, shell, thickness / 2.0),
            "box",
            "base",
            takes=taken(shell, door.passage),
        )
        for number, door in enumerate(doors, start=1)
    )


def _box(door: Doorway, shell: Turned, beyond: float) -> Prism:
    near, far = reach(shell, door.passage)
    start = max(0.0, near - beyond)
    c, s = cos(door.bearing), sin(door.bearing)
    return Prism(
        door.passage.outline(),
        far + beyond - start,
        (start * c, start * s, 0.0),
        along=(-s, c, 0.0),
        across=(0.0, 0.0, 1.0),
    )


def refuse_bad_doors(doors: Sequence[Doorway], inside: Meridian, oculus: float, name: str) -> None:
    """Refuse doorways that the dome has no room for.

    Args:
        doors: through the shell.
        inside: meridian of the inside.
        oculus: radius of the oculus, m; 0 where there is none.
        name: the project's name for the piece.

    Raises:
        GeometryError: naming the doorway, and what would fit.
    """
    for number, door in enumerate(doors, start=1):
        _refuse_shape(door.passage, f"{name}: door {number}")
        _refuse_high(door.passage, inside, oculus, f"{name}: door {number}")
        _refuse_wide(door.passage, inside, f"{name}: door {number}")
    for (i, one), (j, other) in combinations(enumerate(doors, start=1), 2):
        if _meet(one, other, inside):
            raise GeometryError(
                f"{name}: doors {i} and {j} meet: no shell is left between them; make them narrower or turn them "
                "further apart"
            )


def _refuse_shape(passage: Passage, where: str) -> None:
    if passage.arched and passage.jamb < -1e-9:
        raise GeometryError(
            f"{where}: height {show.both(passage.height)} is less than half the width {show.both(passage.width)}, "
            "which its half round head alone takes; make it higher, narrower, or square"
        )


def _refuse_high(passage: Passage, inside: Meridian, oculus: float, where: str) -> None:
    if passage.height >= inside.z(0.0):
        raise GeometryError(
            f"{where}: height {show.both(passage.height)} is not less than the rise of the dome, "
            f"{show.both(inside.z(0.0))}; make it lower"
        )
    if oculus > 0.0 and inside.r(inside.at_height(passage.height)) <= oculus:
        raise GeometryError(
            f"{where}: at its height {show.both(passage.height)} it meets the oculus, whose edge stands "
            f"{show.both(inside.z(inside.oculus))} over the springing; make the door lower or the oculus smaller"
        )


def _refuse_wide(passage: Passage, inside: Meridian, where: str) -> None:
    for z in _heights(passage):
        room = inside.r(inside.at_height(z))
        if passage.half(z) >= room * sin(pi / 3.0):
            raise GeometryError(
                f"{where}: {show.both(2.0 * passage.half(z))} wide at {show.both(z)} over the springing, where the "
                f"dome is {show.both(2.0 * room)} wide inside; a door takes at most a third of the way round: make "
                "it narrower, lower or arched"
            )


def _meet(one: Doorway, other: Doorway, inside: Meridian) -> bool:
    """Whether two doorways leave nothing of the inside between them at some height that both reach."""
    apart = abs((one.bearing - other.bearing + pi) % tau - pi)
    shared = [
        z
        for passage in (one.passage, other.passage)
        for z in _heights(passage)
        if z <= min(one.passage.height, other.passage.height)
    ]
    return any(_turn(one, z, inside) + _turn(other, z, inside) >= apart for z in shared)


def _turn(door: Doorway, z: float, inside: Meridian) -> float:
    """Angle seen from the axis between a doorway's middle and its side, at a height of the inside."""
    return asin(door.passage.half(z) / inside.r(inside.at_height(z)))


def _heights(passage: Passage) -> tuple[float, ...]:
    """Heights of a doorway, closer together under its head; its sill, jamb and head among them."""
    even = [passage.height * sqrt(k / _LEVELS) for k in range(_LEVELS + 1)]
    return tuple(sorted({*even, max(0.0, passage.jamb)}))
