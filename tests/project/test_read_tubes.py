"""``[[tube]]`` in the shop file: what was measured, what follows from it, and a message for each mistake."""

from __future__ import annotations

import pytest

from formwork.errors import InputError
from formwork.project.shop import read_shop

INCH = 0.0254
FOOT = 12 * INCH


def shop(tmp_path, text):
    path = tmp_path / "shop.toml"
    path.write_text(f'units = "in"\n{text}', encoding="utf-8")
    return read_shop(path)


def tube(tmp_path, keys):
    (found,) = shop(tmp_path, f'[[tube]]\nname = "t"\n{keys}\nlengths = ["4 ft"]').tubes
    return found


def test_the_label_is_no_measure(tmp_path):
    found = tube(tmp_path, 'nominal = "10 in"\nwall = "1/8 in"')
    assert (found.inside, found.outside) == (None, None)
    assert found.size == pytest.approx(10 * INCH)


def test_what_was_measured_gives_the_other_diameter(tmp_path):
    bored = tube(tmp_path, 'nominal = "10 in"\ninside = "9.9 in"\nwall = "0.15 in"')
    assert bored.outside == pytest.approx(10.2 * INCH)
    called = tube(tmp_path, 'outside = "4.5 in"\nwall = "0.237 in"\nkind = "plastic pipe"')
    assert called.inside == pytest.approx(4.026 * INCH)
    both = tube(tmp_path, 'inside = "9.9 in"\noutside = "10.2 in"')
    assert both.wall == pytest.approx(0.15 * INCH)


def test_lengths_prices_and_what_its_maker_allows(tmp_path):
    found = shop(
        tmp_path,
        '[[tube]]\nname = "t"\nnominal = "8 in"\nwall = "1/8 in"\nhead = "10 ft"\n'
        'lengths = ["4 ft", {length = "12 ft", price = 30}]',
    )
    (one,) = found.tubes
    assert [(each.length / FOOT, each.price) for each in one.lengths] == [
        (pytest.approx(4.0), None),
        (pytest.approx(12.0), 30.0),
    ]
    assert one.head == pytest.approx(10 * FOOT)
    assert one.stick.wall == one.wall
    assert found.tubes_assumed == ()


@pytest.mark.parametrize("units", ["in", "mm"])
def test_without_tubes_a_usual_yard_is_taken_that_nobody_measured(units):
    found = read_shop(None, units)
    assert found.tubes and all(one.inside is None and one.wall > 0.0 for one in found.tubes)
    assert "measured by nobody" in found.tubes_assumed[0]


@pytest.mark.parametrize(
    ("keys", "key", "want"),
    [
        ('wall = "1/8 in"', "tube.0.inside", "the inside diameter you measured"),
        ('nominal = "10 in"', "tube.0.wall", "the wall, or both diameters"),
        ('nominal = "ten"\nwall = "1/8 in"', "tube.0.nominal", "a size as on the label"),
        ('nominal = "300 ft"\nwall = "1/8 in"', "tube.0.nominal", "a size as on the label"),
        ("inside = 10\noutside = 9", "tube.0.outside", "more than the inside diameter, 10 in"),
        ("inside = 10\noutside = 11\nwall = 0.1", "tube.0.wall", "half of what lies between"),
        ("outside = 1\nwall = 0.6", "tube.0.wall", "less than half the outside"),
        ('inside = 10\nwall = 0.1\nkind = "clay"', "tube.0.kind", "cardboard"),
        ("inside = -10\nwall = 0.1", "tube.0.inside", ""),
        ("inside = nan\nwall = 0.1", "tube.0.inside", ""),
        ("inside = 10\nwall = 0", "tube.0.wall", ""),
        ("inside = 10\nwall = 0.1\nhead = 0", "tube.0.head", ""),
        ("inside = 10\nwall = 0.1\nbore = 9", "tube.0.bore", ""),
    ],
)
def test_each_mistake_of_a_tube(tmp_path, keys, key, want):
    with pytest.raises(InputError) as refused:
        tube(tmp_path, keys)
    (fault,) = refused.value.faults
    assert fault.key == key
    assert want in fault.want


def test_a_tube_takes_no_name_of_another_tube_or_of_a_pipe(tmp_path):
    one = '[[tube]]\nname = "p"\ninside = 10\nwall = 0.1\nlengths = ["4 ft"]\n'
    with pytest.raises(InputError, match=r'tube.1.name: got "p" again'):
        shop(tmp_path, one + one)
    pipe = '[[pipe]]\nname = "p"\nkind = "EMT"\nsize = "1/2"\nlengths = ["10 ft"]\n'
    with pytest.raises(InputError, match=r'tube.0.name: got "p" again'):
        shop(tmp_path, pipe + one)
