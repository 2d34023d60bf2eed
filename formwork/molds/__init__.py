"""How a mold is built round a piece: lining, bracing, parts placed in space."""
