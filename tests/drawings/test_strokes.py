"""Spans and strokes: what falls on one line is drawn once, visible before hidden."""

from __future__ import annotations

from math import cos, isclose, sin

from hypothesis import given
from hypothesis import strategies as st

from formwork.drawings.strokes import Stroke, minus_spans, sort_strokes

spans = st.lists(
    st.tuples(st.integers(0, 40), st.integers(1, 20)).map(lambda t: (t[0] / 10, (t[0] + t[1]) / 10)),
    max_size=8,
)


def covered(pieces, at):
    return any(a < at < b for a, b in pieces)


@given(spans, spans)
def test_spans_left_are_those_in_the_whole_and_not_taken(whole, taken):
    whole = [(i * 10.0 + a, i * 10.0 + b) for i, (a, b) in enumerate(whole)]
    left = minus_spans(whole, taken)
    for step in range(0, 900):
        at = step / 10 + 0.05
        assert covered(left, at) == (covered(whole, at) and not covered(taken, at))


@given(st.floats(0.0, 3.1), spans, spans)
def test_strokes_on_one_line_are_drawn_once_whatever_its_direction(angle, seen, unseen):
    way = (cos(angle), sin(angle))

    def stroke(layer, span, flip):
        ends = [(0.3 + t * way[0], -0.2 + t * way[1]) for t in span]
        return Stroke(layer, *(ends[::-1] if flip else ends))

    visible, hidden = sort_strokes(
        [stroke("S", span, i % 2 == 0) for i, span in enumerate(seen)],
        [stroke("H", span, i % 2 == 1) for i, span in enumerate(unseen)],
    )
    cells = [step / 10 + 0.05 for step in range(70)]
    wide = 0.1 * sum(covered(seen, at) for at in cells)
    dashed = 0.1 * sum(covered(unseen, at) and not covered(seen, at) for at in cells)
    assert isclose(sum(s.length() for s in visible), wide, abs_tol=1e-6)
    assert isclose(sum(s.length() for s in hidden), dashed, abs_tol=1e-6)


def test_parallel_lines_a_hundredth_of_a_millimetre_apart_stay_two():
    one, two = Stroke("S", (0.0, 0.0), (1.0, 0.0)), Stroke("S", (0.0, 1e-5), (1.0, 1e-5))
    assert len(sort_strokes([one, two], [])[0]) == 2


def test_where_visible_strokes_of_two_layers_meet_the_first_layer_stays():
    visible, _ = sort_strokes([Stroke("A", (0, 0), (1, 0)), Stroke("B", (0.5, 0), (1.5, 0))], [])
    lengths = {s.layer: s.length() for s in visible}
    assert isclose(lengths["A"], 1.0) and isclose(lengths["B"], 0.5)
