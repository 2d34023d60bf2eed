"""The tables of the log, as a chain of changes: version n is what the first n scripts make.

A script that has been released is never changed; what is new is a new script at the end. Rows are only ever added:
triggers refuse every update and every delete. A thing (a pour, a batch, a reading) keeps the number of its first entry;
a correction is a new entry with that number, and the last one holds.
"""

from __future__ import annotations

APPLICATION = 0x46574C47
"""``FWLG``: marks a SQLite file as a log of ours."""


def _never_changed(table: str) -> str:
    return f"""
CREATE TRIGGER {table}_kept BEFORE UPDATE ON {table} BEGIN SELECT RAISE(ABORT, 'rows are never changed'); END;
CREATE TRIGGER {table}_held BEFORE DELETE ON {table} BEGIN SELECT RAISE(ABORT, 'rows are never deleted'); END;
"""


_FIRST = """
CREATE TABLE kind (name TEXT NOT NULL PRIMARY KEY) STRICT, WITHOUT ROWID;
INSERT INTO kind VALUES ('pour'), ('batch'), ('reading'), ('added'), ('surface');

CREATE TABLE entry (
    id INTEGER PRIMARY KEY,
    at TEXT NOT NULL CHECK (length(at) BETWEEN 16 AND 40),
    kind TEXT NOT NULL REFERENCES kind (name),
    thing INTEGER NOT NULL REFERENCES entry (id) CHECK (thing <= id),
    struck INTEGER NOT NULL DEFAULT 0 CHECK (struck IN (0, 1) AND (struck = 0 OR thing < id)),
    note TEXT CHECK (length(note) BETWEEN 1 AND 500)
) STRICT;
CREATE INDEX entry_thing ON entry (thing, id);
CREATE INDEX entry_first ON entry (kind, id) WHERE thing = id;
CREATE TRIGGER entry_of_one_kind BEFORE INSERT ON entry
WHEN new.thing <> new.id AND new.kind <> (SELECT kind FROM entry WHERE id = new.thing)
BEGIN SELECT RAISE(ABORT, 'a thing keeps its kind'); END;

CREATE TABLE pour (
    id INTEGER PRIMARY KEY REFERENCES entry (id),
    title TEXT NOT NULL CHECK (length(title) BETWEEN 1 AND 120),
    wet_density_kg_m3 REAL NOT NULL CHECK (wet_density_kg_m3 BETWEEN 100 AND 2600),
    planned_m3 REAL CHECK (planned_m3 > 0),
    foam_density_kg_m3 REAL NOT NULL CHECK (foam_density_kg_m3 BETWEEN 20 AND 150),
    cement_gravity REAL NOT NULL CHECK (cement_gravity BETWEEN 2.5 AND 3.4),
    sand_gravity REAL NOT NULL CHECK (sand_gravity BETWEEN 2.0 AND 3.2),
    ash_gravity REAL NOT NULL CHECK (ash_gravity BETWEEN 1.5 AND 3.2)
) STRICT;

CREATE TABLE batch (
    id INTEGER PRIMARY KEY REFERENCES entry (id),
    pour INTEGER NOT NULL REFERENCES pour (id),
    cement_kg REAL NOT NULL CHECK (cement_kg > 0),
    water_kg REAL NOT NULL CHECK (water_kg >= 0),
    sand_kg REAL NOT NULL CHECK (sand_kg >= 0),
    ash_kg REAL NOT NULL CHECK (ash_kg >= 0),
    foam_m3 REAL NOT NULL CHECK (foam_m3 >= 0),
    planned_m3 REAL CHECK (planned_m3 > 0)
) STRICT;
CREATE INDEX batch_pour ON batch (pour);

CREATE TABLE reading (
    id INTEGER PRIMARY KEY REFERENCES entry (id),
    batch INTEGER NOT NULL REFERENCES batch (id),
    what TEXT NOT NULL CHECK (what IN ('mix', 'slurry', 'foam')),
    gross_kg REAL NOT NULL CHECK (gross_kg > tare_kg),
    tare_kg REAL NOT NULL CHECK (tare_kg >= 0),
    cup_m3 REAL NOT NULL CHECK (cup_m3 > 0),
    density_kg_m3 REAL GENERATED ALWAYS AS ((gross_kg - tare_kg) / cup_m3) STORED
) STRICT;
CREATE INDEX reading_batch ON reading (batch);

CREATE TABLE added (
    id INTEGER PRIMARY KEY REFERENCES entry (id),
    batch INTEGER NOT NULL REFERENCES batch (id),
    cement_kg REAL NOT NULL CHECK (cement_kg >= 0),
    water_kg REAL NOT NULL CHECK (water_kg >= 0),
    sand_kg REAL NOT NULL CHECK (sand_kg >= 0),
    ash_kg REAL NOT NULL CHECK (ash_kg >= 0),
    foam_m3 REAL NOT NULL CHECK (foam_m3 >= 0)
) STRICT;
CREATE INDEX added_batch ON added (batch);

CREATE TABLE surface (
    id INTEGER PRIMARY KEY REFERENCES entry (id),
    pour INTEGER NOT NULL REFERENCES pour (id),
    depth_m REAL NOT NULL CHECK (depth_m > 0),
    drop_m REAL NOT NULL CHECK (drop_m >= 0 AND drop_m < depth_m)
) STRICT;
CREATE INDEX surface_pour ON surface (pour);
""" + "".join(
    _never_changed(table) for table in ("kind", "entry", "pour", "batch", "reading", "added", "surface")
)

_AFTER_THE_POUR = """
INSERT INTO kind VALUES ('weather'), ('piece'), ('photo');

CREATE TABLE weather (
    id INTEGER PRIMARY KEY REFERENCES entry (id),
    pour INTEGER NOT NULL REFERENCES pour (id),
    air_k REAL NOT NULL CHECK (air_k > 0),
    concrete_k REAL CHECK (concrete_k > 0),
    humidity REAL CHECK (humidity BETWEEN 0 AND 1),
    wind_m_s REAL CHECK (wind_m_s >= 0)
) STRICT;
CREATE INDEX weather_pour ON weather (pour);

CREATE TABLE piece (
    id INTEGER PRIMARY KEY REFERENCES entry (id),
    batch INTEGER NOT NULL REFERENCES batch (id),
    name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
    state TEXT NOT NULL CHECK (state IN ('as stripped', 'air-dry', 'oven-dry')),
    mass_kg REAL NOT NULL CHECK (mass_kg > 0),
    volume_m3 REAL NOT NULL CHECK (volume_m3 > 0),
    density_kg_m3 REAL GENERATED ALWAYS AS (mass_kg / volume_m3) STORED
) STRICT;
CREATE INDEX piece_batch ON piece (batch);

CREATE TABLE photo (
    id INTEGER PRIMARY KEY REFERENCES entry (id),
    pour INTEGER NOT NULL REFERENCES pour (id),
    path TEXT NOT NULL CHECK (length(path) BETWEEN 1 AND 500)
) STRICT;
CREATE INDEX photo_pour ON photo (pour);
""" + "".join(_never_changed(table) for table in ("weather", "piece", "photo"))

_ALL_ELSE = """
ALTER TABLE pour ADD COLUMN other_gravity REAL NOT NULL DEFAULT 2.6 CHECK (other_gravity BETWEEN 0.5 AND 9.0);
ALTER TABLE pour ADD COLUMN plan_pour REAL CHECK (plan_pour >= 1);
ALTER TABLE batch ADD COLUMN other_kg REAL NOT NULL DEFAULT 0.0 CHECK (other_kg >= 0);
ALTER TABLE added ADD COLUMN other_kg REAL NOT NULL DEFAULT 0.0 CHECK (other_kg >= 0);
"""

MIGRATIONS = (_FIRST, _AFTER_THE_POUR, _ALL_ELSE)
"""Script by script, from an empty file to the newest version."""

VERSION = len(MIGRATIONS)
"""The newest version, kept in the file as ``user_version``."""


def statements(script: str) -> list[str]:
    """The statements of a script one by one, so that they run inside one transaction.

    Args:
        script: one of ``MIGRATIONS``.
    """
    from sqlite3 import complete_statement  # noqa: PLC0415 - only where a file is made or brought up to date

    found, waiting = [], ""
    for line in script.splitlines(keepends=True):
        waiting += line
        if complete_statement(waiting):
            found.append(waiting.strip())
            waiting = ""
    return [statement for statement in found if statement]
