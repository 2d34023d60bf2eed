"""What a person asks of a mold's filling: lifts that set, and a heavier mix than the project's own."""

from __future__ import annotations

from pathlib import Path

import pytest

from formwork.errors import InputError
from formwork.project.read import read_project

pytestmark = pytest.mark.usefixtures("shapes")

TEXT = """units = "in"
[mix]
wet_density = 50
[[piece]]
shape = "cube"
edge = 12
[piece.mold]
{row}
"""


def written(folder: Path, row: str) -> Path:
    path = folder / "tall.toml"
    path.write_text(TEXT.format(row=row), encoding="utf-8")
    return path


def test_both_are_read_with_their_units(tmp_path: Path) -> None:
    mold = read_project(written(tmp_path, 'lift = 10\ndesign_density = "2400 kg/m3"')).orders[0].mold
    assert mold.lift == pytest.approx(0.254)
    assert mold.design_density == pytest.approx(2400.0)
    plain = read_project(written(tmp_path, 'joint = "lapped"')).orders[0].mold
    assert plain.lift is None
    assert plain.design_density is None


@pytest.mark.parametrize(
    ("row", "key", "want"),
    [
        ("lift = 0", "lift", "2 to 393"),
        ("lift = -4", "lift", "2 to 393"),
        ("lift = nan", "lift", "a length"),
        ("lift = inf", "lift", "a length"),
        ("lift = 1e300", "lift", "a length"),
        ('lift = "300 kg/m3"', "lift", "a length"),
        ("lift = true", "lift", "a length"),
        ("lift = [6, 6]", "lift", "a length"),
        ("design_density = 0", "design_density", "15.7 to 249 lb/ft3"),
        ("design_density = -150", "design_density", "15.7 to 249 lb/ft3"),
        ("design_density = nan", "design_density", "a density"),
        ("design_density = 1e9", "design_density", "15.7 to 249 lb/ft3"),
        ('design_density = "6 in"', "design_density", "a density"),
        ('design_density = "heavy"', "design_density", "a density"),
    ],
)
def test_each_thing_wrong_is_named_with_its_line(tmp_path: Path, row: str, key: str, want: str) -> None:
    with pytest.raises(InputError) as caught:
        read_project(written(tmp_path, row))
    (fault,) = caught.value.faults
    assert fault.key == f"piece.0.mold.{key}"
    assert fault.where.endswith(":8")
    assert want in fault.want
