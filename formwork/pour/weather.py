"""Weather as it is typed, and hours of temperatures as loggers write them."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from datetime import datetime
from itertools import pairwise
from pathlib import Path

from formwork.errors import Fault, InputError
from formwork.pour.evaporation import MPH
from formwork.pour.maturity import FREEZING, Interval
from formwork.units.numbers import NUMBER, tidy, value
from formwork.units.wording import LONGEST, QuantityError, written

SPEEDS = {"mph": MPH, "mi/h": MPH, "km/h": 1.0 / 3.6, "kph": 1.0 / 3.6, "m/s": 1.0, "kn": 1852.0 / 3600.0,
          "knots": 1852.0 / 3600.0, "ft/s": 0.3048}  # fmt: skip
"""m/s in a unit of wind."""

_MOST_ROWS = 100_000
_HEAD_WITHIN = 30
"""A logger writes no more lines than this before its headings."""
_TIME = re.compile(r"time|date|hour|zeit|heure", re.I)
_TEMPERATURE = re.compile(r"temp|^t$|°|\bdeg", re.I)
_UNIT = re.compile(r"(?:°|deg|\b|_|\()\s*([CF])\b|(celsius|fahrenheit)", re.I)
_DATES = ("%d.%m.%Y %H:%M:%S", "%d.%m.%Y %H:%M", "%Y/%m/%d %H:%M:%S", "%Y/%m/%d %H:%M")


def wind(text: str) -> float:
    """A speed as a person types it, m/s.

    Args:
        text: a number with mph, km/h, m/s, kn or ft/s; a bare 0 for still air.

    Raises:
        QuantityError: if it cannot be read.

    >>> wind("12 mph"), wind("18 km/h")
    (5.364, 5.0)
    """
    want = 'a wind such as "12 mph", "20 km/h" or "5 m/s"'
    plain = tidy(text)
    number = NUMBER.match(plain) if len(text) <= LONGEST else None
    if number is None:
        raise QuantityError(written(text), want)
    unit = plain[number.end() :].strip().casefold()
    try:
        speed = float(value(number))
    except (ZeroDivisionError, OverflowError):
        raise QuantityError(written(text), want) from None
    if speed == 0.0 and not unit:
        return 0.0
    if unit not in SPEEDS:
        raise QuantityError(written(text), want, "write the unit" if not unit else "")
    return speed * SPEEDS[unit]


def read_hours(path: Path) -> tuple[Interval, ...]:
    """The temperatures of a logger's CSV file, from its first row on.

    A row of headings names a column of times and one of temperatures with C or F in its heading; other columns and
    lines before the headings are passed over. Times are dates (2026-11-25 14:00, 25.11.2026 14:00) or hours as numbers.
    Between two rows the mean of both temperatures holds.

    Args:
        path: the file.

    Raises:
        InputError: with file, line and what would be right.
    """
    rows = _rows(path)
    at = next((i for i, row in enumerate(rows[:_HEAD_WITHIN]) if _heading(row)), None)
    if at is None:
        want = "a row of headings such as: time, temperature C"
        raise _wrong(path, 0, "", "headings of a time and a temperature", want)
    times, temperatures, unit = _columns(path, at + 1, rows[at])
    points: list[tuple[float, float]] = []
    for line, row in enumerate(rows[at + 1 :], start=at + 2):
        if any(cell.strip() for cell in row):
            points.append(_point(path, line, row, (times, temperatures, unit)))
            _in_order(path, line, points)
    if len(points) < 2:
        raise _wrong(path, 0, f"{len(points)} rows of temperatures", "at least two", "")
    return _between(points)


def _rows(path: Path) -> list[list[str]]:
    try:
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise _wrong(path, 0, "letters that are not UTF-8", "a CSV file saved as UTF-8", "") from None
    except OSError as error:
        raise _wrong(
            path, 0, (error.strerror or str(error)).lower(), "a CSV file that can be read", ""
        ) from None
    lines = text.splitlines()
    if len(lines) > _MOST_ROWS:
        raise _wrong(path, 0, f"{len(lines)} lines", f"{_MOST_ROWS} or fewer", "")
    sample = "\n".join(lines[:_HEAD_WITHIN])
    mark = max((";", "\t", ","), key=sample.count)
    try:
        return list(csv.reader(lines, delimiter=mark, strict=True))
    except csv.Error as error:
        raise _wrong(path, 0, str(error), "a CSV file", "") from None


def _heading(row: Sequence[str]) -> bool:
    return any(_TIME.search(cell) for cell in row) and any(_TEMPERATURE.search(cell) for cell in row)


def _columns(path: Path, line: int, row: Sequence[str]) -> tuple[int, int, str]:
    """Numbers of the columns of times and temperatures, and the unit of the latter."""
    times = next(i for i, cell in enumerate(row) if _TIME.search(cell))
    for i, cell in enumerate(row):
        if i != times and _TEMPERATURE.search(cell):
            unit = _UNIT.search(re.sub("temperature|temp", "", cell, flags=re.I))
            if unit is None:
                hint = "write it as: temperature C"
                raise _wrong(path, line, f'a heading "{cell.strip()}"', "C or F in it", hint)
            return times, i, (unit[1] or unit[2])[0].upper()
    raise _wrong(path, line, "one column for both", "a column of times and one of temperatures", "")


def _point(path: Path, line: int, row: Sequence[str], columns: tuple[int, int, str]) -> tuple[float, float]:
    """Hours and kelvin of one row."""
    times, temperatures, unit = columns
    if len(row) <= max(times, temperatures):
        raise _wrong(path, line, f"{len(row)} columns", "a time and a temperature", "")
    degrees = _number(row[temperatures])
    if degrees is None:
        raise _wrong(path, line, f'"{row[temperatures].strip()}"', "a temperature, a number alone", "")
    kelvin = FREEZING + (degrees if unit == "C" else (degrees - 32.0) / 1.8)
    if not 203.15 <= kelvin <= 373.15:
        raise _wrong(
            path, line, f"{degrees:g} {unit}", "a temperature between -70 and 100 C (-94 and 212 F)", ""
        )
    return _hours(path, line, row[times].strip()), kelvin


def _number(text: str) -> float | None:
    plain = text.strip().replace(",", ".")
    return float(plain) if re.fullmatch(r"[+-]?\d{1,9}(\.\d{0,9})?", plain) else None


def _hours(path: Path, line: int, text: str) -> float:
    """A time in hours: since the year 1 for a date, as it stands for a number."""
    number = _number(text)
    if number is not None:
        return number
    moment = _moment(text)
    if moment is None:
        hint = "day and month are told apart only in these" if "/" in text else ""
        raise _wrong(path, line, f'"{text}"', "a time such as 2026-11-25 14:00, or hours as a number", hint)
    return (moment.replace(tzinfo=None) - datetime(1, 1, 1)).total_seconds() / 3600.0 - _offset(moment)


def _offset(moment: datetime) -> float:
    away = moment.utcoffset()
    return 0.0 if away is None else away.total_seconds() / 3600.0


def _moment(text: str) -> datetime | None:
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        pass
    for form in _DATES:
        try:
            return datetime.strptime(text, form)
        except ValueError:
            continue
    return None


def _in_order(path: Path, line: int, points: Sequence[tuple[float, float]]) -> None:
    if len(points) > 1 and not points[-1][0] > points[-2][0]:
        raise _wrong(
            path, line, "a time that is not after the one before it", "rows in the order of time", ""
        )


def _between(points: Sequence[tuple[float, float]]) -> tuple[Interval, ...]:
    pairs = pairwise(points)
    return tuple(
        Interval(later - sooner, (first + second) / 2.0) for (sooner, first), (later, second) in pairs
    )


def _wrong(path: Path, line: int, got: str, want: str, hint: str) -> InputError:
    where = f"{path}:{line}" if line else str(path)
    return InputError((Fault(where, "", got, want, hint),))
