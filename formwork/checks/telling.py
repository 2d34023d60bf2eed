"""What makes a failed check pass, as it is told: the keys to write, where the check stands then, what is left."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.checks.changes.ladder import Value
from formwork.checks.check import Check
from formwork.checks.trials import Trial, Trials
from formwork.mix.both_units import density_text
from formwork.units import show
from formwork.units.show import UnitSystem


def told(trials: Trials, found: Sequence[Trial], failed: Check) -> str:
    """What to do, where this check stands then, and whether the others pass; what is left where nothing does."""
    units = trials.bench.units
    passing = [one for one in found if trials.passes(one)]
    if passing:
        ways = "; or ".join(_way(one, failed, units) for one in passing)
        rest = ", ".join(sorted(passing[0].fails))
        every = f"every check of this mold but {rest}" if rest else "every check of this mold"
        return f"in the piece's mold table {ways}: {every} passes then{_to_list(trials, passing)}"
    said = [f"none of {len(trials.done) - 1} other designs passes every check"]
    if found:
        rest = ", ".join(sorted(found[0].fails))
        said.append(f"{_way(found[0], failed, units)} leaves least to mend ({rest})")
    said.append("left are a shorter or lower piece, and stock that the shop file does not list yet")
    if failed.remedy:
        said.append(f"not tried: {failed.remedy}")
    return "; ".join(said)


def _to_list(trials: Trials, passing: Sequence[Trial]) -> str:
    """What of the stock that is told the shop file does not list."""
    shop = trials.bench.shop
    listed = {stick.name for stick in shop.sticks} | {strap.name for strap in shop.straps}
    names = [
        value
        for one in passing
        for key, value in one.change
        if key in ("stick", "strap") and value is not None and value not in listed
    ]
    return f"; the shop file does not list {' and '.join(map(str, names))} yet" if names else ""


def _way(one: Trial, failed: Check, units: UnitSystem) -> str:
    """A change as it is written in the file, and where the check stands with it."""
    keys = [f"{key} = {_value(value, units)}" for key, value in one.change if value is not None]
    out = [key for key, value in one.change if value is None]
    if out:
        keys.append(f"leave {' and '.join(out)} out")
    if one.density is not None:
        keys.append(f"a mix of {density_text(one.density)} at most")
    share = one.stands.get(failed.name)
    return " and ".join(keys) + ("" if share is None else f" ({100.0 * share:.0f} % of the limit)")


def _value(value: Value, units: UnitSystem) -> str:
    match value:
        case str():
            return f'"{value}"'
        case int():
            return str(value)
        case float():
            return f'"{show.length(value, units)}"'
        case _:
            return "[" + ", ".join(_value(each, units) for each in value) + "]"
