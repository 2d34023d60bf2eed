"""The console command: what a person types, what they get, and with which exit status."""

from __future__ import annotations

import sys
from typing import NoReturn


def main() -> NoReturn:
    """Run the ``formwork`` command and leave with its exit status."""
    from formwork.cli.commands import commands  # noqa: PLC0415 - importing the package alone stays cheap
    from formwork.cli.outcome import run  # noqa: PLC0415 - the same

    sys.exit(run(commands))
