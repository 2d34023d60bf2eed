"""The built wheel holds everything that a run needs, and works without the checkout."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
BUILD = "import sys; from hatchling.build import build_wheel; print(build_wheel(sys.argv[1]))"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    built = subprocess.run(
        [sys.executable, "-c", BUILD, str(folder)], cwd=ROOT, check=True, capture_output=True, text=True
    )
    return folder / built.stdout.split()[-1]


@pytest.fixture(scope="module")
def unpacked(wheel, tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("unpacked")
    zipfile.ZipFile(wheel).extractall(folder)
    return folder


def files_below(folder: Path) -> set[str]:
    """Every file, but for what tools leave behind."""
    names = (path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())
    return {name for name in names if not re.search(r"(^|/)(\.|__pycache__/)", name)}


def test_every_file_of_the_package_its_templates_and_examples_is_in_the_wheel(unpacked):
    carried = {
        f"carried/{shelf}/{name}" for shelf in ("templates", "examples") for name in files_below(ROOT / shelf)
    }
    assert files_below(unpacked / "formwork") == files_below(ROOT / "formwork") | carried
    assert carried


def test_nothing_else_is_in_the_wheel(unpacked):
    assert {path.name for path in unpacked.iterdir() if not path.name.endswith(".dist-info")} == {"formwork"}


def test_it_works_in_a_folder_of_its_own(unpacked, tmp_path):
    environment = {**os.environ, "PYTHONPATH": str(unpacked)}

    def formwork(*arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "formwork", *arguments],
            cwd=tmp_path, env=environment, capture_output=True, text=True, check=False,
        )  # fmt: skip

    where = subprocess.run(
        [sys.executable, "-c", "import formwork; print(formwork.__file__)"],
        cwd=tmp_path, env=environment, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert Path(where.stdout.strip()).is_relative_to(unpacked)
    assert formwork("start", "planter").returncode == 0
    planned = formwork("plan", "planter.toml")
    assert planned.returncode == 0, planned.stderr
    written = formwork("packet", "planter.toml", "-o", "out", "--no-solids")
    assert written.returncode == 0, written.stderr
    assert (tmp_path / "out" / "index.html").is_file()
