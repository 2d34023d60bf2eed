"""Commands that need no solid start quickly: neither the CAD kernel nor pint nor ezdxf is loaded by them."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SLOW = (
    "cadquery",
    "OCP",
    "vtkmodules",
    "casadi",
    "pint",
    "ezdxf",
    "PIL",
    "rich",
    "numpy",
    "scipy",
    "shapely",
)
PROBE = """
import sys
from formwork.cli.commands import commands
from formwork.cli.outcome import run
status = run(commands, sys.argv[1:])
loaded = sorted({name.partition(".")[0] for name in sys.modules} & set(SLOW))
print("status", status, "loaded", *loaded, file=sys.stderr)
"""


@pytest.mark.parametrize(
    "arguments",
    [
        ["--help"],
        ["shapes"],
        ["start", "planter", "-"],
        ["plan", "templates/planter.toml"],
        ["plan", "templates/planter.toml", "--json"],
        ["plan", "templates/planter.toml", "--working"],
        ["plan", "templates/block.toml"],
        ["plan", "templates/slab.toml"],
        ["batch", "90 L", "--wet", "600 kg/m3"],
    ],
    ids=" ".join,
)
def test_nothing_slow_is_loaded(arguments):
    probe = PROBE.replace("SLOW", repr(SLOW))
    ran = subprocess.run(
        [sys.executable, "-c", probe, *arguments],
        cwd=ROOT, env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert ran.stderr.split("\n")[-2].strip() == "status 0 loaded"
