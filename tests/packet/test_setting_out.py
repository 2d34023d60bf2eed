"""What is drawn on a base before edge forms go on it: full size, as it is seen from above, never mirrored."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from formwork.geometry.outlines import area, circle, polygon
from formwork.molds.mold import Mold
from formwork.packet.patterns import patterns, setting_out
from formwork.plan import Plan, plan
from formwork.project.read import read_project
from formwork.shapes.piece import curved
from formwork.shipped import shelf

ELL = polygon(((0.1, 0.2), (0.4, 0.2), (0.4, 0.3), (0.2, 0.3), (0.2, 0.8), (0.1, 0.8)))


@pytest.fixture(scope="module")
def path() -> Plan:
    return plan(read_project(Path(str(shelf("examples") / "pond-path.toml"))))


def test_every_mold_of_edge_forms_has_a_pattern_of_its_base(path: Plan) -> None:
    """As large as the foot of the piece less the feet of its holes, in mm2."""
    found = [one for one in patterns(path) if one.label.endswith("0") and one.label[:-1].isalpha()]
    assert len(found) == len(path.molds) == 2
    for one, mold in zip(found, path.molds, strict=True):
        form = curved(mold.piece)
        cores = [former.body for former in form.formers if former.kind == "core"]
        wanted = area(form.outside.outline) - sum(area(core.outline) for core in cores)  # type: ignore[union-attr]
        shown = area(one.outline) - sum(area(opening) for opening in one.openings)
        assert shown == pytest.approx(wanted * 1e6, rel=1e-9)
        assert one.length >= one.height


def with_ell(mold: Mold) -> Mold:
    return replace(mold, setting_out=(ELL, circle((0.15, 0.5), 0.02)))


def test_a_high_outline_is_turned_and_not_mirrored(path: Plan) -> None:
    """An L 300 wide and 600 high, turned a quarter to the left: each corner times i, moved to the corner of its box."""
    one = setting_out("A0", with_ell(path.molds[0]), "mm")
    turned = [(complex(x, y) - complex(0.1, 0.2)) * 1j * 1000.0 + 600.0 for x, y in ELL.points]
    assert [complex(*point) for point in one.outline.points] == pytest.approx(turned)
    assert (one.length, one.height) == pytest.approx((600.0, 300.0))
    middle = (complex(0.15, 0.5) - complex(0.1, 0.2)) * 1j * 1000.0 + 600.0
    assert sum(complex(*p) for p in one.openings[0].points) / 4 == pytest.approx(middle)


def test_molds_of_panels_need_none(path: Plan) -> None:
    assert Mold.__dataclass_fields__["setting_out"].default == ()
    other = plan(read_project(Path(str(shelf("examples") / "garden-slabs.toml"))))
    assert all(mold.setting_out == () for mold in other.molds)
