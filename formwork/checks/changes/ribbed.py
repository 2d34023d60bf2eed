"""What may be changed of a dome's form: ribs, purlins, the skin and its layers, rods, bolts, sheet and stick."""

from __future__ import annotations

from dataclasses import replace

from formwork.checks.changes.ladder import Ladder, counted, lengths, sheets, sticks
from formwork.molds.dome.loads import most_bolts, rods, seam_bolts
from formwork.molds.ribbed import DomeMold, Lined
from formwork.project.records import Shop

_MOST_RIBS = 96
_DEEPER = (1.2, 1.5, 2.0)
_OF_RIBS = (
    "skin between ribs",
    "ribs",
    "outer form held down",
    "purlins",
    "striking wedges",
    "form passes",
    "key",
)
_OF_STICK = (
    "purlins",
    "striking wedges",
    "ribs at the crown",
    "outer form held down",
    "seams of the outer form",
)


NEEDS_PARTS = ("form passes an opening", "key section comes free")
"""Checks that only the parts themselves can tell of."""


def sketch(built: DomeMold, lined: Lined) -> DomeMold:
    """The mold as another design decides it, its parts taken for those that it has: what they weigh hardly changes.

    A dome's form has thousands of parts; what carries the mix is decided before any of them is made.
    """
    return replace(built, lined=lined)


def ladders(built: DomeMold, shop: Shop) -> tuple[Ladder, ...]:
    """Everything that there can be more of."""
    form, load = built.form, built.lined.asked.load
    outer = (
        (
            counted("rods", rods(form, load, built.outer_weight), form.count, ("outer form held down",)),
            counted("seam_bolts", seam_bolts(form, load), most_bolts(form), ("seams of the outer form",)),
        )
        if form.fluid
        else ()
    )
    each = len(form.splits) + 1
    return (
        *outer,
        sticks(shop, form.stick, _OF_STICK),
        counted("skin_layers", form.layers, 4, ("skin between ribs",)),
        counted("ribs", form.count, min(_MOST_RIBS, 2 * form.count), _OF_RIBS, by=4),
        counted("purlins", len(form.hoops), len(form.hoops) + 6 * each, ("ribs", "purlins"), by=each),
        lengths("rib_depth", (form.depth * k for k in _DEEPER), form.units, ("ribs",)),
        sheets("sheet", shop, form.sheet, ("ribs", "key")),
        sheets("skin", shop, form.skin, ("skin between ribs",)),
    )
