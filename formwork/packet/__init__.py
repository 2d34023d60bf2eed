"""Every document of a plan, written to one folder or not at all."""
