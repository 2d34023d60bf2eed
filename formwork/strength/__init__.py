"""Pure formulas and material data: pressure, sheets, sticks, fasteners."""
