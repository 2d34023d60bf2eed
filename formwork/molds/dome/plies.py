"""Which plies the ribs of a dome's form have, and what each of them leaves with."""

from __future__ import annotations

from collections.abc import Iterator

from formwork.molds.dome.form import DomeForm, Section, Side
from formwork.record import record

SPLICE = 16
"""Length of a splice plate over the thickness of a ply: eight thicknesses each side of the joint (ours)."""


@record
class Ply:
    """One ply of a rib.

    Attributes:
        rib: number of its plane.
        sign: 1 on the counter-clockwise side of the plane, -1 on the other.
        near: its nearer face's distance from the plane, m.
        group: what it leaves with.
        staggered: its joints lie half a segment higher than those of its neighbour.
        spliced: no other ply covers its joints, so that they have splice plates.
        exposed: of a key rib, whose edge the mix touches.
        low: polar angle where it begins; None at the foot.
        top: polar angle where it ends; None at the crown's ring.
        kind: what a carpenter calls what it is part of, its number to be put in.
    """

    rib: int
    sign: int
    near: float
    group: str
    staggered: bool
    spliced: bool
    exposed: bool
    low: float | None
    top: float | None
    kind: str = "rib {}"


def plies(form: DomeForm, side: Side) -> Iterator[Ply]:
    """The plies of all ribs of a form."""
    for rib in range(form.count):
        top = ending(form, rib)
        after, before = form.section_of(side, rib), form.section_of(side, rib - 1)
        low = None
        if side == "inner" and rib in form.key_ribs and form.key_end < form.shell.inside.springing:
            yield from _key_plies(form, rib, before, after)
            low = form.key_end
        whole = after == before
        for sign, section in ((1, after), (-1, before)):
            yield Ply(rib, sign, 0.0, section.name, sign > 0, not whole, False, low, top)


def _key_plies(form: DomeForm, rib: int, before: Section, after: Section) -> Iterator[Ply]:
    """A key rib, and the halves beside it, which reach up along the ribs that go on above."""
    name, end = f"inner form key rib {rib + 1}", form.key_end
    for layer in range(form.key):
        for sign in (1, -1):
            yield Ply(
                rib,
                sign,
                layer * form.ply,
                name,
                sign > 0,
                False,
                True,
                None,
                end,
                f"key rib {{}} layer {layer + 1}",
            )
    reach = SPLICE * form.ply / form.shell.inside.bend(end)
    for sign, section in ((1, after), (-1, before)):
        yield Ply(
            rib,
            sign,
            form.key * form.ply,
            section.name,
            sign > 0,
            True,
            False,
            None,
            end - reach,
            "half rib {}",
        )
        for layer in range(1, form.key):
            yield Ply(
                rib,
                sign,
                layer * form.ply,
                section.name,
                False,
                False,
                False,
                end,
                end - reach,
                f"packing {{}} layer {layer}",
            )


def ending(form: DomeForm, rib: int) -> float | None:
    """Polar angle of the header that a rib ends at; None where it reaches the crown."""
    if form.headers and rib % 2:
        return form.headers[0]
    if len(form.headers) > 1 and rib % 4 == 2:
        return form.headers[1]
    return None


def half_thickness(form: DomeForm, rib: int, polar: float) -> float:
    """From the plane of an inner rib to its outermost face at a polar angle, m."""
    reach = SPLICE * form.ply / form.shell.inside.bend(form.key_end)
    key = rib % form.count in form.key_ribs and polar > form.key_end - reach
    return form.ply * (form.key + 1 if key else 1)
