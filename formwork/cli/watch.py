"""While fewer sheets are looked for: how long that has gone on, and an end by the clock or by Ctrl-C."""

from __future__ import annotations

import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from time import monotonic
from types import FrameType
from typing import Any

import click

from formwork.cutting.search import Search

_CLEAR = "\r\033[K"


class Watch:
    """Asked now and then whether to end.

    The first Ctrl-C while sheets are looked for makes do with the best plan so far; a second ends the command.

    Args:
        seconds: time for all sheets together; None for as long as the work takes.
    """

    def __init__(self, seconds: float | None) -> None:
        self._start, self._seconds = monotonic(), seconds
        self._ended = False
        self._before: Any = None

    def __call__(self) -> bool:
        """Whether to end; on a terminal it tells meanwhile how long it has looked."""
        if self._before is None:
            self._before = signal.signal(signal.SIGINT, self._end)
        spent = monotonic() - self._start
        if sys.stderr.isatty():
            words = f"looking for fewer sheets, {spent:.0f} s; Ctrl-C takes the best so far ..."
            click.echo(f"{_CLEAR}{words}", err=True, nl=False)
        return self._ended or (self._seconds is not None and spent >= self._seconds)

    def _end(self, number: int, frame: FrameType | None) -> None:
        if self._ended:
            raise KeyboardInterrupt
        self._ended = True

    def close(self) -> None:
        """Ctrl-C does again what it did before, and the line that told of progress is cleared."""
        if self._before is not None:
            signal.signal(signal.SIGINT, self._before)
            if sys.stderr.isatty():
                click.echo(_CLEAR, err=True, nl=False)


@contextmanager
def watched(effort: float, seconds: float | None) -> Iterator[Search]:
    """A search that can be ended.

    Args:
        effort: work, as a multiple of the usual.
        seconds: time for all sheets together; None for as long as the work takes.
    """
    watch = Watch(seconds)
    try:
        yield Search(effort, watch)
    finally:
        watch.close()
