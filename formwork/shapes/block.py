"""Wall block: solid, hollow, with tongue and groove at its ends; cast upright, struck off on top."""

from __future__ import annotations

from math import atan, cos, sin, tan
from typing import Annotated

from pydantic import Field

from formwork.errors import GeometryError
from formwork.geometry.planes import HalfSpace, behind
from formwork.geometry.vectors import Vec
from formwork.shapes import box
from formwork.shapes.parameters import Parameters
from formwork.shapes.piece import Face, Former, Lot, Measure, Piece, Planar
from formwork.shapes.shape import Shape
from formwork.units import show
from formwork.units.fields import quantity

_LEAST_CORE = 0.03
_LEAST_WALL = 0.012
_LEAST_SHOULDER = 0.01


class BlockParameters(Parameters):
    """Keys of a block in the project file."""

    length: Annotated[float, quantity("length", 0.08, 2.0)] = Field(
        description="laying length, the tongue not counted"
    )
    width: Annotated[float, quantity("length", 0.04, 0.8)] = Field(
        description="thickness of the wall it builds"
    )
    height: Annotated[float, quantity("length", 0.04, 1.0)] = Field(
        description="height of a course, without joint"
    )
    cores: Annotated[int, Field(ge=0, le=6)] = Field(
        default=0, description="hollows right through, top to bottom"
    )
    shell: Annotated[float, quantity("length", 0.012, 0.3)] = Field(
        default=0.035, description="thickness of the two long shells beside the cores, at the struck face"
    )
    web: Annotated[float, quantity("length", 0.012, 0.3)] = Field(
        default=0.035, description="thickness of the ends and of the webs between cores, at the struck face"
    )
    core_draft: Annotated[float, quantity("angle", 0.0, 0.6)] = Field(
        default=atan(1.0 / 20.0), description="lean of the core's sides, so that the block lifts off"
    )
    tongue: Annotated[float, quantity("length", 0.0, 0.1)] = Field(
        default=0.0, description="how far the tongue stands out of one end; 0 for plain ends"
    )
    tongue_width: Annotated[float, quantity("length", 0.0, 0.4)] = Field(
        default=0.0, description="width of the tongue at its root"
    )
    clearance: Annotated[float, quantity("length", 0.0, 0.02)] = Field(
        default=0.003, description="play between tongue and groove, on each flank and at the tip"
    )
    flank_lean: Annotated[float, quantity("angle", 0.0, 0.8)] = Field(
        default=0.15,
        description="lean of the tongue's flanks, so that blocks find each other and the mold lets go",
    )
    chamfer: Annotated[float, quantity("length", 0.0, 0.05)] = Field(
        default=0.0, description="chamfer of the upright corners (plain ends only); 0 for none"
    )
    deep_chamfer: bool = Field(
        default=False, description="allow a chamfer deeper than a quarter of the shell"
    )


def lay_out(parameters: Parameters, name: str) -> tuple[Lot, ...]:
    """The block as it lies in its mold.

    Raises:
        GeometryError: where the keys contradict one another.
    """
    assert isinstance(parameters, BlockParameters)
    return (Lot(block_piece(parameters, name)),)


def block_piece(p: BlockParameters, name: str) -> Piece:
    """One block as it lies in its mold.

    Raises:
        GeometryError: where the keys contradict one another.
    """
    _refuse_contradictions(p, name)
    x, y = p.length / 2.0, p.width / 2.0
    sides = (
        box.side("front", (0.0, -1.0), y, 0.0, 0.0),
        box.side("right", (1.0, 0.0), x + p.tongue, 0.0, 0.0),
        box.side("back", (0.0, 1.0), y, 0.0, 0.0),
        box.side("left", (-1.0, 0.0), x, 0.0, 0.0),
    )
    ends = (box.level("bottom", 0.0, up=False), box.level("top", p.height, up=True))
    return Piece(
        name=name,
        shape="block",
        form=Planar(
            faces=(
                *(Face(half.name, "panel", half) for half in sides),
                Face("bottom", "base", ends[0]),
                Face("top", "fill", ends[1]),
            ),
            formers=(
                *_cores(p, name),
                *_tongue(p, sides, ends),
                *_groove(p, sides, ends),
                *_chamfers(p, sides, ends),
            ),
        ),
        plugs=(),
        pour_points=(_pour_point(p),),
        turned_over=False,
        measures=_measures(p),
        notes=_notes(p),
    )


def _refuse_contradictions(p: BlockParameters, name: str) -> None:
    if (p.tongue > 0.0) != (p.tongue_width > 0.0):
        raise GeometryError(f"{name}: a tongue needs both tongue and tongue_width; one of them is 0")
    if p.tongue > 0.0:
        _refuse_bad_tongue(p, name)
    least = min(p.shell, p.web) if p.cores else p.width
    box.refuse_chamfer(p.chamfer, least, "thinnest wall", p.deep_chamfer, name)
    if p.chamfer > 0.0 and p.tongue > 0.0:
        raise GeometryError(f"{name}: chamfer and tongue share the ends of the block; set one of them to 0")


def _refuse_bad_tongue(p: BlockParameters, name: str) -> None:
    tip = p.tongue_width / 2.0 - p.tongue * tan(p.flank_lean)
    if tip < 0.004:
        raise GeometryError(
            f"{name}: the tongue runs to a point; use a wider tongue_width or less flank_lean"
        )
    if p.width / 2.0 - p.tongue_width / 2.0 - p.clearance < _LEAST_SHOULDER:
        raise GeometryError(
            f"{name}: tongue_width {show.both(p.tongue_width)} leaves no shoulder on a block "
            f"{show.both(p.width)} wide; leave at least {show.both(_LEAST_SHOULDER)} and the clearance on each side"
        )
    depth = p.tongue + p.clearance
    least = depth + _grows(p) + _LEAST_WALL
    if p.cores and p.web < least:
        raise GeometryError(
            f"{name}: the groove, {show.both(depth)} deep, and the draft of the core leave too little of the end; "
            f"make web at least {show.both(least)}"
        )
    if depth > p.length / 3.0:
        raise GeometryError(f"{name}: the groove is deeper than a third of the block; use a shorter tongue")


def _cores(p: BlockParameters, name: str) -> tuple[Former, ...]:
    """Cores that stand on the base and narrow upward; the struck face shows their narrow end."""
    if p.cores == 0:
        return ()
    pitch = (p.length - p.web) / p.cores
    half_x = (pitch - p.web) / 2.0
    half_y = p.width / 2.0 - p.shell
    if min(half_x, half_y) * 2.0 < _LEAST_CORE:
        raise GeometryError(
            f"{name}: {p.cores} cores leave less than {show.both(_LEAST_CORE)} for each; use fewer"
        )
    if min(p.shell, p.web / 2.0 if p.cores > 1 else p.web) - _grows(p) < _LEAST_WALL / 2.0:
        raise GeometryError(
            f"{name}: the core's draft eats the shell or web at the bottom, where a side loses {show.both(_grows(p))}; "
            "use thicker shell and web, or less core_draft"
        )
    top = box.level("top", p.height, up=True)
    bottom = box.level("bottom", 0.0, up=False)
    made = []
    for i in range(p.cores):
        centre = (i + 0.5) * pitch - (p.length - p.web) / 2.0
        halves = tuple(
            box.side(f"core {word}", (wx, wy), half_x if wx else half_y, p.height, -p.core_draft).shifted(
                (centre, 0.0, 0.0)
            )
            for word, wx, wy in box.SIDES
        )
        label = "core" if p.cores == 1 else f"core {i + 1}"
        made.append(Former(label, "core", (*halves, bottom, top), "box", "base"))
    return tuple(made)


def _grows(p: BlockParameters) -> float:
    """How much further each side of a core stands out at the base than at the struck face, m."""
    return p.height * tan(p.core_draft)


def _tongue(
    p: BlockParameters, sides: tuple[HalfSpace, ...], ends: tuple[HalfSpace, ...]
) -> tuple[Former, ...]:
    """A board on each side of the tongue."""
    if p.tongue == 0.0:
        return ()
    root: Vec = (p.length / 2.0, p.tongue_width / 2.0, 0.0)
    shoulder = behind((-1.0, 0.0, 0.0), root, "shoulder")
    front, right, back, _ = sides
    upper = behind((-sin(p.flank_lean), -cos(p.flank_lean), 0.0), root, "tongue flank")
    lower = behind((-sin(p.flank_lean), cos(p.flank_lean), 0.0), (root[0], -root[1], 0.0), "tongue flank")
    return (
        Former("shoulder board back", "board", (shoulder, upper, right, back, *ends), "solid", "panel", "right",
               lead=shoulder),
        Former("shoulder board front", "board", (shoulder, lower, right, front, *ends), "solid", "panel", "right",
               lead=shoulder),
    )  # fmt: skip


def _groove(
    p: BlockParameters, sides: tuple[HalfSpace, ...], ends: tuple[HalfSpace, ...]
) -> tuple[Former, ...]:
    """The strip that leaves the groove: the tongue's own form, larger by the clearance square to its faces."""
    if p.tongue == 0.0:
        return ()
    left = sides[3]
    mouth = (-p.length / 2.0, p.tongue_width / 2.0 + p.clearance / cos(p.flank_lean), 0.0)
    depth = p.tongue + p.clearance
    bottom = behind((1.0, 0.0, 0.0), (mouth[0] + depth, 0.0, 0.0), "groove bottom")
    upper = behind((sin(p.flank_lean), cos(p.flank_lean), 0.0), mouth, "groove flank")
    lower = behind((sin(p.flank_lean), -cos(p.flank_lean), 0.0), (mouth[0], -mouth[1], 0.0), "groove flank")
    return (
        Former(
            "groove strip",
            "strip",
            (left, bottom, upper, lower, *ends),
            "solid",
            "panel",
            "left",
            lead=bottom,
        ),
    )


def _chamfers(
    p: BlockParameters, sides: tuple[HalfSpace, ...], ends: tuple[HalfSpace, ...]
) -> tuple[Former, ...]:
    if p.chamfer == 0.0:
        return ()
    edges = [
        (f"corner strip {one.name} {two.name}", one, two)
        for one, two in zip(sides, (*sides[1:], sides[0]), strict=True)
    ]
    return box.strips(edges, p.chamfer, (*sides, *ends), [("panel", one.name) for _, one, _ in edges])


def _pour_point(p: BlockParameters) -> Vec:
    """A point inside the concrete: in the front shell of a hollow block, in the middle of a solid one."""
    if p.cores == 0:
        return (0.0, 0.0, p.height / 2.0)
    grown = p.height / 2.0 * tan(p.core_draft)
    return (0.0, -p.width / 2.0 + (p.shell - grown) / 2.0, p.height / 2.0)


def _measures(p: BlockParameters) -> tuple[Measure, ...]:
    x, y, h = p.length / 2.0, p.width / 2.0, p.height
    found = [
        Measure("length", "top", (-x, -y, h), (x, -y, h)),
        Measure("width", "top", (-x, -y, h), (-x, y, h)),
        Measure("height", "front", (-x, -y, 0.0), (-x, -y, h)),
    ]
    if p.tongue > 0.0:
        found.append(Measure("tongue", "top", (x, y, h), (x + p.tongue, y, h)))
        found.append(
            Measure("tongue width", "top", (x, -p.tongue_width / 2.0, h), (x, p.tongue_width / 2.0, h))
        )
    if p.cores > 0:
        pitch = (p.length - p.web) / p.cores
        start = -(p.length - p.web) / 2.0
        first = start + p.web / 2.0
        found.append(Measure("end", "top", (-x, y, h), (-x + p.web, y, h)))
        found.append(Measure("core length", "top", (first, y, h), (first + pitch - p.web, y, h)))
        found.append(Measure("shell", "top", (x, y - p.shell, h), (x, y, h)))
    return tuple(found)


def _notes(p: BlockParameters) -> tuple[str, ...]:
    notes = ["Cast on its lower bed; the upper bed is struck off."]
    if p.cores > 0:
        notes.append("Shell and web are measured at the struck face, where they are thickest.")
    if p.tongue > 0.0:
        notes.append(
            "Length is the laying length. The groove is the tongue plus the clearance, square to each flank and at "
            "the tip."
        )
    return tuple(notes)


SHAPE = Shape(
    name="block",
    summary="Wall block: solid or hollow, plain ends or tongue and groove",
    methods=("panelled",),
    parameters=BlockParameters,
    lay_out=lay_out,
    samples=(
        {"length": 390, "width": 190, "height": 190},
        {"length": 390, "width": 190, "height": 190, "chamfer": 10, "gang": 3},
        {"length": 390, "width": 190, "height": 190, "cores": 2, "gang": 2},
        {"length": 450, "width": 200, "height": 240, "cores": 1, "tongue": 18, "tongue_width": 60, "web": 60},
        {"length": 450, "width": 200, "height": 240, "tongue": 18, "tongue_width": 60, "gang": 4},
    ),
    gang_axis="y",
)
