"""Curved pieces and a mold written as records by hand, so that outputs are tested without a shape and a mold method.

Each piece comes with its volume by a formula of its own.
"""

from __future__ import annotations

from math import acos, asin, cos, pi, sin, sqrt, tan

from scipy.integrate import dblquad

from formwork.geometry.cells import Cell, cell
from formwork.geometry.outlines import Outline, circle, polygon, rectangle, ring_sector
from formwork.geometry.planes import HalfSpace, Planes
from formwork.geometry.prisms import Prism
from formwork.geometry.rounds import Round
from formwork.geometry.turned import Turned
from formwork.geometry.vectors import Vec
from formwork.molds.mold import Blank, Mold, Part, PartRole, Placement
from formwork.shapes.piece import Curved, CurvedFormer, Measure, Piece, Plug

UP: Vec = (0.0, 0.0, 1.0)
QUARTER = tan(pi / 8.0)


def frustum(r: float, s: float, h: float) -> float:
    """Source: frustum of a cone, CRC mensuration formulas."""
    return pi * h / 3.0 * (r * r + r * s + s * s)


def planter() -> tuple[Piece, float]:
    """A conical planter cast floor down: 360 to 480 mm, 400 high, level wall 40, floor 50, one drain in the middle."""
    outside = Turned(polygon(((0.0, 0.0), (0.18, 0.0), (0.24, 0.40), (0.0, 0.40))))
    hollow = Turned(polygon(((0.0, 0.05), (0.1475, 0.05), (0.20, 0.40), (0.0, 0.40))))
    plugs = tuple(
        Plug(f"drain plug {n}", Round((x, 0.0, 0.0), UP, 0.05, 0.014, 0.012), "base")
        for n, x in ((1, 0.0), (2, 0.08))
    )
    piece = Piece(
        name="round planter",
        shape="round",
        form=Curved(outside, (CurvedFormer("core", "core", hollow, "box", "hung"),), 0.40),
        plugs=plugs,
        pour_points=((0.22, 0.0, 0.38),),
        turned_over=False,
        measures=(
            Measure("top diameter", "front", (-0.24, 0.0, 0.40), (0.24, 0.0, 0.40)),
            Measure("base diameter", "front", (-0.18, 0.0, 0.0), (0.18, 0.0, 0.0)),
            Measure("height", "front", (0.24, 0.0, 0.0), (0.24, 0.0, 0.40)),
            Measure("wall", "front", (0.20, 0.0, 0.40), (0.24, 0.0, 0.40)),
            Measure("floor", "front", (0.05, 0.0, 0.0), (0.05, 0.0, 0.05)),
        ),
    )
    holes = 2 * frustum(0.014, 0.012, 0.05)
    return piece, frustum(0.18, 0.24, 0.40) - frustum(0.1475, 0.20, 0.35) - holes


def ell() -> tuple[Piece, float]:
    """An L of 0.6 by 0.5, legs 0.2 wide, its outer corner and its inner one rounded, 60 thick, a hole of 80 in it."""
    r, s = 0.1, 0.04
    outline = Outline(
        ((0.0, r), (r, 0.0), (0.6, 0.0), (0.6, 0.2), (0.2 + s, 0.2), (0.2, 0.2 + s), (0.2, 0.5), (0.0, 0.5)),
        (QUARTER, 0.0, 0.0, 0.0, -QUARTER, 0.0, 0.0, 0.0),
    )
    hole = CurvedFormer("hole", "core", Prism(circle((0.12, 0.12), 0.04), 0.06), "solid", "base")
    piece = Piece(
        name="corner step",
        shape="outline",
        form=Curved(Prism(outline, 0.06), (hole,), 0.06),
        plugs=(),
        pour_points=((0.5, 0.1, 0.03),),
        turned_over=False,
        measures=(
            Measure("length", "top", (0.0, 0.0, 0.06), (0.6, 0.0, 0.06)),
            Measure("width", "top", (0.0, 0.0, 0.06), (0.0, 0.5, 0.06)),
            Measure("leg", "top", (0.0, 0.5, 0.06), (0.2, 0.5, 0.06)),
            Measure("thickness", "front", (0.6, 0.0, 0.0), (0.6, 0.0, 0.06)),
        ),
    )
    corner = 1.0 - pi / 4.0
    level = 0.6 * 0.2 + 0.2 * 0.3 - corner * r * r + corner * s * s - pi * 0.04**2
    return piece, 0.06 * level


def cap(radius: float, height: float) -> float:
    """Source: spherical cap, CRC mensuration formulas."""
    return pi * height * height * (3.0 * radius - height) / 3.0


def bowl() -> tuple[Piece, float]:
    """A bowl cast rim down over a mound: a sphere of 300 cut level at the foot, its hollow a cap of a sphere of 260."""
    outer, inner, foot = 0.30, 0.26, 0.25
    at = sqrt(outer**2 - foot**2)
    outside = Outline(
        ((0.0, 0.0), (outer, 0.0), (at, foot), (0.0, foot)), (0.0, tan(asin(foot / outer) / 4), 0.0, 0.0)
    )
    depth = 0.18
    low = inner - depth
    reach = sqrt(inner**2 - low**2)
    mound = Outline(((0.0, 0.0), (reach, 0.0), (0.0, depth)), (0.0, tan(acos(low / inner) / 4), 0.0))
    piece = Piece(
        name="bird bath",
        shape="turned",
        form=Curved(Turned(outside), (CurvedFormer("mound", "core", Turned(mound), "solid", "base"),), foot),
        plugs=(),
        pour_points=((0.25, 0.0, 0.05),),
        turned_over=True,
        measures=(
            Measure("diameter", "front", (-outer, 0.0, 0.0), (outer, 0.0, 0.0)),
            Measure("foot", "front", (-at, 0.0, foot), (at, 0.0, foot)),
            Measure("height", "front", (outer, 0.0, 0.0), (outer, 0.0, foot)),
            Measure("depth", "front", (0.0, 0.0, 0.0), (0.0, 0.0, depth)),
        ),
    )
    whole = 2.0 / 3.0 * pi * outer**3 - cap(outer, outer - foot)
    return piece, whole - cap(inner, depth)


def dome() -> tuple[Piece, float]:
    """Half a sphere of 1.0 m inside, shell 80 mm, springing level, oculus of 300, and an arched door of 500 by 700."""
    inner, outer, eye = 1.0, 1.08, 0.15
    turn = acos(eye / outer), acos(eye / inner)
    shell = Outline(
        ((inner, 0.0), (outer, 0.0), (eye, outer * sin(turn[0])), (eye, inner * sin(turn[1]))),
        (0.0, tan(turn[0] / 4), 0.0, -tan(turn[1] / 4)),
    )
    arch = Outline(((-0.25, 0.0), (0.25, 0.0), (0.25, 0.45), (-0.25, 0.45)), (0.0, 0.0, 1.0, 0.0))
    way = Prism(arch, 0.8, (0.0, -0.5, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))

    def thick(z: float, x: float) -> float:
        return sqrt(outer**2 - x * x - z * z) - sqrt(inner**2 - x * x - z * z)

    takes = (
        2.0 * dblquad(thick, 0.0, 0.25, 0.0, lambda x: 0.45 + sqrt(max(0.0, 0.0625 - x * x)), epsabs=1e-12)[0]
    )
    door = CurvedFormer("door liner", "liner", way, "box", "base", takes=takes)
    piece = Piece(
        name="garden dome",
        shape="cast dome",
        form=Curved(Turned(shell), (door,), outer * sin(turn[0])),
        plugs=(),
        pour_points=((0.0, 1.04, 0.02),),
        turned_over=False,
        measures=(
            Measure("inside diameter", "front", (-inner, 0.0, 0.0), (inner, 0.0, 0.0)),
            Measure("outside diameter", "front", (-outer, 0.0, 0.0), (outer, 0.0, 0.0)),
            Measure("oculus", "top", (-eye, 0.0, 1.0), (eye, 0.0, 1.0)),
            Measure("height", "front", (outer, 0.0, 0.0), (outer, 0.0, outer * sin(turn[0]))),
        ),
    )
    shut = 2.0 / 3.0 * pi * (outer**3 - inner**3)
    lost = (
        2.0 * pi / 3.0 * ((outer**3 - (outer**2 - eye**2) ** 1.5) - (inner**3 - (inner**2 - eye**2) ** 1.5))
    )
    return piece, shut - lost - takes


PIECES = {"planter": planter, "ell": ell, "bowl": bowl, "dome": dome}


def block(planes: Planes, low: Vec, high: Vec) -> Cell:
    """An upright box as a cell."""
    halves = []
    for axis in range(3):
        x, y, z = (1.0 if k == axis else 0.0 for k in range(3))
        halves.append(HalfSpace((x, y, z), high[axis]))
        halves.append(HalfSpace((-x, -y, -z), -low[axis]))
    found = cell(planes, halves)
    assert found is not None
    return found


PLACE = Placement((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), UP)


def part(
    name: str,
    role: PartRole,
    *,
    cells: tuple[Cell, ...] = (),
    rounds: tuple[Round, ...] = (),
    holes: tuple[Round, ...] = (),
    turned: tuple[Turned, ...] = (),
    prisms: tuple[Prism, ...] = (),
) -> Part:
    """A part of a mold; its blank is of no account here."""
    blank = Blank(0.3, 0.2, 0.018, ((0.0, 0.0), (0.3, 0.0), (0.3, 0.2), (0.0, 0.2)), (0.0,) * 4)
    return Part(
        name, role, "panel", "ply 18", name, cells, blank, PLACE, rounds, holes, turned=turned, prisms=prisms
    )


def outer_radius(z: float) -> float:
    """Of the planter's outside at a height, m."""
    return 0.18 + 0.06 * z / 0.40


def ring(number: int, z: float) -> list[Part]:
    """Four segments of plywood 18 thick round the planter's skin, bored for a bolt."""
    inner = outer_radius(z) + 0.007
    return [
        part(
            f"ring {number} segment {k + 1}",
            "ring",
            prisms=(Prism(ring_sector(inner, inner + 0.06, k * pi / 2.0, pi / 2.0), 0.018, (0.0, 0.0, z)),),
            holes=(_bolt(inner + 0.03, k * pi / 2.0 + 0.2, z),),
        )
        for k in range(4)
    ]


def _bolt(radius: float, angle: float, z: float) -> Round:
    return Round((radius * cos(angle), radius * sin(angle), z), UP, 0.018, 0.005, 0.005)


def planter_mold(rings: int = 4) -> Mold:
    """A mold round the planter: a skin on ring segments, a core of a skin, a cap and three discs hung from two bars."""
    piece, volume = planter()
    planes = Planes()
    skin = Turned(polygon(((0.18, 0.0), (0.186, 0.0), (0.246, 0.40), (0.24, 0.40))))
    inner = Turned(polygon(((0.1415, 0.05), (0.1475, 0.05), (0.20, 0.40), (0.194, 0.40))))
    levels = [0.02 + k * 0.36 / (rings - 1) for k in range(rings)]
    slots = tuple(rectangle((x - 0.02, -0.02), (x + 0.02, 0.02)) for x in (-0.06, 0.06))
    parts = [
        part("base", "base", prisms=(Prism(rectangle((-0.35, -0.35), (0.35, 0.35)), 0.018, (0.0, 0.0, -0.018)),)),
        part("skin", "skin", turned=(skin,)),
        *(one for number, z in enumerate(levels, start=1) for one in ring(number, z)),
        part("core skin", "skin", turned=(inner,)),
        part("core cap", "core cap", prisms=(Prism(circle((0.0, 0.0), 0.14), 0.018, (0.0, 0.0, 0.05)),)),
        *(
            part(
                f"core disc {k}",
                "core rib",
                prisms=(Prism(circle((0.0, 0.0), r), 0.018, (0.0, 0.0, z), openings=slots),),
            )
            for k, (z, r) in enumerate(((0.15, 0.155), (0.25, 0.17), (0.36, 0.187)), start=1)
        ),
        *(
            part(f"bar {k}", "bar", cells=(block(planes, (-0.36, y - 0.02, 0.40), (0.36, y + 0.02, 0.44)),))
            for k, y in ((1, -0.1), (2, 0.1))
        ),
        *(part(plug.name, "plug", rounds=(plug.body,)) for plug in piece.plugs),
    ]  # fmt: skip
    return Mold(
        name="round planter mold",
        method="wrapped",
        piece=piece,
        planes=planes,
        parts=tuple(parts),
        hardware=(),
        cavity=volume,
        nominal=volume,
        stripping=(),
        locked=(),
        wetted=0.0,
        seams=0.0,
        uses=1,
        owned=False,
        copies=1,
        instructions=(),
    )
