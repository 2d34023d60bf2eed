"""Molds of bought tubes: what fits, the sticks round them, how tube and core leave the piece."""
