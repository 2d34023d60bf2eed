"""Checks of a frame: room for its pipes where they meet, and how far bending strains them."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees, pi, sin

from formwork.checks.check import Check, NotChecked
from formwork.molds.structure import BuiltFrame
from formwork.stock.pipes import bend_limit
from formwork.strength.working import given, step

NOT_MADE = (
    ("wind and snow", "what wind, snow or a cover put on the frame and its ground anchors is not computed"),
    ("pipes and joints", "what a pipe or a joint carries is not computed; let nobody climb on the frame"),
)


def frame_checks(built: BuiltFrame) -> Iterator[Check | NotChecked]:
    """What is checked of a frame, then what is not."""
    if built.frame.members:
        yield hub_check(built)
    if built.frame.crown:
        yield crown_check(built)
    if built.frame.bent:
        yield bend_check(built)
    for name, why in NOT_MADE:
        yield NotChecked(name, built.name, why)


def hub_check(built: BuiltFrame) -> Check:
    """The round pipes of two neighbours must not touch before their flattened ends reach the bolt.

    Two pipes that leave a node at an angle stand clear of one another from a distance of d / (2 sin(angle / 2)) on;
    there the pipe may be round, nearer it must be flat.
    """
    frame = built.frame
    outside = built.pipe.width
    needed = outside / (2.0 * sin(frame.closest / 2.0))
    flat = min(member.flat - member.beyond for member in frame.members)
    ok = needed <= flat
    return Check(
        name="room at the hubs",
        mold=built.name,
        demand=1000.0 * needed,
        capacity=1000.0 * flat,
        unit="mm",
        ok=ok,
        source="geometry: two pipes of one outside diameter leaving a point at the smallest angle of the frame",
        working=(
            str(
                given(
                    "a",
                    frame.closest,
                    "rad",
                    f"smallest angle of two struts, {degrees(frame.closest):.4g} deg",
                )
            ),
            str(given("d", 1000.0 * outside, "mm", "outside diameter of the pipe")),
            str(
                step("x", "d / (2 * sin(a / 2))", 1000.0 * needed, "mm", d=1000.0 * outside, a=frame.closest)
            ),
            str(given("x_max", 1000.0 * flat, "mm", "flat from the bolt on")),
        ),
        remedy=""
        if ok
        else f"make flat at least {1000.0 * (needed - flat):.0f} mm longer, or take thinner pipe",
    )


def crown_check(built: BuiltFrame) -> Check:
    """The ribs must find room side by side round the crown ring."""
    ribs = sum(len(arc.lines) for arc in built.frame.bent if arc.kind == "rib")
    needed = ribs * built.pipe.width / (2.0 * pi)
    ok = needed <= built.frame.crown
    return Check(
        name="room at the crown ring",
        mold=built.name,
        demand=1000.0 * needed,
        capacity=1000.0 * built.frame.crown,
        unit="mm",
        ok=ok,
        source="geometry: so many pipes side by side round a ring",
        working=(
            str(given("n", ribs, "", "ribs at the ring")),
            str(step("r", "n * d / (2 * pi)", 1000.0 * needed, "mm", n=ribs, d=1000.0 * built.pipe.width)),
            str(given("r_max", 1000.0 * built.frame.crown, "mm", "radius of the crown ring")),
        ),
        remedy="" if ok else f"make crown at least {1000.0 * needed:.0f} mm, or take fewer ribs",
    )


def bend_check(built: BuiltFrame) -> Check | NotChecked:
    """The strain of the outermost fibre in the tightest bend, d / 2R, against that of the tightest bend it takes."""
    pipe = built.pipe
    limit = bend_limit(pipe.material, pipe.nominal, pipe.width)
    name = "strain of the tightest bend"
    if limit is None:
        return NotChecked(
            name, built.name, f"no bend limit is known for {pipe.material}; bend one length by trial"
        )
    radius = min(arc.radius for arc in built.frame.bent)
    strain, most = (100.0 * pipe.width / (2.0 * r) for r in (radius, limit.radius))
    ok = radius >= limit.radius
    return Check(
        name=name,
        mold=built.name,
        demand=strain,
        capacity=most,
        unit="%",
        ok=ok,
        source=limit.why,
        working=(
            str(step("e", "100 * d / (2 * R)", strain, "%", d=1000.0 * pipe.width, R=1000.0 * radius)),
            str(
                step(
                    "e_max",
                    "100 * d / (2 * R_min)",
                    most,
                    "%",
                    d=1000.0 * pipe.width,
                    R_min=1000.0 * limit.radius,
                )
            ),
        ),
        remedy=""
        if ok
        else f"bend to {limit.radius:.1f} m or more, or take conduit; tighter it will do for setting out, not to stay",
    )
