"""The CAD kernel behind one door: beside ``swept`` and ``lines`` nothing else in formwork imports cadquery or OCP.

The kernel takes seconds to import, so it is loaded by the first function that needs it and never before.
Lengths cross this door in m and are mm behind it: the kernel's tolerances (1e-7 of its unit) suit
millimetres, and millimetres are what other CAD programs expect in a STEP file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any

from formwork.errors import FormworkError, InternalError
from formwork.geometry.vectors import Vec
from formwork.solids.meshes import Mesh, Motion, Standing, Triangle, welded

Shape = Any
"""A shape of the kernel, whose library ships no complete annotations."""
Assembly = Any
"""An assembly of cadquery."""
MM = 1000.0
"""Kernel units in a metre."""
FUZZ = 1e-5
"""Faces nearer than this (mm) are taken for touching in a boolean; cells are exact to 1e-6 mm."""
_WELD = 1e-8
_STEADY = 1e-11
_SYSTEM = "libgl1 libx11-6 libexpat1"

Coloured = tuple[str, Shape, tuple[float, float, float, float]]
"""Name, solid, and colour: red, green, blue as on a screen (sRGB) and opacity, 0 to 1."""


class KernelError(FormworkError):
    """The CAD kernel cannot be loaded; says what to install."""


def cadquery() -> ModuleType:
    """The cadquery module, imported on the first call.

    Raises:
        KernelError: if it, or a system library it stands on, is not there.
    """
    try:
        return import_module("cadquery")
    except ImportError as error:
        raise KernelError(_missing(error)) from error


def _missing(error: ImportError) -> str:
    """What to install, from the import that failed."""
    if ".so" in str(error):
        return (
            f"the CAD kernel needs a system library that is not installed ({error}); "
            f"on Debian or Ubuntu: apt-get install {_SYSTEM} (libGL.so.1, libX11.so.6, libexpat.so.1)"
        )
    return f"the CAD kernel is not installed ({error}); install it with: pip install cadquery"


def polyhedron(points: Sequence[Vec], faces: Iterable[tuple[Vec, Sequence[int]]]) -> Shape:
    """A solid from its corners (m) and its flat faces, each an outward normal and a ring of corner numbers.

    The ring runs counter-clockwise seen from outside. Every edge must belong to exactly two faces.

    Raises:
        InternalError: if the faces do not close.
    """
    cq = cadquery()
    from OCP.BRep import BRep_Builder  # noqa: PLC0415 - with the kernel
    from OCP.TopoDS import TopoDS_Shell, TopoDS_Solid  # noqa: PLC0415 - with the kernel

    builder = BRep_Builder()
    shell = TopoDS_Shell()
    builder.MakeShell(shell)
    edges = _Edges(points)
    for normal, ring in faces:
        builder.Add(shell, _face(points[ring[0]], normal, edges.wire(ring)))
    if not edges.closed():
        raise InternalError("the faces of a solid do not close")
    shell.Closed(True)
    solid = TopoDS_Solid()
    builder.MakeSolid(solid)
    builder.Add(solid, shell)
    return cq.Shape.cast(solid)


class _Edges:
    """The edges of one polyhedron, each made once and used by both its faces."""

    def __init__(self, points: Sequence[Vec]) -> None:
        from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex  # noqa: PLC0415 - with the kernel
        from OCP.gp import gp_Pnt  # noqa: PLC0415 - with the kernel

        self._corners = [
            BRepBuilderAPI_MakeVertex(gp_Pnt(x * MM, y * MM, z * MM)).Vertex() for x, y, z in points
        ]
        self._made: dict[tuple[int, int], Shape] = {}
        self._used: dict[tuple[int, int], int] = {}

    def wire(self, ring: Sequence[int]) -> Shape:
        """The closed wire round one face."""
        from OCP.BRep import BRep_Builder  # noqa: PLC0415 - with the kernel
        from OCP.TopoDS import TopoDS_Wire  # noqa: PLC0415 - with the kernel

        builder = BRep_Builder()
        wire = TopoDS_Wire()
        builder.MakeWire(wire)
        for here, there in zip(ring, (*ring[1:], ring[0]), strict=True):
            builder.Add(wire, self._edge(here, there))
        wire.Closed(True)
        return wire

    def _edge(self, here: int, there: int) -> Shape:
        """The edge in the direction asked for: as made, or reversed."""
        from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge  # noqa: PLC0415 - with the kernel

        self._used[here, there] = self._used.get((here, there), 0) + 1
        if (there, here) in self._made:
            return self._made[there, here].Reversed()
        if (here, there) not in self._made:
            self._made[here, there] = BRepBuilderAPI_MakeEdge(
                self._corners[here], self._corners[there]
            ).Edge()
        return self._made[here, there]

    def closed(self) -> bool:
        """Every edge was used once each way."""
        return all(n == 1 and self._used.get((b, a)) == 1 for (a, b), n in self._used.items())


def _face(point: Vec, normal: Vec, wire: Shape) -> Shape:
    """A flat face (m) within a wire."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace  # noqa: PLC0415 - with the kernel
    from OCP.gp import gp_Dir, gp_Pln, gp_Pnt  # noqa: PLC0415 - with the kernel

    plane = gp_Pln(gp_Pnt(point[0] * MM, point[1] * MM, point[2] * MM), gp_Dir(*normal))
    return BRepBuilderAPI_MakeFace(plane, wire, True).Face()


def frustum(foot: Vec, axis: Vec, length: float, foot_radius: float, head_radius: float) -> Shape:
    """A cone frustum, or a cylinder where both radii are equal (m)."""
    cq = cadquery()
    start = cq.Vector(foot[0] * MM, foot[1] * MM, foot[2] * MM)
    way = cq.Vector(*axis)
    if abs(foot_radius - head_radius) * MM < FUZZ:
        return cq.Solid.makeCylinder(foot_radius * MM, length * MM, start, way)
    return cq.Solid.makeCone(foot_radius * MM, head_radius * MM, length * MM, start, way)


def fuse(shapes: Sequence[Shape], what: str = "solid") -> Shape:
    """The space any of the shapes fills, faces on one plane made one face.

    Raises:
        InternalError: if the kernel gives up; says on ``what``.
    """
    return shapes[0] if len(shapes) == 1 else _tidy(lambda: shapes[0].fuse(*shapes[1:], tol=FUZZ), what)


def cut(shape: Shape, tools: Sequence[Shape], what: str = "solid") -> Shape:
    """The shape without any of the tools, faces on one plane made one face.

    Raises:
        InternalError: if the kernel gives up; says on ``what``.
    """
    return _tidy(lambda: shape.cut(*tools, tol=FUZZ), what) if tools else shape


def _tidy(work: Callable[[], Shape], what: str) -> Shape:
    """Do a boolean, then unify faces and edges that go on from one another; one solid alone stands for itself."""
    try:
        clean = work().clean()
    except Exception as error:  # the kernel's own exceptions have no other base in common
        raise InternalError(f"{what}: the CAD kernel gave up ({error})") from error
    solids = clean.Solids()
    return solids[0] if len(solids) == 1 else clean


def moved(shape: Shape, there: tuple[Vec, Vec, Vec], here: tuple[Vec, Vec, Vec]) -> Shape:
    """The shape carried from one frame to another, its surfaces shared with the first.

    Args:
        shape: stands in the first frame.
        there: origin (m) of the first frame, its x, and its z.
        here: likewise of the second.
    """
    cq = cadquery()
    from OCP.gp import gp_Ax3, gp_Dir, gp_Pnt, gp_Trsf  # noqa: PLC0415 - with the kernel

    first, second = (
        gp_Ax3(gp_Pnt(*(value * MM for value in origin)), gp_Dir(*up), gp_Dir(*along))
        for origin, along, up in (there, here)
    )
    motion = gp_Trsf()
    motion.SetDisplacement(first, second)
    return shape.moved(cq.Location(motion))


def volume(shape: Shape) -> float:
    """Volume, m3: integrated over curved faces until it no longer changes."""
    cadquery()
    from OCP.BRepGProp import BRepGProp  # noqa: PLC0415 - with the kernel
    from OCP.GProp import GProp_GProps  # noqa: PLC0415 - with the kernel

    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape.wrapped, found, _STEADY)
    return float(found.Mass()) / MM**3


def checked(shape: Shape, what: str) -> Shape:
    """The shape itself, once the kernel finds it sound and not empty (an emptied boolean is no error to it).

    Raises:
        InternalError: if it is neither.
    """
    if not shape.isValid() or not shape.Solids() or shape.Volume() <= 0.0:
        raise InternalError(f"{what}: the CAD kernel could not make a sound solid of it")
    return shape


def meshed(bodies: Iterable[Coloured], chord: float = 1e-4, angle: float = 0.1) -> list[Standing]:
    """The surfaces of bodies, a shape that stands in several places meshed once; as near as ``mesh`` says."""
    made: dict[Shape, tuple[int, Mesh]] = {}
    found = []
    for name, solid, colour in bodies:
        rest = _at_rest(solid)
        if rest not in made:
            unmeshed(rest)
            made[rest] = len(made), mesh(rest, chord, angle)
        found.append(Standing(name, colour, *made[rest], _motion(solid)))
    return found


def unmeshed(shape: Shape) -> None:
    """Take triangles off a shape that an earlier use of it left there, so that the next find it as it was made."""
    from OCP.BRepTools import BRepTools  # noqa: PLC0415 - with the kernel

    BRepTools.Clean_s(shape.wrapped)


def _motion(solid: Shape) -> Motion | None:
    """How a solid was carried from where it was made."""
    place = solid.wrapped.Location()
    if place.IsIdentity():
        return None
    motion = place.Transformation()
    rows = [[motion.Value(row, column) for column in (1, 2, 3, 4)] for row in (1, 2, 3)]
    a, b, c = ((row[0], row[1], row[2]) for row in rows)
    u, v, w = (row[3] / MM for row in rows)
    return (a, b, c), (u, v, w)


def mesh(shape: Shape, chord: float = 1e-4, angle: float = 0.1) -> Mesh:
    """The surface as triangles, no further than ``chord`` (m) and ``angle`` (rad) from a round face."""
    return welded(*triangles(shape, chord, angle), _WELD)


def triangles(shape: Shape, chord: float, angle: float) -> tuple[list[Vec], list[Triangle]]:
    """The corners and triangles of every face by itself, as near to it as ``mesh`` says."""
    points, numbered = shape.tessellate(chord * MM, angle)
    return [(p.x / MM, p.y / MM, p.z / MM) for p in points], [(a, b, c) for a, b, c in numbered]


def reach(shapes: Sequence[Shape]) -> float:
    """The diagonal of the box round shapes, m."""
    return float(cadquery().Compound.makeCompound(list(shapes)).BoundingBox().DiagonalLength) / MM


def assembled(name: str, bodies: Iterable[Coloured]) -> Assembly:
    """An assembly of named, coloured solids; names must differ, also from that of the whole."""
    cq = cadquery()
    whole = cq.Assembly(name=name)
    for label, solid, colour in bodies:
        whole.add(solid, name=label, color=cq.Color(*colour))
    return whole


def write_step(path: Path, name: str, bodies: Sequence[Coloured]) -> bool:
    """Write named, coloured solids as STEP, lengths in mm; True if the kernel says it did.

    One solid is written as one product under its own name, several as parts of an assembly. (The exporter of
    cadquery puts a nameless product round a single solid and spells letters outside ASCII wrongly.)
    """
    cadquery()
    from OCP.IFSelect import IFSelect_ReturnStatus  # noqa: PLC0415 - with the kernel
    from OCP.Interface import Interface_Static  # noqa: PLC0415 - with the kernel
    from OCP.STEPCAFControl import STEPCAFControl_Writer  # noqa: PLC0415 - with the kernel
    from OCP.STEPControl import STEPControl_StepModelType  # noqa: PLC0415 - with the kernel

    document = _document(name, bodies)
    writer = STEPCAFControl_Writer()
    writer.SetColorMode(True)
    writer.SetNameMode(True)
    Interface_Static.SetIVal_s("write.step.assembly", 0 if len(bodies) == 1 else 1)
    Interface_Static.SetCVal_s("xstep.cascade.unit", "MM")
    Interface_Static.SetCVal_s("write.step.unit", "MM")
    if not writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs):
        return False
    return bool(writer.Write(str(path)) == IFSelect_ReturnStatus.IFSelect_RetDone)


def _document(name: str, bodies: Sequence[Coloured]) -> Any:
    """The solids in the kernel's document of names and colours."""
    from OCP.BinXCAFDrivers import BinXCAFDrivers  # noqa: PLC0415 - with the kernel
    from OCP.TCollection import TCollection_ExtendedString  # noqa: PLC0415 - with the kernel
    from OCP.TDocStd import TDocStd_Document  # noqa: PLC0415 - with the kernel
    from OCP.XCAFApp import XCAFApp_Application  # noqa: PLC0415 - with the kernel
    from OCP.XCAFDoc import XCAFDoc_DocumentTool  # noqa: PLC0415 - with the kernel

    application = XCAFApp_Application.GetApplication_s()
    BinXCAFDrivers.DefineFormat_s(application)
    document = TDocStd_Document(TCollection_ExtendedString("BinXCAF"))
    application.InitDocument(document)
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    shapes.SetAutoNaming_s(False)
    kinds = _kinds(bodies)
    leaves = {kind: _leaf(document, kind, alike, alone=len(bodies) == 1) for kind, alike in kinds.items()}
    if len(bodies) > 1:
        whole = shapes.NewShape()
        _name(whole, name)
        for label, solid, colour in bodies:
            place = solid.wrapped.Location()
            _name(shapes.AddComponent(whole, leaves[_at_rest(solid), colour], place), label)
    shapes.UpdateAssemblies()
    return document


_Kind = tuple[Shape, tuple[float, float, float, float]]
"""A solid where it was made, and its colour."""


def _kinds(bodies: Sequence[Coloured]) -> dict[_Kind, list[str]]:
    """The bodies that are one solid moved, and of one colour, by their names."""
    found: dict[_Kind, list[str]] = {}
    for name, solid, colour in bodies:
        found.setdefault((_at_rest(solid), colour), []).append(name)
    return found


def _at_rest(solid: Shape) -> Shape:
    """A solid without the motion that it was carried by."""
    from OCP.TopLoc import TopLoc_Location  # noqa: PLC0415 - with the kernel

    return cadquery().Shape.cast(solid.wrapped.Located(TopLoc_Location()))


def _leaf(document: Any, kind: _Kind, names: Sequence[str], *, alone: bool) -> Any:
    """One named, coloured solid; the kernel keeps the colour of an assembly's part only on a compound."""
    from OCP.XCAFDoc import XCAFDoc_ColorType, XCAFDoc_DocumentTool  # noqa: PLC0415 - with the kernel

    cq = cadquery()
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    colours = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    solid, colour = kind
    leaf = shapes.NewShape()
    shapes.SetShape(leaf, solid.wrapped if alone else cq.Compound.makeCompound([solid]).wrapped)
    _name(leaf, joint_name(names))
    colours.SetColor(leaf, cq.Color(*colour).wrapped, XCAFDoc_ColorType.XCAFDoc_ColorSurf)
    return leaf


def joint_name(names: Sequence[str]) -> str:
    """What a shape that stands in several places is called.

    >>> joint_name(["left", "right"]), joint_name(["rib 1", "rib 2", "rib 3", "rib 4"])
    ('left, right', 'rib 1 and 3 alike')
    """
    return ", ".join(names) if len(names) < 4 else f"{names[0]} and {len(names) - 1} alike"


def _name(label: Any, name: str) -> None:
    """Write a name on a label of the kernel's document."""
    from OCP.TCollection import TCollection_ExtendedString  # noqa: PLC0415 - with the kernel
    from OCP.TDataStd import TDataStd_Name  # noqa: PLC0415 - with the kernel

    TDataStd_Name.Set_s(label, TCollection_ExtendedString(name, True))


def read_step(path: Path) -> Shape:
    """Every solid of a STEP file as one shape, for checking what was written.

    Raises:
        OSError: if there is no such file.
    """
    if not path.is_file():
        raise FileNotFoundError(path)
    imported = cadquery().importers.importStep(str(path))
    return cadquery().Compound.makeCompound(imported.vals())
