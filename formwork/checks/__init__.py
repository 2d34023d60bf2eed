"""Does it hold, close, come apart: each check with its load, limit, working and source."""
