"""How a command ends: 0 all well, 1 a check fails, 2 no plan can be made; one clear message, never a traceback."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from typing import TextIO

import click

from formwork.errors import FormworkError, GeometryError, InputError, RangeError, StockError

DONE = 0
CHECK_FAILS = 1
NO_PLAN = 2
INTERRUPTED = 130
"""As shells count it: 128 and the number of the signal that Ctrl-C sends."""

TRACE = "FORMWORK_TRACE"
"""Name of the environment variable that asks for the trace of a fault of the program's own."""

_PLANNED = ("nothing was planned and nothing was written", "this cannot be planned, and nothing was written")
_WORKED_OUT = ("nothing was worked out", "nothing can be worked out from this")
_LEFT: dict[str, tuple[str, str]] = {
    "shapes": _WORKED_OUT,
    "start": ("no file was written", "this cannot be started, and no file was written"),
    "batch": ("no batch was worked out", "no batch can be made so"),
    "weigh": _WORKED_OUT,
    "cure": _WORKED_OUT,
    "log": ("nothing was written to the log", "this cannot be done, and nothing was written to the log"),
}
"""What it means for a person that a command refused: after mistakes in a file, and where something cannot be.

Commands that are not named here make plans.
"""


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
        if sys.stdout is not None:
            sys.stdout.flush()
    except (Exception, KeyboardInterrupt) as error:
        return _ended_by(error, _named(command, sys.argv[1:] if arguments is None else arguments))
    return status if isinstance(status, int) else DONE


def _named(command: click.Command, arguments: Sequence[str]) -> str:
    """The name of the command that was asked for; empty where it is none of the group's."""
    known = command.commands if isinstance(command, click.Group) else {}
    return next((word for word in arguments if word in known), "")


def _ended_by(error: BaseException, name: str) -> int:
    """Say what ended the command of that name, and give its exit status."""
    status = NO_PLAN
    match error:
        case click.ClickException():
            error.show()
            return status
        case BrokenPipeError():
            _write_no_more()
            return DONE
        case KeyboardInterrupt() | click.Abort():
            said, status = "stopped", INTERRUPTED
        case FormworkError():
            said = message(error, name)
        case OSError():
            _write_no_more()
            said = f"formwork: cannot go on: {(error.strerror or str(error)).lower()}"
        case _:
            said = _own_fault(error)
    click.echo(said, err=True)
    return status


def _speak_anyway(stream: TextIO | None) -> None:
    """Let a terminal that knows few letters show a question mark instead of ending the program."""
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="replace")


def message(error: FormworkError, command: str = "") -> str:
    """The error as a person reads it: what is wrong, each thing on lines of its own, and what that means for them.

    A line that names a file begins with it, so that an editor or a terminal can lead there.

    Args:
        error: what was refused.
        command: name of the command that refused it.
    """
    nothing, cannot = _LEFT.get(command, _PLANNED)
    match error:
        case InputError():
            count = len(error.faults)
            counted = "1 mistake" if count == 1 else f"{count} mistakes"
            return f"{error}\nformwork: {counted}; {nothing}"
        case GeometryError() | StockError() | RangeError():
            return f"{error}\nformwork: {cannot}"
        case _:
            return f"formwork: {error}"


def _write_no_more() -> None:
    """Nobody reads standard output, or it takes no more: the last flush at the end must not complain once again."""
    with suppress(OSError, ValueError, AttributeError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _own_fault(error: BaseException) -> str:
    """A fault of the program's own, with the place it happened; the whole trace where that is asked for."""
    import traceback  # noqa: PLC0415 - only after a fault

    if os.environ.get(TRACE):
        return "".join(traceback.format_exception(error))
    frames = [
        frame for frame in traceback.extract_tb(error.__traceback__) if not frame.filename.startswith("<")
    ]
    place = f" in {os.path.basename(frames[-1].filename)}, line {frames[-1].lineno}" if frames else ""  # noqa: PTH119 - no path to work with, only its last part
    return (
        f"formwork: a fault of the program's own, not of your file: {type(error).__name__}: {error}{place}\n"
        f"formwork: run again with {TRACE}=1 for the details to report"
    )
