"""What is poured: batches and how they are cut, foam and solution, times, lifts, pours, totals."""

from __future__ import annotations

from formwork.mix.records import Mix, Split
from formwork.record import record


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
