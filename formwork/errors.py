"""What can go wrong, as one small tree.

    FormworkError
    +-- InputError         the project or the shop file is wrong; carries every Fault found, not the first one
    +-- StockError         a part fits no stock that the shop has; says what would fit
    +-- GeometryError      a shape or a mold that cannot exist (a wall wider than the piece, a cell without bound)
    +-- RangeError         a formula was asked outside the limits it is valid in
    +-- QuantityError      a number or its unit cannot be read (``units.wording``)
    +-- KernelError        the CAD kernel cannot be loaded (``solids.kernel``)
    +-- OutputError        a file could not be written; what was there before is untouched
    +-- InternalError      a result of ours fails our own judge: a bug, reported as one

A mold that fails a check is no exception: it is a Check that is not ok.
"""

from __future__ import annotations

from formwork.record import record


class FormworkError(Exception):
    """Anything formwork refuses, with a message a person can act on."""


@record
class Fault:
    """One wrong thing in a file a person wrote.

    Attributes:
        where: file and line, ``planter.toml:8``; the file alone where no line is known.
        key: dotted path of the key, ``pieces.0.wall``; empty for the file as a whole.
        got: what stands there, as written.
        want: what would be right.
        hint: what to try; may be empty.
    """

    where: str
    key: str
    got: str
    want: str
    hint: str = ""

    def __str__(self) -> str:
        """One line: where, key, got, want, hint."""
        key = f" {self.key}:" if self.key else ""
        got = f" got {self.got}," if self.got else ""
        hint = f" ({self.hint})" if self.hint else ""
        return f"{self.where}:{key}{got} want {self.want}{hint}"


class InputError(FormworkError):
    """The project or the shop file is wrong; every fault found is in ``faults``."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        self.faults = faults
        super().__init__("\n".join(str(fault) for fault in faults))


class StockError(FormworkError):
    """A part fits no stock the shop has."""


class GeometryError(FormworkError, ValueError):
    """A shape or mold that cannot exist."""


class RangeError(FormworkError, ValueError):
    """A formula was asked outside the limits it is valid in."""


class OutputError(FormworkError, OSError):
    """A file could not be written; what was there before is untouched."""


class InternalError(FormworkError):
    """A result fails our own judge: a bug of ours."""
