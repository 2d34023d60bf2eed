"""The ribbed method: a dome's form of radial ribs, purlins and flat-bent gores, inside only, or inside and outside.

What the shell decides comes first: how it is placed, and with what pressure or weight; then every part follows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from formwork.errors import GeometryError
from formwork.geometry.planes import Planes
from formwork.molds.asked import Asked
from formwork.molds.dome.bought import bought, fixings
from formwork.molds.dome.cavity import Enclosed, enclosed
from formwork.molds.dome.choice import decide, shell_of
from formwork.molds.dome.doors import bucks
from formwork.molds.dome.form import DomeForm
from formwork.molds.dome.formed import formed_volume
from formwork.molds.dome.gores import skins, upper_end
from formwork.molds.dome.loads import most_bolts
from formwork.molds.dome.purlins import purlins, straps
from formwork.molds.dome.ribs import ribs
from formwork.molds.dome.rings import base, crown, curb, soles, wedges
from formwork.molds.dome.strip import stripping
from formwork.molds.dome.words import assembly, instructions, notes
from formwork.molds.gluing import glue_line, plies
from formwork.molds.hardware import consumables, gathered
from formwork.molds.label import limits
from formwork.molds.mold import Mold, Part
from formwork.molds.weighing import mass
from formwork.project.records import PieceOrder
from formwork.record import record
from formwork.shapes.body import piece_volume
from formwork.strength.customary import GRAVITY


@record
class Lined:
    """A dome's form as decided, before its parts are counted and held.

    Attributes:
        asked: what is wanted.
        form: ribs, skin, sections, and where everything stands.
    """

    asked: Asked
    form: DomeForm

    @property
    def order(self) -> PieceOrder:
        """What is wanted."""
        return self.asked.order

    @property
    def layers(self) -> int:
        """A dome is cast alone: there are no dividers."""
        return 1


@record
class DomeMold:
    """A dome's mold, and what its checks must know.

    Attributes:
        mold: what every output reads.
        lined: the stage before.
        cavity: what the parts enclose.
        outer_weight: of the outer form, N; 0 where there is none.
    """

    mold: Mold
    lined: Lined
    cavity: Enclosed
    outer_weight: float

    @property
    def order(self) -> PieceOrder:
        """What is wanted."""
        return self.lined.order

    @property
    def form(self) -> DomeForm:
        """The form as decided."""
        return self.lined.form

    @property
    def leaks(self) -> tuple[str, ...]:
        """Every place where the mix would run out, as a line."""
        return self.cavity.leaks


def lined(asked: Asked) -> Lined:
    """A dome's form as decided.

    Raises:
        GeometryError: where the dome or its form cannot be built, or a fluid mix would run off an open form.
        StockError: where the shop has nothing to build it from.
    """
    if asked.order.mold.lift is not None and shell_of(asked).placed == "stiff":
        raise GeometryError(
            f"{asked.piece.name}: mold.lift: a stiff mix is built up by hand and never fresh as one head; leave it out"
        )
    if asked.load.cellular and shell_of(asked).placed == "stiff":
        raise GeometryError(
            f"{asked.piece.name}: placing: a foamed mix is fluid and runs off a form that is open above; say "
            'placing = "fluid between two forms", or give [mix] kind = "ordinary", stiff enough to be built up by hand'
        )
    form = decide(asked)
    _refuse_idle(asked, form)
    return Lined(asked, form)


def _refuse_idle(asked: Asked, form: DomeForm) -> None:
    """Rods and bolts of an outer form that is not there, or that find no room.

    Raises:
        GeometryError: where they are asked for.
    """
    options, name = asked.order.mold, asked.piece.name
    for key, count in (("rods", options.rods), ("seam_bolts", options.seam_bolts)):
        if count is None:
            continue
        if not form.fluid:
            raise GeometryError(
                f"{name}: mold.{key}: got {count}, want nothing: there is no outer form to hold"
            )
        most = form.count if key == "rods" else most_bolts(form)
        if count > most:
            why = "there is one at each rib at the most" if key == "rods" else "more find no room in a seam"
            raise GeometryError(f"{name}: mold.{key}: got {count}, want at most {most}: {why}")


def brace(lined: Lined) -> DomeMold:
    """The mold: every part, what fastens it, what it encloses, how it comes out.

    Raises:
        GeometryError: where a part has no room.
    """
    form, asked = lined.form, lined.asked
    parts = tuple(_parts(form))
    found, formed = enclosed(form, parts), formed_volume(form)
    if formed <= 0.0:
        raise GeometryError(f"{form.piece.name}: nothing is left to cast; the doorways take the whole shell")
    outside = mass((part for part in parts if part.group.startswith("outer")), asked.shop)
    weight = GRAVITY * outside
    some = () if asked.owned else fixings(form, parts, asked.load, asked.shop.hardware)
    steps, locked = stripping(form, parts)
    area, seam = _wetted(form), _seams(form, parts)
    together = assembly(form, asked.load, weight, parts)
    nominal = piece_volume(Planes(), form.piece)
    piece = replace(form.piece, notes=(*form.piece.notes, *notes(form, nominal, formed)))
    mold = Mold(
        name=f"{asked.order.name} mold",
        method=asked.order.mold.method,
        piece=piece,
        planes=form.planes,
        parts=parts,
        hardware=(
            *(() if asked.owned else gathered(bought(form, some, asked.load, weight))),
            *(() if asked.owned else glue_line({"plies of ribs and rings": plies(parts, "rib", "ring")})),
            *consumables(area, seam, asked.uses),
        ),
        cavity=found.volume,
        nominal=formed,
        stripping=steps,
        locked=locked,
        wetted=area,
        seams=seam,
        uses=asked.uses,
        lifts=asked.load.lifts,
        limits=limits(asked.load, asked.units),
        owned=asked.owned,
        copies=asked.order.molds,
        instructions=instructions(form, asked.load, together, owned=asked.owned),
        fixings=some,
        mass=outside + mass((part for part in parts if not part.group.startswith("outer")), asked.shop),
        under=0.0,
        steps=together,
    )
    return DomeMold(mold, lined, found, weight)


def _parts(form: DomeForm) -> Iterator[Part]:
    for side in form.sides:
        yield from ribs(form, side)
        yield from skins(form, side)
        yield from purlins(form, side)
        yield from crown(form, side)
    yield from straps(form)
    yield from soles(form)
    yield from wedges(form)
    yield from base(form)
    yield from curb(form)
    yield from bucks(form)


def _wetted(form: DomeForm) -> float:
    """Area that the mix touches, m2, doorways not taken off."""
    found = 0.0
    for side in form.sides:
        face = form.face(side)
        found += face.area(upper_end(form, side), face.springing)
    return found


def _seams(form: DomeForm, parts: Sequence[Part]) -> float:
    """Length of seam to seal, m: along every gore, round the springing and the crown, and at doorways."""
    along = 0.0
    for side in form.sides:
        face = form.face(side)
        along += form.count * face.length(upper_end(form, side), face.springing)
        along += 6.3 * (face.r(face.springing) + form.top)
    return along + sum(part.blank.length for part in parts if part.role == "board")
