"""What holds for the steps of putting any mold together."""

from __future__ import annotations

from formwork.molds.mold import Mold


def assert_put_together(mold: Mold) -> None:
    """Every part that stands in a mold is set in it by exactly one step, and made at the bench at most once."""
    names = [part.name for part in mold.parts if part.role != "template"]
    put = [name for step in mold.steps if not step.bench for name in step.parts]
    made = [name for step in mold.steps if step.bench for name in step.parts]
    assert sorted(name for name in put if name in names) == sorted(names)
    assert len(made) == len(set(made))
    lines = [f"Step {number}. {step.text}" for number, step in enumerate(mold.steps, start=1)]
    assert [line for line in mold.instructions if line.startswith("Step ")] == lines
    _assert_within_reach(mold)


def _assert_within_reach(mold: Mold) -> None:
    """Nothing is fastened from below or from behind once the mold lies level where it is filled."""
    told = [step.text for step in mold.steps]
    down = [i for i, said in enumerate(told) if "level" in said and ("flat bench" in said or "floor" in said)]
    below = [
        i
        for i, (step, said) in enumerate(zip(mold.steps, told, strict=True))
        if not step.bench
        and ("from below" in said or "from behind" in said or "with the rod, through" in said)
    ]
    assert not down or all(i < down[-1] for i in below)
    base = [one for one in mold.fixings if one.comes_off and one.use.endswith("from below")]
    assert not [one for one in base if one.use.startswith("base")] or any("trestles" in said for said in told)
