"""Lines of keys, against texts whose every line is known and against random texts that say their own line."""

from __future__ import annotations

import tomllib

from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.project.locate import line_of, lines

TEXT = '''# a comment with [brackets] and = signs
title = "x" # [no.table]
a.b = 1
"quoted key".'other' = [1, 2, # ] in a comment
  3, { k = "]}", l = [
  4]} ]
basic = """
abc = 3
[not.a.table]
\\""" still inside
"""
literal = \'\'\'
[[nor.this]]
x = 1\'\'\'
[[piece]]
w = 1
[piece.mold]
j = 2
[[piece.embed]]
k = 1
[[piece.embed]]
k = 2
[[piece]]
w = 3
  [ piece . mold ]
  x.y.z = { a.b = 1 }
[[piece.embed]]
k = "\\"}"
when = 1979-05-27 07:32:00
[x.y]
'''

EXPECTED = {
    ("title",): 2,
    ("a",): 3,
    ("a", "b"): 3,
    ("quoted key", "other"): 4,
    ("quoted key", "other", 0): 4,
    ("quoted key", "other", 2): 5,
    ("quoted key", "other", 3, "k"): 5,
    ("quoted key", "other", 3, "l"): 5,
    ("quoted key", "other", 3, "l", 0): 6,
    ("basic",): 7,
    ("literal",): 12,
    ("piece", 0): 15,
    ("piece", 0, "w"): 16,
    ("piece", 0, "mold"): 17,
    ("piece", 0, "mold", "j"): 18,
    ("piece", 0, "embed", 0): 19,
    ("piece", 0, "embed", 0, "k"): 20,
    ("piece", 0, "embed", 1, "k"): 22,
    ("piece", 1): 23,
    ("piece", 1, "w"): 24,
    ("piece", 1, "mold"): 25,
    ("piece", 1, "mold", "x", "y", "z", "a", "b"): 26,
    ("piece", 1, "embed", 0, "k"): 28,
    ("piece", 1, "embed", 0, "when"): 29,
    ("x", "y"): 30,
}


def paths(value, here=()):
    if isinstance(value, dict):
        for key, inner in value.items():
            yield (*here, key)
            yield from paths(inner, (*here, key))
    if isinstance(value, list):
        for index, inner in enumerate(value):
            yield (*here, index)
            yield from paths(inner, (*here, index))


def test_every_kind_of_key_has_its_line():
    found = lines(TEXT)
    assert {path: found.get(path) for path in EXPECTED} == EXPECTED


def test_nothing_is_missed_and_nothing_invented():
    """The standard parser gives the paths, this one their lines; tables opened by a longer header have none."""
    found = lines(TEXT)
    assert set(paths(tomllib.loads(TEXT))) - set(found) == {("x",)}
    assert set(found) <= set(paths(tomllib.loads(TEXT)))


def test_windows_line_ends_change_nothing():
    assert lines(TEXT.replace("\n", "\r\n")) == lines(TEXT)


def test_a_missing_key_is_placed_at_the_nearest_table():
    found = lines(TEXT)
    assert line_of(found, ("piece", 1, "mold", "sheet")) == 25
    assert line_of(found, ("piece", 1, "length")) == 23
    assert line_of(found, ("nothing", "of", "it")) is None


VALUES = st.sampled_from(
    [
        "{0}",
        '"{0} # [x]"',
        "'''\n{0}\n'''",
        '"""\\"\n{0}"""',
        "[{0},\n {0}, # ]\n]",
        "{{ a = {0}, 'b c'.d = [\n{0}] }}",
    ]
)
KEYS = st.sampled_from(["plain", '"quoted.key"', "dotted.key", "'lit]eral'"])


@st.composite
def texts(draw):
    """A TOML text of array tables, each key of which says in its name on which line it stands."""
    rows: list[str] = []
    expected: dict[str, int] = {}

    def add(row: str) -> int:
        rows.extend(row.split("\n"))
        return len(rows) - row.count("\n")

    for index in range(draw(st.integers(1, 3))):
        add(draw(st.sampled_from(["", "# [[piece]]", "  "])))
        add("[[piece]]")
        for number in range(draw(st.integers(0, 4))):
            key, value = draw(KEYS), draw(VALUES)
            name = f"k{index}n{number}"
            line = add(
                f"{name}.{key} = {value.format(number)}" if draw(st.booleans()) else f"{name} = {number}"
            )
            expected[name] = line
    return "\n".join(rows), expected


@settings(max_examples=100)
@given(texts())
def test_lines_of_random_texts(made):
    text, expected = made
    found = lines(text)
    assert {str(path[2]): line for path, line in found.items() if len(path) == 3} == expected
    assert set(found) == set(paths(tomllib.loads(text)))
