"""A longer search for fewer sheets, compiled: a hundred times the fits in the same time, once it is loaded.

Loading takes most of a second, and on a machine that has not yet done it ten more, once; so it is for jobs where the
quick search has left something open and sheets enough to gain. Where the compiler cannot be loaded, as beside a
library too new for it, the quick search is all there is.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from importlib.util import find_spec, module_from_spec
from types import FunctionType, ModuleType
from typing import TYPE_CHECKING

from formwork.cutting.fill import Filled, Step

if TYPE_CHECKING:
    from formwork.cutting.free_room import Numbers
    from formwork.cutting.refilling import Room
    from formwork.cutting.repack import Packer

_SEED = 20

_MODULES = ("formwork.cutting.free_room", "formwork.cutting.refilling")
"""What is compiled, each after those it takes functions from."""

_CALLED = "improve"
"""The function that is called from outside."""

_OPTIONS = {"error_model": "numpy", "_nrt": False}
"""Nothing is divided by nought, and nothing is made that would have to be counted and cleared away."""

_INNER = {"no_cpython_wrapper": True, "no_cfunc_wrapper": True}
"""The others are called by compiled functions alone, which halves the time of compiling."""

_MOST_STEPS = 4_000_000
"""With room for more steps than these, the arrays take too much of the memory."""

_MOST_AREA = 1 << 58
"""Sheets larger than this, steps squared, are too large for whole numbers of 64 bits."""

_ENDLESS = 1 << 40
"""Sheets without a limit, in number."""


def search_long(
    packer: Packer,
    packed: list[Filled],
    limits: Sequence[int],
    target: float,
    turns: int,
    stopped: Callable[[], bool],
) -> list[Filled]:
    """Repack for so many turns from hot to cold, then gather the waste for one more.

    Args:
        packer: with the job; its blanks may be trimmed after the last turn of the saw.
        packed: a complete packing.
        limits: how many of each sheet can be had.
        target: stop at this cost.
        turns: turns to spend.
        stopped: asked before each of them.
    """
    shape = _shape(packer, packed)
    search = loaded() if shape else None
    if shape is None or search is None:
        return packed
    room = _room(packer, packed, limits, shape)
    number = len(packed)
    for _ in range(turns):
        if stopped() or packer.worth(_filled(room, number)).cost <= target + 1e-9:
            break
        number = search.improve(room, number, target, search.CYCLE, True)
    number = search.improve(room, number, -1.0, search.CYCLE // 4, False)
    return _filled(room, number)


@cache
def loaded() -> ModuleType | None:
    """The search compiled; None where the compiler cannot be loaded.

    What is compiled is kept beside the source, or where that cannot be written, in the user's cache; it is made anew
    when its own file has changed, not when only one has that it takes functions from.
    """
    try:
        import numba  # noqa: PLC0415 - takes most of a second
    except ImportError:
        return None
    made: dict[str, object] = {}
    for name in _MODULES:
        spec = find_spec(name)
        assert spec is not None
        assert spec.loader is not None
        module = module_from_spec(spec)
        spec.loader.exec_module(module)
        for one, function in list(vars(module).items()):
            if isinstance(function, FunctionType) and function.__module__ in _MODULES:
                key = f"{function.__module__}.{one}"
                if function.__module__ == name:
                    made[key] = _compiled(numba.njit, function)
                setattr(module, one, made[key])
    return module


def _compiled(njit: Callable[..., Callable[[FunctionType], object]], function: FunctionType) -> object:
    """Kept from one run to the next where there is a place to keep it."""
    options = _OPTIONS | ({} if function.__name__ == _CALLED else _INNER)
    try:
        return njit(cache=True, **options)(function)
    except RuntimeError:
        return njit(**options)(function)


def _shape(packer: Packer, packed: Sequence[Filled]) -> tuple[int, int] | None:
    """Slots, and steps to a slot; None where the job is too large, or has nothing to gain."""
    largest = max((sheet.length * sheet.width for sheet in packer.sheets), default=0)
    if not packed or largest > _MOST_AREA:
        return None
    most = min(sum(packer.kinds.wanted), largest // min(packer.areas)) + 1
    slots = 2 * len(packed) + 8
    return (slots, most) if slots * most <= _MOST_STEPS else None


def _room(packer: Packer, packed: Sequence[Filled], limits: Sequence[int], shape: tuple[int, int]) -> Room:
    """The packing in arrays."""
    import numpy as np  # noqa: PLC0415 - few jobs need it

    from formwork.cutting.refilling import Room  # noqa: PLC0415 - the same

    slots, most = shape
    many, names = len(packer.kinds.wanted), 2 * most + 1

    def none(*size: int) -> Numbers:
        return np.zeros(size, np.int64)

    room = Room(
        kinds=np.array([*zip(*packer.kinds[:2], packer.areas, packer.kinds.turns, strict=True)], np.int64),
        ranks=np.array(_ranks(packer), np.int64),
        stock=np.array(
            [
                (one.length, one.width, min(limit, _ENDLESS))
                for one, limit in zip(packer.sheets, limits, strict=True)
            ],
            np.int64,
        ),
        costs=np.array([one.cost for one in packer.sheets], np.float64),
        sheets=none(slots, 4),
        steps=none(slots, most, 3),
        free=none(most + 2, 5),
        left=none(many),
        order=none(max(many, names)),
        keys=np.zeros(many, np.float64),
        have=none(len(packer.sheets)),
        ranked=none(slots),
        taken=none(slots),
        state=np.array([_SEED, 0], np.int64),
        stages=packer.stages,
        first=-1 if packer.first is None else packer.first,
        largest=max(one.length * one.width for one in packer.sheets),
    )
    for slot, one in enumerate(packed):
        room.sheets[slot] = one.sheet, one.first, one.area, len(one.steps)
        for number, step in enumerate(one.steps):
            room.steps[slot, number] = step.kind, step.spot, step.turned + 2 * step.flipped
    return room


def _ranks(packer: Packer) -> list[list[int]]:
    """The kinds by area, longer side, width and length, largest first."""
    lengths, widths = packer.kinds.lengths, packer.kinds.widths
    longer = [max(sides) for sides in zip(lengths, widths, strict=True)]
    every = range(len(lengths))
    return [sorted(every, key=lambda kind: -sizes[kind]) for sizes in (packer.areas, longer, widths, lengths)]


def _filled(room: Room, number: int) -> list[Filled]:
    """The packing out of the arrays."""
    return [_one([int(value) for value in room.sheets[slot]], room.steps[slot]) for slot in range(number)]


def _one(told: Sequence[int], steps: Numbers) -> Filled:
    sheet, first, area, many = told
    rows = (tuple(int(value) for value in step) for step in steps[:many])
    found = (Step(kind, spot, bool(laid & 1), bool(laid & 2)) for kind, spot, laid in rows)
    return Filled(sheet, first, tuple(found), area)
