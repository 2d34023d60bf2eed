"""The control chart drawn: as SVG, and with letters for a terminal."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from xml.sax.saxutils import escape

from formwork.pour.control import Chart
from formwork.record import record

_WIDE, _TALL, _LOW = 720.0, 260.0, 150.0
_LEFT, _RIGHT, _TOP, _GAP = 70.0, 90.0, 52.0, 46.0
_APART = 12.0
"""Least distance of two names beside a panel."""
_INK, _LIMIT, _OUT, _WANTED = "#222222", "#b35900", "#c00000", "#2f6f3e"

ROWS, COLUMNS = 15, 36
"""Lines of a chart in letters, but for its headings; most values that stand side by side."""


@record
class Words:
    """What is written on a chart.

    Attributes:
        title: over it.
        labels: of the values, one each.
        unit: of the values.
        show: a value as a person reads it, without its unit.
        wanted: the value wanted, drawn as a line of its own; None where there is none.
    """

    title: str
    labels: tuple[str, ...]
    unit: str
    show: Callable[[float], str]
    wanted: float | None = None


def to_svg(chart: Chart, words: Words) -> str:
    """The chart as an SVG picture: values above, moving ranges below.

    Args:
        chart: what is drawn.
        words: what is written on it.
    """
    height = _TOP + _TALL + _GAP + _LOW + 24.0
    width = _LEFT + _WIDE + _RIGHT
    ranges_at = {signal.at - 1 for signal in chart.signals if signal.of_range}
    top = _Panel(
        _TOP, _TALL, _span([*chart.values, chart.lower, chart.upper, *_wanted(words)]), len(chart.values), 0
    )
    low = _Panel(
        _TOP + _TALL + _GAP, _LOW, _span([0.0, *chart.ranges, chart.range_limit]), len(chart.values), 1
    )
    levels = [
        _Level(chart.mean, f"mean {words.show(chart.mean)}", _INK, ""),
        _Level(chart.upper, f"limit {words.show(chart.upper)}", _LIMIT, "6 4"),
        _Level(chart.lower, f"limit {words.show(chart.lower)}", _LIMIT, "6 4"),
        *(_Level(wanted, f"wanted {words.show(wanted)}", _WANTED, "2 3") for wanted in _wanted(words)),
    ]
    range_levels = [
        _Level(chart.mean_range, f"mean {words.show(chart.mean_range)}", _INK, ""),
        _Level(chart.range_limit, f"limit {words.show(chart.range_limit)}", _LIMIT, "6 4"),
    ]
    body = [
        _text(_LEFT, 22.0, words.title, size=15),
        *_frame(top, f"wet density, {words.unit}"),
        *_levels(top, levels),
        *_points(top, chart.values, _values_out(chart)),
        *_labels(top, words),
        *_frame(low, f"moving range, {words.unit}"),
        *_levels(low, range_levels),
        *_points(low, chart.ranges, ranges_at),
    ]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" width="{width:g}" '
        f'height="{height:g}" font-family="sans-serif">\n<rect width="100%" height="100%" fill="#ffffff"/>\n'
        + "\n".join(body)
        + "\n</svg>\n"
    )


def to_text(chart: Chart, words: Words) -> str:
    """The chart of the values in letters: a mark for each, ``X`` where a rule is broken, lines for mean and limits.

    Args:
        chart: what is drawn; of many values the last ones.
        words: what is written on it.
    """
    low, high = _span([*chart.values, chart.lower, chart.upper, *_wanted(words)])
    skipped = max(0, len(chart.values) - COLUMNS)
    values, out = chart.values[skipped:], {at - skipped for at in _values_out(chart)}

    def row(value: float) -> int:
        return round((high - value) / (high - low) * (ROWS - 1))

    lines = [[" "] * (2 * len(values)) for _ in range(ROWS)]
    names = [""] * ROWS
    levels = [(chart.upper, "-", "limit"), (chart.lower, "-", "limit"), (chart.mean, "=", "mean")]
    for level, sign, name in [*((wanted, ".", "wanted") for wanted in _wanted(words)), *levels]:
        lines[row(level)] = [sign] * (2 * len(values))
        names[row(level)] = ", ".join(filter(None, [names[row(level)], f"{name} {words.show(level)}"]))
    for i, value in enumerate(values):
        lines[row(value)][2 * i] = "X" if i in out else "o"
    broad = max(len(name) for name in names)
    drawn = [f"{name:>{broad}} |{''.join(line).rstrip()}" for name, line in zip(names, lines, strict=True)]
    shown = f"{words.title} ({words.unit})" + (f", the last {COLUMNS} drawn" if skipped else "")
    return "\n".join([shown, *drawn]) + "\n"


@record
class _Panel:
    """A part of the picture: its place, what its height spans, how many values lie along it, the first one's place."""

    top: float
    height: float
    span: tuple[float, float]
    count: int
    first: int

    def x(self, index: int) -> float:
        return _LEFT + (index + self.first + 0.5) * _WIDE / self.count

    def y(self, value: float) -> float:
        low, high = self.span
        return self.top + (high - value) / (high - low) * self.height


@record
class _Level:
    """A line across a panel."""

    value: float
    name: str
    colour: str
    dashes: str


def _wanted(words: Words) -> tuple[float, ...]:
    return () if words.wanted is None else (words.wanted,)


def _span(values: Sequence[float]) -> tuple[float, float]:
    """What the height of a panel spans: all values and a margin."""
    low, high = min(values), max(values)
    margin = 0.06 * (high - low) or max(abs(high), 1.0) * 0.01
    return low - margin, high + margin


def _frame(panel: _Panel, name: str) -> list[str]:
    return [
        f'<rect x="{_LEFT:g}" y="{panel.top:g}" width="{_WIDE:g}" height="{panel.height:g}" fill="none" '
        f'stroke="#999999"/>',
        _text(_LEFT, panel.top - 6.0, name, size=11),
    ]


def _values_out(chart: Chart) -> set[int]:
    """Numbers of the values that break a rule themselves."""
    return {signal.at for signal in chart.signals if not signal.of_range}


def _levels(panel: _Panel, levels: Sequence[_Level]) -> list[str]:
    """Level lines with their names beside the panel, those that would stand on one another moved apart."""
    drawn: list[str] = []
    below = panel.top - _APART
    for level in sorted(levels, key=lambda level: -level.value):
        y = panel.y(level.value)
        dash = f' stroke-dasharray="{level.dashes}"' if level.dashes else ""
        ends = f'x1="{_LEFT:g}" y1="{y:.2f}" x2="{_LEFT + _WIDE:g}" y2="{y:.2f}"'
        below = max(y, below + _APART)
        drawn.append(f'<line {ends} stroke="{level.colour}"{dash}/>')
        drawn.append(_text(_LEFT + _WIDE + 6.0, below + 4.0, level.name, colour=level.colour))
    return drawn


def _points(panel: _Panel, values: Sequence[float], out: set[int]) -> list[str]:
    places = [(panel.x(i), panel.y(value)) for i, value in enumerate(values)]
    path = " ".join(f"{x:.2f},{y:.2f}" for x, y in places)
    marks = [
        f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{5 if i in out else 3.5:g}" fill="{_OUT if i in out else _INK}"/>'
        for i, (x, y) in enumerate(places)
    ]
    return [f'<polyline points="{path}" fill="none" stroke="{_INK}" stroke-width="1"/>', *marks]


def _labels(panel: _Panel, words: Words) -> list[str]:
    """Labels of the values, as many as there is room for."""
    every = max(1, -(-len(words.labels) // 24))
    y = panel.top + panel.height + 14.0
    named = _text(_LEFT - 8.0, y, "batch", anchor="end", size=10)
    return [named] + [
        _text(panel.x(i), y, label, anchor="middle", size=10)
        for i, label in enumerate(words.labels)
        if i % every == 0
    ]


def _text(x: float, y: float, text: str, *, size: int = 11, colour: str = _INK, anchor: str = "start") -> str:
    place = f'x="{x:.2f}" y="{y:.2f}" font-size="{size}" fill="{colour}" text-anchor="{anchor}"'
    return f"<text {place}>{escape(text)}</text>"
