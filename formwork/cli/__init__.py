"""The console command: what a person types, what they get, and with which exit status."""

from __future__ import annotations

import gc
import os
import sys
from contextlib import suppress
from typing import NoReturn


def main() -> NoReturn:
    """Run the ``formwork`` command and leave with its exit status.

    A run is short and makes few circular references, so the collector of those looks rarely; pydantic is not made to
    look for plugins, of which this program has none.
    """
    gc.set_threshold(1_000_000)
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    from formwork.cli.commands import commands  # noqa: PLC0415 - importing the package alone stays cheap
    from formwork.cli.outcome import run  # noqa: PLC0415 - the same

    _leave(run(commands))


def _leave(status: int) -> NoReturn:
    """End the process at once: taking apart what has been built up would be a tenth of the time of a plan."""
    for stream in (sys.stdout, sys.stderr):
        if stream is not None:
            with suppress(OSError, ValueError):
                stream.flush()
    os._exit(status)
