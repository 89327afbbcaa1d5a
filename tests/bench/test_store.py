"""The store of readings: what is acknowledged stays, whatever happens around it."""

import contextlib
import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import threading
from dataclasses import replace
from pathlib import Path

import pytest

from ohmstead.bench import faults, layout
from ohmstead.bench.kept import attach, keep_revision, picture_bytes, pictures_of, revision_text
from ohmstead.bench.reading import Reading, revision_of
from ohmstead.bench.rows import Wanted
from ohmstead.bench.store import open_store, store_path, view_store
from ohmstead.site.problems import SiteError

REVISION = revision_of("ohmstead: 1")
ONE = Reading("voltage", "main bar", 25.6, "ada", REVISION, meter="yellow", at="2026-11-27T09:14:00Z")
JPEG = b"\xff\xd8\xff\xe0" + b"picture" * 20


def values(file: Path) -> list[float | None]:
    with view_store(file) as store:
        return [entry.reading.value for entry in store.entries(Wanted("all"))]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return Path(store_path(tmp_path / "skerry.yaml"))


def test_a_reading_comes_back_as_it_was(file: Path) -> None:
    with open_store(file) as store:
        entry = store.add(replace(ONE, state="idle", step="7", note="µ ± Ω", uncertainty=0.02))
    with view_store(file) as store:
        (found,) = store.entries()
    assert found == entry
    assert (found.reading.note, found.reading.uncertainty, found.number) == ("µ ± Ω", 0.02, 1)


def test_it_is_on_the_disk_before_it_is_acknowledged(file: Path) -> None:
    with open_store(file) as store:
        assert store.connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert store.connection.execute("PRAGMA synchronous").fetchone() == (2,)  # FULL: every commit is synchronised
        store.add(ONE)
        beside = file.with_name("copy.readings.db")  # what a disk holds when the power goes now
        shutil.copy(file, beside)
        shutil.copy(f"{file}-wal", f"{beside}-wal")
        with open(f"{beside}-wal", "ab") as log:
            log.write(os.urandom(5000))  # a torn write behind the last commit
    assert values(beside) == [25.6]


def test_a_correction_is_a_new_row(file: Path) -> None:
    with open_store(file) as store:
        wrong = store.add(ONE)
        right = store.correct(wrong.number, replace(ONE, value=25.2, who="ben"))
        other = store.add(replace(ONE, point="hide block"))
        gone = store.withdraw(other.number, "ben", "lead was in the wrong socket")
        assert [e.number for e in store.entries()] == [right.number]
        history = store.entries(Wanted("all"))
    assert [e.corrects for e in history] == [0, wrong.number, 0, other.number]
    assert history[3].reading.value is None and gone.reading.note == "lead was in the wrong socket"


def test_two_people_cannot_correct_the_same_reading(file: Path) -> None:
    with open_store(file) as here, open_store(file) as there:
        wrong = here.add(ONE)
        there.correct(wrong.number, replace(ONE, value=25.2, who="ben"))
        with pytest.raises(faults.ReadingRefused, match="already corrected by reading 2, of ben"):
            here.correct(wrong.number, replace(ONE, value=25.3))


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE reading SET value = 1",
        "DELETE FROM reading",
        "INSERT OR REPLACE INTO reading SELECT * FROM reading",
        "INSERT OR REPLACE INTO reading (quantity, point, state, step, value, who, meter, note, at, entered, revision, "
        "token) SELECT quantity, point, state, step, 7, who, meter, note, at, entered, revision, token FROM reading",
        "UPDATE picture SET data = x'00'",
        "DELETE FROM picture",
        "DELETE FROM revision",
        "UPDATE revision SET text_zlib = x'00'",
    ],
)
def test_the_file_itself_refuses_to_forget(file: Path, statement: str) -> None:
    with open_store(file) as store:
        keep_revision(store, "skerry.yaml", "ohmstead: 1")
        attach(store, store.add(ONE).number, "a.jpg", JPEG, "ada")
    with contextlib.closing(sqlite3.connect(file)) as other, pytest.raises(sqlite3.IntegrityError, match="only ever"):
        other.execute(statement)
    assert values(file) == [25.6]


def test_the_same_token_is_stored_once(file: Path) -> None:
    with open_store(file) as store:
        first = store.add(replace(ONE, token="sheet 3, line 4"))
        assert store.add(replace(ONE, token="sheet 3, line 4")) == first
        with pytest.raises(faults.ReadingRefused, match="same token"):
            store.add(replace(ONE, token="sheet 3, line 4", value=1.0))
        assert len(store.entries()) == 1


def test_all_or_none(file: Path) -> None:
    with open_store(file) as store:
        store.add(replace(ONE, token="a"))
        with pytest.raises(faults.ReadingRefused):
            store.add_all([replace(ONE, token="b"), replace(ONE, token="a", value=1.0)])
        assert [e.reading.token for e in store.entries()] == ["a"]


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"quantity": "happiness"}, "no quantity"),
        ({"point": " "}, "what was measured"),
        ({"who": ""}, "who measured"),
        ({"value": float("nan")}, "no reading"),
        ({"value": None}, "without a value"),
        ({"uncertainty": -1.0}, "no uncertainty"),
        ({"note": "x" * 3000}, "too long"),
        ({"note": "\x1b[31m"}, "invisible"),
        ({"at": "yesterday"}, "no moment"),
        ({"revision": "7"}, "no checksum"),
    ],
)
def test_a_bad_reading_is_refused(file: Path, change: dict[str, object], says: str) -> None:
    with open_store(file) as store:
        with pytest.raises(faults.ReadingRefused, match=says):
            store.add(replace(ONE, **change))
        assert store.entries() == ()


def test_pictures_are_typed_and_bounded(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with open_store(file) as store:
        number = store.add(ONE).number
        picture = attach(store, number, "crimp.jpg", JPEG, "ada")
        assert (picture.kind, pictures_of(store, number), picture_bytes(store, picture.number)) == (
            "image/jpeg", (picture,), JPEG,
        )  # fmt: skip
        assert store.entries()[0].pictures == 1
        with pytest.raises(faults.ReadingRefused, match="no picture"):
            attach(store, number, "x.jpg", b"<script>", "ada")
        with pytest.raises(faults.ReadingRefused, match="12.0 MB"):
            attach(store, number, "x.jpg", JPEG + bytes(12_000_000), "ada")
        with pytest.raises(faults.ReadingRefused, match="no reading number 99"):
            attach(store, 99, "x.jpg", JPEG, "ada")


def test_the_text_of_the_site_is_kept(file: Path) -> None:
    text = "ohmstead: 1\r\nsite: {name: Süd}\n"
    with open_store(file) as store:
        for _ in range(2):
            keep_revision(store, "skerry.yaml", text)
        assert revision_text(store, revision_of(text)) == text
        assert revision_text(store, REVISION) is None


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and SIGKILL")
def test_nothing_acknowledged_is_lost_to_200_kills(tmp_path: Path) -> None:
    n_said = n_round = 0
    for seed in range(10):  # a new file each time, so that kills also meet its making
        folder = tmp_path / str(seed)
        folder.mkdir()
        command = [sys.executable, str(Path(__file__).with_name("writers.py")), str(folder), "20", str(seed)]
        done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
        assert (done.returncode, done.stderr) == (0, "")
        said = {}
        for log in folder.glob("said-*"):
            for line in log.read_text().splitlines():
                token, value = line.split()
                said[token] = float(value)
        with open_store(folder / "s.readings.db") as store:
            assert store.connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            kept = {e.reading.token: e.reading.value for e in store.entries(Wanted("all"))}
        assert {t: v for t, v in said.items() if kept.get(t) != v} == {}
        assert len(kept) <= len(said) + 22  # at most one unacknowledged reading a killed writer
        n_said, n_round = n_said + len(said), n_round + 20
    assert n_round == 200
    assert n_said > 500


def test_people_at_once_wait_for_each_other(file: Path) -> None:
    problems: list[BaseException] = []

    def work(who: str) -> None:
        try:
            with open_store(file) as store:
                for k in range(25):
                    store.add(replace(ONE, who=who, value=float(k)))
        except BaseException as error:
            problems.append(error)

    threads = [threading.Thread(target=work, args=(f"person {n}",)) for n in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert problems == []
    assert len(values(file)) == 100


def test_people_may_make_the_file_at_once(tmp_path: Path) -> None:
    problems: list[BaseException] = []

    def make(file: Path, together: threading.Barrier) -> None:
        together.wait()
        try:
            open_store(file).close()
        except BaseException as error:
            problems.append(error)

    for k in range(25):
        together = threading.Barrier(3)
        threads = [threading.Thread(target=make, args=(tmp_path / f"{k}.db", together)) for _ in range(3)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    assert problems == []


def test_waiting_ends_with_a_clear_word(file: Path) -> None:
    with open_store(file) as store, open_store(file, patience_s=0.05) as waits:
        store.connection.execute("BEGIN IMMEDIATE")
        with pytest.raises(faults.StoreBusy, match="NOT stored"):
            waits.add(ONE)
        store.connection.execute("ROLLBACK")
        waits.add(ONE)
    assert values(file) == [25.6]


def fill(file: Path) -> tuple[int, SiteError]:
    """Readings that fitted, and what stopped the next."""
    n_stored = 0
    with open_store(file) as store:
        try:
            while n_stored < 5000:
                store.add(replace(ONE, note="x" * 1900, value=float(n_stored)))
                n_stored += 1
        except SiteError as error:
            return n_stored, error
    raise AssertionError("the disk never filled")


def test_a_full_database(file: Path) -> None:
    with open_store(file) as store:
        store.connection.execute("PRAGMA max_page_count = 40")
        n_stored = 0
        with pytest.raises(faults.DiskFull, match="all earlier ones are safe"):
            while True:
                store.add(replace(ONE, note="x" * 1900, value=float(n_stored)))
                n_stored += 1
        assert len(store.entries()) == n_stored
        store.connection.execute("PRAGMA max_page_count = 4000")
        store.add(replace(ONE, value=float(n_stored)))  # goes on once there is room
    assert values(file) == [float(k) for k in range(n_stored + 1)]


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root may mount a small disk")
def test_a_full_disk(tmp_path: Path) -> None:
    place = tmp_path / "disk"
    place.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=1500k", "tmpfs", place], check=False).returncode:
        pytest.skip("no mounting here")
    try:
        n_stored, error = fill(place / "s.readings.db")
        assert isinstance(error, faults.DiskFull)
        assert values(place / "s.readings.db") == [float(k) for k in range(n_stored)]
        assert n_stored > 20
    finally:
        subprocess.run(["umount", "-l", place], check=False)


LIMITED = """
import resource, sys
from pathlib import Path
sys.path.insert(0, sys.argv[2])
from test_store import fill
resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, 200_000))
n_stored, error = fill(Path(sys.argv[1]))
print(n_stored, type(error).__name__)
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs limits of a process")
def test_a_file_that_may_not_grow(file: Path) -> None:
    command = [sys.executable, "-c", LIMITED, str(file), str(Path(__file__).parent)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    n_stored, kind = done.stdout.split()
    assert kind == "DiskFull", done.stderr
    assert values(file) == [float(k) for k in range(int(n_stored))]


READ_ONLY = """
import os, sys, urllib.request
from ohmstead.bench import faults
from ohmstead.bench.kept import attach, keep_revision, picture_bytes, pictures_of, revision_text
from ohmstead.bench.reading import Reading, revision_of
from ohmstead.bench.store import open_store, view_store
if os.geteuid() == 0:
    os.setgroups([]), os.setgid(65534), os.setuid(65534)  # nobody: root may write anywhere
for name in sys.argv[1:]:
    try:
        with open_store(name) as store:
            store.add(Reading("voltage", "main bar", 1.0, "ada", revision_of("")))
        print("stored")
    except faults.StoreError as error:
        print(type(error).__name__)
with view_store(sys.argv[1]) as store:
    print([entry.reading.value for entry in store.entries()])
"""


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="needs permissions of files")
def test_a_folder_that_may_only_be_read() -> None:
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        with open_store(folder / "s.readings.db") as store:
            store.add(ONE)
        (folder / "s.readings.db").chmod(0o444)
        folder.chmod(0o555)
        command = [sys.executable, "-c", READ_ONLY, str(folder / "s.readings.db"), str(folder / "new.readings.db")]
        try:
            done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
        finally:
            folder.chmod(0o755)
    assert done.stdout.splitlines() == ["ReadOnly", "ReadOnly", "[25.6]"], done.stderr


def test_a_newer_store_is_left_alone(file: Path) -> None:
    with open_store(file) as store:
        store.add(ONE)
    with contextlib.closing(sqlite3.connect(file)) as other:
        other.execute("PRAGMA user_version = 7")
        other.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    before = file.read_bytes()
    for opens in (open_store, view_store):
        with pytest.raises(faults.NewerStore, match=r"newer Ohmstead \(form 7; this one knows up to 1\)"):
            opens(file)
    assert file.read_bytes() == before


def test_an_older_store_is_brought_up(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with open_store(file) as store:
        store.add(ONE)
    steps = (*layout.STEPS, "CREATE TABLE more (x INTEGER); CREATE TABLE also (y INTEGER);")
    monkeypatch.setattr("ohmstead.bench.open_file.STEPS", steps)
    with open_store(file) as store:
        assert store.connection.execute("PRAGMA user_version").fetchone() == (2,)
        assert store.connection.execute("SELECT count(*) FROM also").fetchone() == (0,)
    broken = (*steps, "CREATE TABLE third (x INTEGER); CREATE TABLE also (y INTEGER);")
    monkeypatch.setattr("ohmstead.bench.open_file.STEPS", broken)
    with pytest.raises(faults.StoreError):
        open_store(file)
    monkeypatch.setattr("ohmstead.bench.open_file.STEPS", steps)
    with open_store(file) as store:  # a step that fails leaves nothing behind
        names = [name for (name,) in store.connection.execute("SELECT name FROM sqlite_master")]
        assert "third" not in names
        assert [entry.reading for entry in store.entries()][0].value == 25.6


def test_a_foreign_file_is_left_alone(tmp_path: Path) -> None:
    text, other = tmp_path / "a.db", tmp_path / "b.db"
    text.write_text("ohmstead: 1\n" * 40)
    with contextlib.closing(sqlite3.connect(other)) as made:
        made.execute("CREATE TABLE theirs (x)")
    for path in (text, other):
        before = path.read_bytes()
        for opens in (open_store, view_store):
            with pytest.raises(faults.ForeignFile, match="no store of readings"):
                opens(path)
        assert path.read_bytes() == before


def test_damage_is_told(file: Path) -> None:
    with open_store(file) as store:
        store.add_all(replace(ONE, note="x" * 500, value=float(k)) for k in range(400))
    data = bytearray(file.read_bytes())
    data[20_000:120_000] = os.urandom(100_000)
    file.write_bytes(data)
    with pytest.raises(faults.DamagedStore, match="safe place first"), view_store(file) as store:
        store.entries()


def test_a_file_that_is_taken_away_is_missed(file: Path) -> None:
    with open_store(file) as store:
        store.add(ONE)
        file.unlink()
        with pytest.raises(faults.StoreMoved, match="moved, replaced or deleted"):
            store.add(ONE)


def test_no_folder_and_no_readings(tmp_path: Path) -> None:
    with pytest.raises(faults.StoreError, match="no folder"):
        open_store(tmp_path / "nowhere" / "s.readings.db")
    with pytest.raises(faults.StoreError, match="no readings yet"):
        view_store(tmp_path / "s.readings.db")


def test_ten_years_stay_quick(file: Path) -> None:
    """200,000 readings: what is asked daily goes by an index and reads no more rows than it gives."""
    with open_store(file) as store:
        store.add(ONE)
        for wanted in (
            "SELECT number FROM reading AS r WHERE value IS NOT NULL AND NOT EXISTS (SELECT 1 FROM reading AS c "
            "WHERE c.corrects = r.number) AND point = 'a' AND state = 'b' ORDER BY number",
            "SELECT number FROM reading AS r WHERE revision = 'a' ORDER BY number",
            "SELECT number FROM reading AS r WHERE token = 'a'",
        ):
            plan = [row[3] for row in store.connection.execute("EXPLAIN QUERY PLAN " + wanted)]
            assert not any(line.startswith("SCAN") for line in plan), plan
