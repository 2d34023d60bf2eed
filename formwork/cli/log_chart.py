"""The control chart and the line of dry against wet density, as ``formwork log`` prints and draws them."""

from __future__ import annotations

from pathlib import Path

from formwork.cli.typed import quantity
from formwork.errors import OutputError, RangeError
from formwork.packet.wording import counted
from formwork.pour import findings
from formwork.pour.control import Chart, chart
from formwork.pour.control_chart import Words, to_svg, to_text
from formwork.pour.fit import fit
from formwork.pour.log.entries import last
from formwork.pour.log.file import Log
from formwork.units import show
from formwork.units.show import UnitSystem
from formwork.units.table import find

MOST = 500
"""Batches on one chart."""
_ENOUGH = 20
"""Values from which limits are relied on (common practice)."""


def charted(
    log: Log, count: int, wet: str | None, units: UnitSystem, *, corrected: bool, output: str | None
) -> tuple[str, bool]:
    """The control chart as text, drawn to a file too where that is asked for; and whether a rule is broken.

    Args:
        log: open.
        count: most batches.
        wet: density wanted, as typed; None for the last pour's.
        units: of the person.
        corrected: the last reading of each batch, not the first.
        output: SVG file to write; None for none.

    Raises:
        RangeError: for too few readings.
        OutputError: if the file cannot be written.
    """
    if count > MOST:
        raise RangeError(f"control chart: got {count} batches, want {MOST} or fewer")
    wanted = _wanted(log, wet, units)
    values = findings.series(log, wanted, count, "last" if corrected else "first")
    made = chart([value.density for value in values])
    which = "last" if corrected else "first"
    title = f"{which.capitalize()} reading of {len(values)} batches wanted at {show.density(wanted, units)}"
    labels = tuple(str(value.batch) for value in values)
    words = Words(title, labels, show.SPAN_UNITS[units]["density"], lambda x: _bare(x, units), wanted)
    if output is not None:
        _write(Path(output), to_svg(made, words))
    drawn = [to_text(made, words), *_signals(made, values)]
    if len(values) < _ENOUGH:
        drawn.append(f"Limits of fewer than {_ENOUGH} batches are only a first guess.\n")
    if output is not None:
        drawn.append(f"{output} written.\n")
    return "".join(drawn), bool(made.signals)


def dried(log: Log, state: str, wet: str | None, units: UnitSystem) -> str:
    """Dry against wet density over a person's own pieces, as text.

    Args:
        log: open.
        state: of the pieces.
        wet: density to tell the dry one of, as typed; None for none.
        units: of the person.

    Raises:
        RangeError: for too few pieces.
    """
    line = fit(findings.dry_against_wet(log, state))
    intercept = show.density(abs(line.intercept), units)
    said = (
        f"{counted(line.count, 'piece')} {state}: density = {line.slope:.3f} x wet density "
        f"{'-' if line.intercept < 0 else '+'} {intercept}\n"
        f"standard errors: slope {line.slope_error:.3f}, the other {show.density(line.intercept_error, units)}; "
        f"scatter {show.density(line.scatter, units)}\n"
    )
    if wet is None:
        return said
    at = quantity("--wet", wet, "density", units)
    beyond = "" if line.least <= at <= line.most else "; NO PIECE was so light or so heavy: do not rely on it"
    return (
        f"{said}a mix of {show.density(at, units)} wet: {show.density(line.at(at), units)} {state}, give or take "
        f"{show.density(line.doubt(at), units)} (19 pieces of 20){beyond}\n"
    )


def _wanted(log: Log, wet: str | None, units: UnitSystem) -> float:
    if wet is not None:
        return quantity("--wet", wet, "density", units)
    newest = last(log, "pour")
    if newest is None:
        raise RangeError("control chart: there are no pours in the log yet")
    return newest.number_of("wet_density_kg_m3")


def _bare(density: float, units: UnitSystem) -> str:
    found = find(show.SPAN_UNITS[units]["density"], "density")
    factor = float(found[1]) if found else 1.0
    return show.plain(density / factor, 1 if units == "in" else 0, keep=True)


def _signals(made: Chart, values: tuple[findings.Value, ...]) -> list[str]:
    if not made.signals:
        return ["Steady: no rule is broken.\n"]
    told = [f"batch {values[signal.at].batch}: {signal.rule} ({signal.source})\n" for signal in made.signals]
    return ["Not steady; look for what changed there:\n", *told]


def _write(path: Path, text: str) -> None:
    """Write a drawing, the old one whole until the new one is.

    Raises:
        OutputError: if it cannot be written.
    """
    partial = path.with_name(f"{path.name}.partial")
    try:
        partial.write_text(text, encoding="utf-8", newline="\n")
        partial.replace(path)
    except OSError as error:
        partial.unlink(missing_ok=True)
        raise OutputError(f"cannot write {path}: {(error.strerror or str(error)).lower()}") from error
