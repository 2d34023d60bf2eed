"""Checks of a frame: whether its pipes find room where they meet."""

from __future__ import annotations

from math import degrees, sin

from formwork.checks.check import Check, NotChecked
from formwork.molds.framed import BuiltFrame

NOT_MADE = (
    ("wind and snow", "what wind, snow or a cover put on the frame and its ground anchors is not computed"),
    ("struts and hub bolts", "what a strut or a hub carries is not computed; let nobody climb on the frame"),
)


def frame_check(built: BuiltFrame) -> Check:
    """The round pipes of two neighbours must not touch before their flattened ends reach the bolt.

    Two pipes that leave a node at an angle stand clear of one another from a distance of d / (2 sin(angle / 2)) on;
    there the pipe may be round, nearer it must be flat.
    """
    frame = built.frame
    outside = built.pipe.width
    needed = outside / (2.0 * sin(frame.closest / 2.0))
    flat = min(member.flat - member.beyond for member in frame.members)
    ok = needed <= flat
    millimetres = 1000.0
    return Check(
        name="room at the hubs",
        mold=built.name,
        demand=needed * millimetres,
        capacity=flat * millimetres,
        unit="mm",
        ok=ok,
        source="geometry: two pipes of one outside diameter leaving a point at the smallest angle of the frame",
        working=(
            f"smallest angle between two struts = {degrees(frame.closest):.2f} deg",
            f"clear from d / (2 sin(angle / 2)) = {outside * millimetres:.2f} / "
            f"(2 sin({degrees(frame.closest / 2.0):.2f} deg)) = {needed * millimetres:.2f} mm from the bolt on",
            f"flat from the bolt on = {flat * millimetres:.2f} mm",
        ),
        remedy=""
        if ok
        else f"make flat at least {(needed - flat) * millimetres:.0f} mm longer, or take thinner pipe",
    )


def not_made(built: BuiltFrame) -> tuple[NotChecked, ...]:
    """What is not checked of a frame, and why."""
    return tuple(NotChecked(name, built.name, why) for name, why in NOT_MADE)
