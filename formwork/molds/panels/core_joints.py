"""Where the parts of cores are joined to one another, and cores to the base or to their bars.

Spacings are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from formwork.geometry.cells import box_of
from formwork.molds.joints import CLOSE, HELD, LEAST_PITCH, WIDE, Joint, along, room
from formwork.molds.mold import Part
from formwork.molds.panels.core_box import stays_on_base
from formwork.molds.panels.core_ribs import level_plates, upright_ribs
from formwork.molds.panels.lining import Frame

_MOST_AT_BAR = 4


def core_joints(frame: Frame, parts: Sequence[Part]) -> Iterable[Joint]:
    """Every joint of the cores that screws or bolts hold.

    Args:
        frame: the mold.
        parts: everything cut.
    """
    for former in frame.form.formers:
        if former.kind != "core":
            continue
        name = former.name
        own = [part for part in parts if part.group == name]
        rails = [part for part in own if part.role == "rail"]
        yield from _core_wall_joints(frame, own)
        into = _open_end(frame, own)
        if former.seat == "base":
            held = max(2, sum(along(part.blank.length, HELD) for part in rails))
            yield Joint(
                "base to core, from below",
                held,
                frame.thickness,
                into,
                comes_off=not stays_on_base(frame, former),
                group=name,
                places=max(1, len(rails)),
                most=room(rails) or _room_round(own),
                nut=True,
            )
        else:
            bars = [part for part in own if part.role == "bar"]
            yield from _bar_joints(frame, name, len(bars), into)


def _core_wall_joints(frame: Frame, core: Sequence[Part]) -> Iterable[Joint]:
    """Its cap to its walls, and its walls to what stands inside them."""
    stick = frame.stocks.inner
    cleats = [part for part in core if part.role == "cleat"]
    rails = [part for part in core if part.role == "rail"]
    caps = [part for part in core if part.role == "core cap"]
    walls = [part for part in core if part.role == "core wall"]
    plates = level_plates(core)
    edges = max(2 * sum(along(part.blank.length, CLOSE) for part in caps), len(walls)) if caps else 0
    yield Joint(
        "core caps to walls", edges, frame.thickness, 0.05, comes_off=False, places=max(1, len(walls))
    )
    around = sum(along(min(part.blank.length, part.blank.width), CLOSE) for part in walls)
    if cleats:
        each = sum(2 * along(part.blank.length, WIDE) for part in cleats)
        each += sum(along(part.blank.length, WIDE) for part in rails)
        places = 2 * len(cleats) + len(rails)
        yield Joint(
            "core walls to cleats and rails, heads sunk and filled",
            each,
            frame.thickness,
            stick.thickness,
            comes_off=False,
            places=places,
        )
    ribs = upright_ribs(core)
    if ribs:
        yield Joint(
            "core walls to ribs, heads sunk and filled",
            2 * sum(along(_height(rib), CLOSE) for rib in ribs),
            frame.thickness,
            0.05,
            comes_off=False,
            places=2 * len(ribs),
        )
    if plates:
        each = len(plates) * around
        yield Joint(
            "core walls to plates, heads sunk and filled",
            each,
            frame.thickness,
            0.05,
            comes_off=False,
            places=len(plates) * len(walls),
        )
    if not cleats and not plates:
        yield Joint(
            "core walls to one another, glued",
            2 * around,
            frame.thickness,
            0.05,
            comes_off=False,
            places=len(walls),
        )


def _height(part: Part) -> float:
    low, high = box_of(part.cells)
    return high[2] - low[2]


def _open_end(frame: Frame, core: Sequence[Part]) -> float:
    """Wood at a core's open end for the screws that hold it: its rails, its plate, or its walls' edges, m."""
    if any(part.role == "rail" for part in core):
        return frame.stocks.inner.width
    return frame.thickness * max((part.layers for part in level_plates(core)), default=1)


def _bar_joints(frame: Frame, core: str, bars: int, into: float) -> Iterable[Joint]:
    """Two fasteners at each end of a bar into the rim rails, and two at each crossing into the core's open end."""
    through = frame.stocks.stick.thickness
    ends = 2 * bars
    yield Joint(
        "bars to rim rails",
        2 * ends,
        through,
        frame.stocks.broad,
        comes_off=True,
        group=core,
        places=ends,
        most=_MOST_AT_BAR * ends,
    )
    yield Joint(
        "bars to core",
        2 * ends,
        through,
        into,
        comes_off=True,
        group=core,
        places=ends,
        most=_MOST_AT_BAR * ends,
    )


def _room_round(core: Sequence[Part]) -> int:
    """How many fasteners find room round the open end of a core without rails."""
    sides = [min(part.blank.length, part.blank.width) for part in core if part.role == "core wall"]
    return max(4, sum(int(side / LEAST_PITCH) for side in sides))
