"""The tables of a project file, key by key: unit, range, default and one line of meaning.

Annotations are evaluated at once here, without ``from __future__ import annotations``: pydantic would compile each
of those texts again, which every command would pay for when it starts.
"""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from formwork.units.fields import number, quantity, text, whole
from formwork.units.show import UnitSystem

Name = Annotated[str, text(60)]
Heights = Annotated[
    tuple[Annotated[float, quantity("length", 0.0, 12.0)], ...], Field(min_length=1, max_length=60)
]
"""Heights above the base of a mold, one or more."""


class Table(BaseModel):
    """What every table of ours shares: frozen, and no unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)


class MoldTable(Table):
    """``[piece.mold]``: how the molds of one piece are built; what is left out the program chooses."""

    method: Name | None = Field(
        default=None, description="how it is built; the shape's usual way if left out"
    )
    joint: Literal["lapped", "mitred"] = Field(
        default="lapped", description="corners: one pair of sides runs past the other, or all are mitred"
    )
    sides: Literal["long", "short"] = Field(
        default="long", description="which pair runs past in a lapped joint"
    )
    base: Literal["stands on", "runs past"] = Field(
        default="stands on", description="the sides stand on the base, or run past its edges"
    )
    sheet: Name | None = Field(default=None, description="name of the sheet for panels; chosen if left out")
    stick: Name | None = Field(default=None, description="name of the stick for cleats; chosen if left out")
    uses: Annotated[int, whole(1, 10_000)] | None = Field(
        default=None, description="fillings the mold is built for; as many as the project needs if left out"
    )
    owned: Name | None = Field(default=None, description="name of a mold the shop already has")
    lift: Annotated[float, quantity("length", 0.05, 10.0)] | None = Field(
        default=None,
        description="greatest height of a lift, each set before the next goes on; filled in one go if left out",
    )
    design_density: Annotated[float, quantity("density", 250, 4000)] | None = Field(
        default=None, description="heavier mix that the mold must hold too; the project's own mix if left out"
    )
    skin: Name | None = Field(
        default=None, description="name of the sheet that is bent round a mold; chosen if left out"
    )
    tube: Name | None = Field(default=None, description="name of the tube it is cast in; chosen if left out")
    tube_off: Literal["cut away", "slit", "drawn"] | None = Field(
        default=None,
        description="how the tube leaves each piece; cut away if left out, a new one for each piece",
    )
    core_tube: Name | None = Field(
        default=None, description="name of the tube or pipe that keeps the hollow free; chosen if left out"
    )
    core_out: Literal["slit", "wrapped", "split", "left in"] | None = Field(
        default=None,
        description="how that tube leaves the piece, or stays in it; by what it is made of if left out",
    )
    strap: Name | None = Field(
        default=None, description="name of the strap round the mold; chosen if left out"
    )
    ribs: Annotated[int, whole(3, 400)] | None = Field(
        default=None, description="ribs of a dome's form, all round; as many as its skin needs if left out"
    )
    edge: Literal["square", "bevelled"] | None = Field(
        default=None,
        description="how the edges of layers are cut: square, in steps, or bevelled to the profile; chosen if left out",
    )
    core: Literal["laid up", "struck"] | None = Field(
        default=None,
        description="a standing turned core: laid up of discs, or struck of mortar; laid up if left out",
    )
    rails: Annotated[int, whole(1, 60)] | None = Field(
        default=None, description="rails on each side, at foot and rim too; as few as hold if left out"
    )
    rail_heights: Heights | None = Field(
        default=None, description="heights of the rails between foot and rim, instead of their number"
    )
    corner_screws: Annotated[int, whole(1, 200)] | None = Field(
        default=None, description="screws or bolts at each corner; as many as hold if left out"
    )
    core_ribs: Annotated[int, whole(0, 60)] | None = Field(
        default=None, description="ribs inside each core, between its ends; as few as hold if left out"
    )
    rings: Annotated[int, whole(1, 60)] | None = Field(
        default=None,
        description="rings round each straight side, at its ends too; as few as hold if left out",
    )
    ring_heights: Heights | None = Field(
        default=None, description="heights of the rings between those ends, instead of their number"
    )
    straps: Annotated[int, whole(1, 200)] | None = Field(
        default=None, description="straps round a slit tube; as few as hold if left out"
    )
    strap_heights: Heights | None = Field(
        default=None, description="heights of those straps, instead of their number"
    )
    ear_bolts: Annotated[int, whole(1, 200)] | None = Field(
        default=None, description="bolts in each row of ears; as many as hold if left out"
    )
    blocks_apart: Annotated[float, quantity("length", 0.085, 2.0)] | None = Field(
        default=None,
        description="greatest distance between the blocks behind a strip; what it spans if left out",
    )
    purlins: Annotated[int, whole(0, 60)] | None = Field(
        default=None,
        description="levels of purlins between springing and crown; as the skin's joints ask if left out",
    )
    rib_depth: Annotated[float, quantity("length", 0.06, 0.6)] | None = Field(
        default=None, description="depth of the ribs; a fourteenth of the radius if left out"
    )
    skin_layers: Annotated[int, whole(1, 4)] | None = Field(
        default=None, description="layers of the skin; as the ribs ask if left out"
    )
    rods: Annotated[int, whole(3, 400)] | None = Field(
        default=None, description="tie rods that hold the outer form down; as many as hold if left out"
    )
    seam_bolts: Annotated[int, whole(2, 400)] | None = Field(
        default=None, description="bolts in each seam of the outer form; as many as hold if left out"
    )


class PieceTable(Table):
    """``[[piece]]``: one kind of piece; the shape's own keys stand in the same table."""

    name: Name | None = Field(default=None, description="what it is called; the shape's name if left out")
    shape: Name = Field(description="name of the shape")
    count: Annotated[int, whole(1, 100_000)] = Field(default=1, description="how many are wanted")
    spares: Annotated[int, whole(0, 10_000)] = Field(
        default=0, description="how many more of each different piece are cast, for culls and spares"
    )
    molds: Annotated[int, whole(1, 1000)] = Field(default=1, description="how many molds are built for it")
    mold: MoldTable = Field(default_factory=MoldTable.model_construct, description="how its molds are built")


class IngredientTable(Table):
    """``[[mix.ingredient]]``: another powder, or an admixture by its dose."""

    name: Name = Field(description="what the ingredient is")
    share: Annotated[float, quantity("ratio", 0.00001, 3)] = Field(
        description="its mass over the cement's; an admixture's dose"
    )
    gravity: Annotated[float, number(0.5, 9)] = Field(description="its specific gravity")
    counts: Literal["cement", "filler", "water"] = Field(
        default="filler",
        description="what it counts as: cement (it binds water), filler (it stays as it is), water (it dries away)",
    )


class CellularTable(Table):
    """``[mix]``, kind cellular: a mix asked for by its density."""

    kind: Literal["cellular"] = Field(default="cellular", description="cellular (foamed) concrete")
    wet_density: Annotated[float, quantity("density", 250, 2000)] | None = Field(
        default=None, description="as placed; give this, dry_density or an aim"
    )
    dry_density: Annotated[float, quantity("density", 200, 1900)] | None = Field(
        default=None, description="oven-dry; give this, wet_density or an aim"
    )
    aim_class: Name | None = Field(
        default=None, description="a published class instead, for its density; indicative, never a promise"
    )
    aim_strength: Annotated[float, quantity("pressure", 1e4, 3e7)] | None = Field(
        default=None,
        description="take the lightest published class of this strength; indicative, never a promise",
    )
    aim_conductivity: Annotated[float, number(0.05, 1)] | None = Field(
        default=None,
        description="take the heaviest published class that conducts no more, W/(m K); indicative, never a promise",
    )
    water_cement: Annotated[float, number(0.3, 1.25)] = Field(
        default=0.5, description="water put in the mixer over cement, by mass; the foam's water not counted"
    )
    sand: Annotated[float, number(0, 5)] = Field(default=0.0, description="sand over cement, by mass")
    ash: Annotated[float, number(0, 3)] = Field(default=0.0, description="fly ash over cement, by mass")
    sand_gravity: Annotated[float, number(2.0, 3.2)] = Field(
        default=2.65, description="specific gravity of the sand"
    )
    ash_gravity: Annotated[float, number(1.8, 3.0)] = Field(
        default=2.2, description="specific gravity of the fly ash"
    )
    fibres: Annotated[float, quantity("density", 0, 200)] = Field(
        default=0.0, description="mass of fibres in each cubic metre or yard of finished mix"
    )
    fibre_gravity: Annotated[float, number(0.8, 9)] = Field(
        default=0.91, description="specific gravity of the fibres; polypropylene 0.91, glass 2.6, steel 7.85"
    )
    ingredient: tuple[IngredientTable, ...] = Field(
        default=(), description="other powders and admixtures, one table each"
    )


class PlacedTable(Table):
    """What is said of ordinary concrete that is vibrated in the forms; the keys of every kind of it."""

    rise_per_hour: Annotated[float, quantity("length", 0.1, 10.0)] | None = Field(
        default=None,
        description="how far it rises in the forms in an hour, vibrated inside them; full liquid head if left out",
    )
    placed_at: Annotated[float, quantity("temperature", 278.15, 310.65)] | None = Field(
        default=None, description="temperature of the concrete as placed; goes with rise_per_hour"
    )
    slump: Annotated[float, quantity("length", 0.0, 0.175)] | None = Field(
        default=None, description="slump of the concrete; goes with rise_per_hour"
    )
    setting: Literal["plain", "retarded or blended", "blended and retarded", "high slag or ash"] = Field(
        default="plain", description="what slows its setting; counts with rise_per_hour"
    )


class OrdinaryTable(PlacedTable):
    """``[mix]``, kind ordinary: a concrete or mortar whose recipe the person gives."""

    kind: Literal["ordinary"] = Field(description="ordinary concrete or mortar")
    wet_density: Annotated[float, quantity("density", 1000, 3000)] | None = Field(
        default=None, description="fresh density; from the proportions, with 2 % of air, if left out"
    )
    cement: Annotated[float, number(0.01, 10_000)] = Field(description="parts of cement by mass")
    water: Annotated[float, number(0.01, 10_000)] = Field(description="parts of water by mass")
    sand: Annotated[float, number(0, 10_000)] = Field(default=0.0, description="parts of sand by mass")
    gravel: Annotated[float, number(0, 10_000)] = Field(default=0.0, description="parts of gravel by mass")


class BaggedTable(PlacedTable):
    """``[mix]``, kind bagged: a ready-bagged concrete or mortar, by what is printed on its bag."""

    kind: Literal["bagged"] = Field(description="ready-bagged concrete or mortar")
    name: Name = Field(default="ready-bagged mix", description="what it is called on the bag")
    bag: Annotated[float, quantity("mass", 0.5, 2000)] = Field(description="mass of one bag")
    water: Annotated[float, quantity("volume", 1e-5, 1)] = Field(description="water that one bag takes")
    yields: Annotated[float, quantity("volume", 1e-4, 2)] = Field(
        description="fresh mix that one bag makes, as printed on it"
    )
    price: Annotated[float, number(0, 1e6)] | None = Field(default=None, description="of one bag of it")


class BatchesTable(Table):
    """``[batches]``: how the mix of a pour is cut into mixer loads."""

    split: Literal["best", "equal", "whole bags", "half bags", "bags and a rest", "full"] = Field(
        default="best",
        description="the best way, or equal batches, bags, half bags, bags and a weighed rest, or full and a last part",
    )
    overfill: Annotated[float, quantity("ratio", 0, 0.5)] = Field(
        default=0.03, description="mix above the molds' volume, for striking off"
    )
    loss: Annotated[float, quantity("ratio", 0, 0.5)] = Field(
        default=0.02, description="mix lost between mixer and mold"
    )


class ProjectTable(Table):
    """The project file; ``[mix]`` and ``[[piece]]`` are checked apart, by what they say they are."""

    title: Annotated[str, text(100)] | None = Field(
        default=None, description="printed on every page; the file's name if left out"
    )
    units: UnitSystem | None = Field(
        default=None, description="what a bare number means; without it every size carries its unit"
    )
    shop: Annotated[str, text(500)] | None = Field(
        default=None, description="the shop file, beside this file; built-in stock if left out"
    )
    batches: BatchesTable = Field(
        default_factory=BatchesTable.model_construct, description="how a pour is cut into mixer loads"
    )
