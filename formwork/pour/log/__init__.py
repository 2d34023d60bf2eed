"""The log of a shop's pours: one file, rows that are only ever added."""
