"""Geodesic frames against an icosahedron subdivided by another route, and what must hold of any of them."""

from __future__ import annotations

from collections import Counter
from itertools import combinations

import numpy as np
import pytest

from formwork.errors import RangeError
from formwork.geometry.geodesic import CUTS, OTHER_NAMES, closest_angle, dihedral, dome, levelled, sphere
from formwork.geometry.vectors import cross, dot, length, sub

FREQUENCIES = range(1, 7)
DOMES = [(n, bands) for n, cuts in CUTS.items() for bands in cuts.values()]


def subdivided(n: int) -> Counter[float]:
    """Chord lengths with their numbers: the icosahedron of golden-ratio corners, its faces found as nearest triples,
    each parted by straight lines, points told apart by where they are."""
    golden = (1 + 5**0.5) / 2
    corners = np.array(
        [np.roll((0, s, t * golden), shift) for shift in range(3) for s in (1, -1) for t in (1, -1)]
    )
    near = np.isclose(np.linalg.norm(corners[:, None] - corners[None], axis=2), 2.0)
    faces = [f for f in combinations(range(12), 3) if all(near[a, b] for a, b in combinations(f, 2))]
    assert len(faces) == 20
    chords: set[tuple[tuple[float, ...], tuple[float, ...]]] = set()
    for a, b, c in (corners[list(face)] for face in faces):
        grid = {(i, j): a + (b - a) * i / n + (c - a) * j / n for i in range(n + 1) for j in range(n + 1 - i)}
        for (i, j), point in grid.items():
            for step in ((1, 0), (0, 1), (1, -1)):
                other = grid.get((i + step[0], j + step[1]))
                if other is not None:
                    ends = sorted(tuple((q / np.linalg.norm(q)).round(9) + 0.0) for q in (point, other))
                    chords.add((ends[0], ends[1]))
    return Counter(round(float(np.linalg.norm(np.subtract(*pair))), 7) for pair in chords)


@pytest.mark.parametrize("n", FREQUENCIES)
def test_struts_of_a_subdivided_icosahedron(n):
    found = Counter({round(strut.factor, 7): len(strut.edges) for strut in sphere(n).struts})
    expected = subdivided(n)
    assert sorted(found.values()) == sorted(expected.values())
    for one, other in zip(sorted(found), sorted(expected), strict=True):
        assert one == pytest.approx(other, abs=2e-7)
        assert found[one] == expected[other]


@pytest.mark.parametrize(("n", "bands"), DOMES)
def test_all_nodes_lie_on_the_sphere_and_struts_are_as_long_as_they_say(n, bands):
    for found in (dome(n, bands), levelled(dome(n, bands))):
        assert all(length(node) == pytest.approx(1.0, abs=1e-12) for node in found.nodes)
        for strut in found.struts:
            for a, b in strut.edges:
                assert length(sub(found.nodes[a], found.nodes[b])) == pytest.approx(strut.factor, abs=1e-9)


@pytest.mark.parametrize(("n", "bands"), DOMES)
def test_triangles_turn_outward_and_share_each_inner_strut(n, bands):
    found = dome(n, bands)
    sides = Counter((face[i], face[(i + 1) % 3]) for face in found.faces for i in range(3))
    assert set(sides.values()) == {1}
    rim = [pair for pair in sides if pair[::-1] not in sides]
    assert len(rim) == 5 * n == len(found.base)
    for a, b, c in found.faces:
        p, q, r = (found.nodes[i] for i in (a, b, c))
        assert dot(cross(sub(q, p), sub(r, p)), p) > 0.0


@pytest.mark.parametrize(("n", "bands"), DOMES)
def test_a_dome_looks_the_same_turned_by_a_fifth(n, bands):
    """Each row holds as many nodes as five parts of the icosahedron give it, at equal heights five by five."""
    found = dome(n, bands)
    rows = Counter(found.rows)
    assert rows[0] == 1
    for row in range(1, bands + 1):
        assert rows[row] == 5 * min(row, n)
        heights = Counter(round(p[2], 9) for p, at in zip(found.nodes, found.rows, strict=True) if at == row)
        assert all(count % 5 == 0 for count in heights.values())


def test_the_volume_of_the_sphere_between_its_triangles():
    """Published ratio of 2V: 0.873453 of the sphere (encyclopaedia page "Geodesic grid")."""
    whole = sphere(2)
    volume = sum(dot(whole.nodes[a], cross(whole.nodes[b], whole.nodes[c])) / 6.0 for a, b, c in whole.faces)
    assert volume / (4.0 / 3.0 * np.pi) == pytest.approx(0.873453, abs=0.5e-6)


def test_the_least_angle_between_struts():
    """Numeric proof: 55.57 degrees at 2V, 54.63 at 3V."""
    assert np.degrees(closest_angle(sphere(2))) == pytest.approx(55.57, abs=0.005)
    assert np.degrees(closest_angle(sphere(3))) == pytest.approx(54.63, abs=0.005)


def test_other_names_mean_cuts_there_are():
    for (n, _), cut in OTHER_NAMES.items():
        assert cut in CUTS[n]


@pytest.mark.parametrize("n", [0, 7, -1])
def test_other_frequencies_are_refused(n):
    with pytest.raises(RangeError, match=f"frequency: got {n}, want 1 to 6"):
        sphere(n)


@pytest.mark.parametrize(("n", "bands"), [(3, 2), (3, 7), (1, 3)])
def test_a_cut_that_leaves_no_ring_is_refused(n, bands):
    with pytest.raises(RangeError, match="bands"):
        dome(n, bands)


def test_the_base_struts_have_no_angle_between_triangles():
    found = dome(2, 3)
    edge = next(e for s in found.struts for e in s.edges if e[0] in found.base and e[1] in found.base)
    with pytest.raises(RangeError, match="want 2"):
        dihedral(found, edge)
