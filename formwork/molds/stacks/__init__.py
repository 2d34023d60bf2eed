"""Molds laid up of sheets: rings and segments, boards with openings, cores of discs, and what holds them together."""
