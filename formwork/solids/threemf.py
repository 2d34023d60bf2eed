"""3MF: named, coloured meshes for printers of models, lengths in mm, z up.

Source: 3MF Core Specification 1.2 (3MF Consortium): a ZIP archive by the Open Packaging Conventions with one model;
objects of closed meshes wound counter-clockwise seen from outside, base materials with a display colour, and the whole
as one object of components, which a machine must not move against one another. From memory: names and types of the
package's parts, and that a component's transform is written for row vectors, its translation last.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from io import BytesIO
from xml.sax.saxutils import escape
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from formwork.solids.meshes import Mesh, Motion, Standing

_MM = 1000.0
_CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
_MODEL = "3D/3dmodel.model"
_TYPES = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>'
    "</Types>\n"
)
_RELATIONS = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    f'<Relationship Id="model" Target="/{_MODEL}" '
    'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>\n'
)
_LONG_AGO = (1980, 1, 1, 0, 0, 0)
"""The earliest moment that a ZIP archive can give."""
_MATERIALS = 1


def threemf(title: str, bodies: Sequence[Standing]) -> bytes:
    """The bodies as one 3MF file; equal ones share a mesh, and names and colours stay with each of them."""
    packed = BytesIO()
    with ZipFile(packed, "w") as archive:
        for name, text in (
            ("[Content_Types].xml", _TYPES),
            ("_rels/.rels", _RELATIONS),
            (_MODEL, "".join(_model(title, bodies))),
        ):
            entry = ZipInfo(name, _LONG_AGO)
            entry.compress_type = ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            entry.create_system = 3
            archive.writestr(entry, text.encode())
    return packed.getvalue()


def _model(title: str, bodies: Sequence[Standing]) -> Iterator[str]:
    """The model part: materials, a mesh for each shape, an object for each body, and the whole."""
    colours = list(dict.fromkeys(body.colour for body in bodies))
    shapes = list(dict.fromkeys((body.shape, body.colour) for body in bodies))
    meshes = {(body.shape, body.colour): body for body in reversed(bodies)}
    yield '<?xml version="1.0" encoding="UTF-8"?>\n'
    yield f'<model unit="millimeter" xml:lang="en" xmlns="{_CORE}">\n'
    yield f'<metadata name="Title">{_text(title)}</metadata>\n<metadata name="Application">formwork</metadata>\n'
    yield f'<resources>\n<basematerials id="{_MATERIALS}">\n'
    for colour in colours:
        name = next(body.name for body in bodies if body.colour == colour)
        yield f'<base name="{_text(name)}" displaycolor="{_hex(colour)}"/>\n'
    yield "</basematerials>\n"
    number = _MATERIALS
    ids: dict[tuple[int, object], int] = {}
    for shape in shapes:
        number += 1
        ids[shape] = number
        yield from _mesh(number, colours.index(meshes[shape].colour), meshes[shape])
    placed = []
    for body in bodies:
        number += 1
        placed.append(number)
        part = f'<component objectid="{ids[body.shape, body.colour]}"{_transform(body.motion)}/>'
        yield f'<object id="{number}" type="model" name="{_text(body.name)}"><components>{part}</components></object>\n'
    whole = number + 1
    yield f'<object id="{whole}" type="model" name="{_text(title)}">\n<components>\n'
    yield from (f'<component objectid="{one}"/>\n' for one in placed)
    yield f'</components>\n</object>\n</resources>\n<build>\n<item objectid="{whole}"/>\n</build>\n</model>\n'


def _mesh(number: int, material: int, body: Standing) -> Iterator[str]:
    """One shape as it was made, before it is moved to its places."""
    mesh: Mesh = body.mesh
    yield f'<object id="{number}" type="model" name="{_text(body.name)}" pid="{_MATERIALS}" pindex="{material}">\n'
    yield "<mesh>\n<vertices>\n"
    yield from (
        f'<vertex x="{_number(x * _MM)}" y="{_number(y * _MM)}" z="{_number(z * _MM)}"/>\n'
        for x, y, z in mesh.points
    )
    yield "</vertices>\n<triangles>\n"
    yield from (f'<triangle v1="{a}" v2="{b}" v3="{c}"/>\n' for a, b, c in mesh.triangles)
    yield "</triangles>\n</mesh>\n</object>\n"


def _transform(motion: Motion | None) -> str:
    """The motion of a body as an attribute: the turn column by column, then the way in mm; nothing for none."""
    if motion is None:
        return ""
    rows, way = motion
    turn = [_number(rows[row][column], 15) for column in range(3) for row in range(3)]
    return f' transform="{" ".join([*turn, *_millimetres(way)])}"'


def _millimetres(way: Iterable[float]) -> list[str]:
    return [_number(value * _MM) for value in way]


def _number(value: float, digits: int = 6) -> str:
    """A decimal without needless zeros; a millionth of a mm lies within what corners were welded by.

    >>> _number(12.5), _number(-1e-9), _number(100.0)
    ('12.5', '0', '100')
    """
    text = f"{value:.{digits}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _hex(colour: tuple[float, float, float, float]) -> str:
    """A colour as 3MF writes it: red, green, blue and opacity in sRGB.

    >>> _hex((1.0, 0.5, 0.0, 1.0))
    '#FF8000FF'
    """
    return "#" + "".join(f"{round(255 * value):02X}" for value in colour)


def _text(text: str) -> str:
    """A name within XML; what XML cannot hold at all is left out."""
    return escape("".join(letter for letter in text if letter >= " "), {'"': "&quot;"})
