"""The tables of a project file and of a shop file, key by key: unit, range, default and one line of meaning."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from formwork.stock.records import Material
from formwork.units.fields import Money, number, quantity, text, whole
from formwork.units.show import UnitSystem

Price = Annotated[float, Money()]
Name = Annotated[str, text(60)]
SheetSide = Annotated[float, quantity("length", 0.1, 6.5)]


class Table(BaseModel):
    """What every table of ours shares: frozen, and no unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid")


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


class PieceTable(Table):
    """``[[piece]]``: one kind of piece; the shape's own keys stand in the same table."""

    name: Name | None = Field(default=None, description="what it is called; the shape's name if left out")
    shape: Name = Field(description="name of the shape")
    count: Annotated[int, whole(1, 100_000)] = Field(default=1, description="how many are wanted")
    molds: Annotated[int, whole(1, 1000)] = Field(default=1, description="how many molds are built for it")
    mold: MoldTable = Field(default=MoldTable(), description="how its molds are built")


class CellularTable(Table):
    """``[mix]``, kind cellular: a mix asked for by its density."""

    kind: Literal["cellular"] = Field(default="cellular", description="cellular (foamed) concrete")
    wet_density: Annotated[float, quantity("density", 250, 2000)] | None = Field(
        default=None, description="as placed; give this or dry_density"
    )
    dry_density: Annotated[float, quantity("density", 200, 1900)] | None = Field(
        default=None, description="oven-dry; give this or wet_density"
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


class OrdinaryTable(Table):
    """``[mix]``, kind ordinary: a concrete or mortar whose recipe the person gives."""

    kind: Literal["ordinary"] = Field(description="ordinary concrete or mortar")
    wet_density: Annotated[float, quantity("density", 1000, 3000)] = Field(description="fresh density")
    cement: Annotated[float, number(0.01, 10_000)] = Field(description="parts of cement by mass")
    water: Annotated[float, number(0.01, 10_000)] = Field(description="parts of water by mass")
    sand: Annotated[float, number(0, 10_000)] = Field(default=0.0, description="parts of sand by mass")
    gravel: Annotated[float, number(0, 10_000)] = Field(default=0.0, description="parts of gravel by mass")


class BatchesTable(Table):
    """``[batches]``: how the mix of a pour is cut into mixer loads."""

    split: Literal["equal", "whole bags", "full"] = Field(
        default="equal", description="equal batches, whole bags of cement, or full batches and a last part"
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
    batches: BatchesTable = Field(default=BatchesTable(), description="how a pour is cut into mixer loads")


class SawTable(Table):
    """``[saw]``."""

    kerf: Annotated[float, quantity("length", 0, 0.01)] | None = Field(
        default=None, description="width of the cut; 1/8 in or 3 mm if left out"
    )
    trim: Annotated[float, quantity("length", 0, 0.06)] | None = Field(
        default=None, description="taken off each edge of a sheet first; 1/4 in or 5 mm if left out"
    )
    end_trim: Annotated[float, quantity("length", 0, 0.1)] | None = Field(
        default=None, description="taken off the end of a stick first; 1/4 in or 5 mm if left out"
    )


class MixerTable(Table):
    """``[mixer]``."""

    name: Name = Field(default="mixer", description="how the shop calls it")
    kind: Literal["tilting drum", "paddle", "drill and tub"] = Field(description="what it is")
    rated: Annotated[float, quantity("volume", 0.002, 10)] = Field(description="the volume on its plate")
    rating: Literal["whole drum", "mixed output"] = Field(
        description="what that volume means: the whole drum, or the mix it turns out"
    )
    usable: Annotated[float, quantity("volume", 0.001, 10)] | None = Field(
        default=None,
        description="finished mix of one batch; of a whole drum 60 % (tilting) or 80 % if left out",
    )
    residue: Annotated[float, quantity("volume", 0, 0.1)] | None = Field(
        default=None, description="mix that stays in it after each batch; 1 to 3 L by kind if left out"
    )
    least: Annotated[float, quantity("volume", 0, 5)] = Field(
        default=0.0, description="least finished mix it handles well"
    )


class FoamTable(Table):
    """``[foam]``."""

    density: Annotated[float, quantity("density", 20, 150)] = Field(
        default=50.0, description="as it leaves the generator: weigh a full measure"
    )
    survival: Annotated[float, quantity("ratio", 0.3, 1)] = Field(
        default=0.95, description="share of the foam's air still in the mix once placed"
    )
    dilution: Annotated[float, number(1, 200)] = Field(
        default=40.0, description="parts of water to one part of concentrate, by volume"
    )
    output: Annotated[float, quantity("flow", 1e-6, 0.1)] | None = Field(
        default=None, description="foam in a minute, measured"
    )
    reserve: Annotated[float, quantity("ratio", 0, 2)] = Field(
        default=0.1, description="extra solution made up for hose and tank"
    )
    price: Price | None = Field(default=None, description="of one litre of concentrate")


class CementTable(Table):
    """``[cement]``."""

    name: Name = Field(default="portland cement", description="type as printed on the bag")
    gravity: Annotated[float, number(2.5, 3.3)] = Field(default=3.15, description="specific gravity")
    bag: Annotated[float, quantity("mass", 0.5, 2000)] | None = Field(
        default=None, description="mass of one bag; 94 lb or 25 kg if left out"
    )
    price: Price | None = Field(default=None, description="of one bag")


class SheetTable(Table):
    """``[[sheet]]``: one kind and size of sheet; an offcut has the name of the sheet it is left from."""

    name: Name = Field(description="how the shop calls it")
    material: Material = Field(default="plywood", description="what it is made of")
    nominal: Name = Field(description='size on the price tag, such as "3/4 in" or "18 mm"')
    measured: Annotated[float, quantity("length", 0.002, 0.06)] | None = Field(
        default=None, description="thickness you measured; the standard's mean or the tag's size if left out"
    )
    length: SheetSide = Field(description="along the face grain")
    width: SheetSide = Field(description="across the face grain")
    price: Price | None = Field(default=None, description="of one sheet")
    limit: Annotated[int, whole(0, 100_000)] | None = Field(
        default=None, description="how many can be had; as many as wanted if left out"
    )
    grain: bool | None = Field(default=None, description="panels keep to the grain; by material if left out")
    good_faces: Annotated[int, whole(1, 2)] | None = Field(
        default=None, description="faces good enough to cast against; by material if left out"
    )
    density: Annotated[float, quantity("density", 200, 2000)] | None = Field(
        default=None, description="of the sheet; by material if left out"
    )
    offcut: bool = Field(default=False, description="left from earlier work")


class LengthTable(Table):
    """One stock length of a stick: a size alone, or a table with its price."""

    length: Annotated[float, quantity("length", 0.1, 13)] = Field(description="stock length")
    price: Price | None = Field(default=None, description="of one")
    limit: Annotated[int, whole(0, 100_000)] | None = Field(
        default=None, description="how many can be had; as many as wanted if left out"
    )
    offcut: bool = Field(default=False, description="left from earlier work")


class StickTable(Table):
    """``[[stick]]``: one section of lumber in its stock lengths."""

    name: Name = Field(description="how the shop calls it")
    material: Name = Field(default="softwood", description="species or kind")
    nominal: Name | None = Field(default=None, description='size on the price tag, such as "2 x 4"')
    thickness: Annotated[float, quantity("length", 0.005, 0.4)] | None = Field(
        default=None,
        description="lesser side as it really is; the dressed size of the nominal one if left out",
    )
    width: Annotated[float, quantity("length", 0.005, 0.6)] | None = Field(
        default=None,
        description="greater side as it really is; the dressed size of the nominal one if left out",
    )
    lengths: tuple[LengthTable, ...] = Field(
        min_length=1, description='stock lengths: ["8 ft", { length = "10 ft", price = 6.20 }]'
    )
    density: Annotated[float, quantity("density", 200, 1200)] = Field(
        default=480.0, description="of the wood"
    )


class HardwareTable(Table):
    """``[[hardware]]``: a thing bought by the piece or the box; names a price for what the program counts."""

    item: Name = Field(description="screw, bolt, tee nut, washer, sealant, release agent, tape")
    size: Annotated[str, text(60)] | None = Field(default=None, description="as printed on the box")
    unit: Name = Field(description="what one of it is: piece, box of 100, tube, litre")
    per: Annotated[float, number(0.001, 1e6)] = Field(
        default=1.0,
        description="how many pieces (of sealant and tape: m; of release agent: m2) one unit gives",
    )
    price: Price | None = Field(default=None, description="of one unit")


class OwnedMoldTable(Table):
    """``[[owned_mold]]``: a mold the shop has; the shape's own keys give its as-built sizes."""

    name: Name = Field(description="what it is called")
    shape: Name = Field(description="name of the shape it casts")


class ShopTable(Table):
    """The shop file; ``[[owned_mold]]`` is checked apart, by its shape."""

    name: Name = Field(default="the shop", description="of the shop")
    units: UnitSystem | None = Field(
        default=None, description="what a bare number means; without it every size carries its unit"
    )
    currency: Annotated[str, text(6)] | None = Field(
        default=None, description="sign or code of prices; $ or EUR by units if left out"
    )
    saw: SawTable = Field(default=SawTable(), description="the saw")
    mixer: MixerTable | None = Field(default=None, description="the mixer; a usual one if left out")
    foam: FoamTable = Field(default=FoamTable(), description="the foam")
    cement: CementTable = Field(default=CementTable(), description="the cement")
    sheet: tuple[SheetTable, ...] = Field(default=(), description="sheets; a usual yard's if none is given")
    stick: tuple[StickTable, ...] = Field(default=(), description="sticks; a usual yard's if none is given")
    hardware: tuple[HardwareTable, ...] = Field(
        default=(), description="prices of screws, bolts and the rest"
    )
