"""Cast in a bought tube: tube and core decided by the piece, then the cage that holds them against the mix."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import asin, hypot, pi

from formwork.geometry.planes import Planes
from formwork.molds.asked import Asked
from formwork.molds.cage import CAGE, Cage, cage_parts, wants_braces
from formwork.molds.choice import FEW_USES, Stocks, named, stout, usual_sheet
from formwork.molds.coaxial import Coaxial, coaxial_cavity
from formwork.molds.fastening import fixing
from formwork.molds.hardware import consumables, gathered, lines_of
from formwork.molds.load import PANEL_LIMIT
from formwork.molds.mold import Hardware, Mold, Part, Strip
from formwork.molds.straight import straight
from formwork.molds.tube_choice import PIPE_KINDS, choose_core, choose_tube
from formwork.molds.tube_joints import Held, held_joints
from formwork.molds.tube_lifts import Lifts, lifts
from formwork.molds.tube_lining import (
    BASE,
    CORE,
    STRIP_STOCK,
    TUBE,
    WRAP_STOCK,
    Choice,
    plate,
    tube_lining,
)
from formwork.molds.tube_straps import Strapped, strapped
from formwork.molds.tube_words import words
from formwork.molds.weighing import mass
from formwork.project.records import PieceOrder
from formwork.record import record
from formwork.shapes.body import piece_volume
from formwork.shapes.piece import Embedded, Piece, curved
from formwork.stock.records import StickStock
from formwork.strength.bars import BarLoad, bar_verdicts
from formwork.strength.lumber import Section, Service, adjust, grade_of
from formwork.strength.props import brace_verdicts
from formwork.strength.working import Verdict
from formwork.units import show

_THICK = 0.05


@record
class Lined:
    """A tube mold's lining.

    Attributes:
        asked: what is wanted.
        choice: of tube and core.
        parts: what the mix touches, and what holds the core tube at its ends.
    """

    asked: Asked
    choice: Choice
    parts: tuple[Part, ...]

    @property
    def order(self) -> PieceOrder:
        """What is wanted."""
        return self.asked.order

    @property
    def layers(self) -> int:
        """There are no dividers."""
        return 1


@record
class Built:
    """A tube mold with its cage, and what the checks must know of how it was designed.

    Attributes:
        mold: what every output reads.
        lined: the stage before.
        cage: where its sticks stand.
        lifts: what lifts and pushes it.
        joints: its joints; none of a mold the shop owns.
        straps: round a tube that is slit; None where it is not.
        cavity: what the parts enclose.
    """

    mold: Mold
    lined: Lined
    cage: Cage
    lifts: Lifts
    joints: tuple[Held, ...]
    straps: Strapped | None
    cavity: Coaxial

    @property
    def order(self) -> PieceOrder:
        """What is wanted."""
        return self.lined.order

    @property
    def leaks(self) -> tuple[str, ...]:
        """Every place where the mix would run out, as a line."""
        return self.cavity.leaks


def lined(asked: Asked) -> Lined:
    """The lining of a mold.

    Raises:
        GeometryError: where the piece is not round and upright, or its core too small.
        StockError: where no tube of the shop fits.
    """
    options, shop = asked.order.mold, asked.shop
    work = straight(asked.piece)
    tube = choose_tube(shop, options.tube, work, asked.units)
    core = None
    if work.core is not None:
        core = choose_core(shop, options.core_tube, options.core_out, work, work.core, asked.units)
    choice = Choice(
        work, tube, options.tube_off or "cut away", core, usual_sheet(shop, options, asked.uses), asked.units
    )
    parts = tube_lining(choice)
    return Lined(replace(asked, piece=_with_what_stays(asked, choice, parts)), choice, parts)


def _with_what_stays(asked: Asked, choice: Choice, parts: Sequence[Part]) -> Piece:
    """The piece with the core tube that is left in it: it weighs, and the core has taken its concrete out already."""
    if choice.core is None or choice.core.out != "left in":
        return asked.piece
    tube = next(part for part in parts if part.name == CORE)
    weight = mass([tube], asked.shop)
    wide = choice.core.outside
    stays = Embedded(
        CORE, "sleeve", choice.core.stock, 1, tube.blank.length, 0.0, wide, 0.0, weight, 0.0, 0,
        choice.core.kind.startswith(PIPE_KINDS), material=choice.core.kind,
    )  # fmt: skip
    return replace(asked.piece, embedded=(*asked.piece.embedded, stays))


def brace(lined: Lined) -> Built:
    """The mold: tube and core on their plate, with the cage that holds them, and everything bought for it.

    Raises:
        GeometryError: where a part has no room.
        StockError: where a joint finds no screw.
    """
    asked, choice, planes = lined.asked, lined.choice, Planes()
    cage = _cage(lined)
    parts = (plate(planes, choice, cage.plate), *lined.parts, *cage_parts(planes, cage))
    found = _lifts(lined, cage)
    joints = () if asked.owned else held_joints(_stocks(lined, cage.stick), cage, parts, found)
    straps = strapped(choice, asked.load, asked.shop.straps, asked.order.mold.strap)
    piece = asked.piece
    cavity = coaxial_cavity(parts, choice.work.height, piece.pour_points)
    nominal = piece_volume(planes, piece)
    area, seam = _wetted(choice), _seams(choice)
    mold = Mold(
        name=f"{asked.order.name} mold",
        method=asked.order.mold.method,
        piece=piece,
        planes=planes,
        parts=parts,
        hardware=(
            *(() if asked.owned else _bought(lined, joints, straps)),
            *consumables(area, seam, asked.uses),
        ),
        cavity=cavity.volume,
        nominal=nominal,
        stripping=_stripping(choice),
        locked=(),
        wetted=area,
        seams=seam,
        uses=asked.uses,
        owned=asked.owned,
        copies=asked.order.molds,
        instructions=words(choice, cage, asked.load, found, nominal, owned=asked.owned),
        fixings=() if asked.owned else tuple(fixing(one.fastening) for one in joints),
        mass=mass(parts, asked.shop),
        under=mass([part for part in parts if part.group == BASE], asked.shop),
    )
    return Built(mold, lined, cage, found, joints, straps, cavity)


def _lifts(lined: Lined, cage: Cage) -> Lifts:
    asked = lined.asked
    weighed = {
        group: mass([part for part in lined.parts if part.group == group], asked.shop)
        for group in (TUBE, CORE)
    }
    return lifts(asked.load, lined.choice, cage, weighed[TUBE], weighed[CORE])


def _cage(lined: Lined) -> Cage:
    """Of the smallest stick that carries the bar and the braces; of the stoutest where none does."""
    asked, choice = lined.asked, lined.choice
    known, name = asked.shop.sticks, asked.order.mold.stick
    sticks = [named("stick", name, known)] if name else _slight(stout(known))
    outer, tall = choice.tube.outer, choice.work.height
    made = [
        Cage(outer, tall, choice.sheet.thickness, stick, wants_braces(outer, tall))
        for stick in sticks
        if name or not wants_braces(outer, tall) or _reaches(stick, tall)
    ] or [Cage(outer, tall, choice.sheet.thickness, sticks[-1], wants_braces(outer, tall))]
    worst = [max(one.utilisation for one in cage_verdicts(lined, each)) for each in made]
    fits = next((each for each, one in zip(made, worst, strict=True) if one <= 1.0), None)
    return fits or made[worst.index(min(worst))]


def _slight(sticks: list[StickStock]) -> list[StickStock]:
    """Sticks that a screw passes through and still bites in the next one; all where none is thin enough."""
    return [stick for stick in sticks if stick.thickness <= _THICK] or sticks


def _reaches(stick: StickStock, tall: float) -> bool:
    """It is sold as long as the uprights of a tube this high."""
    return max(one.length for one in stick.lengths) > tall + stick.width


def cage_verdicts(lined: Lined, cage: Cage) -> tuple[Verdict, ...]:
    """The bar over the brim, and the braces where there are some."""
    found = _lifts(lined, cage)
    return (*_bar(lined, cage, found), *_braces(cage, found))


def _bar(lined: Lined, cage: Cage, found: Lifts) -> tuple[Verdict, ...]:
    """On edge between its uprights, lifted at the brim of the tube, or of the core where that reaches it."""
    choice, stick = lined.choice, cage.stick
    core = choice.work.core
    rim = core.radius if core is not None and found.by_bar else choice.tube.inside / 2.0
    reach = max(0.0, cage.span / 2.0 - rim)
    section = Section(breadth=stick.thickness, depth=stick.width)
    values = adjust(grade_of(stick.material, stick.width), section, Service())
    return bar_verdicts(values, section, BarLoad(found.bar, cage.span, reach, reach), PANEL_LIMIT)


def _braces(cage: Cage, found: Lifts) -> tuple[Verdict, ...]:
    if found.thrust is None:
        return ()
    stick = cage.stick
    section = Section(breadth=stick.thickness, depth=stick.width)
    row = grade_of(stick.material, stick.width)
    return brace_verdicts(row, adjust(row, section, Service()), section, cage.brace, found.thrust)


def _stocks(lined: Lined, stick: StickStock) -> Stocks:
    shop = lined.asked.shop
    return Stocks(
        lined.choice.sheet,
        stick,
        stick.thickness,
        stick.width,
        stick,
        shop.sticks,
        shop.hardware,
        lined.asked.uses > FEW_USES,
    )


def _wetted(choice: Choice) -> float:
    """Tube, plate, core and cap, m2; the chamfer's slope stands for the corner it takes."""
    work = choice.work
    side = 2.0 * pi * work.radius * work.height
    if work.core is None:
        return side + pi * work.radius**2
    return side + pi * work.radius**2 + 2.0 * pi * work.core.radius * (work.core.high - work.core.low)


def _seams(choice: Choice) -> float:
    """Round the foot of the tube, and of a core that stands on the plate, m."""
    core = choice.work.core
    inner = core.radius if core is not None and core.low < 1e-9 else 0.0
    return 2.0 * pi * (choice.work.radius + inner)


def _bought(lined: Lined, joints: Sequence[Held], straps: Strapped | None) -> tuple[Hardware, ...]:
    choice, units = lined.choice, lined.choice.units
    found = [line for one in joints for line in lines_of(one.fastening)]
    found += [
        Hardware(STRIP_STOCK, part.work.split(",")[0], part.blank.length, "m", "round the foot of the tube")
        for part in lined.parts
        if part.stock == STRIP_STOCK
    ]
    found += [
        Hardware(
            WRAP_STOCK,
            show.length(part.blank.thickness, units),
            part.blank.length * part.blank.width * lined.asked.uses,
            "m2",
            f"round the core tube for each of {lined.asked.uses} fillings",
        )
        for part in lined.parts
        if part.stock == WRAP_STOCK
    ]
    found += [
        Hardware("dowel or stopper", _plug_size(part, lined), 1.0, "piece", "drain plugs")
        for part in lined.parts
        if part.role == "plug"
    ]
    if any(part.name == "core cap" for part in lined.parts) and choice.work.core is not None:
        found += _rod(lined)
    return (*gathered(found), *(straps.hardware(units) if straps else ()))


def _rod(lined: Lined) -> list[Hardware]:
    core = lined.choice.work.core
    if core is None or core.low > 1e-9:
        return []
    size = "M8" if lined.choice.units == "mm" else "5/16 in"
    length = core.high + lined.choice.sheet.thickness
    use = "through the disc under the core's cap and the plate"
    return [
        Hardware("threaded rod", f"{size} x {show.length(length, lined.choice.units)}", 1.0, "piece", use),
        Hardware("plate washer", f"{show.length(0.05, lined.choice.units)} square", 2.0, "piece", use),
        Hardware("nut", size, 2.0, "piece", use),
    ]


def _plug_size(part: Part, lined: Lined) -> str:
    units = lined.choice.units
    return f"{show.length(part.blank.width, units)} across, {show.length(part.blank.length, units)} long"


def _stripping(choice: Choice) -> tuple[Strip, ...]:
    """Cage, tube, plate, core; a core that hangs from the bar leaves with it, before the tube.

    What is cut, peeled or springs off leaves its concrete squarely everywhere; what is drawn slides along it.
    """
    up, square = (0.0, 0.0, 1.0), pi / 2.0
    core = choice.work.core
    cage = Strip(CAGE, up, square, "undo bar, braces and collar, lift the rest off")
    drawn = choice.off == "drawn"
    tube = Strip(TUBE, up if drawn else (1.0, 0.0, 0.0), 0.0 if drawn else square, _tube_off(choice))
    base = Strip(BASE, (0.0, 0.0, -1.0), _foot_draft(choice), "lower it, or turn all over and lift it off")
    if core is None or choice.core is None:
        return (cage, tube, base)
    out = Strip(CORE, up if core.low > 1e-9 else (0.0, 0.0, -1.0), square, _core_off(choice.core.out))
    if core.low > 1e-9:
        return (cage, replace(out, note=f"{out.note}, lift it straight up"), tube, base)
    return (cage, tube, base, out)


def _tube_off(choice: Choice) -> str:
    return {
        "cut away": "cut it along two lines, peel it off",
        "slit": "loosen the straps, spread the slit, lift it off",
        "drawn": "draw it off straight up",
    }[choice.off]


def _core_off(out: str) -> str:
    return {
        "slit": "draw the strip out of its slit, it springs in",
        "wrapped": "draw the tube out of its wrap, pull the wrap off",
        "split": "draw the strips out of its cuts, its halves come together",
        "left in": "it stays in the piece",
    }[out]


def _foot_draft(choice: Choice) -> float:
    """Of the chamfer strip, which leaves with the plate: the lean of its slope from the way down, rad."""
    drafts = [pi / 2.0]
    for former in curved(choice.work.piece).formers:
        if former.kind == "strip":
            points = former.body.profile.points if hasattr(former.body, "profile") else ()
            wide = max(r for r, _ in points) - min(r for r, _ in points)
            tall = max(z for _, z in points)
            drafts.append(asin(wide / hypot(wide, tall)))
    return min(drafts)
