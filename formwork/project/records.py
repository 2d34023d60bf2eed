"""What a project and a shop say, read and checked. SI units inside; the person's units are kept for printing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from formwork.mix.pour_records import LeftoverMold, Times
from formwork.mix.records import AskedSplit, Cement, Foam, Mixer, Wanted
from formwork.record import record
from formwork.shapes.parameters import Keys
from formwork.stock.records import Ground, HardwareStock, Saw, SheetStock, StickStock, StrapStock
from formwork.stock.tubes import TubeStock

if TYPE_CHECKING:
    from formwork.pour.measure import Cup

UnitSystem = Literal["in", "mm"]
TubeOff = Literal["cut away", "slit", "drawn"]
"""A tube is cut away at every piece, slit along one line and strapped for many, or drawn off whole."""
CoreOut = Literal["slit", "wrapped", "split", "left in"]
"""A core tube springs in along a slit, slides out of a soft wrap, is sawn in halves, or stays in the piece."""


@record
class OwnedMold:
    """A mold the shop already has: its as-built inside sizes, and what it was built for."""

    name: str
    shape: str
    parameters: Keys


@record
class Shop:
    """What this shop owns and how it works.

    Attributes:
        name: of the shop.
        units: what bare numbers in its file mean, and what is printed unless the project says otherwise.
        currency: sign or code printed before a price.
        sheets, sticks, hardware: stock with prices, offcuts on hand among them.
        saw: kerf and trims.
        mixer, foam, cement: what the mix is made with.
        owned: molds it already has.
        assumed: what was not in its file and was taken from the built-in defaults, as lines a person can read.
        pipes: pipe with prices, in the lengths it is sold in.
        pipes_assumed: what was taken from the built-in defaults of pipe; of interest only where pipe is used.
        leftover_molds: small molds for mix that is left over, the preferred one first.
        times: how long its work takes.
        straps: straps that go round molds, with what their labels say.
        tubes: tubes that round pieces are cast in, in the lengths they are sold in.
        tubes_assumed: what was taken from the built-in defaults of tubes; of interest only where a tube is used.
        cup: the weighing cup and the scale; None where its file names none.
        ground: that stakes are driven into; None where nothing is counted on.
    """

    name: str
    units: UnitSystem
    currency: str
    sheets: tuple[SheetStock, ...]
    sticks: tuple[StickStock, ...]
    hardware: tuple[HardwareStock, ...]
    saw: Saw
    mixer: Mixer
    foam: Foam
    cement: Cement
    owned: tuple[OwnedMold, ...]
    assumed: tuple[str, ...]
    pipes: tuple[StickStock, ...] = ()
    pipes_assumed: tuple[str, ...] = ()
    leftover_molds: tuple[LeftoverMold, ...] = ()
    times: Times = Times()
    tubes: tuple[TubeStock, ...] = ()
    straps: tuple[StrapStock, ...] = ()
    tubes_assumed: tuple[str, ...] = ()
    cup: Cup | None = None
    ground: Ground | None = None


@record
class MoldOptions:
    """How the molds of one piece are to be built; None where the program chooses.

    Attributes:
        method: "panelled", or another that suits the shape.
        joint: lapped (one pair of sides runs past the other) or mitred.
        sides: which pair runs past: "long" or "short".
        base: panels stand on the base, or run past its edges.
        sheet: name of the sheet for panels; None: chosen.
        stick: name of the stick for cleats and rails; None: chosen.
        uses: fillings the mold is built for; None: as many as the project needs, culls included.
        lift: greatest height of a lift that has set before the next goes on, m; None: filled in one go.
        design_density: of a heavier mix that the mold must hold as well, kg/m3; None: of the project's mix alone.
        owned: name of a mold the shop has.
        skin: name of the sheet that is bent; None: chosen.
        tube: name of the tube it is cast in; None: chosen.
        strap: name of the strap round it; None: chosen.
        ribs: how many ribs a dome's form has all round; None: chosen.
        edge: how layers are cut: square, in steps, or bevelled to the profile; None: chosen.
        core: of what a core that stands is made: discs laid up, or mortar struck to the profile; None: laid up.
        tube_off: how the tube leaves its piece; None: cut away.
        core_tube: name of the tube or pipe that keeps a round hollow free; None: chosen.
        core_out: how that one leaves the piece; None: slit where it can be.
        rails: on each side, those at foot and rim counted; None, here and below: as many as hold.
        rail_heights: of the middles of the rails between foot and rim, m above the base.
        corner_screws: screws or bolts at each corner of flat panels.
        core_ribs: ribs, or plates, that stiffen each core between its two ends.
        rings: round each straight side of a wrapped mold, those at its two ends counted.
        ring_heights: of the middles of the rings between the ends of a side, m above the base.
        straps: round a tube that is slit.
        strap_heights: of those straps, m above the plate.
        ear_bolts: in each row of ears of rings that part in two halves.
        blocks_apart: greatest distance between the blocks behind a strip, m.
        purlins: levels of purlins between the springing of a dome and its crown.
        rib_depth: of a dome's ribs, m.
        skin_layers: sheets laid up into the skin of a dome's form.
        rods: tie rods that hold the outer form of a dome down.
        seam_bolts: in each seam of that outer form.
    """

    method: str = "panelled"
    joint: Literal["lapped", "mitred"] = "lapped"
    sides: Literal["long", "short"] = "long"
    base: Literal["stands on", "runs past"] = "stands on"
    sheet: str | None = None
    stick: str | None = None
    uses: int | None = None
    owned: str | None = None
    skin: str | None = None
    tube: str | None = None
    strap: str | None = None
    ribs: int | None = None
    edge: Literal["square", "bevelled"] | None = None
    core: Literal["laid up", "struck"] | None = None
    tube_off: TubeOff | None = None
    core_tube: str | None = None
    core_out: CoreOut | None = None
    lift: float | None = None
    design_density: float | None = None
    rails: int | None = None
    rail_heights: tuple[float, ...] | None = None
    corner_screws: int | None = None
    core_ribs: int | None = None
    rings: int | None = None
    ring_heights: tuple[float, ...] | None = None
    straps: int | None = None
    strap_heights: tuple[float, ...] | None = None
    ear_bolts: int | None = None
    blocks_apart: float | None = None
    purlins: int | None = None
    rib_depth: float | None = None
    skin_layers: int | None = None
    rods: int | None = None
    seam_bolts: int | None = None


METHODS_WITH: dict[str, tuple[str, ...]] = {
    "joint": ("panelled",),
    "sides": ("panelled",),
    "base": ("panelled",),
    "skin": ("wrapped", "edged", "ribbed"),
    "tube": ("tube",),
    "strap": ("wrapped", "tube"),
    "ribs": ("ribbed",),
    "edge": ("stacked",),
    "core": ("stacked",),
    "tube_off": ("tube",),
    "core_tube": ("tube",),
    "core_out": ("tube",),
    "rails": ("panelled",),
    "rail_heights": ("panelled",),
    "corner_screws": ("panelled",),
    "core_ribs": ("panelled", "wrapped"),
    "rings": ("wrapped",),
    "ring_heights": ("wrapped",),
    "straps": ("tube",),
    "strap_heights": ("tube",),
    "ear_bolts": ("stacked",),
    "blocks_apart": ("edged",),
    "purlins": ("ribbed",),
    "rib_depth": ("ribbed",),
    "skin_layers": ("ribbed",),
    "rods": ("ribbed",),
    "seam_bolts": ("ribbed",),
}
"""Mold options that not every method has a use for, and the methods that have."""

BRACING = (
    "rails", "rail_heights", "corner_screws", "core_ribs", "rings", "ring_heights", "straps", "strap_heights",
    "ear_bolts", "blocks_apart", "purlins", "rib_depth", "skin_layers", "rods", "seam_bolts",
)  # fmt: skip
"""Mold options that fix what the program otherwise chooses for the mix."""
COUNT_OR_HEIGHTS = (("rails", "rail_heights"), ("rings", "ring_heights"), ("straps", "strap_heights"))
"""Pairs of them that say the same thing twice."""


@record
class PieceOrder:
    """One kind of piece to cast.

    Attributes:
        name: what the project calls it.
        shape: name of the shape.
        parameters: the shape's own parameters, checked.
        count: how many are wanted.
        molds: how many molds are built for it.
        mold: how they are built.
        where: file and line of its table, for messages; empty where there is no file.
        spares: how many more of each different piece are cast, for culls and spares.
    """

    name: str
    shape: str
    parameters: Keys
    count: int
    molds: int
    mold: MoldOptions
    where: str = ""
    spares: int = 0

    @property
    def cast(self) -> int:
        """How many are cast: those wanted, culls and spares."""
        return self.count + self.spares


@record
class BatchRules:
    """How batches are cut to size.

    Attributes:
        split: the best way, or equal batches, bags of cement, or full batches with a last part-batch.
        overfill: mix above the molds' volume, for striking off, as a fraction.
        loss: mix lost between mixer and mold, as a fraction.
    """

    split: AskedSplit
    overfill: float
    loss: float


@record
class Project:
    """One project file, read and checked, with its shop.

    Attributes:
        path: the file, as given; empty where there is none.
        title: what is printed on every page.
        units: what a bare number in the file means, and what is printed.
        orders: the pieces and frames.
        mix: the mix asked for; None where nothing is cast.
        batches: how batches are cut to size.
        shop: the shop.
        notes: what the reader should know ("no shop file: built-in stock").
    """

    path: str
    title: str
    units: UnitSystem
    orders: tuple[PieceOrder, ...]
    mix: Wanted | None
    batches: BatchRules
    shop: Shop
    notes: tuple[str, ...] = ()
