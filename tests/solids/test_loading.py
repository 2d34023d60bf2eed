"""The kernel is loaded late, and its absence is told in words."""

import subprocess
import sys
from pathlib import Path

import pytest

import formwork
from formwork.errors import FormworkError, InternalError
from formwork.geometry.planes import Planes
from formwork.solids import kernel
from formwork.solids.build import cell_solid

ROOT = Path(formwork.__file__).parents[1]


def test_importing_the_room_loads_no_kernel_and_no_shapely():
    code = (
        "import sys, formwork.solids, formwork.solids.kernel, formwork.solids.build, formwork.solids.export, "
        "formwork.solids.views, formwork.solids.gltf, formwork.solids.stepfile, formwork.solids.meshes, formwork.solids.swept\n"
        "print(sorted({name.split('.')[0] for name in sys.modules} & {'cadquery', 'OCP', 'vtkmodules', 'shapely'}))"
    )
    found = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "[]"


def test_nothing_but_the_modules_at_the_kernel_names_it_in_an_import():
    for path in sorted((ROOT / "formwork").rglob("*.py")):
        if path.name in {"kernel.py", "swept.py", "lines.py"} and path.parent.name == "solids":
            continue
        for line in path.read_text("utf-8").splitlines():
            words = line.split()
            if words[:1] in (["import"], ["from"]):
                assert words[1].split(".")[0].rstrip(",") not in {"cadquery", "OCP"}, f"{path}: {line}"


def test_a_missing_system_library_is_named_with_what_to_install(monkeypatch):
    def fails(name):
        raise ImportError("libGL.so.1: cannot open shared object file: No such file or directory")

    monkeypatch.setattr(kernel, "import_module", fails)
    with pytest.raises(FormworkError, match=r"apt-get install libgl1 libx11-6 libexpat1") as caught:
        kernel.cadquery()
    assert isinstance(caught.value, kernel.KernelError)
    assert "libGL.so.1: cannot open" in str(caught.value)


def test_a_missing_package_is_told_with_the_command_that_installs_it(monkeypatch):
    monkeypatch.setitem(sys.modules, "cadquery", None)
    with pytest.raises(kernel.KernelError, match="pip install cadquery"):
        kernel.cadquery()


def test_faces_that_do_not_close_are_refused():
    corners = [(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)]
    with pytest.raises(InternalError, match="do not close"):
        kernel.polyhedron(corners, [((0.0, 0.0, -1.0), (0, 2, 1)), ((0.0, -1.0, 0.0), (0, 1, 3))])


def test_a_kernel_that_gives_up_is_told_with_the_name_of_the_part():
    class Stuck:
        def cut(self, *tools, tol):
            raise kernel.import_module("OCP.StdFail").StdFail_NotDone("command not done")

    with pytest.raises(InternalError, match="front panel: the CAD kernel gave up"):
        kernel.cut(Stuck(), [Stuck()], "front panel")


def test_a_cut_that_leaves_nothing_is_refused(box):
    planes = Planes()
    small = cell_solid(planes, box(planes, (0.0, 0.0, 0.0), (0.1, 0.1, 0.1)))
    large = cell_solid(planes, box(planes, (-1.0, -1.0, -1.0), (1.0, 1.0, 1.0)))
    with pytest.raises(InternalError, match="thing: the CAD kernel"):
        kernel.checked(kernel.cut(small, [large]), "thing")
