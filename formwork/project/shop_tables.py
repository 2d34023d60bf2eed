"""The tables of a shop file, key by key: unit, range, default and one line of meaning.

Annotations are evaluated at once here, without ``from __future__ import annotations``: pydantic would compile each
of those texts again, which every command would pay for when it starts.
"""

from typing import Annotated, Literal

from pydantic import Field

from formwork.project.defaults import (
    CEMENT_GRAVITY,
    FOAM_DENSITY,
    FOAM_DILUTION,
    FOAM_RESERVE,
    FOAM_SURVIVAL,
    USUAL_TIMES,
)
from formwork.project.tables import Name, Table
from formwork.stock.pipes import PipeKind
from formwork.stock.records import FormGrade, Ground, Material
from formwork.stock.tubes import TubeKind
from formwork.units.fields import Money, number, quantity, text, whole
from formwork.units.show import UnitSystem

Price = Annotated[float, Money()]
SheetSide = Annotated[float, quantity("length", 0.1, 6.5)]


class SawTable(Table):
    """``[saw]``."""

    kerf: Annotated[float, quantity("length", 0, 0.01)] | None = Field(
        default=None, description="width of the cut; 1/8 in or 3 mm if left out"
    )
    trim: Annotated[float, quantity("length", 0, 0.06)] | None = Field(
        default=None, description="taken off each edge of a sheet first; 1/4 in or 5 mm if left out"
    )
    end_trim: Annotated[float, quantity("length", 0, 0.1)] | None = Field(
        default=None, description="taken off each end of a stick; 1/4 in or 5 mm if left out"
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
    least_slurry: Annotated[float, quantity("volume", 0, 5)] = Field(
        default=0.0, description="least slurry that its paddles reach"
    )
    tub: Annotated[float, quantity("volume", 0, 10)] = Field(
        default=0.0,
        description="finished mix that a second tub takes, where the foam is blended in one; usable is then of slurry",
    )
    heaviest: Annotated[float, quantity("mass", 0, 20_000)] = Field(
        default=0.0,
        description="most that one batch may weigh, where it is tipped or carried by hand; 0 for any",
    )


class FoamTable(Table):
    """``[foam]``."""

    density: Annotated[float, quantity("density", 20, 150)] = Field(
        default=FOAM_DENSITY, description="as it leaves the generator: weigh a full measure"
    )
    survival: Annotated[float, quantity("ratio", 0.3, 1)] = Field(
        default=FOAM_SURVIVAL, description="share of the foam's air still in the mix once placed"
    )
    dilution: Annotated[float, number(1, 200)] = Field(
        default=FOAM_DILUTION, description="parts of water to one part of concentrate, by volume"
    )
    output: Annotated[float, quantity("flow", 1e-6, 0.1)] | None = Field(
        default=None, description="foam in a minute, measured"
    )
    reserve: Annotated[float, quantity("ratio", 0, 2)] = Field(
        default=FOAM_RESERVE, description="extra solution made up for hose and tank"
    )
    price: Price | None = Field(default=None, description="of one litre of concentrate")


class CupTable(Table):
    """``[cup]``: the weighing cup, by the one way in which its volume is known, and the scale."""

    volume: Annotated[float, quantity("volume", 1e-5, 0.2)] | None = Field(
        default=None, description="what is printed on the cup; measured or weighed with water is better"
    )
    across: Annotated[float, quantity("length", 0.02, 1)] | None = Field(
        default=None, description="inside diameter of a straight round cup, with its deep"
    )
    pipe: Annotated[str, text(24)] | None = Field(
        default=None,
        description='PVC pipe that the cup is cut from, with its deep: "6 in", "4 in schedule 80"',
    )
    deep: Annotated[float, quantity("length", 0.02, 1)] | None = Field(
        default=None, description="inside depth of the cup"
    )
    water: Annotated[float, quantity("mass", 0.01, 500)] | None = Field(
        default=None, description="the cup full of water, cup and all, with its water_at"
    )
    water_at: Annotated[float, quantity("temperature", 273.15, 313.15)] | None = Field(
        default=None, description="temperature of that water"
    )
    meant: Annotated[float, quantity("volume", 1e-5, 0.2)] | None = Field(
        default=None, description="what the cup is taken to hold; it is said where it does not"
    )
    tare: Annotated[float, quantity("mass", 0, 200)] = Field(
        default=0.0, description="the empty cup; 0 where the scale is set to nought with it"
    )
    scale: Annotated[float, quantity("mass", 1e-6, 1)] = Field(
        default=0.001, description="step of the scale's display"
    )


class TimesTable(Table):
    """``[times]``: how long work takes in this shop."""

    mixing: Annotated[float, quantity("time", 1, 7200)] = Field(
        default=USUAL_TIMES.mixing, description="loading and mixing the slurry of one batch"
    )
    blending: Annotated[float, quantity("time", 0, 7200)] = Field(
        default=USUAL_TIMES.blending, description="blending the foam of one batch in"
    )
    placing: Annotated[float, quantity("time", 1, 7200)] = Field(
        default=USUAL_TIMES.placing, description="placing one batch"
    )
    workable: Annotated[float, quantity("time", 60, 14_400)] = Field(
        default=USUAL_TIMES.workable, description="how long mix may still be moved after its foam went in"
    )
    next_lift: Annotated[float, quantity("time", 3600, 604_800)] = Field(
        default=USUAL_TIMES.next_lift, description="until the next lift may go on"
    )
    strip: Annotated[float, quantity("time", 21_600, 2_419_200)] = Field(
        default=USUAL_TIMES.strip, description="until pieces of cellular concrete may leave their molds"
    )
    turn_round: Annotated[float, quantity("time", 0, 604_800)] = Field(
        default=USUAL_TIMES.turn_round, description="to strip, clean and oil all molds for the next pour"
    )
    cover: Annotated[float, quantity("time", 0, 7_776_000)] = Field(
        default=USUAL_TIMES.cover, description="that pieces stay under film after they were cast"
    )
    day: Annotated[float, quantity("time", 3600, 86_400)] = Field(
        default=USUAL_TIMES.day, description="working hours in a day"
    )


class CementTable(Table):
    """``[cement]``."""

    name: Name = Field(default="portland cement", description="type as printed on the bag")
    gravity: Annotated[float, number(2.5, 3.3)] = Field(
        default=CEMENT_GRAVITY, description="specific gravity"
    )
    bag: Annotated[float, quantity("mass", 0.5, 2000)] | None = Field(
        default=None, description="mass of one bag; 94 lb or 25 kg if left out"
    )
    price: Price | None = Field(default=None, description="of one bag")


class SheetTable(Table):
    """``[[sheet]]``: one kind and size of sheet; an offcut has the name of the sheet it is left from."""

    name: Name = Field(description="how the shop calls it")
    material: Material = Field(default="plywood", description="what it is made of")
    nominal: Name = Field(description='size on the price tag, such as "3/4 in" or "18 mm"')
    measured: Annotated[float, quantity("length", 0.0004, 0.06)] | None = Field(
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
    density: Annotated[float, quantity("density", 200, 9000)] | None = Field(
        default=None, description="of the sheet; by material if left out"
    )
    offcut: bool = Field(default=False, description="left from earlier work")
    bend_radius: Annotated[float, quantity("length", 0.005, 10)] | None = Field(
        default=None,
        description="least radius it bends to, the easy way of its grain; what is published of it if left out",
    )
    tension: Annotated[float, quantity("pressure", 1e5, 1e9)] | None = Field(
        default=None, description="tension its maker allows along it; what is published of it if left out"
    )
    grade: FormGrade | None = Field(
        default=None, description="class of form plywood stamped on it; taken as any plywood if left out"
    )
    bending: Annotated[float, quantity("pressure", 1e6, 2e9)] | None = Field(
        default=None, description="bending strength its maker declares, along the face grain"
    )
    bending_across: Annotated[float, quantity("pressure", 1e6, 2e9)] | None = Field(
        default=None, description="bending strength across the face grain, as declared"
    )
    modulus: Annotated[float, quantity("pressure", 1e8, 3e11)] | None = Field(
        default=None, description="modulus of elasticity its maker declares, along the face grain"
    )
    modulus_across: Annotated[float, quantity("pressure", 1e8, 3e11)] | None = Field(
        default=None, description="modulus of elasticity across the face grain, as declared"
    )
    shear: Annotated[float, quantity("pressure", 1e5, 1e9)] | None = Field(
        default=None, description="shear strength its maker declares, of plywood rolling shear"
    )
    safety: Annotated[float, number(1, 10)] | None = Field(
        default=None, description="declared strength over the stress used; 2.33 if left out"
    )
    wet: bool = Field(
        default=False, description="the declared values are those of a wet sheet; else wet use is taken off"
    )


class StrapTable(Table):
    """``[[strap]]``: a strap that goes round a mold, by what its label says."""

    name: Name = Field(description="how the shop calls it")
    lashing: Annotated[float, quantity("force", 50, 500_000)] | None = Field(
        default=None, description="lashing capacity or working load on its label"
    )
    breaking: Annotated[float, quantity("force", 50, 2_000_000)] | None = Field(
        default=None, description="force it breaks at; a third of it is used where no lashing is given"
    )
    polyester: bool = Field(default=False, description="woven of polyester, which fresh mix attacks")
    length: Annotated[float, quantity("length", 0.3, 50)] = Field(description="that it reaches round")
    price: Price | None = Field(default=None, description="of one strap")


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
    material: Name = Field(
        default="softwood",
        description='species and grade, such as "spruce-pine-fir No.2"; an unknown one counts as the weakest softwood',
    )
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
    bending: Annotated[float, quantity("pressure", 5e5, 1e8)] | None = Field(
        default=None,
        description="bending stress its grade allows, dry, for lasting loads; by material if left out",
    )
    shear: Annotated[float, quantity("pressure", 1e5, 1e7)] | None = Field(
        default=None, description="shear stress along its grain that its grade allows"
    )
    bearing: Annotated[float, quantity("pressure", 2e5, 3e7)] | None = Field(
        default=None,
        description="stress across its grain that its grade allows, where something presses on it",
    )
    modulus: Annotated[float, quantity("pressure", 1e9, 3e10)] | None = Field(
        default=None, description="modulus of elasticity its grade gives"
    )
    crushing: Annotated[float, quantity("pressure", 5e5, 1e8)] | None = Field(
        default=None,
        description="stress along its grain that its grade allows; the weakest grade's if left out",
    )
    gravity: Annotated[float, number(0.31, 0.73)] | None = Field(
        default=None,
        description="specific gravity of its wood, for what screws hold; by material if left out",
    )


class PipeTable(Table):
    """``[[pipe]]``: one size of pipe in its stock lengths: a trade size of a known kind, or its own measures."""

    name: Name = Field(description="how the shop calls it")
    kind: PipeKind | None = Field(
        default=None, description="what it is; left out where outside and wall are given"
    )
    size: Annotated[str, text(12)] | None = Field(
        default=None, description='trade size of that kind, as printed on it: "1/2", "1-1/4"'
    )
    outside: Annotated[float, quantity("length", 0.006, 0.4)] | None = Field(
        default=None, description="outside diameter you measured, of a pipe of no known kind"
    )
    wall: Annotated[float, quantity("length", 0.0004, 0.03)] | None = Field(
        default=None, description="wall you measured, of a pipe of no known kind"
    )
    lengths: tuple[LengthTable, ...] = Field(
        min_length=1, description='stock lengths of pipe: ["10 ft", { length = "20 ft", price = 9.80 }]'
    )


class TubeTable(Table):
    """``[[tube]]``: one size of tube that round pieces are cast in, in its stock lengths."""

    name: Name = Field(description="how the shop calls the tube")
    kind: TubeKind = Field(default="cardboard", description="what the tube is made of")
    nominal: Name | None = Field(
        default=None,
        description="size on its label, which finds it on the shelf and is never taken for a measure",
    )
    inside: Annotated[float, quantity("length", 0.02, 2)] | None = Field(
        default=None,
        description="inside diameter you measured, both ways across; a piece cast in it has this one",
    )
    outside: Annotated[float, quantity("length", 0.02, 2.2)] | None = Field(
        default=None, description="outside diameter you measured; a hole cast round it has this one"
    )
    wall: Annotated[float, quantity("length", 0.0004, 0.05)] | None = Field(
        default=None, description="its wall; from both diameters if left out"
    )
    lengths: tuple[LengthTable, ...] = Field(
        min_length=1, description='stock lengths of the tube: ["4 ft", { length = "12 ft", price = 38.00 }]'
    )
    head: Annotated[float, quantity("length", 0.1, 20)] | None = Field(
        default=None, description="height of ordinary concrete that its maker allows in it"
    )
    pressure: Annotated[float, quantity("pressure", 500, 2e6)] | None = Field(
        default=None, description="pressure that its maker allows in it, instead of head"
    )
    strength: Annotated[float, quantity("pressure", 1e4, 5e8)] | None = Field(
        default=None, description="tension that its wall may carry round about, as its maker says"
    )
    density: Annotated[float, quantity("density", 200, 9000)] | None = Field(
        default=None, description="of what it is made of; by kind if left out"
    )


class HardwareTable(Table):
    """``[[hardware]]``: a thing bought by the piece or the box; names a price for what the program counts."""

    item: Name = Field(
        description="as the buy list calls it: screw, bolt, tee nut, washer, sealant, release agent, tape, sand"
    )
    size: Annotated[str, text(60)] | None = Field(default=None, description="as printed on the box")
    unit: Name = Field(description="what one of it is: piece, box of 100, tube, litre")
    per: Annotated[float, number(0.001, 1e6)] = Field(
        default=1.0,
        description="how much one unit gives, in the file's units: pieces; m or ft of sealant and tape; m2 or ft2 of "
        "release agent, sealer and glue; kg or lb of sand and gravel",
    )
    price: Price | None = Field(default=None, description="of one unit")


class LeftoverMoldTable(Table):
    """``[[leftover_mold]]``: a small mold for mix that is left over; the preferred one stands first."""

    name: Name = Field(description="what the small mold is called")
    volume: Annotated[float, quantity("volume", 1e-5, 1)] = Field(description="mix that one of them holds")
    count: Annotated[int, whole(1, 1000)] = Field(
        default=1, description="how many of them stand free at every pour"
    )


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
    saw: SawTable = Field(default_factory=SawTable.model_construct, description="the saw")
    mixer: MixerTable | None = Field(default=None, description="the mixer; a usual one if left out")
    foam: FoamTable = Field(default_factory=FoamTable.model_construct, description="the foam")
    cup: CupTable | None = Field(default=None, description="the weighing cup")
    times: TimesTable = Field(default_factory=TimesTable.model_construct, description="how long work takes")
    cement: CementTable = Field(default_factory=CementTable.model_construct, description="the cement")
    ground: Ground | None = Field(
        default=None, description="natural ground that stakes are driven into; none is counted on if left out"
    )
    sheet: tuple[SheetTable, ...] = Field(default=(), description="sheets; a usual yard's if none is given")
    stick: tuple[StickTable, ...] = Field(default=(), description="sticks; a usual yard's if none is given")
    pipe: tuple[PipeTable, ...] = Field(default=(), description="pipes; a usual yard's if none is given")
    tube: tuple[TubeTable, ...] = Field(default=(), description="tubes; a usual yard's if none is given")
    strap: tuple[StrapTable, ...] = Field(default=(), description="straps that go round molds")
    hardware: tuple[HardwareTable, ...] = Field(
        default=(), description="prices of screws, bolts and the rest"
    )
    leftover_mold: tuple[LeftoverMoldTable, ...] = Field(
        default=(), description="small molds for mix that is left over, in order of preference"
    )
