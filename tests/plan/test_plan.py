"""The plan as a whole: the shipped examples, balances between its parts, and what it refuses."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from formwork.cutting.records import spots
from formwork.errors import FormworkError, GeometryError, StockError
from formwork.plan import Plan, plan
from formwork.project.read import read_project
from formwork.project.records import MoldOptions, OwnedMold, Project
from formwork.stock.goods import GOODS

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted(
    path for path in (ROOT / "examples").glob("*.toml") if "[[piece]]" in path.read_text("utf-8")
)


@cache
def project(name: str) -> Project:
    return read_project(ROOT / "examples" / name)


@cache
def planned(name: str) -> Plan:
    return plan(project(name))


every_example = pytest.mark.parametrize("name", [path.name for path in EXAMPLES])


@every_example
def test_every_example_passes_its_checks(name: str) -> None:
    assert all(one.ok for one in planned(name).checks)


@every_example
def test_the_same_project_gives_the_same_plan(name: str) -> None:
    again = plan(read_project(ROOT / "examples" / name))
    first = planned(name)
    assert [line.label for line in again.cut_list] == [line.label for line in first.cut_list]
    assert (again.sheets, again.sticks, again.buy, again.pours) == (
        first.sheets,
        first.sticks,
        first.buy,
        first.pours,
    )
    assert [one.working for one in again.checks] == [one.working for one in first.checks]


@every_example
def test_everything_on_the_cut_list_is_cut_and_nothing_else(name: str) -> None:
    found = planned(name)
    cut: Counter[str] = Counter()
    for sheet in found.sheets:
        labels = Counter(spot.label for one in sheet.placed for spot in spots(one))
        cut.update({label: n * sheet.count for label, n in labels.items()})
    for stick in found.sticks:
        cut.update({label: n * stick.count for label, n in Counter(label for label, _ in stick.cuts).items()})
    wanted = {line.label: line.quantity for line in found.cut_list if line.part.kind != "hardware"}
    assert dict(cut) == wanted


@every_example
def test_every_part_of_every_mold_is_on_the_cut_list(name: str) -> None:
    found = planned(name)
    for mold in found.molds:
        listed = [part for line in found.cut_list if line.mold == mold.name for part in line.names]
        made = [part.name for part in mold.parts]
        made += [thing.name for thing in mold.piece.embedded if thing.kind != "fibres"]
        assert sorted(listed) == sorted(made)


@every_example
def test_every_piece_wanted_is_poured_once(name: str) -> None:
    found = planned(name)
    poured: Counter[str] = Counter()
    for pour in found.pours:
        poured.update(dict(pour.pieces))
    assert dict(poured) == {piece.order.name: piece.order.count for piece in found.pieces}


@every_example
def test_the_mix_ordered_covers_the_pieces(name: str) -> None:
    found = planned(name)
    cast = sum(piece.volume * piece.order.count for piece in found.pieces)
    rules = found.project.batches
    asked = sum(pour.volume for pour in found.pours)
    assert asked == pytest.approx(cast * (1.0 + rules.overfill) / (1.0 - rules.loss), rel=1e-9)
    made = sum(batch.volume for pour in found.pours for batch in pour.batches)
    assert made >= asked


@every_example
def test_masses_of_the_batches_are_the_mix(name: str) -> None:
    found = planned(name)
    for pour in found.pours:
        for batch in pour.batches:
            mass = batch.cement + batch.water + batch.sand + batch.ash + batch.gravel + batch.foam_mass
            assert mass / batch.volume == pytest.approx(found.mix.wet_density, rel=1e-9)


@every_example
def test_what_is_bought_is_what_is_used(name: str) -> None:
    found = planned(name)
    sheets = sum(line.quantity for line in found.buy if line.unit == "sheet")
    assert sheets == sum(one.count for one in found.sheets if not one.stock.offcut)
    sticks = sum(line.quantity for line in found.buy if line.unit in ("stick", "length"))
    on_hand = {
        (one.stock.name, length.length)
        for one in found.sticks
        for length in one.stock.lengths
        if length.offcut
    }
    assert sticks == sum(one.count for one in found.sticks if (one.stock.name, one.length) not in on_hand)
    bags = sum(line.quantity for line in found.buy if line.item.startswith("cement"))
    needed = sum(batch.cement for pour in found.pours for batch in pour.batches)
    bag = found.project.shop.cement.bag
    assert max(0.0, (bags - 1) * bag) <= needed <= bags * bag + 1e-9


@every_example
def test_all_that_is_bought_has_a_name_that_a_shop_may_price(name: str) -> None:
    job = planned(name)
    bought = [thing for one in (*job.molds, *job.frames, *job.centres) for thing in one.hardware]
    for thing in bought:
        assert thing.item in GOODS, thing
        assert (thing.unit in ("piece", "pair")) == (GOODS[thing.item] == "piece"), thing


def test_an_owned_mold_is_neither_cut_nor_bought() -> None:
    own = project("hollow-blocks.toml")
    order = own.orders[0]
    old = OwnedMold("old mold", order.shape, order.parameters)
    shop = replace(own.shop, owned=(old,))
    found = plan(replace(own, shop=shop, orders=(replace(order, mold=MoldOptions(owned="old mold")),)))
    assert found.molds[0].owned
    assert found.cut_list == ()
    assert found.sheets == ()
    assert found.sticks == ()
    assert not any(line.item.startswith(("screw", "bolt")) for line in found.buy)
    assert any(line.item.startswith("cement") for line in found.buy)
    assert found.pieces[0].volume == pytest.approx(planned("hollow-blocks.toml").pieces[0].volume)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (MoldOptions(owned="nothing"), "want a mold of the shop file"),
        (MoldOptions(sheet="plywood 81"), "did you mean 'plywood 18'"),
        (MoldOptions(stick="45x54"), "did you mean"),
    ],
)
def test_unknown_stock_is_named_with_a_suggestion(options: MoldOptions, words: str) -> None:
    own = project("hollow-blocks.toml")
    with pytest.raises(StockError, match=words):
        plan(replace(own, orders=(replace(own.orders[0], mold=options),)))


def test_a_part_that_fits_no_sheet_says_what_would() -> None:
    own = project("garden-slabs.toml")
    order = own.orders[0]
    large = order.parameters.model_copy(update={"length": 3.2, "width": 1.6, "gang": 2, "embed": ()})
    with pytest.raises(StockError) as caught:
        plan(replace(own, orders=(replace(order, parameters=large),)))
    text = str(caught.value)
    assert "divider" in text
    assert any(word in text for word in ("splice", "larger", "another"))


def test_a_piece_that_cannot_be_is_a_plain_error() -> None:
    own = project("tapered-planter.toml")
    thick = own.orders[0].parameters.model_copy(update={"wall": 0.25, "chamfer": 0.0})
    with pytest.raises(GeometryError, match="no room left for the core"):
        plan(replace(own, orders=(replace(own.orders[0], parameters=thick),)))
    assert issubclass(GeometryError, FormworkError)


def test_uses_choose_the_fastening_and_the_face() -> None:
    own = project("hollow-blocks.toml")
    order = replace(own.orders[0], count=4, molds=1)
    few = plan(replace(own, orders=(order,)))
    many = plan(replace(own, orders=(replace(order, mold=MoldOptions(uses=60)),)))
    assert not any(line.item.startswith("bolt") for line in few.buy)
    assert any(line.item.startswith("bolt") for line in many.buy)
    assert any(line.item.startswith("overlaid") for line in many.buy)


def test_a_column_braced_for_rising_concrete_is_told_how_slowly_it_is_filled(tmp_path: Path) -> None:
    """2.4 m at 2 m an hour: 72 minutes for each of two columns, however soon the batches are mixed."""
    file = tmp_path / "columns.toml"
    file.write_text(
        'title = "columns"\nunits = "mm"\n[mix]\nkind = "ordinary"\nwet_density = "2350 kg/m3"\ncement = 1\n'
        'water = 0.5\nsand = 2\ngravel = 3\nrise_per_hour = "2 m"\nplaced_at = "18 C"\nslump = "100 mm"\n'
        '[[piece]]\nname = "column"\nshape = "column"\ncount = 2\nmolds = 2\ndiameter = 300\nheight = 2400\n',
        encoding="utf-8",
    )
    (pour,) = plan(read_project(file)).pours
    assert pour.timing is not None
    assert [round(one.least) for one in pour.timing.slow] == [4320, 4320]
    assert pour.timing.total > 2 * 4320


@every_example
def test_what_has_no_length_is_not_to_be_cut(name: str) -> None:
    assert all(line.part.blank.length > 0.0 for line in planned(name).cut_list)
