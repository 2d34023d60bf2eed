"""Sticks and boards of a dome's form, as their bodies in space come to blanks."""

from __future__ import annotations

from math import cos, sin

from formwork.geometry.cells import Cell, area
from formwork.geometry.vectors import Vec, dot
from formwork.molds.blank import blank
from formwork.molds.dome.form import DomeForm
from formwork.molds.mold import Blank, Part, PartRole
from formwork.stock.records import StickStock
from formwork.units import show


def stick_part(
    form: DomeForm,
    name: str,
    group: str,
    body: Cell,
    along: Vec,
    role: PartRole,
    stick: StickStock | None = None,
    beside: Vec | None = None,
) -> Part:
    """A part cut from a stick.

    Args:
        form: the form.
        name: of the part.
        group: what it leaves with.
        body: the space it fills.
        along: the way it runs.
        role: what it does.
        stick: what it is cut from; the form's own stick where nothing is said.
        beside: outward from the side that its outline shows; that with its long points where nothing is said.
    """
    cut, placement = blank(form.planes, body, along=along, flat_on=_flat_side(form, body, along, beside))
    return Part(
        name=name,
        role=role,
        kind="stick",
        stock=(stick or form.stick).name,
        group=group,
        cells=(body,),
        blank=cut,
        placement=placement,
        work=_bevel_words(form, cut) if role == "ring" else "",
    )


def _flat_side(form: DomeForm, body: Cell, along: Vec, beside: Vec | None) -> int:
    """The side of a stick that its outline shows: that square to a direction, else that which has its long points."""

    def rank(reference: int) -> tuple[bool, float, float]:
        normal = form.planes.normal(reference)
        reach = [dot(along, p) for p in body.facets[reference]]
        wanted = abs(dot(normal, along)) < 1e-9 if beside is None else dot(normal, beside) > 1.0 - 1e-9
        return wanted, round(max(reach) - min(reach), 9), area(body.facets[reference])

    return max(body.facets, key=rank)


def _bevel_words(form: DomeForm, cut: Blank) -> str:
    return f"both ends bevelled by {show.angle(form.half)} in plan, long points {show.length(cut.length, form.units)}"


def board_part(
    form: DomeForm,
    name: str,
    role: PartRole,
    group: str,
    body: Cell,
    along: Vec,
    *,
    outward: float | None = None,
) -> Part:
    """A board of the ribs' sheet, its good face up or towards the mix."""
    flat = None
    best = 0.0
    for reference in body.facets:
        normal = form.planes.normal(reference)
        level = normal[2] if outward is None else normal[0] * cos(outward) + normal[1] * sin(outward)
        if level > best:
            flat, best = reference, level
    cut, placement = blank(form.planes, body, along=along, flat_on=flat)
    return Part(
        name=name,
        role=role,
        kind="panel",
        stock=form.sheet.name,
        group=group,
        cells=(body,),
        blank=cut,
        placement=placement,
        good_face="outline",
    )
