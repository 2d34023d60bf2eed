"""What is cast: one file per shape, from a few parameters to an exact piece."""
