"""Progress of long work, on standard error, so that what a command prints stays clean."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click

_CLEAR = "\r\033[K"


@contextmanager
def progress() -> Iterator[Callable[[str], None]]:
    """A function that shows what is being done: one changing line on a terminal, plain lines elsewhere."""
    on_terminal = sys.stderr.isatty()

    def say(what: str) -> None:
        if on_terminal:
            click.echo(f"{_CLEAR}{what} ...", err=True, nl=False)
        else:
            click.echo(what, err=True)

    try:
        yield say
    finally:
        if on_terminal:
            click.echo(_CLEAR, err=True, nl=False)
