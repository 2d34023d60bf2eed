"""Where the parts of a mold are joined: what each joint holds, through how much wood and into how much, how many.

Spacings are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import ceil, sqrt

from formwork.geometry.cells import box_of
from formwork.molds.mold import Part
from formwork.molds.panels.base_boards import battens
from formwork.molds.panels.dividers import dividers, upright
from formwork.molds.panels.lining import Frame
from formwork.molds.panels.splices import behind_joints
from formwork.record import record

CLOSE = 0.15
"""Spacing of fasteners where the mix pulls or a seam must close, m."""
WIDE = 0.2
"""Spacing of fasteners elsewhere, m."""
HELD = 0.4
"""Spacing of what only holds a core or a rail down on the base, where its load asks for no more, m."""
LEAST_PITCH = 0.05
"""Least distance between two fasteners in a row, m (common practice, no source)."""
_BESIDE = 0.015
"""Least distance from a fastener to a rail beside it, m: half a washer and a socket (ours)."""
_THIN_BASE = 0.016
_TWO_ROWS = 0.038
"""Least breadth of a stick for two staggered rows of screws bored for, m (common practice, no source)."""
CORNERS = "corners"
"""The group of all the corners together."""
SIDES = "sides"
"""The group of all the sides together, held down by the lowest rails."""
CLEATS = "cleats"
"""The group of all the cleats in the corners together, each held to its panel."""
DIVIDERS = "dividers"
"""The group of all the dividers of a gang together."""


@record
class Joint:
    """What joins one part of the mold to another.

    Attributes:
        use: what it joins.
        count: how many fasteners.
        through: wood the fastener passes through, m.
        into: wood it ends in, m.
        comes_off: it is undone at every filling.
        group: the group of parts it holds, where the mix pulls at it; empty elsewhere.
        edge: it ends in the edge of a sheet, where no bolt finds a nut.
        places: at how many equal places they are shared out.
        most: how many find room without splitting the wood.
        nut: a bolt finds room for its nut, though the joint stays closed from one filling to the next.
        instead: the same through more wood, or in two rows, where too few of these find room.
    """

    use: str
    count: int
    through: float
    into: float
    comes_off: bool
    group: str = ""
    edge: bool = False
    places: int = 1
    most: int = 100_000
    nut: bool = False
    instead: Joint | None = None


def joints(frame: Frame, parts: Sequence[Part]) -> tuple[Joint, ...]:
    """Every joint that screws or bolts hold, but for those of the cores: ``panels.core_joints`` has these."""
    found = (
        *_corner_joints(frame, parts),
        *_stick_joints(frame, parts),
        *_base_joints(frame, parts),
        *_board_joints(frame, parts),
        *_splice_joints(frame, parts),
        *_former_joints(frame, parts),
    )
    return tuple(joint for joint in found if joint.count)


def _corner_joints(frame: Frame, parts: Sequence[Part]) -> Iterable[Joint]:
    """Through the panel that runs past into its neighbour's cleat, or cleat to cleat through a mitre.

    Where rails are mitred into hoops, two screws at 45 degrees cross each mitre in the middle of the rail's depth.
    """
    cleats = [part for part in parts if part.role == "cleat" and part.group.endswith(" panel")]
    stick = frame.stocks
    if not cleats:
        mitres = [part for part in parts if part.role == "rail" and part.group.endswith(" panel")]
        slant = stick.deep / sqrt(2.0)
        yield Joint(
            "mitres of the hoops, slantwise",
            2 * len(mitres),
            slant,
            slant,
            comes_off=False,
            places=len(mitres),
        )
        return
    mitred = frame.mitred
    if mitred:
        cleats = cleats[: len(cleats) // 2]
    each = sum(along(part.blank.length, CLOSE) for part in cleats)
    through = stick.broad if mitred else frame.thickness
    joint = Joint(
        "corners of the mold",
        each,
        through,
        stick.broad,
        comes_off=True,
        group=CORNERS,
        places=len(cleats),
        most=room(cleats),
    )
    yield joint if mitred else _past_rails(frame, parts, joint, frame.fill)


def _stick_joints(frame: Frame, parts: Sequence[Part]) -> Iterable[Joint]:
    """From the face of a panel into its cleats and rails, the heads sunk and filled.

    From behind, through the stick, a point that must not come through the panel finds too little wood to hold: no value
    is known for a bite of half an inch. The pull of a corner goes through the screws of its cleat.
    """
    for role, group in (("cleat", CLEATS), ("rail", "")):
        sticks = [part for part in parts if part.role == role and part.group.endswith(" panel")]
        joint = Joint(
            f"panels to {role}s, heads sunk and filled",
            sum(along(part.blank.length, WIDE) for part in sticks),
            frame.thickness,
            frame.stocks.deep,
            comes_off=False,
            group=group,
            places=max(1, len(sticks)),
            most=room(sticks),
        )
        rows = replace(joint, use=f"{joint.use}, in two staggered rows", most=2 * joint.most)
        yield replace(joint, instead=rows) if group and frame.stocks.broad >= _TWO_ROWS else joint


def _base_joints(frame: Frame, parts: Sequence[Part]) -> Iterable[Joint]:
    """Through the lowest rails into the base, or through the panels into its edges.

    A thin base holds too little thread: there the screws go up through it into the rails.
    """
    if frame.options.base == "runs past":
        panels = [part for part in parts if part.role == "panel"]
        each = sum(along(part.blank.length, CLOSE) for part in panels)
        yield Joint(
            "panels to edges of base",
            each,
            frame.thickness,
            0.05,
            comes_off=True,
            group=SIDES,
            edge=True,
            places=len(panels),
        )
        return
    lowest = [part for part in parts if part.role == "rail" and part.name.endswith(" rail 1")
              and part.group.endswith(" panel")]  # fmt: skip
    each = sum(along(part.blank.length, HELD) for part in lowest)
    broad, thick = frame.stocks.broad, frame.thickness
    if held_from_below(frame):
        yield Joint(
            "base to lowest rails, from below",
            each,
            thick,
            broad,
            comes_off=True,
            group=SIDES,
            places=len(lowest),
            most=room(lowest),
        )
        return
    yield Joint(
        "lowest rails to base",
        each,
        broad,
        thick,
        comes_off=True,
        group=SIDES,
        places=len(lowest),
        most=room(lowest),
    )


def held_from_below(frame: Frame) -> bool:
    """The sides stand on a base so thin that screws go up through it into their lowest rails."""
    return frame.options.base != "runs past" and frame.thickness < _THIN_BASE


def _board_joints(frame: Frame, parts: Sequence[Part]) -> Iterable[Joint]:
    """Up through the battens under the joints of a base, a row on either side of the joint."""
    under = battens(parts)
    if under:
        each = sum(2 * along(part.blank.length, CLOSE) for part in under)
        yield Joint(
            "battens to the boards of the base, from below",
            each,
            frame.stocks.stick.thickness,
            frame.thickness,
            comes_off=False,
            places=len(under),
        )


def _splice_joints(frame: Frame, parts: Sequence[Part]) -> Iterable[Joint]:
    """Through the panel into the battens behind its joints, a row in either board."""
    behind = behind_joints(parts)
    if behind:
        each = sum(2 * along(part.blank.length, CLOSE) for part in behind)
        yield Joint(
            "panels to the battens behind their joints",
            each,
            frame.thickness,
            frame.stocks.deep,
            comes_off=False,
            places=len(behind),
        )


def _former_joints(frame: Frame, parts: Sequence[Part]) -> Iterable[Joint]:
    standing = [upright(part) for part in dividers(parts)]
    joint = Joint(
        "sides of the mold to dividers",
        2 * sum(along(height, CLOSE) for height in standing),
        frame.thickness,
        0.05,
        comes_off=True,
        group=DIVIDERS,
        edge=True,
        places=max(1, 2 * len(standing)),
        most=2 * sum(_room_along(height) for height in standing),
    )
    yield _past_rails(frame, parts, joint, min(standing, default=0.0))
    for role, use in (
        ("liner", "panels to liners"),
        ("board", "panels and base to boards"),
    ):
        own = [part for part in parts if part.role == role]
        each = sum(along(part.blank.length, WIDE) for part in own)
        depth = min((part.blank.thickness * part.layers for part in own), default=0.0)
        yield Joint(
            f"{use}, from behind",
            each,
            frame.thickness,
            max(depth, 0.006),
            comes_off=False,
            places=max(1, len(own)),
        )
    plugs = [part for part in parts if part.role == "plug"]
    deep = min((part.blank.length for part in plugs), default=0.04)
    yield Joint(
        "drain plugs, from behind", len(plugs), frame.thickness, deep, comes_off=False, places=len(plugs)
    )


def _past_rails(frame: Frame, parts: Sequence[Part], joint: Joint, height: float) -> Joint:
    """An upright joint through a panel that bears rails: beside them where enough find room, else through them too.

    Args:
        frame: the mold.
        parts: of the mold.
        joint: at equal places of that height, as if there were no rails.
        height: of each place, m.
    """
    own = [part for part in parts if part.role == "rail" and part.group.endswith(" panel")]
    bands = [(low[2], high[2]) for low, high in (box_of(part.cells) for part in own)]
    beside = sum(_between(low, high) for low, high in _gaps(bands, height))
    if not own or beside >= _room_along(height):
        return joint
    through = replace(
        joint,
        use=f"{joint.use}, through the rails as well",
        through=joint.through + frame.stocks.deep,
    )
    if beside * joint.places < joint.count:
        return through
    return replace(joint, most=beside * joint.places, instead=through)


def _gaps(bands: Iterable[tuple[float, float]], height: float) -> Iterable[tuple[float, float]]:
    """What the bands leave free from 0 up to a height, m."""
    reached = 0.0
    for low, high in sorted(bands):
        yield reached, min(low, height)
        reached = max(reached, high)
    yield reached, height


def _between(low: float, high: float) -> int:
    """How many fasteners find room, one above the other, between two rails at these heights, m."""
    room = high - low - 2.0 * _BESIDE
    return 0 if room < -1e-9 else int(room / LEAST_PITCH + 1e-9) + 1


def room(parts: Iterable[Part]) -> int:
    """How many fasteners find room along these sticks."""
    return sum(_room_along(part.blank.length) for part in parts)


def _room_along(length: float) -> int:
    return max(2, int(length / LEAST_PITCH))


def along(length: float, spacing: float) -> int:
    """Fasteners along a length: one near each end, and between them no further apart than the spacing."""
    return max(2, ceil(max(0.0, length - 0.06) / spacing - 1e-9) + 1)
