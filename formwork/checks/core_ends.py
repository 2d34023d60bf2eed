"""The two ends of a core: the cap that the mix presses on, and the bars that keep a hung core from rising."""

from __future__ import annotations

from collections.abc import Sequence

from formwork.checks.check import Found, NotChecked, told
from formwork.geometry.vectors import dot
from formwork.molds.load import PANEL_LIMIT
from formwork.molds.mold import Part
from formwork.molds.panelled import Built
from formwork.molds.panels.lift import core_lift
from formwork.molds.strengths import grade_of_stick, section_of
from formwork.shapes.piece import Former
from formwork.strength.bars import BarLoad, bar_verdicts
from formwork.strength.lumber import Section, Service, adjust
from formwork.strength.panels import Bay, panel_verdicts
from formwork.strength.working import Judged, Step, Unjudged, Verdict, step


def cap_checks(built: Built) -> tuple[Found, ...]:
    """Bending, shear and bulge of the cap that is worst off: a strip over its shorter way, from wall to wall."""
    rows = [
        (part, _cap_verdicts(built, part))
        for part in built.mold.parts
        if part.role == "core cap" and part.name == f"{part.group} cap"
    ]
    if not rows:
        return ()
    part, worst = max(rows, key=lambda row: _strain(row[1]))
    load, foot = built.lined.load, _foot(part)
    head = load.head_steps(foot) if _hangs(built, part) else load.weight_steps(foot)
    return tuple(_told(built, "core caps", one, head, "a thicker sheet for the cap") for one in worst)


def _cap_verdicts(built: Built, cap: Part) -> tuple[Judged, ...]:
    sheet, load = built.lined.frame.stocks.sheet, built.lined.load
    grain_short = cap.blank.length < cap.blank.width
    section = section_of(sheet, "across" if grain_short else "along")
    if isinstance(section, Unjudged):
        return (section,)
    span = min(cap.blank.length, cap.blank.width) - sheet.thickness
    if span <= sheet.thickness:
        return ()
    foot = _foot(cap)
    pressure = load.head(foot) if _hangs(built, cap) else load.weight(foot)
    return panel_verdicts(section, Bay(pressure, span, support=sheet.thickness), PANEL_LIMIT)


def _hangs(built: Built, cap: Part) -> bool:
    """The core hangs, so that fresh mix presses its cap from below; else all the mix over its cap lies on that."""
    return any(one.name == cap.group and one.seat == "hung" for one in built.lined.frame.form.formers)


def bar_checks(built: Built) -> tuple[Found, ...]:
    """Bending, shear and sag of the bars over the hung core whose bars are worst off."""
    hung = [one for one in built.lined.frame.form.formers if one.kind == "core" and one.seat == "hung"]
    rows = [_bar_verdicts(built, core) for core in hung]
    if not rows:
        return ()
    worst = max((row for row, _ in rows), key=_strain)
    lift = next(steps for row, steps in rows if row is worst)
    return tuple(
        _told(built, "core bars", one, lift, "a thicker stick for the bars, or more of them") for one in worst
    )


def _bar_verdicts(built: Built, core: Former) -> tuple[tuple[Judged, ...], tuple[Step, ...]]:
    """The verdicts on the bars of one core, and how their share of its lift was found."""
    frame, parts = built.lined.frame, built.mold.parts
    bars = [part for part in parts if part.role == "bar" and part.group == core.name]
    lift = core_lift(frame, built.lined.load, core.name)
    share = lift.force / len(bars)
    steps = (*lift.steps, step("F", "U / n", share, "N", U=lift.force, n=len(bars)))
    stick = frame.stocks.stick
    section = Section(breadth=stick.width, depth=stick.thickness)
    values = adjust(grade_of_stick(stick, stick.width), section, Service())
    loads = [_held(built, core, bar, share) for bar in bars]
    found = [bar_verdicts(values, section, one, PANEL_LIMIT) for one in loads]
    return max(found, key=_strain), steps


def _held(built: Built, core: Former, bar: Part, force: float) -> BarLoad:
    """Where a bar lies on the rim rails and where it is screwed to the two sides of its core's open end."""
    frame = built.lined.frame
    along = bar.placement.along
    ends = _reach((bar,), along)
    walls = [part for part in built.mold.parts if part.role == "core wall" and part.group == core.name]
    rim = [
        dot(point, along)
        for part in walls
        for cell in part.cells
        for point in cell.points()
        if point[2] > frame.fill - frame.thickness
    ]
    inset = frame.stocks.deep / 2.0
    return BarLoad(
        force, ends[1] - ends[0] - 2.0 * inset, min(rim) - ends[0] - inset, ends[1] - inset - max(rim)
    )


def _told(built: Built, name: str, judged: Judged, load: Sequence[Step], remedy: str) -> Found:
    """A verdict as a check of this mold, after the steps that found its load."""
    if isinstance(judged, Unjudged):
        return NotChecked(f"{name}: {judged.name}", built.mold.name, judged.why)
    return told(f"{name}: {judged.name}", built.mold.name, judged, remedy, load)


def _reach(parts: Sequence[Part], along: tuple[float, float, float]) -> tuple[float, float]:
    places = [dot(point, along) for part in parts for cell in part.cells for point in cell.points()]
    return min(places), max(places)


def _foot(part: Part) -> float:
    return min(point[2] for cell in part.cells for point in cell.points())


def _strain(row: Sequence[Judged]) -> float:
    return max((one.utilisation for one in row if isinstance(one, Verdict)), default=0.0)
