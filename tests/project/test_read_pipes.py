"""``[[pipe]]`` in the shop file: trade sizes and measures, stock lengths, and a message for each mistake."""

from __future__ import annotations

import pytest

from formwork.errors import InputError
from formwork.project.shop import read_shop

INCH = 0.0254


def shop(tmp_path, text):
    path = tmp_path / "shop.toml"
    path.write_text(f'units = "in"\n{text}', encoding="utf-8")
    return read_shop(path)


def test_a_trade_size_is_what_the_table_says_and_no_inch(tmp_path):
    """Makers' table: 1-1/4 conduit is 1.510 in across, wall 0.065 in."""
    found = shop(
        tmp_path,
        '[[pipe]]\nname = "thick"\nkind = "EMT"\nsize = "1-1/4"\nlengths = ["10 ft", {length = "20 ft", price = 30}]',
    )
    (pipe,) = found.pipes
    assert (pipe.width / INCH, pipe.thickness / INCH, pipe.wall / INCH) == pytest.approx((1.51, 1.51, 0.065))
    assert [(one.length / INCH, one.price) for one in pipe.lengths] == [
        (pytest.approx(120.0), None),
        (pytest.approx(240.0), 30.0),
    ]
    assert found.pipes_assumed == ()


def test_a_pipe_of_no_known_kind_by_its_measures(tmp_path):
    (pipe,) = shop(
        tmp_path, '[[pipe]]\nname = "rail"\noutside = "1.375 in"\nwall = "0.055 in"\nlengths = [126]'
    ).pipes
    assert (pipe.width / INCH, pipe.wall / INCH, pipe.nominal) == (
        pytest.approx(1.375),
        pytest.approx(0.055),
        "",
    )


@pytest.mark.parametrize("units", ["in", "mm"])
def test_without_pipes_a_usual_yard_is_taken_and_named(units):
    found = read_shop(None, units)
    assert found.pipes
    assert all(pipe.wall > 0.0 for pipe in found.pipes)
    assert "EMT 3/4" in found.pipes_assumed[0]
    assert not any("pipe" in line for line in found.assumed)


@pytest.mark.parametrize(
    ("keys", "key", "want"),
    [
        ('kind = "EMT"\nsize = "5/8"', "pipe.0.size", "a trade size of EMT: 1/2, 3/4, 1"),
        ('kind = "EMT"', "pipe.0.size", "a trade size of EMT"),
        ('kind = "copper"\nsize = "1/2"', "pipe.0.kind", "EMT"),
        ('size = "1/2"', "pipe.0.kind", "kind and size, or outside and wall"),
        ("outside = 1", "pipe.0.kind", "kind and size, or outside and wall"),
        ('kind = "EMT"\nsize = "1/2"\nwall = "0.05 in"', "pipe.0.kind", "not both"),
        ('outside = "1 in"\nwall = "0.6 in"', "pipe.0.wall", "less than half the outside diameter"),
        ('outside = "1 in"\nwall = "0 in"', "pipe.0.wall", ""),
    ],
)
def test_each_mistake_of_a_pipe(tmp_path, keys, key, want):
    with pytest.raises(InputError) as refused:
        shop(tmp_path, f'[[pipe]]\nname = "p"\n{keys}\nlengths = ["10 ft"]')
    (fault,) = refused.value.faults
    assert fault.key == key
    assert want in fault.want
    assert fault.where.endswith(("shop.toml:2", "shop.toml:4", "shop.toml:5", "shop.toml:6"))


def test_two_pipes_of_one_name(tmp_path):
    one = '[[pipe]]\nname = "p"\nkind = "EMT"\nsize = "1/2"\nlengths = ["10 ft"]\n'
    with pytest.raises(InputError, match=r'pipe.1.name: got "p" again'):
        shop(tmp_path, one + one)


def test_a_mold_for_what_is_not_cast(tmp_path):
    with pytest.raises(InputError, match="want the name of a shape that is cast in a mold"):
        shop(tmp_path, '[[owned_mold]]\nname = "m"\nshape = "pipe dome"\nradius = "6 ft"\n')
