from __future__ import annotations

from hypothesis import strategies as st

from formwork.cutting.records import SheetPart
from formwork.stock.records import Saw, SheetStock

SAW = Saw(kerf=0.003, trim=0.005)
CLEAN = Saw(kerf=0.0, trim=0.0)


def ply(length: float = 2.44, width: float = 1.22, price: float | None = None, **more: object) -> SheetStock:
    return SheetStock("ply 18", "plywood", "18 mm", 0.018, False, length, width, price, **more)  # type: ignore[arg-type]


def part(label: str, length: float, width: float, quantity: int = 1, may_turn: bool = False) -> SheetPart:
    return SheetPart(label, length, width, quantity, may_turn)


def millimetres(least: int, most: int) -> st.SearchStrategy[float]:
    return st.integers(least, most).map(lambda value: value / 1000)


def inches(least: int, most: int) -> st.SearchStrategy[float]:
    """Lengths in 64ths of an inch, which are not whole steps of the packer."""
    return st.integers(64 * least, 64 * most).map(lambda value: value / 64 * 0.0254)


SIZES = millimetres(40, 1150) | inches(2, 44)

PARTS = st.lists(st.tuples(SIZES, SIZES, st.integers(1, 4), st.booleans()), min_size=1, max_size=8).map(
    lambda found: [part(f"P{number}", *one) for number, one in enumerate(found)]
)

SAWS = st.builds(
    Saw, st.sampled_from([0.0, 0.0008, 0.003175, 0.004, 0.15]), st.sampled_from([0.0, 0.005, 0.0127])
)

STOCK = st.tuples(
    st.sampled_from([None, 48.5]),
    st.lists(
        st.builds(
            ply,
            millimetres(300, 2440),
            millimetres(300, 1220),
            st.sampled_from([None, 21.0]),
            limit=st.sampled_from([1, 3]),
            offcut=st.just(True),
        ),
        max_size=2,
    ),
).map(lambda found: [ply(price=found[0]), *found[1]])
