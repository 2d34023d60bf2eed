"""The day of the pour and after: weighing, correcting, curing, and the record of it."""
