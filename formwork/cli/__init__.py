"""The console command: what a person types, what they get, and with which exit status."""

from __future__ import annotations

import gc
import os
import sys
from typing import NoReturn


def main() -> NoReturn:
    """Run the ``formwork`` command and leave with its exit status.

    A run is short and makes few circular references, so the collector of those looks rarely; pydantic is not made to
    look for plugins, of which this program has none. Together they are a tenth of the time that a plan takes.
    """
    gc.set_threshold(50_000)
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    from formwork.cli.commands import commands  # noqa: PLC0415 - importing the package alone stays cheap
    from formwork.cli.outcome import run  # noqa: PLC0415 - the same

    sys.exit(run(commands))
