"""How long ``formwork plan`` takes, as a process, stage by stage and shape by shape. Run it by hand; it asserts nothing.

Usage: python tests/bench/plan_bench.py [ROUNDS]
"""

from __future__ import annotations

import cProfile
import os
import pstats
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from formwork.project.records import Shop
    from formwork.shapes.shape import Shape

ROOT = Path(__file__).parents[2]
BARE = "import pydantic, shapely, click"
ONE_MOLD = ROOT / "templates" / "planter.toml"

SIX_MOLDS = """
title = "six molds"
units = "mm"
[mix]
wet_density = "800 kg/m3"
{pieces}
"""
PIECE = {
    "planter": 'name = "planter {n}"\nshape = "planter"\nlength = {a}\nwidth = 400\nheight = 350\nbase_length = {b}\n'
    "base_width = 340\nwall = 40\nfloor = 40\ndrain_holes = 2\nchamfer = 8\n",
    "block": 'name = "block {n}"\nshape = "block"\nlength = {a}\nwidth = 200\nheight = 200\ncores = 2\ngang = 4\n',
    "slab": 'name = "slab {n}"\nshape = "slab"\nlength = {a}\nwidth = 400\nthickness = 60\nchamfer = 8\ngang = 3\n',
}


def wall_time(arguments: list[str], bytecode: str) -> float:
    """Seconds of one process that finds its modules compiled, as an installed program does."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONPYCACHEPREFIX": bytecode}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    start = perf_counter()
    subprocess.run([sys.executable, *arguments], env=environment, check=True, capture_output=True, cwd=ROOT)
    return perf_counter() - start


def whole_process(rounds: int) -> None:
    """The command beside the bare import, taken in turns so that both see the same machine."""
    commands = {"bare": ["-c", BARE], "plan": ["-m", "formwork", "plan", str(ONE_MOLD)]}
    times: dict[str, list[float]] = {name: [] for name in commands}
    with tempfile.TemporaryDirectory() as bytecode:
        for arguments in commands.values():
            wall_time(arguments, bytecode)
        for _ in range(rounds):
            for name, arguments in commands.items():
                times[name].append(wall_time(arguments, bytecode))
    bare, plan = median(times["bare"]), median(times["plan"])
    print(f'python -c "{BARE}": {1000 * bare:.0f} ms')
    print(f"formwork plan {ONE_MOLD.name}: {1000 * plan:.0f} ms, {plan / bare:.2f} times as long")


def six_molds(folder: Path) -> Path:
    pieces = [
        "[[piece]]\n" + PIECE[shape].format(n=n, a=500 + 100 * n, b=420 + 100 * n)
        for n in (1, 2)
        for shape in ("planter", "block", "slab")
    ]
    path = folder / "six.toml"
    path.write_text(SIX_MOLDS.format(pieces="\n".join(pieces)), encoding="utf-8")
    return path


def stages() -> None:
    """Milliseconds of each call that ``plan`` itself makes, for a project of six molds, the second time round."""
    from formwork.plan import plan  # noqa: PLC0415 - the package comes from the environment that runs this
    from formwork.project.read import read_project  # noqa: PLC0415 - the same

    with tempfile.TemporaryDirectory() as folder:
        path = six_molds(Path(folder))
        start = perf_counter()
        project = read_project(path)
        print(f"\nsix molds: reading the files {1000 * (perf_counter() - start):.1f} ms")
    plan(project)
    start = perf_counter()
    plan(project)
    print(f"six molds: parsed project to plan {1000 * (perf_counter() - start):.1f} ms")
    profile = cProfile.Profile()
    profile.runcall(plan, project)
    print("stages (under the profiler, which slows all alike), ms:")
    for name, spent in called_by_plan(pstats.Stats(profile)):
        print(f"  {name:<32}{1000 * spent:8.1f}")


def every_shape() -> None:
    """Milliseconds from parsed keys to molds or frame of each sample of each shape, and that over the first planter's.

    Each sample is built by the first of its shape's methods that takes it. The last line has the first sample of each
    shape alone.
    """
    from formwork.project.shop import built_in  # noqa: PLC0415 - the package comes from the environment that runs this
    from formwork.shapes.register import register  # noqa: PLC0415 - the same

    shop = built_in("mm")
    first, firsts = 0.0, []
    print("\npiece, mold, parts and volume (frame and pipes) of each sample:")
    for name, shape in register().items():
        for number, keys in enumerate(shape.samples, start=1):
            method, spent = quickest(shape, keys, shop)
            first = first or spent
            print(f"  {name + f' {number}, {method}':<28}{1000 * spent:8.1f} ms{spent / first:8.2f} x")
            if number == 1:
                firsts.append(f"{name} {spent / first:.2f}")
    print(f"first samples, {1000 * first:.0f} ms of the planter's as 1: {', '.join(firsts)}")


def quickest(shape: Shape, keys: Mapping[str, object], shop: Shop, rounds: int = 3) -> tuple[str, float]:
    """The first method that takes a sample, and the least of its times, seconds."""
    from formwork.errors import GeometryError, StockError  # noqa: PLC0415 - as in every_shape

    for method in shape.methods:
        try:
            return method, min(seconds(shape, keys, method, shop) for _ in range(rounds))
        except (GeometryError, StockError):
            continue
    raise SystemExit(f"{shape.name}: no method takes the sample {dict(keys)}")


def seconds(shape: Shape, keys: Mapping[str, object], method: str, shop: Shop) -> float:
    """Seconds from parsed keys to braced molds, or to the frame, for a light mortar that any form takes."""
    from formwork.mix.design import mix_for  # noqa: PLC0415 - as in every_shape
    from formwork.mix.records import OrdinaryWanted  # noqa: PLC0415 - the same
    from formwork.molds.design import brace, line  # noqa: PLC0415 - the same
    from formwork.molds.structure import Structure  # noqa: PLC0415 - the same
    from formwork.project.records import MoldOptions, PieceOrder  # noqa: PLC0415 - the same

    mix = mix_for(OrdinaryWanted(1000.0, 1.0, 0.5, 2.0, 0.0), shop.cement, shop.foam)
    found = shape.parameters.model_validate(dict(keys), context={"units": "mm"})
    order = PieceOrder(shape.name, shape.name, found, 1, 1, MoldOptions(method))
    start = perf_counter()
    for one in line(order, shop, mix, "mm"):
        if not isinstance(one, Structure):
            brace(one)
    return perf_counter() - start


def called_by_plan(stats: pstats.Stats) -> list[tuple[str, float]]:
    """Cumulative seconds of each function of the package that ``plan`` calls."""
    found = []
    for (file, _, name), entry in stats.stats.items():  # type: ignore[attr-defined]
        callers = entry[4]
        for (caller_file, _, caller), times in callers.items():
            if caller == "plan" and Path(caller_file).name == "plan.py" and "formwork" in file:
                found.append((f"{Path(file).parent.name}/{Path(file).stem}.{name}", times[3]))
    return sorted(found, key=lambda row: -row[1])


if __name__ == "__main__":
    whole_process(int(sys.argv[1]) if len(sys.argv) > 1 else 7)
    sys.path.insert(0, str(ROOT))
    stages()
    every_shape()
