"""Exact geometry of pieces and molds: planes, cells, round bodies, cavities, ways out of a mold."""
