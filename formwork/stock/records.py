"""Records of what a yard sells and of the saw that cuts it: lengths in m, masses in kg, prices as the shop has them."""

from __future__ import annotations

from typing import Literal

from formwork.record import record

Material = Literal[
    "plywood",
    "overlaid plywood",
    "birch plywood",
    "bending plywood",
    "melamine board",
    "MDF",
    "hardboard",
    "plastic sheet",
    "sheet steel",
]

Ground = Literal["gravel", "sand", "clay"]
"""What stakes are driven into: gravel, with sand; sand, also silty; clay, also sandy or silty."""

FormGrade = Literal["Class I", "Class II", "Structural I"]
"""Classes of concrete form plywood as PS 1 has them stamped on a sheet."""


@record
class SheetStrength:
    """What the maker of a sheet declares that it bears, Pa.

    Attributes:
        bending: bending strength along the face grain.
        bending_across: across it; None where the sheet has no grain or the maker does not say.
        modulus: of elasticity in bending, along the face grain; None where the maker does not say.
        modulus_across: across it; None as above.
        shear: in its plane; None where the maker does not say.
        safety: strength declared over the stress used; None for the usual one.
        wet: the values are those of a wet sheet.
    """

    bending: float
    bending_across: float | None = None
    modulus: float | None = None
    modulus_across: float | None = None
    shear: float | None = None
    safety: float | None = None
    wet: bool = False


@record
class SheetStock:
    """One kind and size of sheet.

    Attributes:
        name: how the shop calls it; the key everything else refers to ("ply 18").
        material: what it is made of.
        nominal: the size on the price tag, as printed there ("3/4 in", "18 mm").
        thickness: the thickness it really has: measured where the person measured, else the standard's mean, m.
        measured: the thickness was measured by the person.
        length: along the face grain, m.
        width: across it, m.
        price: of one sheet; None where the shop gives none.
        limit: how many can be had; None for as many as wanted.
        grain: face grain matters for strength, so panels keep their direction.
        good_faces: faces good enough to cast against (1 or 2).
        density: kg/m3.
        offcut: a piece left from earlier work, used first where that saves money.
        bend_radius: least radius to which it bends, the easy way of its grain, as its maker says or somebody tried, m;
            None where only what is published of its material holds.
        tension: that it may carry along its plane, as its maker says, Pa; None where only what is published holds.
        grade: class of form plywood stamped on it; None where none is said.
        strength: as its maker declares it; None where only what is published holds.
    """

    name: str
    material: Material
    nominal: str
    thickness: float
    measured: bool
    length: float
    width: float
    price: float | None = None
    limit: int | None = None
    grain: bool = True
    good_faces: int = 1
    density: float = 600.0
    offcut: bool = False
    bend_radius: float | None = None
    tension: float | None = None
    grade: FormGrade | None = None
    strength: SheetStrength | None = None


@record
class StrapStock:
    """A strap that goes round a mold.

    Attributes:
        name: how the shop calls it.
        lashing: lashing capacity or working load on its label, N; None where it gives none.
        breaking: force it breaks at, N; None where it gives none.
        polyester: woven of polyester, which alkali attacks.
        length: that it reaches round, m.
        price: of one; None where the shop gives none.
    """

    name: str
    lashing: float | None
    breaking: float | None
    polyester: bool
    length: float
    price: float | None = None


@record
class StickLength:
    """One stock length of a stick: length m, price of one, how many can be had (None: as many as wanted)."""

    length: float
    price: float | None = None
    limit: int | None = None
    offcut: bool = False


@record
class StickStrength:
    """Stresses that the grade of a stick allows, dry and for lasting loads, Pa.

    Attributes:
        bending: as it stands, size factors in.
        shear: along the grain.
        bearing: across the grain.
        modulus: of elasticity.
        crushing: along the grain; None where nothing is said.
    """

    bending: float
    shear: float
    bearing: float
    modulus: float
    crushing: float | None = None


@record
class StickStock:
    """One section of lumber or one size of pipe, sold in several lengths.

    Attributes:
        name: how the shop calls it ("2x2", "45 x 45").
        material: species or kind.
        nominal: the size on the price tag.
        thickness: lesser side of the real section, m.
        width: greater side of the real section, m.
        lengths: what the yard has.
        density: kg/m3.
        wall: of a pipe, whose thickness and width are both its outside diameter, m; 0 for what is solid.
        square: its ends are square as it is sold, so that nothing is trimmed off them.
        strength: what its grade allows; None where its species and grade, or the weakest of all, say it.
        gravity: specific gravity of its wood, for what screws hold; None where its species says it.
    """

    name: str
    material: str
    nominal: str
    thickness: float
    width: float
    lengths: tuple[StickLength, ...]
    density: float = 480.0
    wall: float = 0.0
    square: bool = False
    strength: StickStrength | None = None
    gravity: float | None = None


@record
class HardwareStock:
    """A thing bought by the piece or the box.

    Attributes:
        item: one of ``stock.goods.GOODS``.
        size: as printed on the box; empty where it has none.
        unit: what one of it is: piece, box of 100, tube, litre.
        per: how many single pieces (or m, m2, m3, kg, as the thing is counted) one unit gives.
        price: of one unit; None where the shop gives none.
    """

    item: str
    size: str
    unit: str
    per: float
    price: float | None = None


@record
class Saw:
    """The saw: kerf (m), the trim taken off each sheet edge (m), and the end trim of a stick (m)."""

    kerf: float
    trim: float
    end_trim: float = 0.0
