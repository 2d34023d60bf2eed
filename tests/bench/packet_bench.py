"""How long a packet takes, document by document, and what it needs of memory.

    python tests/bench/packet_bench.py [PROJECT.toml]

Without a project it is the tapered planter of the examples. Processor seconds of this machine, and each as a share of
what the import of the CAD kernel alone takes here, so that figures from different machines can be compared. A second run
over the same folder comes last, beside the plan that it cannot do without. Nothing is asserted.
"""

from __future__ import annotations

import resource
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from time import process_time

from formwork.packet.documents import Document, contents
from formwork.packet.write import documents
from formwork.plan import plan
from formwork.project.read import read_project
from formwork.solids.kernel import cadquery

ROOT = Path(__file__).resolve().parents[2]
COMMAND = "import sys; sys.argv[0] = 'formwork'; from formwork.cli import main; main()"


def processor_seconds(*arguments: str, rounds: int = 3) -> float:
    """What a fresh Python spends on a command, itself included; the least of a few."""
    spent = []
    for _ in range(rounds):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run([sys.executable, "-c", *arguments], cwd=ROOT, capture_output=True, check=False)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        spent.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return min(spent)


def put(one: Document, folder: Path) -> None:
    """Make a document and put its files in the folder."""
    for (name, _), data in zip(one.files, contents(one, folder), strict=True):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)


def row(name: str, seconds: float, kernel: float) -> None:
    """One line of the table."""
    print(f"{name:<48}{seconds:8.2f} s{seconds / kernel:8.2f}")


def main(project: Path) -> None:
    """Print the table."""
    kernel = processor_seconds("import cadquery")
    row("import of the CAD kernel, the least of three", kernel, kernel)
    before = process_time()
    made = plan(read_project(project))
    row("plan", process_time() - before, kernel)
    with TemporaryDirectory() as scratch:
        folder = Path(scratch) / "packet"
        whole = process_time()
        for one in documents(made):
            before = process_time()
            if one.kernel:
                cadquery()
            loaded = process_time()
            put(one, folder)
            more = f" and {len(one.files) - 1} more" if len(one.files) > 1 else ""
            row(one.files[0][0] + more, process_time() - loaded, kernel)
            if loaded - before > 0.1:
                row("  before that the CAD kernel was loaded", loaded - before, kernel)
        row("the packet", process_time() - whole, kernel)
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
        size = sum(path.stat().st_size for path in folder.rglob("*") if path.is_file()) / 1e6
        print(f"\nmost memory at once {peak:.0f} MB; on the drive {size:.1f} MB")
        again = Path(scratch) / "again"
        arguments = (COMMAND, "packet", str(project), "-o", str(again))
        processor_seconds(*arguments, rounds=1)
        second, alone = processor_seconds(*arguments), processor_seconds(COMMAND, "plan", str(project))
        print(f"second run {second:.2f} s, plan {alone:.2f} s: {second / alone:.2f} times")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "examples" / "tapered-planter.toml")
