"""Our records against the standard library's frozen dataclasses: whatever one does, the other does."""

from __future__ import annotations

import copy
import dataclasses
import inspect
import pickle
from dataclasses import FrozenInstanceError, dataclass

import pytest
from hypothesis import given
from hypothesis import strategies as st

from formwork.record import record


@record
class Ours:
    """A record of ours."""

    a: float
    b: str = "x"
    c: tuple[int, ...] = ()

    @property
    def twice(self) -> float:
        return 2.0 * self.a

    def shifted(self, by: float) -> Ours:
        return dataclasses.replace(self, a=self.a + by)


@dataclass(frozen=True, slots=True)
class Theirs:
    """The same by the standard library."""

    a: float
    b: str = "x"
    c: tuple[int, ...] = ()


ARGUMENTS = st.tuples(
    st.floats(allow_nan=False), st.text(max_size=3), st.lists(st.integers(), max_size=2).map(tuple)
)


@given(ARGUMENTS, ARGUMENTS)
def test_equal_and_hashed_as_the_standard_librarys(one, other):
    assert (Ours(*one) == Ours(*other)) == (Theirs(*one) == Theirs(*other))
    assert hash(Ours(*one)) == hash(Theirs(*one))
    assert repr(Ours(*one)).replace("Ours", "Theirs") == repr(Theirs(*one))
    assert dataclasses.astuple(Ours(*one)) == dataclasses.astuple(Theirs(*one))
    assert dataclasses.asdict(Ours(*one)) == dataclasses.asdict(Theirs(*one))


def test_fields_and_signature_are_the_standard_librarys():
    for mine, other in zip(dataclasses.fields(Ours), dataclasses.fields(Theirs), strict=True):
        assert (mine.name, mine.type, mine.default) == (other.name, other.type, other.default)
    assert inspect.signature(Ours) == inspect.signature(Theirs)
    assert dataclasses.is_dataclass(Ours(1.0))
    assert Ours.__match_args__ == Theirs.__match_args__
    assert Ours.__doc__ == "A record of ours."


def test_the_signature_is_known_before_the_first_record():
    @record
    class Fresh:
        a: float
        b: str = "x"

    assert list(inspect.signature(Fresh).parameters) == ["a", "b"]
    assert Fresh(1.0) == Fresh(a=1.0, b="x")


def test_a_record_cannot_be_changed():
    one = Ours(1.0)
    for change in (lambda: setattr(one, "a", 2.0), lambda: delattr(one, "a"), lambda: setattr(one, "new", 1)):
        with pytest.raises(FrozenInstanceError):
            change()
    assert one == Ours(1.0)
    assert not hasattr(one, "__dict__")


def test_a_changed_copy_leaves_the_record():
    one = Ours(1.0)
    assert one.shifted(1.0) == Ours(2.0) and one.a == 1.0 and one.twice == 2.0
    with pytest.raises(TypeError):
        dataclasses.replace(one, d=1)


def test_copies_and_pickles():
    one = Ours(1.0, "y", (1, 2))
    assert pickle.loads(pickle.dumps(one)) == copy.copy(one) == copy.deepcopy(one) == one


def test_no_equality_across_kinds():
    assert Ours(1.0) != Theirs(1.0)
    assert Ours(1.0) != (1.0, "x", ())


def test_patterns_match_by_place():
    match Ours(3.0, "z"):
        case Ours(a, b):
            assert (a, b) == (3.0, "z")


def test_missing_and_unknown_arguments_are_refused():
    for arguments in ({}, {"a": 1.0, "d": 2}):
        with pytest.raises(TypeError, match="__init__"):
            Ours(**arguments)


def test_a_record_may_check_itself():
    @record
    class Positive:
        x: float

        def __post_init__(self) -> None:
            if self.x <= 0:
                raise ValueError("want more than nothing")

    assert Positive(1.0).x == 1.0
    with pytest.raises(ValueError, match="more than nothing"):
        Positive(0.0)


def test_methods_of_its_own_are_kept():
    @record
    class Named:
        name: str

        def __repr__(self) -> str:
            return self.name

    assert repr(Named("n")) == "n" and hash(Named("n")) == hash(("n",))


def test_what_is_left_out_is_refused():
    with pytest.raises(TypeError, match="plain defaults"):

        @record
        class Factory:
            x: list[int] = dataclasses.field(default_factory=list)

    with pytest.raises(TypeError, match="inherits from nothing"):

        @record
        class Child(Ours):
            d: int
