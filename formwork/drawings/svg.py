"""A scene as SVG: plain text, black on white, two line widths, text that stays text.

Everything is in mm on the page, y down as SVG has it. The same scene gives the same bytes.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import cos, degrees, pi, sin
from typing import assert_never
from xml.sax.saxutils import escape, quoteattr

from formwork.drawings.frames import Point
from formwork.drawings.layers import NARROW, PATTERNS, WIDE, Layer
from formwork.drawings.lettering import ASCENT, width
from formwork.drawings.patterns import DOT, FAMILIES, LINE, Family
from formwork.drawings.scene import (
    Arc,
    Circle,
    Dimension,
    Hatch,
    Item,
    Line,
    Pattern,
    Polyline,
    Scene,
    Text,
    dimension_parts,
)
from formwork.geometry.outlines import Leg

INK = "#000"
PALE = "#8a8a8a"
FONT = "Arial, 'Liberation Sans', Helvetica, sans-serif"


def svg(scene: Scene) -> str:
    """The page as one SVG document."""
    sheet = scene.sheet
    length, height = _n(sheet.length), _n(sheet.height)
    size = f'width="{length}mm" height="{height}mm" viewBox="0 0 {length} {height}"'
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} font-family="{FONT}">',
        f"<title>{escape(scene.title)}</title>",
        *_definitions(scene),
        f'<rect width="{length}" height="{height}" fill="#fff"/>',
        f'<g transform="translate(0 {height}) scale(1 -1)" fill="none" stroke-linecap="round" '
        'stroke-linejoin="round">',
    ]
    items = [part for item in scene.on_page() for part in _parts(item)]
    for layer in scene.layers():
        drawn = [text for item in items if item.layer.name == layer.name for text in _shape(item, scene.name)]
        if drawn and layer.plotted:
            lines += [f"<g class={quoteattr(layer.name)} {_stroke(layer)}>", *drawn, "</g>"]
    lines.append("</g>")
    texts = [item for item in items if isinstance(item, Text) and item.text]
    lines += [f'<g fill="{INK}">', *(_text(text, sheet.height) for text in texts), "</g>", "</svg>", ""]
    return "\n".join(lines)


def _n(value: float) -> str:
    """A number with a thousandth of a mm, without needless zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _parts(item: Item) -> tuple[Item, ...]:
    return dimension_parts(item) if isinstance(item, Dimension) else (item,)


def _stroke(layer: Layer) -> str:
    dashes = PATTERNS[layer.line]
    dash = f' stroke-dasharray="{" ".join(_n(d) for d in dashes)}" stroke-linecap="butt"' if dashes else ""
    return f'stroke="{INK}" stroke-width="{_n(WIDE if layer.wide else NARROW)}"{dash}'


def _shape(item: Item, page: str) -> Iterator[str]:
    match item:
        case Line():
            (x1, y1), (x2, y2) = item.start, item.end
            yield f'<line x1="{_n(x1)}" y1="{_n(y1)}" x2="{_n(x2)}" y2="{_n(y2)}"/>'
        case Polyline() if item.bulges:
            yield f'<path d="{_bent(item)}"{_filling(item)}/>'
        case Polyline():
            name = "polygon" if item.closed else "polyline"
            yield f'<{name} points="{" ".join(f"{_n(x)},{_n(y)}" for x, y in item.points)}"{_filling(item)}/>'
        case Circle():
            yield f'<circle cx="{_n(item.centre[0])}" cy="{_n(item.centre[1])}" r="{_n(item.radius)}"/>'
        case Arc():
            yield _arc(item)
        case Hatch():
            ring = " ".join("M" + " L".join(f"{_n(x)} {_n(y)}" for x, y in ring) + "Z" for ring in item.rings)
            yield f'<path d="{ring}" fill="url(#{_id(page, item.pattern)})" fill-rule="evenodd" stroke="none"/>'
        case Text() | Dimension():
            return
        case _:
            assert_never(item)


def _filling(item: Polyline) -> str:
    return f' fill="{INK}" stroke="none"' if item.filled else ""


def _bent(item: Polyline) -> str:
    """The path of a polyline with arcs."""
    x, y = item.points[0]
    steps = "".join(_step(leg) for leg in item.legs())
    return f"M{_n(x)} {_n(y)}{steps}{'Z' if item.closed else ''}"


def _step(leg: Leg) -> str:
    x, y = leg.end
    if leg.bulge == 0.0:
        return f" L{_n(x)} {_n(y)}"
    r, large, onward = _n(leg.arc().radius), int(abs(leg.bulge) > 1.0), int(leg.bulge > 0.0)
    return f" A{r} {r} 0 {large} {onward} {_n(x)} {_n(y)}"


def _arc(arc: Arc) -> str:
    turn = (arc.end - arc.start) % (2.0 * pi)
    (x1, y1), (x2, y2) = _on(arc, arc.start), _on(arc, arc.end)
    large = 1 if turn > pi else 0
    r = _n(arc.radius)
    return f'<path d="M{_n(x1)} {_n(y1)} A{r} {r} 0 {large} 1 {_n(x2)} {_n(y2)}"/>'


def _on(arc: Arc, angle: float) -> Point:
    return (arc.centre[0] + arc.radius * cos(angle), arc.centre[1] + arc.radius * sin(angle))


def _text(text: Text, height: float) -> str:
    """One line of text; its length is given, so that no other font makes it run over its neighbours."""
    x, y = text.at[0], height - text.at[1]
    anchor = {"left": "start", "middle": "middle", "right": "end"}[text.anchor]
    turn = (
        f' transform="rotate({_n(-degrees(text.angle))} {_n(x)} {_n(y)})"' if abs(text.angle) > 1e-9 else ""
    )
    length = _n(width(text.text, text.size))
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(text.size / ASCENT)}" text-anchor="{anchor}" '
        f'textLength="{length}" lengthAdjust="spacingAndGlyphs"{turn}>{escape(text.text)}</text>'
    )


def _id(page: str, pattern: Pattern) -> str:
    """Name of a hatch, of this page alone: several pages may stand in one document."""
    return re.sub(r"[^a-z0-9]+", "-", f"{page} {pattern}".lower()).strip("-")


def _definitions(scene: Scene) -> Iterator[str]:
    used = sorted({item.pattern for item in (*scene.model, *scene.paper) if isinstance(item, Hatch)})
    if not used:
        return
    yield "<defs>"
    for name in used:
        yield from _definition(_id(scene.name, name), FAMILIES[name])
    yield "</defs>"


def _definition(name: str, family: Family) -> Iterator[str]:
    """A hatch as an SVG pattern, turned as a whole."""
    rows = 2 if family.run else 1
    run = family.run or family.pitch
    yield (
        f'<pattern id="{name}" width="{_n(run)}" height="{_n(family.pitch * rows)}" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate({_n(degrees(family.angle))})">'
    )
    if family.run:
        for x, y in ((0.25 * run, 0.5 * family.pitch), (0.75 * run, 1.5 * family.pitch)):
            yield f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(DOT)}" fill="{PALE}"/>'
    else:
        level = _n(family.pitch / 2.0)
        yield f'<line x1="0" y1="{level}" x2="{_n(run)}" y2="{level}" stroke="{PALE}" stroke-width="{_n(LINE)}"/>'
    yield "</pattern>"
