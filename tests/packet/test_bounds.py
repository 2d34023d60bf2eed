"""What is said of how near the best possible the cutting is."""

from __future__ import annotations

from formwork.cutting.records import Bound
from formwork.packet.cut_sections import bound_line
from formwork.plan import plan
from formwork.project.read import read_project
from formwork.shipped import shelf


def test_a_proof_counts_strips_one_to_a_length_only_where_strips_are_cut() -> None:
    made = plan(read_project(shelf("examples") / "tapered-planter.toml"))
    strips = {line.part.stock for line in made.cut_list if line.part.role == "strip"}
    others = {line.part.stock for line in made.cut_list if line.part.role != "strip"} - strips
    assert strips
    for stock in strips | others:
        said = bound_line(Bound(stock, 2.0, 2.0, True, "area"), made)
        assert ("one strip to each length" in said) == (stock in strips)


def test_what_is_not_proven_gives_both_figures_in_sheets_or_in_money() -> None:
    made = plan(read_project(shelf("examples") / "tapered-planter.toml"))
    name = made.sheets[0].stock.name
    count = sum(one.count for one in made.sheets if one.stock.name == name)
    assert bound_line(Bound(name, count, count - 1.0, False, "area"), made) == (
        f"{name}: uses {count}; the least that any cutting could use is {count - 1} or more."
    )
    assert bound_line(Bound(name, 172.0, 115.5, False, "area"), made) == (
        f"{name}: costs $172.00; the least that any cutting could cost is $115.50 or more."
    )
