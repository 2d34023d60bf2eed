"""What the stock of a shop bears: by its maker's declaration or its grade where the shop says so, else by its kind."""

from __future__ import annotations

from formwork.stock.records import SheetStock, SheetStrength, StickStock
from formwork.strength.fasteners import gravity
from formwork.strength.lumber import Grade, cautious_grade, grade_of
from formwork.strength.panels import Grain, PanelSection
from formwork.strength.sheets import section_for
from formwork.strength.working import Unjudged


def section_of(sheet: SheetStock, grain: Grain) -> PanelSection | Unjudged:
    """What a strip of a sheet bears, or what is missing and which key of the shop file takes it.

    Plywood of which the shop says that panels need not keep to its grain may lie either way: the weak way counts.

    Args:
        sheet: of the stock.
        grain: of the face, across or along the supports.
    """
    if "plywood" in sheet.material and not sheet.grain:
        grain = "along"
    if sheet.strength is not None:
        return _declared(sheet, sheet.strength, grain)
    if sheet.grade is not None:
        from formwork.strength.apa_forms import form_panel_of  # noqa: PLC0415 - few shops say a grade

        return form_panel_of(sheet.grade, sheet.thickness, grain, many_uses=True)
    found = section_for(sheet.material, sheet.thickness, grain)
    if isinstance(found, Unjudged):
        return Unjudged(found.name, f"{found.why}; {what_to_enter(sheet)}")
    return found


def skin_of(sheet: SheetStock, layers: int) -> PanelSection | Unjudged:
    """What a strip of a skin of loose layers bears, its face grain along the strip; or what is missing.

    Args:
        sheet: of the stock.
        layers: laid over one another, not glued.
    """
    from formwork.strength.thin_sheet import layered, skin_section  # noqa: PLC0415 - only domes have such skins

    if sheet.strength is None:
        return skin_section(sheet.material, sheet.thickness, layers)
    one = section_of(sheet, "across")
    return one if isinstance(one, Unjudged) else layered(one, layers)


def what_to_enter(sheet: SheetStock) -> str:
    """Which keys of the shop file take what nobody publishes of a sheet."""
    return f'enter bending and modulus from its maker in [[sheet]] "{sheet.name}" of the shop file'


def _declared(sheet: SheetStock, said: SheetStrength, grain: Grain) -> PanelSection | Unjudged:
    from formwork.strength.declared import SAFETY, Declared, declared_section  # noqa: PLC0415 - few shops declare

    return declared_section(
        Declared(
            name=sheet.name,
            thickness=sheet.thickness,
            grained="plywood" in sheet.material,
            bending=said.bending,
            bending_across=said.bending_across,
            modulus=said.modulus,
            modulus_across=said.modulus_across,
            shear=said.shear,
            safety=said.safety or SAFETY,
            wet=said.wet,
        ),
        grain,
    )


def grade_of_stick(stick: StickStock, width: float) -> Grade:
    """Reference values of a stick: those its shop gives, else of its species and grade, else the weakest of all.

    Args:
        stick: of the stock.
        width: greater side of its section as it stands, m.
    """
    said = stick.strength
    if said is None:
        return grade_of(stick.material, width)
    return Grade(
        name=f"{stick.name}, as the shop file has it",
        greatest_width=width,
        fb=said.bending,
        fv=said.shear,
        fcp=said.bearing,
        fc=said.crushing or cautious_grade().fc,
        e=said.modulus,
        size="included",
    )


def gravity_of(stick: StickStock) -> float:
    """Specific gravity of a stick's wood, a plain number: its own, else its species'.

    Args:
        stick: of the stock.
    """
    return gravity(stick.material) if stick.gravity is None else stick.gravity
