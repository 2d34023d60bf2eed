"""Solids of cells, round and curved bodies, pieces, mold parts and whole molds.

The piece's solid is made by the kernel's own booleans from its envelope, its formers and its plugs, never
from the cells that ``shapes.body`` cut, nor from a closed form: so its volume is a second, independent route to
``shapes.body.piece_volume``.
"""

from __future__ import annotations

from dataclasses import dataclass

from formwork.errors import InternalError
from formwork.geometry.cells import NEAR, Cell
from formwork.geometry.planes import Planes
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.molds.mold import Mold, Part
from formwork.molds.structure import BuiltCentre
from formwork.shapes.body import envelope, former_cell
from formwork.shapes.piece import Curved, Piece, planar
from formwork.solids import kernel
from formwork.solids.alike import Stand, Told, stand, told
from formwork.solids.kernel import Assembly, Shape
from formwork.solids.meshes import weld
from formwork.solids.swept import prism_solid, turned_solid

Colour = tuple[float, float, float, float]
"""Red, green, blue as on a screen (sRGB) and opacity, 0 to 1."""

CONCRETE: Colour = (0.62, 0.62, 0.61, 0.5)
ROLE_COLOURS: dict[str, Colour] = {
    "panel": (0.85, 0.73, 0.53, 1.0),
    "base": (0.72, 0.59, 0.41, 1.0),
    "core wall": (0.90, 0.81, 0.63, 1.0),
    "core cap": (0.90, 0.81, 0.63, 1.0),
    "core rib": (0.66, 0.52, 0.36, 1.0),
    "rail": (0.60, 0.45, 0.29, 1.0),
    "cleat": (0.60, 0.45, 0.29, 1.0),
    "bar": (0.53, 0.39, 0.24, 1.0),
    "strip": (0.43, 0.52, 0.44, 1.0),
    "board": (0.78, 0.66, 0.47, 1.0),
    "liner": (0.56, 0.62, 0.53, 1.0),
    "divider": (0.80, 0.70, 0.56, 1.0),
    "plug": (0.35, 0.42, 0.50, 1.0),
    "embedded": (0.45, 0.45, 0.48, 1.0),
    "strut": (0.55, 0.58, 0.62, 1.0),
    "skin": (0.89, 0.78, 0.58, 1.0),
    "ring": (0.66, 0.50, 0.33, 1.0),
    "rib": (0.62, 0.47, 0.31, 1.0),
    "tube": (0.76, 0.70, 0.60, 1.0),
    "tie": (0.45, 0.45, 0.48, 1.0),
    "batten": (0.60, 0.45, 0.29, 1.0),
    "template": (0.66, 0.66, 0.50, 1.0),
}


@dataclass(frozen=True, slots=True)
class Body:
    """One named, coloured solid."""

    name: str
    solid: Shape
    colour: Colour


@dataclass(frozen=True, slots=True)
class Model:
    """What is written to one file: a name and its bodies, in the piece's frame (as cast, z up)."""

    name: str
    bodies: tuple[Body, ...]

    def coloured(self) -> list[tuple[str, Shape, Colour]]:
        """Name, solid and colour of each body, as the kernel takes them."""
        return [(body.name, body.solid, body.colour) for body in self.bodies]

    def volume(self) -> float:
        """Volume of all bodies together, m3."""
        return sum(kernel.volume(body.solid) for body in self.bodies)


def cell_solid(planes: Planes, body: Cell) -> Shape:
    """The kernel's solid of a cell.

    Raises:
        InternalError: if its facets do not close.
    """
    points, numbers = weld(body.points(), 4.0 * NEAR)
    rings = iter(numbers)
    faces = []
    for reference, polygon in body.facets.items():
        ring = [next(rings) for _ in polygon]
        distinct = [number for i, number in enumerate(ring) if number != ring[i - 1]]
        if len(distinct) > 2:
            faces.append((planes.normal(reference), distinct))
    return kernel.polyhedron(points, faces)


def round_solid(body: Round) -> Shape:
    """The kernel's solid of a cone frustum or cylinder."""
    return kernel.frustum(body.foot, body.axis, body.length, body.foot_radius, body.head_radius)


def curved_solid(body: Turned | Prism) -> Shape:
    """The kernel's solid of a turned body or a prism."""
    return turned_solid(body) if isinstance(body, Turned) else prism_solid(body)


def piece_solid(planes: Planes, piece: Piece) -> Shape:
    """The concrete of the piece, all its cavities, as cast; embedded things are not taken out.

    Raises:
        GeometryError: if the envelope or a former encloses nothing.
        InternalError: if the kernel makes no sound solid of it.
    """
    outside, formers = _form_solids(planes, piece)
    plugs = [round_solid(plug.body) for plug in piece.plugs]
    return kernel.checked(kernel.cut(outside, formers + plugs, piece.name), piece.name)


def _form_solids(planes: Planes, piece: Piece) -> tuple[Shape, list[Shape]]:
    """The envelope of a piece, and what is taken out of it."""
    if isinstance(piece.form, Curved):
        return curved_solid(piece.form.outside), [curved_solid(one.body) for one in piece.form.formers]
    formers = [cell_solid(planes, former_cell(planes, piece, former)) for former in planar(piece).formers]
    return cell_solid(planes, envelope(planes, piece)), formers


def part_solid(planes: Planes, part: Part) -> Shape:
    """A part of the mold: all that it fills as one, its holes cut.

    Raises:
        InternalError: if the part fills no space, or the kernel makes no sound solid of it.
    """
    pieces = [
        *(cell_solid(planes, body) for body in part.cells),
        *(round_solid(body) for body in part.rounds),
        *(turned_solid(body) for body in part.turned),
        *(prism_solid(body) for body in part.prisms),
    ]
    if not pieces:
        raise InternalError(f"{part.name}: the part fills no space")
    holes = [round_solid(hole) for hole in part.holes]
    return kernel.checked(kernel.cut(kernel.fuse(pieces, part.name), holes, part.name), part.name)


def piece_model(planes: Planes, piece: Piece) -> Model:
    """The piece alone, opaque: what is written as the piece's files."""
    return Model(piece.name, (Body(piece.name, piece_solid(planes, piece), (*CONCRETE[:3], 1.0)),))


def empty_mold_model(mold: Mold | BuiltCentre) -> Model:
    """One copy of a mold or centre with every part in its place, nothing cast in it; templates stand nowhere in it.

    Equal parts share one solid of the kernel, moved to where each of them stands.
    """
    made: dict[Told, tuple[Stand, Shape]] = {}
    bodies = []
    for part in mold.parts:
        if part.role != "template":
            shape, here = told(part), stand(part)
            if shape not in made:
                made[shape] = here, part_solid(mold.planes, part)
            there, solid = made[shape]
            bodies.append(Body(part.name, _moved(solid, there, here), ROLE_COLOURS[part.role]))
    return Model(mold.name, tuple(bodies))


def _moved(solid: Shape, there: Stand, here: Stand) -> Shape:
    """A solid made at one stand, at another."""
    if there is here:
        return solid
    frames = ((one.origin, one.along, one.up) for one in (there, here))
    return kernel.moved(solid, *frames)


def mold_model(mold: Mold) -> Model:
    """One copy of the mold with every part in its place, and the piece in it, last and see-through."""
    return filled(empty_mold_model(mold), mold)


def filled(empty: Model, mold: Mold) -> Model:
    """The model of an empty mold with the piece in it, last and see-through."""
    cast = Body(f"{mold.piece.name} (as cast)", piece_solid(mold.planes, mold.piece), CONCRETE)
    return Model(mold.name, (*empty.bodies, cast))


def mold_assembly(mold: Mold) -> Assembly:
    """One copy of the mold and the piece in it as a cadquery Assembly of named, coloured parts."""
    model = mold_model(mold)
    return kernel.assembled(model.name, model.coloured())
