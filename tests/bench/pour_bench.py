"""How quickly the commands of a pour day answer: ``python tests/bench/pour_bench.py``.

Each is timed as a whole process, in seconds of CPU, the least of nine runs, beside the goal: twice a bare
``python -c "import click"`` and 0.15 s more. Then the same with a shop and a project file, whose models are loaded on
top. It asserts nothing.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
SHOP = str(ROOT / "templates" / "shop.toml")
PROJECT = str(ROOT / "examples" / "tapered-planter.toml")
RUNS = 9

PLAIN = (
    ("batch", "90 L", "--wet", "600 kg/m3"),
    (
        "weigh",
        "720 g",
        "--tare",
        "70 g",
        "--cup",
        "1 L",
        "--wet",
        "600 kg/m3",
        "--batch",
        "50 kg",
        "--still",
        "200 L",
    ),
    ("cure", "--air", "30 C", "--humidity", "40 %", "--wind", "20 km/h"),
)
WITH_FILES = (
    ("batch", "3 ft3", "--wet", "37 lb/ft3", "--shop", SHOP),
    ("batch", "3 ft3", "--project", PROJECT),
    ("weigh", "720 g", "--tare", "70 g", "--cup", "1 L", "--wet", "600 kg/m3", "--shop", SHOP),
    ("weigh", "720 g", "--tare", "70 g", "--cup", "1 L", "--project", PROJECT),
)  # fmt: skip


def cpu(*arguments: str) -> float:
    """Seconds of CPU of one process, the least of several runs."""
    times = []
    for _ in range(RUNS):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(
            [sys.executable, *arguments], env={**os.environ, "PYTHONPATH": str(ROOT)}, check=False,
            stdout=subprocess.DEVNULL,
        )  # fmt: skip
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        times.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return min(times)


def main() -> None:
    bare = cpu("-c", "import click")
    print(f"bare import of click {bare:.3f} s, goal {2.0 * bare + 0.15:.3f} s")
    for title, commands in (("without files", PLAIN), ("with files", WITH_FILES)):
        print(title)
        for arguments in commands:
            shown = " ".join(Path(each).name if each.startswith("/") else each for each in arguments)
            print(f"  {cpu('-m', 'formwork', *arguments):.3f} s  formwork {shown}")


if __name__ == "__main__":
    main()
