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
