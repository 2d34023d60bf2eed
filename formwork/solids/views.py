"""Line drawings of solids by hidden line removal, and isometric pictures as SVG.

The way up is always given: a view that leaves it to the kernel may stand on its head.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape
from math import dist

from formwork.errors import GeometryError
from formwork.geometry.planes import Planes
from formwork.geometry.vectors import Vec, cross, dot, length, unit
from formwork.molds.mold import Mold
from formwork.molds.structure import BuiltCentre
from formwork.shapes.piece import Piece
from formwork.solids import kernel
from formwork.solids.build import Model, empty_mold_model, piece_model
from formwork.solids.kernel import Shape
from formwork.solids.lines import Line, hidden_lines
from formwork.solids.outlines import Seen, weighed

ISOMETRIC: Vec = (1.0, -1.0, 1.0)
"""From right, front and above."""
UP: Vec = (0.0, 0.0, 1.0)
_WIDE, _NARROW = 0.5, 0.25
_CANVAS, _MARGIN = 160.0, 3.0
_CHORD, _LEAST_CHORD, _LEAN = 5e-5, 5e-5, 0.1


@dataclass(frozen=True, slots=True)
class LineView:
    """What is seen of some solids, as polylines on the picture: x to the right, y upward, m.

    Attributes:
        outline: lines in view that bound a body against whatever lies behind it; joints of touching bodies are edges.
        edges: the other lines in view.
        hidden: lines behind a body.
    """

    outline: tuple[Line, ...]
    edges: tuple[Line, ...]
    hidden: tuple[Line, ...]

    @property
    def visible(self) -> tuple[Line, ...]:
        """Every line in view."""
        return self.outline + self.edges


def line_view(what: Model | Shape, eye: Vec, up: Vec, *, hidden: bool = True) -> LineView:
    """The lines of a model or solid as seen from far away.

    Args:
        what: a model, whose bodies may hide one another, or one solid of the kernel.
        eye: direction from the model to the one who looks.
        up: direction shown upward.
        hidden: tell the hidden lines too.

    Raises:
        GeometryError: if ``up`` runs along ``eye``, so that nothing says which way is up.
    """
    if length(cross(up, eye)) < 1e-9 * length(up) * length(eye):
        raise GeometryError(f"a view from {eye} cannot have {up} upward: both run the same way")
    solids = [body.solid for body in what.bodies] if isinstance(what, Model) else [what]
    for solid in solids:
        kernel.unmeshed(solid)
    lines = hidden_lines(solids, eye, up, hidden=hidden)
    chord = max(_LEAST_CHORD, _CHORD * kernel.reach(solids))
    seen = [
        _seen(solid, visible, chord, (eye, up))
        for solid, (visible, _) in zip(solids, lines, strict=True)
        if visible
    ]
    outline, edges = weighed(seen)
    return LineView(_ordered(outline), _ordered(edges), _ordered(line for _, gone in lines for line in gone))


def _seen(solid: Shape, lines: list[Line], chord: float, view: tuple[Vec, Vec]) -> Seen:
    """A solid as it shows: its lines, and its mesh flattened on the picture."""
    eye, up = view
    right = unit(cross(up, eye))
    above = unit(cross(eye, right))
    points, triangles = kernel.triangles(solid, chord, _LEAN)
    flat = [(dot(point, right), dot(point, above)) for point in points]
    rings = ((flat[a], flat[b], flat[c]) for a, b, c in triangles)
    xs, ys, zs = zip(*points, strict=True)
    return Seen(
        tuple(lines),
        tuple(ring for ring in rings if _turn(*ring) > 0.0),
        (min(xs), min(ys), min(zs)),
        (max(xs), max(ys), max(zs)),
    )


def _turn(a: Sequence[float], b: Sequence[float], c: Sequence[float]) -> float:
    """Twice the signed area of a flat triangle: positive where it faces the one who looks."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _ordered(lines: Iterable[Line]) -> tuple[Line, ...]:
    """The lines in an order of their own, each drawn once, dots left out."""
    turned = (min(line, line[::-1]) for line in lines if _long(line) > 1e-9)
    distinct = {tuple((round(x, 9), round(y, 9)) for x, y in line) for line in turned}
    return tuple(sorted(distinct))


def _long(line: Line) -> float:
    return sum(map(dist, line, line[1:]))


def picture_svg(what: Mold | BuiltCentre | Piece) -> str:
    """An isometric line drawing, black on white: a piece as it stands in use, a mold empty, a centre without stones."""
    if isinstance(what, Piece):
        return piece_picture(piece_model(Planes(), what), what)
    return picture(empty_mold_model(what))


def piece_picture(model: Model, piece: Piece) -> str:
    """The isometric line drawing of a piece's model as it stands in use.

    Outlines are twice as wide as the edges within them (ISO 128: two widths, ratio 2 to 1).
    """
    flip = -1.0 if piece.turned_over else 1.0
    return drawn(model.name, line_view(model, (1.0, -flip, flip), (0.0, 0.0, flip), hidden=False))


def picture(model: Model) -> str:
    """The isometric line drawing of a model as it is, as ``piece_picture``."""
    return drawn(model.name, line_view(model, ISOMETRIC, UP, hidden=False))


def drawn(title: str, view: LineView) -> str:
    """The lines in view as an SVG document sized in mm, its greater side 160 mm."""
    xs = [x for line in view.visible for x, _ in line]
    ys = [y for line in view.visible for _, y in line]
    scale = (_CANVAS - 2 * _MARGIN) / max(max(xs) - min(xs), max(ys) - min(ys))
    left, top = min(xs), max(ys)
    wide = _number((max(xs) - left) * scale + 2 * _MARGIN)
    high = _number((top - min(ys)) * scale + 2 * _MARGIN)

    def path(lines: Iterable[Line], width: float) -> str:
        steps = "".join(
            "M"
            + "L".join(
                f"{_number((x - left) * scale + _MARGIN)} {_number((top - y) * scale + _MARGIN)}"
                for x, y in line
            )
            for line in lines
        )
        return f'<path stroke-width="{width}" d="{steps}"/>'

    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}" role="img">\n'
        f"<title>{escape(title)}</title>\n"
        f'<rect width="{wide}" height="{high}" fill="#fff"/>\n'
        f'<g fill="none" stroke="#000" stroke-linecap="round" stroke-linejoin="round">\n'
        f"{path(view.edges, _NARROW)}\n{path(view.outline, _WIDE)}\n</g>\n</svg>\n"
    )


def _number(value: float) -> str:
    """Two decimals, no more than are needed, no minus zero."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
