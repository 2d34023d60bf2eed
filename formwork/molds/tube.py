"""Cast in a bought tube: tube and core decided by the piece, then the cage that holds them against the mix."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf, pi

from formwork.errors import GeometryError, StockError
from formwork.geometry.planes import Planes
from formwork.molds.asked import Asked
from formwork.molds.choice import FEW_USES, Stocks, cheap, named, stout, usual_sheet
from formwork.molds.coaxial import Coaxial, coaxial_cavity
from formwork.molds.fastening import fixing
from formwork.molds.hardware import consumables
from formwork.molds.label import limits
from formwork.molds.levels import Levels
from formwork.molds.load import PANEL_LIMIT
from formwork.molds.mold import Mold, Part
from formwork.molds.panels.strip import leaving_downward
from formwork.molds.strengths import grade_of_stick
from formwork.molds.tubes.bought import bought
from formwork.molds.tubes.cage import Cage, cage_parts, wants_braces
from formwork.molds.tubes.choice import PIPE_KINDS, Fitted, choose_core, choose_tube
from formwork.molds.tubes.joints import Held, held_joints
from formwork.molds.tubes.lifts import Lifts, lifts
from formwork.molds.tubes.lining import (
    CORE,
    TUBE,
    Choice,
    plate,
    tube_lining,
)
from formwork.molds.tubes.straight import Straight, straight
from formwork.molds.tubes.straps import Strapped, strapped
from formwork.molds.tubes.strip import stripping
from formwork.molds.tubes.words import assembly, words
from formwork.molds.weighing import mass
from formwork.project.records import PieceOrder
from formwork.record import record
from formwork.shapes.body import piece_volume
from formwork.shapes.piece import Embedded, Piece
from formwork.stock.records import StickStock
from formwork.strength.bars import BarLoad, bar_verdicts
from formwork.strength.lumber import Section, Service, adjust
from formwork.strength.props import brace_verdicts
from formwork.strength.working import Verdict
from formwork.units.wording import written

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
    _refuse_idle(asked, work)
    tube = choose_tube(shop, options.tube, work, asked.units)
    _refuse_grip(asked, tube)
    core = None
    if work.core is not None:
        core = choose_core(shop, options.core_tube, options.core_out, work, work.core, asked.units)
    choice = Choice(
        work, tube, options.tube_off or "cut away", core, usual_sheet(shop, options, asked.uses), asked.units
    )
    parts = tube_lining(choice)
    return Lined(replace(asked, piece=_with_what_stays(asked, choice, parts)), choice, parts)


def _refuse_idle(asked: Asked, work: Straight) -> None:
    """Keys that the piece or another key leaves nothing to do.

    Raises:
        GeometryError: where there is one.
    """
    options = asked.order.mold
    idle: dict[str, object] = {}
    if work.core is None:
        idle |= {"core_tube": options.core_tube, "core_out": options.core_out}
    if options.tube_off != "slit":
        idle |= {key: getattr(options, key) for key in ("strap", "straps", "strap_heights")}
    for key, said in idle.items():
        if said is not None:
            why = "only a tube that is slit needs straps" if "strap" in key else "the piece has no hollow"
            got = written(list(said) if isinstance(said, tuple) else said)
            raise GeometryError(f"{asked.piece.name}: mold.{key}: got {got}, want nothing: {why}")


def _refuse_grip(asked: Asked, fitted: Fitted) -> None:
    """A tube is used again only where it comes off whole.

    Raises:
        GeometryError: where it cannot come off as it is asked to.
    """
    off, tube = asked.order.mold.tube_off, fitted.tube
    wrong = {
        ("drawn", "cardboard"): "wet cardboard swells and grips; only plastic or steel slides off",
        ("slit", "steel"): "a steel tube does not spring open along a slit",
        ("cut away", "steel"): "a steel tube is not cut away at every piece",
    }.get((off or "cut away", tube.kind))
    if wrong:
        raise GeometryError(
            f'{asked.piece.name}: mold.tube_off: got "{off or "cut away"}" for {tube.name}: {wrong}; say another way, '
            "or name another tube"
        )


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
    joints = () if asked.owned else _joints(lined, cage)
    straps = strapped(choice, asked.load, asked.shop.straps, _levels(asked), asked.order.mold.strap)
    piece = asked.piece
    cavity = coaxial_cavity(parts, choice.work.height, piece.pour_points)
    nominal = piece_volume(planes, piece)
    area, seam = _wetted(choice), _seams(choice)
    placed = straps.places(asked.units) if straps else ""
    steps = assembly(choice, cage, found, parts, straps=placed, owned=asked.owned)
    mold = Mold(
        name=f"{asked.order.name} mold",
        method=asked.order.mold.method,
        piece=piece,
        planes=planes,
        parts=parts,
        hardware=(
            *(() if asked.owned else bought(choice, lined.parts, joints, straps, asked.uses)),
            *consumables(area, seam, asked.uses),
        ),
        cavity=cavity.volume,
        nominal=nominal,
        stripping=stripping(choice, braced=cage.braced),
        locked=(),
        wetted=area,
        seams=seam,
        uses=asked.uses,
        lifts=asked.load.lifts,
        limits=limits(asked.load, asked.units),
        owned=asked.owned,
        copies=asked.order.molds,
        instructions=words(choice, steps, asked.load, nominal, owned=asked.owned),
        fixings=() if asked.owned else tuple(fixing(one.fastening) for one in joints),
        mass=mass(parts, asked.shop),
        under=mass(leaving_downward(parts, stripping(choice, braced=cage.braced)), asked.shop),
        steps=steps,
    )
    return Built(mold, lined, cage, found, joints, straps, cavity)


def _levels(asked: Asked) -> Levels:
    """What the person asks for of the straps."""
    options = asked.order.mold
    return Levels("strap", options.straps, options.strap_heights, asked.piece.name, asked.units)


def _lifts(lined: Lined, cage: Cage) -> Lifts:
    asked = lined.asked
    weighed = {
        group: mass([part for part in lined.parts if part.group == group], asked.shop)
        for group in (TUBE, CORE)
    }
    return lifts(asked.load, lined.choice, cage, weighed[TUBE], weighed[CORE])


def _cage(lined: Lined) -> Cage:
    """Of the cheapest stick that carries the bar and the braces; of the one strained least where none does."""
    asked, choice = lined.asked, lined.choice
    known, name = asked.shop.sticks, asked.order.mold.stick
    sticks = [named("stick", name, known)] if name else cheap(_slight(stout(known)))
    outer, tall = choice.tube.outer, choice.work.height
    made = [
        Cage(outer, tall, choice.sheet.thickness, stick, wants_braces(outer, tall))
        for stick in sticks
        if name or not wants_braces(outer, tall) or _reaches(stick, tall)
    ] or [Cage(outer, tall, choice.sheet.thickness, sticks[-1], wants_braces(outer, tall))]
    tried: list[tuple[float, Cage]] = []
    for each in made:
        used = _used(lined, each)
        if used <= 1.0:
            return each
        tried.append((used, each))
    return min(tried, key=lambda one: one[0])[1]


def _used(lined: Lined, cage: Cage) -> float:
    """How far a cage is used where it is worst off: its bar, its braces, its joints."""
    verdicts = [one.utilisation for one in cage_verdicts(lined, cage)]
    try:
        joints = [one.used for one in _joints(lined, cage)]
    except StockError:
        return inf
    return max(*verdicts, *joints)


def _joints(lined: Lined, cage: Cage) -> tuple[Held, ...]:
    parts = (*lined.parts, *cage_parts(Planes(), cage))
    return held_joints(_stocks(lined, cage.stick), cage, parts, _lifts(lined, cage))


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
    values = adjust(grade_of_stick(stick, stick.width), section, Service())
    return bar_verdicts(values, section, BarLoad(found.bar, cage.span, reach, reach), PANEL_LIMIT)


def _braces(cage: Cage, found: Lifts) -> tuple[Verdict, ...]:
    if found.thrust is None:
        return ()
    stick = cage.stick
    section = Section(breadth=stick.thickness, depth=stick.width)
    row = grade_of_stick(stick, stick.width)
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
