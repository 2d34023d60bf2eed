"""From one project file to a mold that can be bought, cut, built and filled."""

__version__ = "0.1.0"
