"""How a command ends: 0 all well, 1 a check fails, 2 no plan can be made; one clear message, never a traceback."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import TextIO

import click

from formwork.errors import FormworkError, InputError

DONE = 0
CHECK_FAILS = 1
NO_PLAN = 2
INTERRUPTED = 130
"""As shells count it: 128 and the number of the signal that Ctrl-C sends."""

TRACE = "FORMWORK_TRACE"
"""Name of the environment variable that asks for the trace of a fault of the program's own."""


def run(command: click.Command, arguments: Sequence[str] | None = None) -> int:
    """Run a command and turn whatever it raises into a message and an exit status.

    Args:
        command: the command or group of commands.
        arguments: what was typed after the program's name; None for the process's own.
    """
    for stream in (sys.stdout, sys.stderr):
        _speak_anyway(stream)
    try:
        status = command.main(args=arguments, prog_name="formwork", standalone_mode=False)
        sys.stdout.flush()
    except click.ClickException as error:
        error.show()
        return NO_PLAN
    except (KeyboardInterrupt, click.Abort):
        click.echo("stopped", err=True)
        return INTERRUPTED
    except FormworkError as error:
        click.echo(message(error), err=True)
        return NO_PLAN
    except BrokenPipeError:
        return _reader_left()
    except Exception as error:
        click.echo(_own_fault(error), err=True)
        return NO_PLAN
    return status if isinstance(status, int) else DONE


def _speak_anyway(stream: TextIO) -> None:
    """Let a terminal that knows few letters show a question mark instead of ending the program."""
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="replace")


def message(error: FormworkError) -> str:
    """The error as a person reads it: each fault on a line of its own, and how many there are."""
    if not isinstance(error, InputError):
        return f"formwork: {error}"
    count = len(error.faults)
    counted = "1 mistake" if count == 1 else f"{count} mistakes"
    return f"{error}\nformwork: {counted}; nothing was planned and nothing was written"


def _reader_left() -> int:
    """Whoever read the output stopped reading: that is no error, and the last flush must not complain either."""
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (OSError, ValueError):
        return DONE
    return DONE


def _own_fault(error: Exception) -> str:
    """A fault of the program's own, with the place it happened; the whole trace where that is asked for."""
    import traceback  # noqa: PLC0415 - only after a fault

    if os.environ.get(TRACE):
        return "".join(traceback.format_exception(error))
    frames = traceback.extract_tb(error.__traceback__)
    place = f" in {os.path.basename(frames[-1].filename)}, line {frames[-1].lineno}" if frames else ""  # noqa: PTH119 - no path to work with, only its last part
    return (
        f"formwork: a fault of the program's own, not of your file: {type(error).__name__}: {error}{place}\n"
        f"formwork: nothing was planned; run again with {TRACE}=1 for the details to report"
    )
