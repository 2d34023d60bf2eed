"""What a mix is asked to be, and what it is. SI units: kg, m3, kg/m3; ratios by mass unless said."""

from __future__ import annotations

from typing import Literal

from formwork.record import record


@record
class Cement:
    """The cement at hand.

    Attributes:
        name: type as printed on the bag.
        gravity: specific gravity.
        bag: mass of one bag, kg.
        price: of one bag; None where the shop gives none.
    """

    name: str
    gravity: float
    bag: float
    price: float | None = None


@record
class Foam:
    """The foam at hand.

    Attributes:
        density: kg/m3 (= g/L) as it leaves the generator.
        survival: fraction of the foam's air still in the mix once placed, 0 to 1.
        dilution: parts of water to one part of concentrate, by volume.
        output: m3 of foam a second, measured; None where it was not measured.
        reserve: extra solution made up for hose and tank, as a fraction.
        price: of one litre of concentrate; None where the shop gives none.
    """

    density: float
    survival: float
    dilution: float
    output: float | None = None
    reserve: float = 0.1
    price: float | None = None


@record
class Mixer:
    """The mixer at hand.

    Attributes:
        name: how the shop calls it.
        kind: tilting drum, paddle, or drill and tub.
        rated: the volume on its plate, m3.
        rating: what that volume means: the drum's whole volume, or the mix it turns out.
        usable: finished mix (foam in) it really turns out in one batch, m3.
        residue: mix that stays in it after each batch, m3: an amount, not a share.
        least: least finished mix it handles well, m3.
        least_slurry: least slurry its paddles reach, m3.
        tub: finished mix that a second tub holds, in which the foam is blended, m3; 0 where that is done in the mixer.
            The mixer then makes slurry only, and ``usable`` is the slurry that it turns out.
        heaviest: most that one batch may weigh, kg, where it is tipped or carried by hand; 0 where nothing limits it.
    """

    name: str
    kind: Literal["tilting drum", "paddle", "drill and tub"]
    rated: float
    rating: Literal["whole drum", "mixed output"]
    usable: float
    residue: float
    least: float = 0.0
    least_slurry: float = 0.0
    tub: float = 0.0
    heaviest: float = 0.0

    @property
    def holds(self) -> float:
        """Finished mix that the vessel holds in which the foam is blended, m3."""
        return self.tub or self.usable


Split = Literal["equal", "whole bags", "half bags", "bags and a rest", "full"]
"""How a volume of mix is cut into batches."""

AskedSplit = Literal["best", "equal", "whole bags", "half bags", "bags and a rest", "full"]
"""What a person asks for: one of these ways, or the best of them."""


Counts = Literal["cement", "filler", "water"]
"""What an ingredient counts as once the mix is dry: it binds water as cement does, stays as it is, or dries away."""


@record
class Ingredient:
    """Anything that goes into the slurry beside cement and water: a powder, or an admixture by its dose.

    Attributes:
        name: what it is.
        share: over cement, by mass.
        gravity: specific gravity.
        counts: what it counts as once the mix is dry; a liquid admixture counts as water.
    """

    name: str
    share: float
    gravity: float
    counts: Counts = "filler"


@record
class CellularWanted:
    """A cellular mix asked for by its density; one of ``wet_density`` and ``dry_density`` is given.

    Attributes:
        wet_density: as placed, kg/m3.
        dry_density: oven-dry, kg/m3.
        water_cement: water put in the mixer over cement (the foam's water not counted).
        sand: sand over cement.
        ash: fly ash over cement.
        sand_gravity: specific gravity of the sand.
        ash_gravity: specific gravity of the fly ash.
        others: other powders, and admixtures.
        fibres: kg of fibres in each m3 of finished mix.
        fibre_gravity: their specific gravity; polypropylene floats.
        aim: the published class that the density was taken from, in a sentence; empty where none was asked for.
    """

    wet_density: float | None
    dry_density: float | None
    water_cement: float
    sand: float = 0.0
    ash: float = 0.0
    sand_gravity: float = 2.65
    ash_gravity: float = 2.2
    others: tuple[Ingredient, ...] = ()
    fibres: float = 0.0
    fibre_gravity: float = 0.91
    aim: str = ""

    @property
    def ingredients(self) -> tuple[Ingredient, ...]:
        """All that goes into the slurry beside cement and water: sand and fly ash where there are any, the others."""
        usual = (
            Ingredient("sand", self.sand, self.sand_gravity),
            Ingredient("fly ash", self.ash, self.ash_gravity),
        )
        return (*(each for each in usual if each.share > 0.0), *self.others)


Setting = Literal["plain", "retarded or blended", "blended and retarded", "high slag or ash"]
"""What of its cement makes a concrete stiffen late."""


@record
class Vibrated:
    """How ordinary concrete is placed that is vibrated inside the form and stiffens while the form fills.

    Attributes:
        rise: of the concrete in the form, m/s.
        temperature: of the concrete as placed, K.
        slump: m.
        setting: what slows it.
    """

    rise: float
    temperature: float
    slump: float
    setting: Setting


@record
class OrdinaryWanted:
    """An ordinary concrete or mortar whose recipe the person gives, per m3 of fresh mix.

    Attributes:
        wet_density: fresh, kg/m3; None: from the proportions, with the air that is left in it as a rule.
        cement, water, sand, gravel: proportions by mass, in any common unit.
        vibrated: how it is placed, where it stiffens while the forms fill; None for one fluid head.
    """

    wet_density: float | None
    cement: float
    water: float
    sand: float
    gravel: float
    vibrated: Vibrated | None = None


@record
class BaggedWanted:
    """A ready-bagged concrete or mortar, to which only water is added, by what is printed on its bag.

    Attributes:
        name: what it is called on the bag.
        bag: mass of one bag, kg.
        water: that one bag takes, kg.
        yields: fresh mix that one bag makes, m3.
        vibrated: how it is placed, where it stiffens while the forms fill; None for one fluid head.
        price: of one bag; None where none is given.
    """

    name: str
    bag: float
    water: float
    yields: float
    vibrated: Vibrated | None = None
    price: float | None = None


Wanted = CellularWanted | OrdinaryWanted | BaggedWanted
"""A mix as a person asks for it."""


@record
class Mix:
    """One cubic metre of the finished mix.

    Attributes:
        kind: cellular or ordinary.
        wet_density: as placed, kg/m3.
        dry_density: oven-dry, kg/m3 (for ordinary concrete: with 20 % of the cement's mass as bound water).
        slurry_density: before foam, kg/m3.
        water_cement: base ratio, foam water not counted.
        water_cement_total: with the foam's water.
        cement, water, sand, ash, gravel: kg per m3 of finished mix; water is what goes in the mixer.
        foam_volume: m3 of foam per m3.
        foam_mass: kg of foam per m3.
        air: volume of air per volume of mix.
        bag: mass of a cement bag, kg.
        warnings: what a careful reader should know of this mix.
        working: the steps, each a line "value = formula = numbers = result unit".
        vibrated: how it is placed, where it stiffens while the forms fill; None for one fluid head.
        others: other powders, and admixtures, by name, kg per m3 of finished mix.
        fibres: kg per m3 of finished mix.
        water_binder: base ratio over cement and all that counts as cement.
        aim: the published class that its density was taken from, in a sentence; empty where none was asked for.
        dry_mix: what a ready-bagged mix is called; empty for any other, whose bags are of cement.
        bag_price: of one bag of it; None where none is given.
    """

    kind: Literal["cellular", "ordinary"]
    wet_density: float
    dry_density: float
    slurry_density: float
    water_cement: float
    water_cement_total: float
    cement: float
    water: float
    sand: float
    ash: float
    gravel: float
    foam_volume: float
    foam_mass: float
    air: float
    bag: float
    warnings: tuple[str, ...] = ()
    working: tuple[str, ...] = ()
    vibrated: Vibrated | None = None
    others: tuple[tuple[str, float], ...] = ()
    fibres: float = 0.0
    water_binder: float = 0.0
    aim: str = ""
    dry_mix: str = ""
    bag_price: float | None = None

    @property
    def bags(self) -> float:
        """Bags in a cubic metre of finished mix: of cement, or of the ready-bagged mix."""
        return (dict(self.others)[self.dry_mix] if self.dry_mix else self.cement) / self.bag


@record
class FoamCheck:
    """What a full measure of foam must weigh before the first batch.

    Attributes:
        density: of the foam as planned, kg/m3.
        volume: of the measure, m3.
        net: mass of the foam in it, kg.
        low, high: net masses between which the foam is near enough, kg.
        wet_by_volume: wet density that foam at ``high`` gives when put in by volume or time, kg/m3.
        wet_by_weight: the same when it is put in by weight, kg/m3.
    """

    density: float
    volume: float
    net: float
    low: float
    high: float
    wet_by_volume: float
    wet_by_weight: float


@record
class Solution:
    """Foam solution to make up, by volume, the reserve for hose and tank in it.

    Attributes:
        volume: in all, m3.
        concentrate: in it, m3.
        water: in it, m3.
        reserve: how much of all that is reserve, m3.
    """

    volume: float
    concentrate: float
    water: float
    reserve: float


@record
class Batch:
    """One mixer load.

    Attributes:
        volume: finished mix, m3, the mixer's residue included.
        cement, water, sand, ash, gravel: kg; water is what goes in the mixer.
        bags: of cement, or of the ready-bagged mix (a whole number where whole bags were asked for).
        foam_volume: m3.
        foam_mass: kg.
        foam_seconds: running time of the generator; None where its output was not measured.
        concentrate: kg of concentrate in that foam.
        dilution_water: kg of water in that foam.
        reserve_concentrate: kg of concentrate made up beside it, for what stays in hose and tank.
        reserve_water: kg of water in that reserve.
        others: other powders, and admixtures, by name, kg.
        fibres: kg.
    """

    volume: float
    cement: float
    water: float
    sand: float
    ash: float
    gravel: float
    bags: float
    foam_volume: float
    foam_mass: float
    foam_seconds: float | None
    concentrate: float
    dilution_water: float
    reserve_concentrate: float = 0.0
    reserve_water: float = 0.0
    others: tuple[tuple[str, float], ...] = ()
    fibres: float = 0.0


@record
class Way:
    """One way to cut a volume of mix into batches.

    Attributes:
        split: its name.
        sizes: how many batches of each size there are, in their order, m3 of finished mix.
        leftover: mix that neither the molds need nor the mixer keeps, m3.
        bags: cement of one batch in bags, for each size.
        best: of all ways it has the least leftover, then the fewest kinds of batch, then the fewest batches.
        chosen: it is the one that was asked for.
    """

    split: Split
    sizes: tuple[tuple[int, float], ...]
    leftover: float
    bags: tuple[float, ...]
    best: bool = False
    chosen: bool = False


@record
class PieceLift:
    """One lift of a piece: how high above the base it is filled then, m, and its share of the piece's concrete."""

    top: float
    share: float


@record
class PieceToPour:
    """One kind of piece, as the mixer sees it.

    Attributes:
        name: the project's name for it.
        count: how many are wanted.
        molds: how many molds there are for it.
        cavities: how many pieces one mold gives in one filling.
        volume: concrete in one piece, m3 (embedded things taken out).
        least_time: that one mold of it takes to fill, s, where it is braced for concrete that stiffens as it rises; 0
            where it may be filled at any rate.
        lifts: it is filled in, the lowest first, each set before the next goes on; a single one, or none where nobody
            asks how high it is, where it is filled in one go.
    """

    name: str
    count: int
    molds: int
    cavities: int
    volume: float
    least_time: float = 0.0
    lifts: tuple[PieceLift, ...] = ()


@record
class Times:
    """How long work takes in this shop, s; the figures here are common practice without a source.

    Attributes:
        mixing: loading and mixing the slurry of one batch.
        blending: blending the foam of one batch in.
        placing: of one batch.
        workable: how long mix may still be moved after its foam went in: a shop's 15 to 20 minutes.
        next_lift: until the next lift may go on: 8 to 12 hours at 15 C and over (a trade page).
        strip: until cellular concrete may leave its mold: the careful end of 24 to 48 hours, longer below 15 C.
        turn_round: to take the molds off and have them cleaned, oiled and set up for the next pour.
        cover: that pieces stay under film after they were cast.
        day: working hours in a day.
    """

    mixing: float = 240.0
    blending: float = 120.0
    placing: float = 300.0
    workable: float = 900.0
    next_lift: float = 43_200.0
    strip: float = 172_800.0
    turn_round: float = 7_200.0
    cover: float = 604_800.0
    day: float = 28_800.0


@record
class MoldFill:
    """How long the first mix in a mold waits until the mold is full.

    Attributes:
        name: of the piece cast in the mold.
        first, last: batches that go into it, the first batch being 1.
        seconds: from the first foam in the first of them until the last is placed.
        ahead: the same where each slurry is mixed while the batch before is being placed.
    """

    name: str
    first: int
    last: int
    seconds: float
    ahead: float


@record
class SlowFill:
    """A mold that must not be filled faster than it is braced for.

    Attributes:
        name: of the piece cast in the mold.
        batches: that go into it, whole or in part.
        least: from the first concrete in it until it is full, s.
        wait: what that adds to the time that its batches take anyway, s.
    """

    name: str
    batches: int
    least: float
    wait: float


@record
class Timing:
    """The time of one pour, s.

    Attributes:
        batch: the longest that one batch takes, from loading it until it is placed.
        foaming: the longest run of the generator for one batch; 0 where its output was not measured.
        foaming_known: the generator's output was measured, or no foam is used.
        total: of the whole pour, one batch after another, with the waits of the molds that are filled slowly.
        age: the longest that a batch waits from its first foam until the whole of it is placed.
        slowest: the mold whose first mix waits longest.
        in_time: that mix is still workable then, as far as the times are known; true where there is no foam.
        slow: the molds that must not be filled faster than they are braced for, in their order.
    """

    batch: float
    foaming: float
    foaming_known: bool
    total: float
    age: float
    slowest: MoldFill
    in_time: bool
    slow: tuple[SlowFill, ...] = ()


@record
class LeftoverMold:
    """A small mold kept for mix that is left over.

    Attributes:
        name: how the shop calls it.
        volume: mix that one holds, m3.
        count: how many there are, free at every pour.
    """

    name: str
    volume: float
    count: int = 1


@record
class PourLift:
    """One lift of a pour: what is mixed and placed in one go and then left to set.

    Attributes:
        number: first lift is 1.
        tops: names of the pieces whose molds take it, and how high above the base each is filled then, m.
        volume: mix that must reach the molds in it, m3.
        first, last: batches of the pour that are its own, the pour's first batch being 1.
        leftover: mix made for it that neither the molds need nor the mixer keeps, m3.
        solution: foam solution to make up for it; None where it takes no foam.
        put_away: leftover molds that its leftover fills, by name; those of the lifts below it are full still.
        remains: leftover that fits none of them, m3.
        timing: how long it takes; None where the shop's times are not known.
        ways: all ways to cut it into batches, the best one first.
    """

    number: int
    tops: tuple[tuple[str, float], ...]
    volume: float
    first: int
    last: int
    leftover: float = 0.0
    solution: Solution | None = None
    put_away: tuple[tuple[str, int], ...] = ()
    remains: float = 0.0
    timing: Timing | None = None
    ways: tuple[Way, ...] = ()


@record
class Pour:
    """One filling of the molds.

    Attributes:
        number: first pour is 1.
        pieces: pieces cast in it, by name.
        volume: mix that must reach the molds, m3 (overfill and loss included).
        batches: the mixer loads, in order.
        leftover: mix made that neither the molds need nor the mixer keeps, m3.
        solution: foam solution to make up for it; None where it takes no foam.
        put_away: leftover molds that its leftover fills, by name, in the order in which they are filled.
        remains: leftover that fits none of them, m3; all of it where the shop has none.
        timing: how long it takes, waiting for lifts to set left out; None where the shop's times are not known.
        ways: all ways to cut it into batches, the best one first; of a pour in lifts each lift has its own.
        lifts: that it is placed in, each set before the next goes on; none where all is placed in one go.
    """

    number: int
    pieces: tuple[tuple[str, int], ...]
    volume: float
    batches: tuple[Batch, ...]
    leftover: float = 0.0
    solution: Solution | None = None
    put_away: tuple[tuple[str, int], ...] = ()
    remains: float = 0.0
    timing: Timing | None = None
    ways: tuple[Way, ...] = ()
    lifts: tuple[PourLift, ...] = ()


@record
class Totals:
    """What a run of batches takes altogether.

    Attributes:
        volume: finished mix made, m3.
        cement, water, sand, ash, gravel: kg; water is what goes in the mixer.
        bags: whole bags of cement to have on hand.
        foam_volume: m3.
        foam_mass: kg.
        concentrate: kg, the reserve for hose and tank included.
        dilution_water: kg, the reserve for hose and tank included.
        others: other powders, and admixtures, by name, kg.
        fibres: kg.
    """

    volume: float
    cement: float
    water: float
    sand: float
    ash: float
    gravel: float
    bags: int
    foam_volume: float
    foam_mass: float
    concentrate: float
    dilution_water: float
    others: tuple[tuple[str, float], ...] = ()
    fibres: float = 0.0


@record
class Card:
    """A batch card: a volume of mix with no mold behind it.

    Attributes:
        volume: asked for, m3.
        mixed: that must leave the mixer, m3 (overfill and loss included).
        mix: one cubic metre of it.
        batches: the mixer loads, in order.
        totals: what they take altogether.
        leftover: mix made that is neither asked for nor kept by the mixer, m3.
        cautions: what to mind while mixing.
        ways: all ways to cut it into batches, the best one first.
        put_away: leftover molds that its leftover fills, by name, in the order in which they are filled.
        remains: leftover that fits none of them, m3; all of it where the shop has none.
    """

    volume: float
    mixed: float
    mix: Mix
    batches: tuple[Batch, ...]
    totals: Totals
    leftover: float
    cautions: tuple[str, ...]
    ways: tuple[Way, ...] = ()
    put_away: tuple[tuple[str, int], ...] = ()
    remains: float = 0.0
