"""3MF as another library reads it: the reference implementation of its consortium (lib3mf)."""

from __future__ import annotations

import xml.etree.ElementTree as ET
import zipfile
from io import BytesIO

import lib3mf
import pytest

from formwork.geometry.planes import Planes
from formwork.plan import plan
from formwork.project.read import read_project
from formwork.shipped import shelf
from formwork.solids.build import Body, Model, empty_mold_model, mold_model, piece_model
from formwork.solids.export import standing, write_3mf
from formwork.solids.threemf import threemf

LEAN = 0.1
"""A polygon of sides that turn by this angle (rad) has an area short of its circle's by a sixth of its square."""


def opened(data: bytes):
    """The model as lib3mf reads it, strictly: what breaks a rule of the format is an error."""
    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromBuffer(data)
    assert [reader.GetWarning(k) for k in range(reader.GetWarningCount())] == []
    return model


def meshes(model):
    found = model.GetMeshObjects()
    while found.MoveNext():
        yield found.GetCurrentMeshObject()


def whole(model):
    """The one thing to be made, as its components in their places."""
    items = model.GetBuildItems()
    assert items.Count() == 1 and items.MoveNext()
    everything = items.GetCurrent().GetObjectResource()
    assert everything.IsComponentsObject()
    everything = model.GetComponentsObjectByID(everything.GetResourceID())
    return [everything.GetComponent(k) for k in range(everything.GetComponentCount())]


def inner(model, component):
    """The mesh that a body stands for, and how it is moved there."""
    body = model.GetComponentsObjectByID(component.GetObjectResourceID())
    assert body.GetComponentCount() == 1
    one = body.GetComponent(0)
    return body.GetName(), model.GetMeshObjectByID(one.GetObjectResourceID()), one


def volume(mesh) -> float:
    """By the divergence theorem, in the units of the file."""
    points = [tuple(v.Coordinates) for v in mesh.GetVertices()]
    six = 0.0
    for triangle in mesh.GetTriangleIndices():
        (ax, ay, az), (bx, by, bz), (cx, cy, cz) = (points[k] for k in triangle.Indices)
        six += ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)
    return six / 6.0


def test_a_piece_of_planes_has_its_volume_in_cubic_millimetres(tapered, tmp_path):
    solid = tapered()
    write_3mf(tmp_path / "piece.3mf", piece_model(Planes(), solid.piece()))
    model = opened((tmp_path / "piece.3mf").read_bytes())
    assert model.GetUnit() == lib3mf.ModelUnit.MilliMeter
    (mesh,) = meshes(model)
    assert mesh.IsManifoldAndOriented() and mesh.GetName() == "herb bed"
    assert volume(mesh) / 1e9 == pytest.approx(solid.volume(), rel=1e-4)


def test_a_mold_keeps_names_colours_places_and_volumes(tray, tmp_path):
    made = mold_model(tray)
    model = opened(threemf(made.name, standing(made)))
    components = whole(model)
    assert [inner(model, one)[0] for one in components] == [body.name for body in made.bodies]
    for component, body in zip(components, made.bodies, strict=True):
        _, mesh, _ = inner(model, component)
        assert mesh.IsManifoldAndOriented()
        assert volume(mesh) / 1e9 == pytest.approx(body.solid.Volume() / 1e9, rel=LEAN**2 / 6)
        group, index, has = mesh.GetObjectLevelProperty()
        assert has
        colour = model.GetBaseMaterialGroupByID(group).GetDisplayColor(index)
        read = (colour.Red, colour.Green, colour.Blue, colour.Alpha)
        assert read == tuple(round(255 * value) for value in body.colour)


def test_equal_parts_share_a_mesh_and_stand_where_the_parts_do():
    """The example's planter: each box round a moved mesh, worked out here, is the one round its solid."""
    (mold,) = plan(read_project(shelf("examples") / "tapered-planter.toml")).molds
    made = empty_mold_model(mold)
    model = opened(threemf(made.name, standing(made)))
    assert len(list(meshes(model))) < len(made.bodies) - 10
    for component, body in zip(whole(model), made.bodies, strict=True):
        name, mesh, one = inner(model, component)
        assert name == body.name
        fields = one.GetTransform().Fields if one.HasTransform() else None
        points = [tuple(v.Coordinates) for v in mesh.GetVertices()]
        if fields:
            points = [
                tuple(sum(p[k] * fields[k][axis] for k in range(3)) + fields[3][axis] for axis in range(3))
                for p in points
            ]
        box = body.solid.BoundingBox()
        for axis, (low, high) in enumerate(
            ((box.xmin, box.xmax), (box.ymin, box.ymax), (box.zmin, box.zmax))
        ):
            assert min(p[axis] for p in points) == pytest.approx(low, abs=0.02)
            assert max(p[axis] for p in points) == pytest.approx(high, abs=0.02)


@pytest.mark.parametrize("name", ["hollow-blocks", "boathouse-piers"])
def test_every_mesh_of_a_mold_is_closed_and_turned_outward(name):
    """What the specification asks of a model: each edge between two triangles, run once each way."""
    for mold in plan(read_project(shelf("examples") / f"{name}.toml")).molds:
        made = mold_model(mold)
        model = opened(threemf(made.name, standing(made)))
        assert len(whole(model)) == len(made.bodies)
        assert [mesh.GetName() for mesh in meshes(model) if not mesh.IsManifoldAndOriented()] == []


def test_names_of_any_letters_come_back(tray):
    names = ["1/2\" board <3> & it's", "côté — gauche", "型枠", "a\x07bell"]
    bodies = tuple(Body(n, b.solid, b.colour) for n, b in zip(names, mold_model(tray).bodies, strict=False))
    model = opened(threemf("Schalung für Ä", standing(Model("Schalung für Ä", bodies))))
    assert [inner(model, one)[0] for one in whole(model)] == [*names[:3], "abell"]


def test_the_archive_says_nothing_of_when_or_where_it_was_made(tray):
    made = standing(mold_model(tray))
    first, second = threemf("tray", made), threemf("tray", standing(mold_model(tray)))
    assert first == second
    with zipfile.ZipFile(BytesIO(first)) as archive:
        assert [entry.date_time for entry in archive.infolist()] == [(1980, 1, 1, 0, 0, 0)] * 3
        assert archive.testzip() is None
        for name in archive.namelist():
            ET.fromstring(archive.read(name))
