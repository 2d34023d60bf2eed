"""A scene as DXF (R2010): the model at full size in the person's unit, a paper-space page that shows it to scale.

Dimensions are DIMENSION entities that keep the real measurement; what they show is their text, so that inches read as
fractions. Their blocks are drawn here, from the same parts as on screen, so that no font of this computer decides
where a figure stands; the dimension style holds the same sizes for whoever edits them. Dates and identifiers in the
file are fixed: the same scene gives the same bytes.

Line types: ``$LTSCALE`` is the drawing's scale and ``$PSLTSCALE`` is 0, so dashes are right on paper both in the model
and through the windows; every window has the drawing's one scale.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from io import StringIO
from math import cos, degrees, pi, sin
from typing import Any, assert_never

import ezdxf
from ezdxf import colors, zoom
from ezdxf.enums import TextEntityAlignment

from formwork.drawings.frames import Point
from formwork.drawings.layers import NARROW, PATTERNS, WIDE, WINDOWS, Layer
from formwork.drawings.patterns import FAMILIES
from formwork.drawings.scene import (
    GAP,
    OVER_LINE,
    OVERRUN,
    TICK,
    Arc,
    Circle,
    Dimension,
    Hatch,
    Item,
    Line,
    Polyline,
    Scene,
    Text,
    Units,
    dimension_parts,
    placed,
)
from formwork.errors import InternalError

_PER_METRE: dict[Units, float] = {"mm": 1000.0, "in": 1.0 / 0.0254}
_PER_MM: dict[Units, float] = {"mm": 1.0, "in": 1.0 / 25.4}
_STYLE = "LETTERING"
_DIM_STYLE = "SHOP"
_TITLE = "Page 1"


def dxf(scene: Scene) -> str:
    """The scene as the text of a DXF file.

    Raises:
        InternalError: if the file does not pass its audit.
    """
    with _fixed_dates():
        doc = _document(scene)
        auditor = doc.audit()
        if auditor.has_errors or auditor.has_fixes:
            raise InternalError(f"{scene.name}: the DXF fails its audit: {auditor.errors or auditor.fixes}")
        stream = StringIO()
        doc.write(stream)
    return stream.getvalue()


@contextmanager
def _fixed_dates() -> Iterator[None]:
    """No clock and no random identifier in the file; what was set before is set again."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _document(scene: Scene) -> Any:
    doc = ezdxf.new("R2010", units=4 if scene.units == "mm" else 1)
    _header(doc, scene)
    _tables(doc, scene)
    pen = _Pen(doc, scene.units, _PER_METRE[scene.units], scene.scale * _PER_MM[scene.units], scene.scale)
    model = doc.modelspace()
    for item in scene.model:
        pen.draw(model, item)
    layout = _page(doc, scene)
    paper_pen = _Pen(doc, scene.units, _PER_MM[scene.units], _PER_MM[scene.units], 1.0)
    for item in scene.paper:
        paper_pen.draw(layout, item)
    if scene.model:
        zoom.extents(model)
    return doc


def _header(doc: Any, scene: Scene) -> None:
    inch = scene.units == "in"
    values = {
        "$INSUNITS": 1 if inch else 4,
        "$MEASUREMENT": 0 if inch else 1,
        "$LUNITS": 5 if inch else 2,
        "$LUPREC": 4 if inch else 1,
        "$LTSCALE": scene.scale,
        "$PSLTSCALE": 0,
        "$LWDISPLAY": 1,
    }
    for name, value in values.items():
        doc.header[name] = value


def _tables(doc: Any, scene: Scene) -> None:
    for name, pattern in (("DASHED", PATTERNS["dashed"]), ("CHAIN", PATTERNS["chain"])):
        per = _PER_MM[scene.units]
        lengths = [length * per * (1 if i % 2 == 0 else -1) for i, length in enumerate(pattern)]
        doc.linetypes.add(
            name, pattern=[sum(abs(v) for v in lengths), *lengths], description=name.capitalize()
        )
    doc.styles.add(_STYLE, font="arial.ttf")
    for layer in (*scene.layers(), WINDOWS):
        if layer.name not in doc.layers:
            _layer(doc, layer)
    _dimension_style(doc, scene)


def _layer(doc: Any, layer: Layer) -> None:
    line = {"solid": "CONTINUOUS", "dashed": "DASHED", "chain": "CHAIN"}[layer.line]
    width = round(100 * (WIDE if layer.wide else NARROW))
    entry = doc.layers.add(layer.name, color=layer.colour, linetype=line, lineweight=width)
    entry.dxf.plot = 1 if layer.plotted else 0


def _dimension_style(doc: Any, scene: Scene) -> None:
    per = _PER_MM[scene.units]
    inch = scene.units == "in"
    style = doc.dimstyles.new(_DIM_STYLE)
    values: dict[str, float | int | str] = {
        "dimscale": scene.scale,
        "dimtxt": 3.5 * per,
        "dimgap": OVER_LINE * per,
        "dimexo": GAP * per,
        "dimexe": OVERRUN * per,
        "dimtsz": 0.0,
        "dimasz": TICK * per,
        "dimtad": 1,
        "dimtih": 0,
        "dimtoh": 0,
        "dimlunit": 5 if inch else 2,
        "dimfrac": 2,
        "dimdec": 4 if inch else 1,
        "dimrnd": 0.0625 if inch else 0.0,
        "dimzin": 3 if inch else 8,
        "dimdsep": ord("."),
        "dimtxsty": _STYLE,
        "dimblk": "ARCHTICK",
    }
    for name, value in values.items():
        style.set_dxf_attrib(name, value)
    ezdxf.render.arrows.ARROWS.create_block(doc.blocks, "ARCHTICK")


def _page(doc: Any, scene: Scene) -> Any:
    """The paper-space page, with a locked window for each view."""
    per = _PER_MM[scene.units]
    layout = doc.layouts.get("Layout1")
    doc.layouts.rename("Layout1", _TITLE)
    layout.page_setup(
        size=(scene.sheet.length * per, scene.sheet.height * per),
        margins=(0, 0, 0, 0),
        units="mm" if scene.units == "mm" else "inch",
    )
    layout.reset_main_viewport()
    to_model = scene.scale * per
    for window in scene.windows:
        size = ((window.high[0] - window.low[0]) * per, (window.high[1] - window.low[1]) * per)
        centre = ((window.low[0] + window.high[0]) / 2.0, (window.low[1] + window.high[1]) / 2.0)
        view = (
            (centre[0] - scene.origin[0]) * to_model,
            (centre[1] - scene.origin[1]) * to_model,
        )
        port = layout.add_viewport(
            center=(centre[0] * per, centre[1] * per),
            size=size,
            view_center_point=view,
            view_height=size[1] * scene.scale,
            dxfattribs={"layer": WINDOWS.name},
        )
        port.dxf.flags = port.dxf.get("flags", 0) | 0x4000
    return layout


class _Pen:
    """Draws items into one space of the file.

    Attributes:
        factor: drawing units for one unit of the item's coordinates.
        letter: drawing units for one mm of text height on paper.
        scale: n of 1:n of this space.
    """

    def __init__(self, doc: Any, units: Units, factor: float, letter: float, scale: float) -> None:
        self.doc = doc
        self.units = units
        self.factor = factor
        self.letter = letter
        self.scale = scale

    def draw(self, space: Any, item: Item) -> None:
        """One item as its entity."""
        item = placed(item, self.factor, (0.0, 0.0))
        attributes: dict[str, Any] = {"layer": item.layer.name}
        match item:
            case Line():
                space.add_line(item.start, item.end, dxfattribs=attributes)
            case Polyline():
                self._polyline(space, item, attributes)
            case Circle():
                space.add_circle(item.centre, item.radius, dxfattribs=attributes)
            case Arc():
                space.add_arc(
                    item.centre, item.radius, degrees(item.start), degrees(item.end), dxfattribs=attributes
                )
            case Hatch():
                self._hatch(space, item, attributes)
            case Text():
                self._text(space, item, self.letter, attributes)
            case Dimension():
                self._dimension(space, item, attributes)
            case _:
                assert_never(item)

    def _polyline(self, space: Any, item: Polyline, attributes: dict[str, Any]) -> None:
        if item.filled:
            area = space.add_hatch(color=colors.BYLAYER, dxfattribs=attributes)
            area.paths.add_polyline_path(_vertices(item), is_closed=True)
            return
        space.add_lwpolyline(_vertices(item), format="xyb", close=item.closed, dxfattribs=attributes)

    def _hatch(self, space: Any, item: Hatch, attributes: dict[str, Any]) -> None:
        family = FAMILIES[item.pattern]
        mm = self.letter
        area = space.add_hatch(color=colors.BYLAYER, dxfattribs=attributes)
        line = _pattern_line(family.angle, family.pitch * mm, family.run * mm)
        area.set_pattern_fill(item.pattern.upper().replace(" ", "-"), definition=[line], scale=1.0)
        for i, ring in enumerate(item.rings):
            area.paths.add_polyline_path(ring, is_closed=True, flags=1 if i == 0 else 16)

    def _text(self, space: Any, item: Text, letter: float, attributes: dict[str, Any]) -> None:
        if not item.text:
            return
        align = {
            "left": TextEntityAlignment.LEFT,
            "middle": TextEntityAlignment.CENTER,
            "right": TextEntityAlignment.RIGHT,
        }[item.anchor]
        entity = space.add_text(
            item.text, height=item.size * letter, rotation=degrees(item.angle),
            dxfattribs={**attributes, "style": _STYLE},
        )  # fmt: skip
        entity.set_placement(item.at, align=align)

    def _dimension(self, space: Any, item: Dimension, attributes: dict[str, Any]) -> None:
        """A rotated linear dimension with a block drawn from the same parts as on screen."""
        block = self.doc.blocks.new_anonymous_block(type_char="D")
        mm = self.letter
        on_page = placed(item, 1.0 / mm, (0.0, 0.0))
        assert isinstance(on_page, Dimension)
        for part in dimension_parts(on_page):
            drawn = placed(part, mm, (0.0, 0.0))
            if isinstance(drawn, Text):
                self._text(block, drawn, mm, {"layer": item.layer.name})
            elif isinstance(drawn, Line):
                block.add_line(drawn.start, drawn.end, dxfattribs={"layer": item.layer.name})
        _, foot = item.feet()
        up = item.size * mm / 2.0
        turn = item.angle + pi / 2.0
        middle = _shifted(item.text_at, turn, up)
        space.new_entity(
            "DIMENSION",
            {
                **attributes,
                "dimstyle": _DIM_STYLE,
                "dimtype": 0 | 32 | 128,
                "geometry": block.name,
                "defpoint": foot,
                "defpoint2": item.start,
                "defpoint3": item.end,
                "angle": degrees(item.angle),
                "text": item.text,
                "text_midpoint": middle,
                "actual_measurement": item.measured(),
                "attachment_point": 5,
            },
        )


def _vertices(item: Polyline) -> list[tuple[float, float, float]]:
    """Each point with the bulge of the leg that begins there."""
    bulges = item.bulges or (0.0,) * len(item.points)
    return [(x, y, bulge) for (x, y), bulge in zip(item.points, bulges, strict=True)]


def _shifted(point: Point, angle: float, by: float) -> Point:
    return (point[0] + by * cos(angle), point[1] + by * sin(angle))


def _pattern_line(angle: float, pitch: float, run: float) -> list[Any]:
    """One family of a hatch pattern: angle, base point, offset to the next line, dashes."""
    c, s = cos(angle), sin(angle)
    along = run / 2.0
    offset = (along * c - pitch * s, along * s + pitch * c)
    return [degrees(angle), (0.0, 0.0), offset, [0.0, -run] if run else []]
