"""The log: what is entered holds and stays, whatever happens to the process, the disk or the file."""

from __future__ import annotations

import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from formwork.errors import FormworkError, InputError, OutputError, RangeError
from formwork.pour.log.entries import correct_entry, current, enter, history, last, strike, things
from formwork.pour.log.exchange import export, import_folder
from formwork.pour.log.file import back_up, create, damage, make, opened
from formwork.pour.log.kinds import KINDS
from formwork.pour.log.schema import APPLICATION, MIGRATIONS, VERSION, statements

ROOT = Path(__file__).parents[2]
AT = "2026-11-25T14:00:00"
POUR = {"title": "planters", "wet_density_kg_m3": 600.0}
BATCH = {"cement_kg": 25.0, "water_kg": 12.5, "foam_m3": 0.0484}
READING = {"gross_kg": 0.72, "tare_kg": 0.11, "cup_m3": 0.001}


@pytest.fixture
def path(tmp_path: Path) -> Path:
    create(tmp_path / "log.db")
    return tmp_path / "log.db"


def day(path: Path) -> None:
    """One of everything, with a correction, a struck entry and every letter a note may have."""
    with opened(path, write=True) as log:
        enter(log, "pour", POUR, AT, note='said "half", then; a comma, é and 雪')
        enter(log, "batch", BATCH, AT)
        wrong = enter(log, "reading", READING, AT)
        enter(log, "added", {"foam_m3": 0.1 + 0.2}, AT)
        enter(log, "surface", {"depth_m": 0.3, "drop_m": 0.0}, AT)
        enter(log, "weather", {"air_k": 293.15, "humidity": None}, AT)
        enter(log, "piece", {"name": "first", "mass_kg": 9.0, "volume_m3": 0.0173}, AT)
        enter(log, "photo", {"path": "photos/mold 1.jpg"}, AT)
        correct_entry(log, wrong.number, {"gross_kg": 0.71}, AT)
        mistaken = enter(log, "reading", READING, AT)
        strike(log, mistaken.number, AT, "entered twice")


def dump(path: Path) -> list[tuple[object, ...]]:
    with closing(sqlite3.connect(path)) as connection:
        tables = ["entry", *KINDS]
        return [
            (table, *row)
            for table in tables
            for row in connection.execute(f"SELECT * FROM {table} ORDER BY id")
        ]


def child(code: str, *arguments: str, **options) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", code, *arguments], env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, **options,
    )  # fmt: skip


# entering, correcting, striking out


def test_a_reading_has_the_density_of_its_cup(path: Path) -> None:
    # 720 g less 110 g in 1000 mL: 610 kg/m3.
    day(path)
    with opened(path) as log:
        first = history(log, 3)[0]
        assert first.number_of("density_kg_m3") == pytest.approx(610.0)
        assert current(log, 3).number_of("density_kg_m3") == pytest.approx(600.0)


def test_a_correction_keeps_the_number_and_what_was_there(path: Path) -> None:
    day(path)
    with opened(path) as log:
        assert [entry.number_of("gross_kg") for entry in history(log, 3)] == [0.72, 0.71]
        assert [entry.number for entry in things(log, "reading", 2)] == [3]
        assert current(log, 3).number_of("tare_kg") == 0.11


def test_what_is_struck_out_no_longer_counts_and_can_still_be_seen(path: Path) -> None:
    day(path)
    with opened(path, write=True) as log:
        number = history(log, 10)[0].number
        assert history(log, number)[-1].struck and history(log, number)[-1].note == "entered twice"
        with pytest.raises(RangeError, match="number 10 was struck out: entered twice"):
            correct_entry(log, number, {"gross_kg": 0.8}, AT)


def test_an_entry_belongs_to_the_last_one_of_its_kind_or_to_the_one_named(path: Path) -> None:
    with opened(path, write=True) as log:
        first = enter(log, "pour", POUR, AT)
        second = enter(log, "pour", POUR, AT)
        assert enter(log, "batch", BATCH, AT).belongs == second.number
        assert enter(log, "batch", BATCH, AT, belongs=first.number).belongs == first.number
        newest = last(log, "pour")
        assert newest is not None and newest.number == second.number
        strike(log, second.number, AT, "never poured")
        assert enter(log, "batch", BATCH, AT).belongs == first.number


@pytest.mark.parametrize(
    ("kind", "values", "belongs", "words"),
    [
        ("reading", READING, 99, "number 99: there is none in"),
        ("reading", READING, 1, "got number 1, a pour, want the number of a batch"),
        ("reading", {**READING, "gross_kg": 0.1}, None, "want the full cup to weigh more"),
        ("reading", {"gross_kg": 0.7}, None, "cup: got nothing, want what the cup holds"),
        ("reading", {**READING, "what": "soup"}, None, "got 'soup', want one of mix, slurry, foam"),
        (
            "pour",
            {**POUR, "wet_density_kg_m3": 40.0},
            None,
            "wet: got 40 kg/m3 (2.5 lb/ft3), want 100 kg/m3 (6.24 lb/ft3) to 2600 kg/m3",
        ),
        ("pour", {**POUR, "wet_density_kg_m3": float("nan")}, None, "wet: got nan"),
        (
            "pour",
            {**POUR, "title": "a\nb"},
            None,
            "title: got 'a\\nb', want a text of 1 to 120 letters on one line",
        ),
        ("pour", {**POUR, "colour": "grey"}, None, "got 'colour', want title"),
        ("added", {"foam_m3": 0.0}, None, "want at least one of cement, water, sand, ash, foam"),
        ("surface", {"depth_m": 0.3, "drop_m": 0.4}, None, "want a drop less than the depth"),
        ("weather", {"air_k": 293.0, "humidity": 1.1}, None, "humidity: got 110 %, want 0 % to 100 %"),
        ("photo", {"path": 3.0}, None, "path: got 3"),
    ],
)
def test_what_cannot_be_is_told_and_nothing_is_entered(path: Path, kind, values, belongs, words) -> None:
    day(path)
    before = dump(path)
    with opened(path, write=True) as log, pytest.raises(RangeError) as told:
        enter(log, kind, values, AT, belongs=belongs)
    assert words in str(told.value)
    assert dump(path) == before


def test_a_batch_without_a_pour_and_a_time_that_is_none(path: Path) -> None:
    with opened(path, write=True) as log:
        with pytest.raises(RangeError, match="want a pour first"):
            enter(log, "batch", BATCH, AT)
        with pytest.raises(RangeError, match="time: got 'noon'"):
            enter(log, "pour", POUR, "noon")
        enter(log, "pour", POUR, AT)
        with pytest.raises(RangeError, match="number 1 is a pour, and not a batch"):
            correct_entry(log, 1, {}, AT, kind="batch")
        with pytest.raises(RangeError, match="why: got ''"):
            strike(log, 1, AT, "")


def test_rows_are_never_changed_nor_deleted_whoever_tries(path: Path) -> None:
    day(path)
    with closing(sqlite3.connect(path)) as connection:
        for table in ("entry", "kind", *KINDS):
            column = "name" if table == "kind" else "id"
            for statement in (f"UPDATE {table} SET {column} = {column}", f"DELETE FROM {table}"):
                with pytest.raises(sqlite3.IntegrityError, match="rows are never"):
                    connection.execute(statement)


def test_the_tables_and_the_kinds_say_the_same(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        assert {row[0] for row in connection.execute("SELECT name FROM kind")} == set(KINDS)
        for kind in KINDS.values():
            info = {row[1]: row for row in connection.execute(f"PRAGMA table_xinfo({kind.name})")}
            written = {name for name, row in info.items() if not row[6]} - {"id", kind.belongs}
            assert written == {field.column for field in kind.fields}
            for field in kind.fields:
                must = field.required or field.default is not None
                assert bool(info[field.column][3]) == must, (kind.name, field.name)
                assert info[field.column][2] == ("TEXT" if field.sort in ("text", "choice") else "REAL")


def test_every_number_the_kinds_allow_the_tables_take(path: Path) -> None:
    with opened(path, write=True) as log:
        for end in ("least", "most"):
            enter(log, "pour", POUR, AT)
            enter(log, "batch", BATCH, AT)
            for kind in KINDS.values():
                if kind.name in ("reading", "surface", "added"):
                    continue
                values = {
                    f.column: "x" if f.sort == "text" else f.choices[0] if f.choices else getattr(f, end)
                    for f in kind.fields
                }
                assert enter(log, kind.name, values, AT).number


# nothing that was acknowledged is lost


_ENTERS = """
import sys
from pathlib import Path
from formwork.pour.log.entries import enter
from formwork.pour.log.file import opened
with opened(Path(sys.argv[1]), write=True) as log:
    for i in range(int(sys.argv[2])):
        made = enter(log, "pour", {"title": f"{sys.argv[3]} {i}", "wet_density_kg_m3": 600.0}, "2026-11-25T14:00")
        print(made.number, flush=True)
"""


def test_of_two_who_make_the_same_log_at_once_only_one_does(tmp_path: Path) -> None:
    code = (
        "import sys, time\nfrom pathlib import Path\nfrom formwork.errors import OutputError\n"
        "from formwork.pour.log.file import create\n"
        "print('ready', flush=True); sys.stdin.readline()\n"
        "try:\n    create(Path(sys.argv[1])); print('made')\nexcept OutputError as error:\n    print(error)\n"
    )
    makers = [child(code, str(tmp_path / "log.db"), stdin=subprocess.PIPE) for _ in range(4)]
    for maker in makers:
        assert maker.stdout is not None and maker.stdout.readline() == "ready\n"
    for maker in makers:
        assert maker.stdin is not None
        maker.stdin.write("go\n")
        maker.stdin.flush()
    said = [maker.communicate(timeout=60)[0].strip() for maker in makers]
    assert said.count("made") == 1 and sum("exists and is left as it is" in each for each in said) == 3, said
    assert [each.name for each in tmp_path.iterdir()] == ["log.db"]
    with opened(tmp_path / "log.db", write=True) as log:
        assert damage(log) == () and enter(log, "pour", POUR, AT).number == 1


def test_a_killed_process_loses_no_acknowledged_row(path: Path) -> None:
    for _ in range(3):
        writer = child(_ENTERS, str(path), "100000", "killed")
        assert writer.stdout is not None
        said = [writer.stdout.readline() for _ in range(40)]
        writer.send_signal(signal.SIGKILL)
        rest = writer.stdout.read()
        writer.communicate()
        acknowledged = {
            int(line) for line in "".join([*said, rest]).splitlines(keepends=True) if line.endswith("\n")
        }
        with opened(path) as log:
            assert acknowledged <= {entry.number for entry in things(log, "pour")}
            assert len(acknowledged) >= 40 and damage(log) == ()


def test_two_writers_at_once_both_get_all_their_rows_in(path: Path) -> None:
    writers = [child(_ENTERS, str(path), "60", name) for name in ("ada", "grace")]
    told = [writer.communicate(timeout=60) for writer in writers]
    assert [writer.returncode for writer in writers] == [0, 0], told
    numbers = [int(line) for out, _ in told for line in out.split()]
    assert sorted(numbers) == list(range(1, 121))
    with opened(path) as log:
        titles = {entry.text_of("title") for entry in things(log, "pour")}
    assert titles == {f"{name} {i}" for name in ("ada", "grace") for i in range(60)}


def test_a_writer_who_waits_too_long_is_told(path: Path) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with (
            opened(path, write=True, patience=0.05) as log,
            pytest.raises(OutputError, match="another one is writing"),
        ):
            enter(log, "pour", POUR, AT)
        other.execute("ROLLBACK")
    with opened(path, write=True) as log:
        assert enter(log, "pour", POUR, AT).number == 1


def test_a_full_disk_loses_nothing_and_is_told(path: Path) -> None:
    day(path)
    before = dump(path)
    with opened(path, write=True) as log:
        pages = log.connection.execute("PRAGMA page_count").fetchone()[0]
        log.connection.execute(f"PRAGMA max_page_count={pages}")
        with pytest.raises(
            OutputError, match="the disk is full; nothing was entered, what was there before is whole"
        ):
            for _ in range(2000):
                enter(log, "photo", {"path": "p" * 500}, AT, note="n" * 400)
        kept = len(things(log, "photo"))
    with opened(path, write=True) as log:
        assert len(things(log, "photo")) == kept and damage(log) == ()
        enter(log, "photo", {"path": "later.jpg"}, AT)
    assert [row for row in dump(path) if row in before] == before


def test_a_disk_that_takes_no_more_bytes_is_told(path: Path) -> None:
    code = (
        "import resource, sys\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (300_000, 300_000))\n"
        "from pathlib import Path\nfrom formwork.errors import OutputError\n"
        "from formwork.pour.log.entries import enter\nfrom formwork.pour.log.file import opened\n"
        "try:\n"
        "    with opened(Path(sys.argv[1]), write=True) as log:\n"
        "        for _ in range(5000):\n"
        "            made = enter(log, 'pour', {'title': 't', 'wet_density_kg_m3': 600.0}, '2026-11-25T14:00', note='n' * 400)\n"
        "            print(made.number, flush=True)\n"
        "except OutputError as error:\n    print(error, file=sys.stderr); sys.exit(3)\n"
    )
    writer = child(code, str(path))
    out, told = writer.communicate(timeout=60)
    assert writer.returncode == 3 and "nothing was entered, what was there before is whole" in told
    with opened(path) as log:
        assert [entry.number for entry in things(log, "pour")] == [int(line) for line in out.split()]
        assert damage(log) == ()


def test_copies_that_do_not_fit_on_the_disk_leave_nothing_behind(path: Path, tmp_path: Path) -> None:
    with opened(path, write=True) as log:
        for _ in range(60):
            enter(
                log,
                "photo" if last(log, "pour") else "pour",
                {"path": "p" * 500} if last(log, "pour") else POUR,
                AT,
            )
    code = (
        "import resource, sys\n"
        "from pathlib import Path\nfrom formwork.errors import OutputError\n"
        "from formwork.pour.log.exchange import export\nfrom formwork.pour.log.file import back_up, opened\n"
        "path = Path(sys.argv[1])\n"
        "with opened(path) as log:\n"
        "    resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))\n"
        "    for copy in (back_up, export):\n"
        "        try:\n            copy(log, path.with_name('copy'))\n"
        "        except OutputError as error:\n            print(error)\n"
    )
    out, told = child(code, str(path)).communicate(timeout=60)
    assert len(out.splitlines()) == 2 and not told, told
    assert sorted(each.name for each in tmp_path.iterdir() if not each.name.startswith("log.db-")) == [
        "log.db"
    ]
    with opened(path) as log:
        assert damage(log) == () and len(things(log, "photo")) == 59


def as_nobody(trial: Callable[[], str]) -> str:
    """What a trial says that is made by a user who may not write; root, who always may, becomes another for it."""
    ours, theirs = os.pipe()
    pid = os.fork()
    if pid == 0:
        try:
            if os.geteuid() == 0:
                os.setgroups([])
                os.setgid(65534)
                os.setuid(65534)
            os.write(theirs, trial().encode())
        except BaseException as error:
            os.write(theirs, f"unexpected: {error!r}".encode())
        finally:
            os._exit(0)
    os.close(theirs)
    os.waitpid(pid, 0)
    with os.fdopen(ours, encoding="utf-8") as said:
        return said.read()


@pytest.fixture
def read_only():
    """A folder that others may read and only its owner may write, to put a log in and lock."""
    with tempfile.TemporaryDirectory(dir="/tmp") as name:
        yield Path(name)
        Path(name).chmod(0o755)


def lock(folder: Path) -> None:
    for file in folder.iterdir():
        file.chmod(0o444)
    folder.chmod(0o555)


def test_a_read_only_folder_is_read_and_told_when_written_to(read_only: Path) -> None:
    path = read_only / "log.db"
    create(path)
    day(path)
    lock(read_only)

    def trial() -> str:
        with opened(path) as log:
            said = f"{len(things(log, 'pour'))} {log.writable} "
        try:
            with opened(path, write=True) as log:
                enter(log, "pour", POUR, AT)
        except OutputError as error:
            return said + str(error)
        return said + "it was written"

    said = as_nobody(trial)
    assert said.startswith("1 False ") and "the file or its folder is read-only; nothing was entered" in said
    assert len(dump(path)) == 11 + 10


def test_rows_that_wait_beside_a_read_only_log_are_not_passed_over(path: Path, read_only: Path) -> None:
    with opened(path, write=True) as log:
        enter(log, "pour", POUR, AT)
        for name in ("log.db", "log.db-wal"):
            (read_only / name).write_bytes(path.with_name(name).read_bytes())
    lock(read_only)

    def trial() -> str:
        try:
            with opened(read_only / "log.db") as log:
                return f"{len(things(log, 'pour'))} read"
        except OutputError as error:
            return str(error)

    assert "rows wait in log.db-wal" in as_nobody(trial)


# versions


def test_a_log_of_the_first_version_is_brought_up_to_date_with_its_rows(tmp_path: Path) -> None:
    path = tmp_path / "old.db"
    make(path, MIGRATIONS[:1])
    with closing(sqlite3.connect(path)) as old:
        assert old.execute("PRAGMA user_version").fetchone() == (1,)
        old.execute(
            "INSERT INTO entry (id, at, kind, thing, note) VALUES (1, '2025-01-02T03:04:05', 'pour', 1, 'old')"
        )
        old.execute("INSERT INTO pour VALUES (1, 'kept', 600, NULL, 50, 3.15, 2.65, 2.2)")
        old.commit()
    with opened(path, write=True) as log:
        assert log.connection.execute("PRAGMA user_version").fetchone() == (VERSION,)
        held = current(log, 1)
        assert (held.text_of("title"), held.note, held.at) == ("kept", "old", "2025-01-02T03:04:05")
        assert enter(log, "weather", {"air_k": 280.0}, AT).belongs == 1
        assert damage(log) == ()


def test_every_version_leads_to_the_same_tables(tmp_path: Path) -> None:
    schemas = []
    for version in range(1, VERSION + 1):
        path = tmp_path / f"{version}.db"
        make(path, MIGRATIONS[:version])
        with opened(path, write=True) as log:
            schemas.append(
                log.connection.execute("SELECT type, name, sql FROM sqlite_schema ORDER BY name").fetchall()
            )
    assert all(schema == schemas[0] for schema in schemas)


def test_an_update_that_fails_leaves_the_old_log_whole(tmp_path: Path, monkeypatch) -> None:
    from formwork.pour.log import file  # noqa: PLC0415 - to spoil its scripts

    path = tmp_path / "old.db"
    make(path, MIGRATIONS[:1])
    monkeypatch.setattr(
        file, "MIGRATIONS", (MIGRATIONS[0], MIGRATIONS[1] + "CREATE TABLE pour (id INTEGER) STRICT;\n")
    )
    with pytest.raises(InputError, match="table pour already exists"), opened(path, write=True):
        pass
    with closing(sqlite3.connect(path)) as old:
        assert old.execute("PRAGMA user_version").fetchone() == (1,)
        assert not old.execute("SELECT 1 FROM sqlite_schema WHERE name = 'weather'").fetchone()
        assert old.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def test_a_log_of_a_newer_version_is_left_alone(path: Path) -> None:
    with closing(sqlite3.connect(path)) as newer:
        newer.execute(f"PRAGMA user_version={VERSION + 1}")
    before = path.read_bytes()
    words = f"got a log of version {VERSION + 1}, want version {VERSION} or older"
    for write in (False, True):
        with pytest.raises(InputError, match=words), opened(path, write=write):
            pass
    assert path.read_bytes() == before


def test_scripts_are_cut_into_whole_statements() -> None:
    for script in MIGRATIONS:
        found = statements(script)
        assert all(sqlite3.complete_statement(statement) for statement in found)
        assert "".join("".join(found).split()) == "".join(script.split())


# files that are no log, or a damaged one


def foreign(path: Path) -> None:
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE mine (a)")
        other.commit()


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (lambda path: path.unlink(), "got no such file, want a log (make one: formwork log start)"),
        (lambda path: path.write_bytes(b""), "nothing is in it"),
        (lambda path: path.write_text("dear diary"), "got a file that is no log, or a damaged one"),
        (lambda path: (path.unlink(), foreign(path)), "got a database of another program, want a log"),
        (lambda path: path.write_bytes(path.read_bytes()[:5000]), "got a damaged file"),
        (lambda path: (path.unlink(), path.mkdir()), "want a log that can be read"),
    ],
)
def test_a_file_that_is_no_log_is_told_and_left_alone(
    path: Path, spoil: Callable[[Path], object], words: str
) -> None:
    day(path)
    spoil(path)
    before = path.read_bytes() if path.is_file() else None
    with pytest.raises(InputError) as told, opened(path, write=True) as log:
        things(log, "reading")
    assert words in str(told.value)
    assert (path.read_bytes() if path.is_file() else None) == before


def test_damage_inside_is_found_and_told(path: Path) -> None:
    with opened(path, write=True) as log:
        for i in range(40):
            enter(log, "pour", {**POUR, "title": f"{i} " + "t" * 100}, AT)
    spoilt = bytearray(path.read_bytes())
    for page in range(4096 * 3, len(spoilt), 4096):
        spoilt[page : page + 64] = os.urandom(64)
    path.write_bytes(spoilt)
    try:
        with opened(path) as log:
            assert damage(log)
    except InputError as error:
        assert "damaged" in str(error)
    with (
        pytest.raises(InputError, match=r"got a damaged file \(.*, want a log that is whole"),
        opened(path) as log,
    ):
        for kind in KINDS:
            things(log, kind)


def test_bytes_spoilt_at_random_are_told_and_never_crash(path: Path, tmp_path: Path) -> None:
    day(path)
    with opened(path) as log:
        export(log, tmp_path / "out")
    whole, chance = path.read_bytes(), Random(7)
    told = 0
    for i in range(40):
        spoilt = bytearray(whole)
        for _ in range(chance.choice([1, 3, 40])):
            spoilt[chance.randrange(100 if chance.random() < 0.4 else len(spoilt))] = chance.randrange(256)
        copy = tmp_path / f"{i}.db"
        copy.write_bytes(spoilt)
        try:
            with opened(copy, write=True) as log:
                for kind in KINDS:
                    assert all(history(log, entry.number) for entry in things(log, kind))
                damage(log)
        except FormworkError:
            told += 1
    assert 5 < told < 40
    for i in range(40):
        folder = tmp_path / f"out{i}"
        shutil.copytree(tmp_path / "out", folder)
        file = chance.choice(sorted(folder.iterdir()))
        text = bytearray(file.read_bytes())
        text[chance.randrange(len(text))] = chance.choice(b'x",\n\xff9-')
        file.write_bytes(text)
        with suppress(FormworkError):
            import_folder(folder, tmp_path / f"back{i}.db")
        assert not list(tmp_path.glob("*.partial*"))


def test_a_database_of_another_program_is_not_even_touched(tmp_path: Path) -> None:
    path = tmp_path / "other.db"
    foreign(path)
    before = path.read_bytes()
    with pytest.raises(InputError), opened(path, write=True):
        pass
    assert path.read_bytes() == before and [p.name for p in tmp_path.iterdir()] == ["other.db"]


def test_a_new_log_is_never_made_over_a_file(path: Path, tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="exists and is left as it is"):
        create(path)
    with pytest.raises(OutputError, match="cannot write"):
        create(tmp_path / "none" / "log.db")
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA application_id").fetchone() == (APPLICATION,)
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_names_with_signs_that_addresses_use(tmp_path: Path) -> None:
    path = tmp_path / "wet & dry? #1 100%.db"
    create(path)
    day(path)
    assert len(dump(path)) == 21


# out, back, and copied


def test_out_to_csv_and_back_without_loss(path: Path, tmp_path: Path) -> None:
    day(path)
    with opened(path) as log:
        assert export(log, tmp_path / "out") == 11
    assert import_folder(tmp_path / "out", tmp_path / "back.db") == 11
    assert dump(tmp_path / "back.db") == dump(path)
    with opened(tmp_path / "back.db", write=True) as log:
        assert enter(log, "reading", READING, AT).number == 12
    assert sorted(each.name for each in tmp_path.iterdir()) == ["back.db", "log.db", "out"]


_AMOUNT = st.floats(0.0, 5000.0)
_TEXT = st.text(st.characters(exclude_categories=("C", "Z")), min_size=1, max_size=40)


@given(
    rows=st.lists(
        st.tuples(_TEXT, _AMOUNT, st.one_of(st.none(), st.floats(1e-5, 99.0))), min_size=1, max_size=5
    )
)
@settings(max_examples=8)
def test_any_text_and_any_number_comes_back_as_it_was(rows) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        create(folder / "log.db")
        with opened(folder / "log.db", write=True) as log:
            enter(log, "pour", POUR, AT)
            for text, amount, planned in rows:
                enter(log, "batch", {**BATCH, "water_kg": amount, "planned_m3": planned}, AT, note=text)
                enter(log, "photo", {"path": text}, AT)
            export(log, folder / "out")
        import_folder(folder / "out", folder / "back.db")
        assert dump(folder / "back.db") == dump(folder / "log.db")


def test_a_folder_of_the_first_version_is_read(tmp_path: Path) -> None:
    folder = tmp_path / "old"
    folder.mkdir()
    (folder / "about.csv").write_text("version,entry,pour\n1,1,1\n")
    (folder / "entry.csv").write_text("id,at,kind,thing,struck,note\n1,2025-01-02T03:04:05,pour,1,0,\n")
    (folder / "pour.csv").write_text(
        "id,title,wet_density_kg_m3,planned_m3,foam_density_kg_m3,cement_gravity,sand_gravity,ash_gravity\n"
        "1,kept,600.0,,50.0,3.15,2.65,2.2\n"
    )
    assert import_folder(folder, tmp_path / "new.db") == 1
    with opened(tmp_path / "new.db") as log:
        assert current(log, 1).text_of("title") == "kept" and current(log, 1).values["planned_m3"] is None


def test_a_folder_of_the_second_version_gets_the_columns_of_today(tmp_path: Path) -> None:
    folder = tmp_path / "old"
    folder.mkdir()
    (folder / "about.csv").write_text("version,entry,pour,batch\n2,2,1,1\n")
    (folder / "entry.csv").write_text(
        "id,at,kind,thing,struck,note\n1,2025-01-02T03:04:05,pour,1,0,\n2,2025-01-02T03:05:05,batch,2,0,\n"
    )
    (folder / "pour.csv").write_text(
        "id,title,wet_density_kg_m3,planned_m3,foam_density_kg_m3,cement_gravity,sand_gravity,ash_gravity\n"
        "1,kept,600.0,,50.0,3.15,2.65,2.2\n"
    )
    (folder / "batch.csv").write_text(
        "id,pour,cement_kg,water_kg,sand_kg,ash_kg,foam_m3,planned_m3\n2,1,25.0,12.5,0.0,0.0,0.0484,\n"
    )
    assert import_folder(folder, tmp_path / "new.db") == 2
    with opened(tmp_path / "new.db", write=True) as log:
        assert (current(log, 2).values["other_kg"], current(log, 1).values["other_gravity"]) == (0.0, 2.6)
        assert enter(log, "batch", {**BATCH, "other_kg": 2.0}, AT).values["other_kg"] == 2.0


@pytest.mark.parametrize(
    ("file", "old", "new", "words"),
    [
        ("reading.csv", "0.72", "heavy", "reading.csv:2: got gross_kg 'heavy', want a number"),
        ("reading.csv", "gross_kg", "gross", "reading.csv:1: got id,batch"),
        ("reading.csv", ",mix,", ",soup,", "reading.csv:2: got CHECK constraint failed"),
        ("entry.csv", "2026-11-25T14:00:00,pour", "x,pour", "entry.csv:2: got CHECK constraint failed"),
        ("batch.csv", "2,1,", "2,77,", "got row 2 of batch belongs to nothing"),
        ("about.csv", f"\n{VERSION},", "\n9,", f"about.csv:2: got version 9, want version 1 to {VERSION}"),
        ("about.csv", ",11,", ",12,", "entry.csv: got 11 rows, want 12, as about.csv says"),
        ("about.csv", "photo", "poem", "got poem, want one of entry, pour"),
        ("about.csv", ",11,", ",x,", "want the version and whole numbers of rows"),
        ("photo.csv", ".jpg", ".jpg,more", "photo.csv:2: got 4 cells, want 3"),
        ("photo.csv", None, None, "photo.csv: got no such file or directory"),
    ],
)
def test_a_folder_that_is_not_whole_makes_no_log(path: Path, tmp_path: Path, file, old, new, words) -> None:
    day(path)
    with opened(path) as log:
        export(log, tmp_path / "out")
    if old is None:
        (tmp_path / "out" / file).unlink()
    else:
        text = (tmp_path / "out" / file).read_text(encoding="utf-8")
        assert old in text
        (tmp_path / "out" / file).write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(FormworkError) as told:
        import_folder(tmp_path / "out", tmp_path / "back.db")
    assert words in str(told.value)
    assert sorted(each.name for each in tmp_path.iterdir()) == ["log.db", "out"]


def test_a_backup_while_another_writes_is_whole(path: Path, tmp_path: Path) -> None:
    writer = child(_ENTERS, str(path), "100000", "busy")
    try:
        assert writer.stdout is not None
        before = int([writer.stdout.readline() for _ in range(20)][-1])
        with opened(path) as log:
            back_up(log, tmp_path / "copy.db")
    finally:
        writer.kill()
        writer.communicate()
    with opened(tmp_path / "copy.db", write=True) as copy:
        numbers = [entry.number for entry in things(copy, "pour")]
        assert damage(copy) == () and len(numbers) >= before and numbers == list(range(1, len(numbers) + 1))
        assert enter(copy, "pour", POUR, AT).number == len(numbers) + 1


def test_copies_are_never_written_over_files(path: Path, tmp_path: Path) -> None:
    (tmp_path / "there").write_text("mine")
    with opened(path) as log:
        for write in (back_up, export):
            with pytest.raises(OutputError, match="exists and is left as it is"):
                write(log, tmp_path / "there")
            with pytest.raises(OutputError):
                write(log, tmp_path / "none" / "copy")
    with pytest.raises(OutputError, match="exists and is left as it is"):
        import_folder(tmp_path, tmp_path / "there")
    assert (tmp_path / "there").read_text() == "mine"
    assert sorted(each.name for each in tmp_path.iterdir()) == ["log.db", "there"]
