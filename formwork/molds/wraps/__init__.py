"""Molds of bent skins on ring ribs: patterns, seams, shells, round cores."""
