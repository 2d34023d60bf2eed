"""Keys: what a document is made from, and the program that makes it, as one short text.

Two documents of one key are the same to the byte, so that a packet's document is made again only where its key is
another. A key is a digest of the very values that the document's maker is handed, field by field and by value: which
objects are shared, and what they have worked out and kept, plays no part in it.
"""

from __future__ import annotations

import pickle
import sys
from collections.abc import Callable, Mapping
from functools import cache
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from typing import Any, Generic, TypeVar

from formwork.cutting.cut_list import CutLine
from formwork.molds.mold import Mold, Part
from formwork.shapes.piece import Piece

T = TypeVar("T")
_PROTOCOL = 4
_LARGE = (Mold, Part, Piece, CutLine)
"""Records that many documents read: each is taken in once and stands in for its fields from then on."""
_LIBRARIES = ("cadquery", "cadquery-ocp", "ezdxf", "numpy", "shapely", "typst")
"""Whose versions may change what a document holds."""
_CODE = ("*.py", "*.csv")


class Shared(Generic[T]):
    """What several documents read: its key is known from the start, it is made when the first of them asks for it."""

    __slots__ = ("_made", "_make", "key")

    def __init__(self, key: str, make: Callable[[], T]) -> None:
        self.key = key
        self._make = make
        self._made: list[T] = []

    def get(self) -> T:
        """The thing itself, made at most once."""
        if not self._made:
            self._made.append(self._make())
        return self._made[0]


class Keys:
    """The keys of one packet, large records taken in once."""

    def __init__(self) -> None:
        self._known: dict[int, tuple[object, bytes]] = {}

    def given(self, value: T) -> Shared[T]:
        """A value that is at hand."""
        return Shared(self.key(value), lambda: value)

    def made(self, work: Callable[..., T], *reads: Any) -> Shared[T]:
        """What a function will make of values; shared ones among them are handed on as themselves."""
        return Shared(self.key(work, *reads), lambda: work(*handed(reads)))

    def key(self, *values: object) -> str:
        """The key of some values together.

        Raises:
            pickle.PicklingError: if one of them is nothing that can be told by value, as an unnamed function is.
        """
        return self._digest(values).hex()[:32]

    def _digest(self, value: object) -> bytes:
        stream = BytesIO()
        _ByValue(stream, self).dump(value)
        return sha256(stream.getbuffer()).digest()

    def once(self, value: object) -> bytes:
        """The digest of a large record, kept for the next document that reads it."""
        if id(value) not in self._known:
            self._known[id(value)] = value, self._digest(_fields(value))
        return self._known[id(value)][1]


class _ByValue(pickle.Pickler):
    """Writes values so that equal ones give equal bytes."""

    def __init__(self, stream: BytesIO, keys: Keys) -> None:
        super().__init__(stream, _PROTOCOL)
        self.fast = True
        self._keys = keys

    def reducer_override(self, value: object) -> Any:
        """How a value that is no plain number, text or collection is written."""
        if isinstance(value, Shared):
            return str, (value.key,)
        if isinstance(value, _LARGE):
            return bytes, (self._keys.once(value),)
        kind = type(value)
        if "__dataclass_fields__" in vars(kind) or _is_model(value):
            return kind, _fields(value)
        return NotImplemented


def _is_model(value: object) -> bool:
    """Whether a value is a pydantic model, whose state holds more than its fields."""
    return hasattr(type(value), "model_fields")


def _fields(value: object) -> tuple[object, ...]:
    """The fields of a record, dataclass or model that count when two of them are compared."""
    if _is_model(value):
        return tuple(vars(value).items())
    kind: Any = type(value)
    if "__dataclass_params__" not in vars(kind):
        return tuple(getattr(value, name) for name in kind.__match_args__)
    fields: Mapping[str, Any] = kind.__dataclass_fields__
    return tuple(getattr(value, name) for name, field in fields.items() if field.compare)


def handed(value: Any) -> Any:
    """Values as a maker takes them: what is shared as itself, within lists of values too."""
    if isinstance(value, Shared):
        return value.get()
    if type(value) is tuple:
        return tuple(handed(one) for one in value)
    return value


@cache
def program() -> str:
    """The program as a key: its code, tables and page templates, and the versions of what it stands on."""
    from importlib.metadata import PackageNotFoundError, version  # noqa: PLC0415 - only a packet asks

    from formwork.shipped import shelf  # noqa: PLC0415 - the same

    package = Path(__file__).resolve().parents[1]
    found = sha256(sys.version.encode())
    for folder, patterns in ((package, _CODE), (shelf("templates"), ("*.typ",))):
        for path in sorted(path for pattern in patterns for path in folder.rglob(pattern)):
            found.update(path.relative_to(folder).as_posix().encode() + b"\x00")
            found.update(sha256(path.read_bytes()).digest())
    for library in _LIBRARIES:
        try:
            found.update(f"{library} {version(library)}\x00".encode())
        except PackageNotFoundError:
            found.update(f"{library}\x00".encode())
    return found.hexdigest()[:32]
