"""Binary glTF (GLB) of named, coloured meshes, in metres, y up.

Source: glTF 2.0 (Khronos, version 2.0.1): container of a 12-byte header, a JSON chunk padded with spaces
and a binary chunk padded with zeros. From memory: right-handed axes with y up, lengths in metres, colour
factors linear; where a mesh gives no normals a viewer shades each triangle flat.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain
from struct import pack, unpack

from formwork.solids.meshes import Mesh

MAGIC = 0x46546C67
JSON_CHUNK = 0x4E4F534A
BINARY_CHUNK = 0x004E4942
_FLOAT, _UNSIGNED = 5126, 5125
_CORNERS, _TRIANGLES = 34962, 34963


@dataclass(frozen=True, slots=True)
class Named:
    """A mesh (m, z up) with its name and its colour (sRGB and opacity, 0 to 1)."""

    name: str
    mesh: Mesh
    colour: tuple[float, float, float, float]


def glb(title: str, meshes: Sequence[Named]) -> bytes:
    """One scene with a node for each mesh."""
    corners = [_corners(named.mesh) for named in meshes]
    triangles = [
        pack(f"<{3 * len(n.mesh.triangles)}I", *chain.from_iterable(n.mesh.triangles)) for n in meshes
    ]
    chunks = [part for pair in zip(corners, triangles, strict=True) for part in pair]
    binary = b"".join(chunks)
    document = {
        "asset": {"version": "2.0", "generator": "formwork"},
        "scene": 0,
        "scenes": [{"name": title, "nodes": list(range(len(meshes)))}],
        "nodes": [{"name": named.name, "mesh": k} for k, named in enumerate(meshes)],
        "meshes": [_mesh(k, named) for k, named in enumerate(meshes)],
        "materials": [_material(named) for named in meshes],
        "accessors": [a for k, named in enumerate(meshes) for a in _accessors(k, named, corners[k])],
        "bufferViews": _views(chunks),
        "buffers": [{"byteLength": len(binary)}],
    }
    text = json.dumps(document, ensure_ascii=False, separators=(",", ":")).encode()
    return _container(text, binary)


def _container(text: bytes, binary: bytes) -> bytes:
    """Header and both chunks, each padded to four bytes."""
    text += b" " * (-len(text) % 4)
    binary += b"\x00" * (-len(binary) % 4)
    total = 12 + 8 + len(text) + 8 + len(binary)
    return b"".join(
        (
            pack("<III", MAGIC, 2, total),
            pack("<II", len(text), JSON_CHUNK),
            text,
            pack("<II", len(binary), BINARY_CHUNK),
            binary,
        )
    )


def _corners(mesh: Mesh) -> bytes:
    """The mesh's points as 32-bit floats, z up turned to y up."""
    return pack(f"<{3 * len(mesh.points)}f", *chain.from_iterable((x, z, -y) for x, y, z in mesh.points))


def _mesh(number: int, named: Named) -> dict[str, object]:
    """Mesh ``number``: corners and triangles are the accessors 2k and 2k + 1."""
    primitive = {"attributes": {"POSITION": 2 * number}, "indices": 2 * number + 1, "material": number}
    return {"name": named.name, "primitives": [primitive]}


def _material(named: Named) -> dict[str, object]:
    """A dull material; blended where the colour is see-through."""
    red, green, blue, opacity = named.colour
    factor = [round(_linear(red), 6), round(_linear(green), 6), round(_linear(blue), 6), opacity]
    surface = {"baseColorFactor": factor, "metallicFactor": 0.0, "roughnessFactor": 0.9}
    mode = {"alphaMode": "BLEND"} if opacity < 1.0 else {}
    return {"name": named.name, "pbrMetallicRoughness": surface, **mode}


def _linear(screen: float) -> float:
    """A screen value (sRGB) as linear light.

    Source: IEC 61966-2-1, transfer function (from memory).

    >>> round(_linear(0.5), 6)
    0.214041
    """
    return screen / 12.92 if screen <= 0.04045 else float(((screen + 0.055) / 1.055) ** 2.4)


def _accessors(number: int, named: Named, corners: bytes) -> list[dict[str, object]]:
    """How to read the corners (with the box round them, as stored) and the triangles of one mesh."""
    values = unpack(f"<{len(corners) // 4}f", corners)
    axes = [values[axis::3] for axis in range(3)]
    return [
        {
            "bufferView": 2 * number,
            "componentType": _FLOAT,
            "count": len(named.mesh.points),
            "type": "VEC3",
            "min": [min(axis) for axis in axes],
            "max": [max(axis) for axis in axes],
        },
        {
            "bufferView": 2 * number + 1,
            "componentType": _UNSIGNED,
            "count": 3 * len(named.mesh.triangles),
            "type": "SCALAR",
        },
    ]


def _views(chunks: Sequence[bytes]) -> list[dict[str, int]]:
    """Where each chunk lies in the buffer: corners and triangles in turn."""
    views = []
    start = 0
    for k, chunk in enumerate(chunks):
        target = _TRIANGLES if k % 2 else _CORNERS
        views.append({"buffer": 0, "byteOffset": start, "byteLength": len(chunk), "target": target})
        start += len(chunk)
    return views
