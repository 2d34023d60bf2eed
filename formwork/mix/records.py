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
