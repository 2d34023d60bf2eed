"""Models as STEP (exact, for CAD), STL and 3MF (meshes, for printing a model) and GLB (mesh, for viewers).

Each file is written beside its place and then renamed, so that a failure leaves what was there untouched.
The same model gives the same bytes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from struct import pack
from tempfile import TemporaryDirectory

from formwork.errors import InternalError, OutputError
from formwork.geometry.vectors import Vec, cross, dot, scale, sub
from formwork.solids import kernel
from formwork.solids.build import Model
from formwork.solids.gltf import Named, glb
from formwork.solids.meshes import Mesh, Standing
from formwork.solids.stepfile import settled
from formwork.solids.threemf import threemf


def step(model: Model) -> str:
    """The model as STEP, lengths in mm, each body under its name and in its colour; equal parts share a shape.

    Raises:
        InternalError: if the kernel does not write it.
    """
    with TemporaryDirectory(prefix="formwork-") as folder:
        path = Path(folder) / "model.step"
        if not kernel.write_step(path, model.name, model.coloured()):
            raise InternalError(f"{model.name}: the CAD kernel could not write it as STEP")
        return settled(path.read_text("utf-8"), model.name)


def standing(model: Model, *, chord: float = 1e-4, angle: float = 0.1) -> list[Standing]:
    """The bodies of a model as meshes, from which ``stl``, ``glb_of`` and ``threemf`` are made.

    Args:
        model: what is meshed.
        chord: how far a triangle may lie off a round face, m.
        angle: how far it may lean from one, rad.
    """
    return kernel.meshed(model.coloured(), chord, angle)


def glb_of(title: str, bodies: Iterable[Standing]) -> bytes:
    """The bodies as GLB, lengths in m, y up, a node under its name for each."""
    return glb(title, [Named(body.name, body.standing(), body.colour) for body in bodies])


def write_step(path: Path, model: Model) -> None:
    """Write the model as ``step`` makes it.

    Raises:
        OutputError: if the file cannot be written.
        InternalError: if the kernel does not make it.
    """
    text = step(model)
    _put(path, lambda beside: beside.write_text(text, "utf-8", newline="\n"))


def write_stl(path: Path, model: Model) -> None:
    """Write all bodies of the model as one binary STL, lengths in mm (STL itself has no unit and no names).

    Raises:
        OutputError: if the file cannot be written.
    """
    data = stl([body.standing() for body in standing(model)])
    _put(path, lambda beside: beside.write_bytes(data))


def write_glb(path: Path, model: Model, *, chord: float = 1e-4, angle: float = 0.1) -> None:
    """Write the model as ``glb_of`` makes it; chord and angle as for ``standing``.

    Raises:
        OutputError: if the file cannot be written.
    """
    data = glb_of(model.name, standing(model, chord=chord, angle=angle))
    _put(path, lambda beside: beside.write_bytes(data))


def write_3mf(path: Path, model: Model) -> None:
    """Write the model as 3MF, lengths in mm, each body under its name and in its colour.

    Raises:
        OutputError: if the file cannot be written.
    """
    data = threemf(model.name, standing(model))
    _put(path, lambda beside: beside.write_bytes(data))


def stl(meshes: list[Mesh]) -> bytes:
    """Binary STL of the meshes, mm: 80 bytes of header, a count, then normal and corners of each triangle."""
    facets = [_facet(mesh, triangle) for mesh in meshes for triangle in mesh.triangles]
    header = b"formwork, lengths in mm".ljust(80)
    return header + pack("<I", len(facets)) + b"".join(facets)


def _facet(mesh: Mesh, triangle: tuple[int, int, int]) -> bytes:
    """One triangle of a binary STL: 12 floats and an empty attribute."""
    a, b, c = (mesh.points[number] for number in triangle)
    corners = [value * kernel.MM for point in (a, b, c) for value in point]
    return pack("<12fH", *_normal(a, b, c), *corners, 0)


def _normal(a: Vec, b: Vec, c: Vec) -> Vec:
    """Unit normal of a triangle; no direction for a sliver, which STL allows."""
    n = cross(sub(b, a), sub(c, a))
    size = dot(n, n) ** 0.5
    return scale(n, 1.0 / size) if size > 0.0 else (0.0, 0.0, 0.0)


def _put(path: Path, write: Callable[[Path], object]) -> None:
    """Let ``write`` make the file beside its place, then move it there.

    Raises:
        OutputError: if either fails; the half-made file is taken away.
    """
    beside = path.with_name(f".{path.name}.part")
    try:
        write(beside)
        beside.replace(path)
    except OSError as error:
        raise OutputError(f"{path}: cannot be written ({error.strerror or error})") from error
    finally:
        beside.unlink(missing_ok=True)
