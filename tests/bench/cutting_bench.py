"""Cutting plans measured on published and shop instances, in a folder given as argument.

    python tests/bench/cutting_bench.py FOLDER [--every N] [--seconds S] [--stages S]

The folder holds ``classes.jsonl`` (two-dimensional bin packing, classes I to X), ``shop_jobs.json``, ``sticks.jsonl``,
``shop_sticks.json`` and ``gcut1.txt`` and on; what is missing is left out. Instances are not part of this project.
Every plan is judged. The best known of the classes allow three turns of the saw and a last cut that trims a blank to
size, as plans here do; they begin all sheets the same way, plans here either way.
Where the package rectpack is installed, its best of 36 straight-through packings stands beside (it has no limit on
the turns of the saw and no kerf). Times are processor seconds of this run, the compiling of the long search apart,
printed and not judged. With ``--seconds`` a search has that long, as much work as that may be; without, it does the
usual work. Last comes the growth: jobs of up to 5,000 parts, each part of another size, and the memory they took.
"""

from __future__ import annotations

import argparse
import importlib.util
import itertools
import json
import resource
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from math import log
from pathlib import Path
from random import Random
from time import process_time
from typing import Any, TypeVar

from formwork.cutting.job import Kinds
from formwork.cutting.judge import judge_sheets, judge_sticks
from formwork.cutting.one_sheet import most_worth
from formwork.cutting.records import Bound, SheetPart, StickPart
from formwork.cutting.sheets import nest
from formwork.cutting.sticks import cut_sticks
from formwork.stock.records import Saw, SheetStock, StickLength, StickStock

SHARP = Saw(0.0, 0.0)
MM = 0.001
ENDLESS = 1e6
"""Effort that no search comes to the end of in the time it has."""

Result = TypeVar("Result")


def main() -> None:
    """Measure what the folder holds."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("folder", type=Path)
    asked.add_argument("--every", type=int, default=10, help="take one instance in so many (default 10)")
    asked.add_argument(
        "--seconds", type=float, help="time for a sheet job; without it the usual work is done"
    )
    asked.add_argument(
        "--stages", type=int, default=3, help="most turns of the saw for the classes (default 3)"
    )
    given = asked.parse_args()
    compile_search()
    for name, measure in (
        ("shop_sticks.json", shop_sticks),
        ("sticks.jsonl", partial(sticks, every=given.every)),
        ("shop_jobs.json", partial(shop_jobs, seconds=given.seconds)),
        ("classes.jsonl", partial(classes, every=given.every, seconds=given.seconds, stages=given.stages)),
    ):
        path = given.folder / name
        if path.exists():
            within = f"{given.seconds:g} s each" if given.seconds else "usual work"
            print(f"\n{name}, one in {given.every}, {within}", flush=True)
            measure(path)
    most_valuable(given.folder)
    growth()


def compile_search() -> None:
    """Compile the long search, which takes some seconds on a machine that has not done it."""
    parts = [
        SheetPart(f"{n}", 0.5 + 0.037 * (7 * n % 31), 0.3 + 0.023 * (11 * n % 29), 1, True) for n in range(70)
    ]
    nest(parts, [sheet(2.44, 1.22)], SHARP, effort=1.5)


def timed(work: Callable[[], Result]) -> tuple[Result, float]:
    """The result, and the processor seconds it took."""
    start = process_time()
    result = work()
    return result, process_time() - start


def lines(path: Path, every: int) -> list[dict[str, Any]]:
    """One instance in so many of a file with an instance a line."""
    return [json.loads(line) for line in path.read_text("utf-8").splitlines()][::every]


def classes(path: Path, every: int, seconds: float | None, stages: int) -> None:
    """Totals over the instances, with rotation and without, against the best known of three stages."""
    found = lines(path, every)
    for turn, name in ((True, "rotation"), (False, "oriented")):
        used, known, proven, hit, spent, other = 0, 0, 0, 0, 0.0, 0
        for one in found:
            bound, taken = timed(lambda one=one, turn=turn: class_bound(one, turn, seconds, stages))
            best = one["best_known_three_stage"][name]
            used, known, spent = used + int(bound.used), known + best, spent + taken
            proven, hit = proven + bound.proven, hit + (bound.used <= best)
            other += best_of_36(one["sheet"], one["parts"], turn)
        beside = f", best of 36 by rectpack {other} ({100 * (other / known - 1):+.2f} %)" if other else ""
        print(
            f"  {name}: {len(found)} instances, {used} sheets, best known {known} ({100 * (used / known - 1):+.2f} %), "
            f"{hit} as good or better, {proven} proven, {spent / len(found):.2f} s each{beside}",
            flush=True,
        )


def class_bound(one: dict[str, Any], turn: bool, seconds: float | None, stages: int) -> Bound:
    """Nest one instance of the classes, a unit taken as a centimetre."""
    length, width = (side / 100 for side in one["sheet"])
    counts = Counter((a, b) for a, b in one["parts"])
    parts = [SheetPart(f"{a}x{b}", a / 100, b / 100, count, turn) for (a, b), count in counts.items()]
    return judged_sheets(parts, sheet(length, width), SHARP, seconds, stages)


def sheet(length: float, width: float) -> SheetStock:
    """A sheet of this size, m."""
    return SheetStock("sheet", "plywood", "", 0.018, False, length, width)


def judged_sheets(
    parts: list[SheetPart], stock: SheetStock, saw: Saw, seconds: float | None, stages: int = 3
) -> Bound:
    """The bound of a plan that the judge has passed."""
    end = process_time() + (seconds or 0.0)
    if seconds:
        plan = nest(parts, [stock], saw, stages, effort=ENDLESS, stopped=lambda: process_time() > end)
    else:
        plan = nest(parts, [stock], saw, stages)
    judge_sheets(parts, [stock], saw, stages, plan)
    return plan.bound


def best_of_36(size: Sequence[int], parts: list[list[int]], turn: bool) -> int:
    """Sheets that rectpack's guillotine packers take at best; 0 where it is not installed."""
    if importlib.util.find_spec("rectpack") is None:
        return 0
    import rectpack  # noqa: PLC0415 - only where somebody installed it
    import rectpack.guillotine as packers  # noqa: PLC0415

    fits, splits = ("Bssf", "Blsf", "Baf"), ("Sas", "Las", "Slas", "Llas", "Maxas", "Minas")
    best = len(parts)
    for fit, split, sort in itertools.product(fits, splits, (rectpack.SORT_AREA, rectpack.SORT_SSIDE)):
        packer = rectpack.newPacker(
            pack_algo=getattr(packers, f"Guillotine{fit}{split}"), sort_algo=sort, rotation=turn
        )
        for part in parts:
            packer.add_rect(*part)
        packer.add_bin(*size, count=float("inf"))
        packer.pack()
        best = min(best, len(packer))
    return best


def shop_jobs(path: Path, seconds: float | None) -> None:
    """Sheets of each shop job, every part free to turn and none."""
    data = json.loads(path.read_text("utf-8"))
    width, length = (side * MM for side in data["sheet_mm"])
    saw = Saw(data["kerf_mm"] * MM, data["trim_mm"] * MM)
    for name, wanted in data["jobs"].items():
        shown = []
        for turn in (True, False):
            parts = [
                SheetPart(f"{number}", *lie(part, width - 2 * saw.trim), part[2], turn)
                for number, part in enumerate(wanted)
            ]
            bound, taken = timed(lambda parts=parts: judged_sheets(parts, sheet(length, width), saw, seconds))
            shown.append(f"{bound.used:g} (least {bound.least:g}, {taken:.2f} s)")
        print(
            f"  {name} ({sum(part[2] for part in wanted)} parts): free {shown[0]}, locked {shown[1]}",
            flush=True,
        )


def lie(part: list[int], width: float) -> tuple[float, float]:
    """Length and width of a part written across first; turned where it fits no other way."""
    across, along = part[0] * MM, part[1] * MM
    return (along, across) if across <= width else (across, along)


def sticks(path: Path, every: int) -> None:
    """Sticks of each family against the best known."""
    families: dict[str, list[dict[str, Any]]] = {}
    for one in lines(path, 1):
        families.setdefault(one["name"].split("_")[0], []).append(one)
    for name, found in families.items():
        used, known, proven, longest = 0, 0, 0, 0.0
        some = found[:: min(every, 5)]
        for one in some:
            counts = Counter(one["lengths"])
            parts = [StickPart(f"{length:g}", length * MM, count) for length, count in counts.items()]
            stock = lumber([(one["capacity"], None)])
            bound, seconds = timed(lambda parts=parts, stock=stock: judged_sticks(parts, stock, SHARP))
            used, known, longest = used + int(bound.used), known + one["best_known"], max(longest, seconds)
            proven += bound.proven
        print(
            f"  {name}: {len(some)} instances, {used}, best known {known}, {proven} proven, {longest:.2f} s at most"
        )


def shop_sticks(path: Path) -> None:
    """Cost of each stick job against the best seen."""
    data = json.loads(path.read_text("utf-8"))
    for name, one in data["jobs"].items():
        parts = [StickPart(f"{length:g}", length * MM, count) for length, count in one["parts"]]
        saw = Saw(data["kerf_mm"] * MM, 0.0)
        bound, seconds = timed(
            lambda parts=parts, one=one, saw=saw: judged_sticks(parts, lumber(one["stock"]), saw)
        )
        print(
            f"  {name}: {bound.used:.2f} (least {bound.least:.2f}), best seen {one['best_cost']}, {seconds:.2f} s"
        )


def lumber(sold: list[tuple[float, float | None]]) -> StickStock:
    """A stick sold in these lengths (mm) and prices."""
    lengths: Iterator[StickLength] = (StickLength(length * MM, price) for length, price in sold)
    return StickStock("stick", "fir", "", 0.038, 0.038, tuple(lengths))


def judged_sticks(parts: list[StickPart], stock: StickStock, saw: Saw) -> Bound:
    """The bound of a plan that the judge has passed."""
    plan = cut_sticks(parts, stock, saw)
    judge_sticks(parts, stock, saw, plan)
    return plan.bound


GCUT = {
    False: (56460, 60536, 61036, 61698, 246000, 238998, 242567, 246633, 971100, 982025, 980096, 979986),
    True: (58136, 60611, 61626, 62265, 246000, 240951, 245866, 247787, 971100, 982025, 980096, 988694),
}
"""Exact values of gcut1 to gcut12 as the blanks lie and with turning, as published by G. Cintra."""


def most_valuable(folder: Path) -> None:
    """How many of the exact values of gcut are met, and the longest that one took."""
    exact, tried, longest = 0, 0, 0.0
    for number, path in enumerate((folder / f"gcut{number}.txt" for number in range(1, 13)), start=1):
        if path.exists():
            _, length, width, *rest = (int(word) for word in path.read_text("utf-8").split())
            lengths, widths, values = rest[::3], rest[1::3], [float(value) for value in rest[2::3]]
            for turn, published in GCUT.items():
                kinds = Kinds(tuple(lengths), tuple(widths), (turn,) * len(values), (1,) * len(values))
                worth, taken = timed(lambda kinds=kinds: most_worth(kinds, values, length, width))  # noqa: B023
                exact, tried, longest = (
                    exact + (worth == published[number - 1]),
                    tried + 1,
                    max(longest, taken),
                )
    if tried:
        print(f"\ngcut: {exact} of {tried} values exact, {longest:.2f} s at most", flush=True)


def growth() -> None:
    """Time to the first complete plan of jobs of ever more parts, over n log n, and the most memory taken so far."""
    print(
        "\ngrowth: parts, seconds to the first complete plan, microseconds over n log n, sheets over the bound, memory"
    )
    chance = Random(20)
    for many in (50, 500, 1000, 2000, 5000):
        parts = [
            SheetPart(f"{n}", chance.randint(100, 900) * MM, chance.randint(80, 600) * MM, 1, True)
            for n in range(many)
        ]
        plan, spent = timed(
            lambda parts=parts: nest(parts, [sheet(2.44, 1.22)], Saw(0.003, 0.005), effort=0.0)
        )
        judge_sheets(parts, [sheet(2.44, 1.22)], Saw(0.003, 0.005), 3, plan)
        over = plan.bound.used / plan.bound.least
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(
            f"  {many}: {spent:.2f} s, {1e6 * spent / (many * log(many)):.0f}, {over:.3f}, {memory:.0f} MB",
            flush=True,
        )


if __name__ == "__main__":
    main()
