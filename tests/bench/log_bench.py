"""How long a large log takes: ``python tests/bench/log_bench.py [READINGS]``; a million readings unless said otherwise.

It builds a log in a folder of its own, then times, as whole processes and in seconds of CPU, the list of the last
pours, the last pour and its chart, and the entering of one reading. It asserts nothing.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from formwork.pour.log.file import create, opened, writing  # noqa: E402 - found by the line above

AT = "2026-11-25T14:00:00"
BATCHES, READINGS = 8, 4
"""Batches of a pour, readings of a batch."""


def entries(readings: int) -> Iterator[tuple[str, tuple[object, ...]]]:
    """Pours, batches and readings in the order of a day, each with its number first."""
    number = 0
    for _ in range(readings // (BATCHES * READINGS)):
        number += 1
        pour = number
        yield "pour", (pour, "planters", 600.0, None, 50.0, 3.15, 2.65, 2.2, 2.6, None)
        for _ in range(BATCHES):
            number += 1
            batch = number
            yield "batch", (batch, pour, 25.0, 12.5, 0.0, 0.0, 0.0484, 0.066, 0.0)
            for i in range(READINGS):
                number += 1
                yield (
                    "reading",
                    (number, batch, "mix", 0.71 + 0.0037 * ((number * 7919 + i) % 11 - 5), 0.11, 0.001),
                )


def build(path: Path, readings: int) -> None:
    create(path)
    with opened(path, write=True) as log, writing(log) as connection:
        for kind, row in entries(readings):
            connection.execute(
                "INSERT INTO entry (id, at, kind, thing) VALUES (?, ?, ?, ?)", (row[0], AT, kind, row[0])
            )
            marks = ", ".join("?" * len(row))
            connection.execute(f"INSERT INTO {kind} VALUES ({marks})", row)


def cpu(*arguments: str, path: Path) -> float:
    """Seconds of CPU of one command, the least of three runs."""
    times = []
    for _ in range(3):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(
            [sys.executable, "-m", "formwork", "log", "--file", str(path), *arguments],
            env={**os.environ, "PYTHONPATH": str(ROOT)}, check=False, stdout=subprocess.DEVNULL,
        )  # fmt: skip
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        times.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return min(times)


def main() -> None:
    readings = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "log.db"
        build(path, readings)
        print(f"{readings} readings, {path.stat().st_size / 1e6:.0f} MB")
        for arguments in (
            ("list",),
            ("show",),
            ("chart", "-o", f"{folder}/chart.svg"),
            ("reading", "--gross", "710 g"),
        ):
            print(f"formwork log {arguments[0]:8} {cpu(*arguments, path=path):6.2f} s of CPU")


if __name__ == "__main__":
    main()
