"""A fact is added to the record: a fieldbook with it meets books and laptops that lack it.

The newer fieldbook is a copy of the source with two columns more, run in processes of its own.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from child_programs import command, open_counting, open_each_until
from click.testing import CliRunner
from made_entries import entry
from old_books import FORMAT_7, rebuilt

import fieldbook
from fieldbook.cli.main import main
from fieldbook.store.book import Book
from fieldbook.store.changes import Put, Remove
from fieldbook.store.errors import BookError
from fieldbook.store.mending.rebuild import rebuild
from fieldbook.store.mending.verify import verify

JOB = "72d403ca-149d-5110-bfe7-a1397e2c8804"
"""The property of the book of format 7."""
ENTER = """
import sys
from pathlib import Path
from fieldbook.store.book import Book
from fieldbook.store.changes import Put
with Book(Path(sys.argv[1])) as book:
    job_id = sys.argv[2]
    zone = book.load(job_id).zones[0]
    for column, value in (("frost_in", 12.0), ("frost_kind", "hard"), ("frost_in", 30.0)):
        book.commit(job_id, [Put("zone", zone.id, column, value)], by="NF", what=column)
    assert book.undo(job_id, by="NF") == "frost_in"
    zone = book.load(job_id).zones[0]
    assert (zone.frost_in, zone.frost_kind) == (12.0, "hard"), zone
"""
COMMANDS = """
import json, sys
from click.testing import CliRunner
from fieldbook.cli.main import main
said = []
for book_file, *words in json.loads(sys.argv[1]):
    ran = CliRunner().invoke(main, ["--book", book_file, *words])
    assert ran.exit_code == 0, (words, ran.output, ran.exception)
    said.append(ran.output)
print(json.dumps(said))
"""
EXPORT = ("export", JOB)
NEW_TABLE = """
import sqlite3, sys
from pathlib import Path
from fieldbook.records.base import Record
from fieldbook.records.loaded_job import RECORDS, TABLES

class Frost(Record, table="frost"):
    depth_in: float | None = None

TABLES["frost"] = RECORDS["frost"] = Frost
from fieldbook.store.book import Book
from fieldbook.store.mending.verify import verify

path = Path(sys.argv[1])
Book(path).close()
assert verify(path).wrong == (), verify(path)
raw = sqlite3.connect(path)
print(raw.execute("SELECT depth_in FROM frost").fetchall())
raw.execute("UPDATE frost SET depth_in = 40")
raw.commit()
print(raw.execute("SELECT op, value FROM outbox").fetchall())
"""
"""A fieldbook with a table more opens a book, and prints what a trigger catches of a change."""


class Newer:
    """A fieldbook whose zones have two facts more."""

    def __init__(self, folder: Path) -> None:
        source = Path(fieldbook.__file__).parent
        shutil.copytree(source, folder / "fieldbook", ignore=shutil.ignore_patterns("__pycache__"))
        zones = folder / "fieldbook" / "records" / "tables" / "zones.py"
        text = zones.read_text("utf-8")
        # Like the facts beside them, however these are declared.
        for known, new in (("design_flow_gpm", "frost_in"), ("waters", "frost_kind")):
            (declared,) = re.findall(
                rf"^    {known}: .*?\] = \S+\n", text, re.DOTALL | re.MULTILINE
            )
            text = text.replace(declared, declared + declared.replace(known, new))
        zones.write_text(text, "utf-8")
        self._folder = folder

    def run(self, *arguments: object) -> str:
        """What a Python process of this fieldbook prints."""
        ran = subprocess.run(
            [sys.executable, *map(str, arguments)],
            env={**os.environ, "PYTHONPATH": str(self._folder)},
            cwd=self._folder,
            capture_output=True,
            text=True,
            check=False,
        )
        assert ran.returncode == 0, ran.stdout + ran.stderr
        return ran.stdout

    def commands(self, *of_books: tuple[object, ...]) -> list[str]:
        """What commands print, each given as its book and its words; in one process, to save time.

        The first that fails ends the process.
        """
        said: list[str] = json.loads(self.run("-c", COMMANDS, json.dumps(of_books, default=str)))
        return said

    def zones(self, *book_files: Path) -> list[dict[str, object]]:
        """The first zone of the property in each book, which is sound once it was opened."""
        self.run(*command(open_counting, *book_files)[1:])
        each = [((book_file, *EXPORT), (book_file, "verify")) for book_file in book_files]
        exported = self.commands(*(words for pair in each for words in pair))[::2]
        return [json.loads(text)["zones"][0] for text in exported]


@pytest.fixture(scope="module")
def newer(tmp_path_factory: pytest.TempPathFactory) -> Newer:
    return Newer(tmp_path_factory.mktemp("newer"))


@pytest.fixture
def entered(newer: Newer, book_file: Path) -> Path:
    """A book made before the facts were added, in which they are entered."""
    rebuilt(FORMAT_7, book_file)
    newer.run("-c", ENTER, book_file, JOB)
    return book_file


def exchange(book_file: Path, folder: Path) -> None:
    """Exchange with this fieldbook."""
    told = CliRunner().invoke(main, ["--book", str(book_file), "exchange", str(folder)])
    assert told.exit_code == 0, told.output


def test_a_fact_is_entered_exported_imported_verified_and_rebuilt(
    newer: Newer, entered: Path, tmp_path: Path
) -> None:
    file, other, again = tmp_path / "job.json", tmp_path / "other.sqlite", tmp_path / "again.sqlite"
    newer.commands((entered, *EXPORT, file), (other, "import", file), (entered, "rebuild", again))
    zone, imported, rebuilt_zone = newer.zones(entered, other, again)
    assert (zone["frost_in"], zone["frost_kind"]) == (12.0, "hard")
    assert imported == zone
    assert rebuilt_zone == zone


def test_a_laptop_that_lacks_a_fact_passes_it_on_and_shows_it_once_updated(
    newer: Newer, entered: Path, tmp_path: Path
) -> None:
    stick, lagging = tmp_path / "stick", tmp_path / "lagging.sqlite"
    stick.mkdir()
    newer.commands((entered, "exchange", stick))
    exchange(lagging, stick)
    with Book(lagging) as book:
        zone, other = book.load(JOB).zones[:2]
        # A row that is removed and put back keeps what this fieldbook can't show of it.
        book.commit(JOB, [Remove("zone", zone.id)], by="CD", what="zone removed")
        assert book.undo(JOB, by="CD") == "zone removed"
        book.commit(JOB, [Put("zone", zone.id, "name", "by the shed")], by="CD", what="name")
        book.commit(JOB, [Put("zone", other.id, "name", "by the gate")], by="CD", what="name")
    exchange(lagging, stick)
    assert verify(lagging).wrong == ()
    newer.commands((entered, "exchange", stick))
    for shown in newer.zones(entered, lagging):
        assert (shown["frost_in"], shown["frost_kind"]) == (12.0, "hard")
        assert shown["name"] == "by the shed"


def test_a_fieldbook_that_lacks_a_fact_leaves_the_book_but_rebuilds_it(
    newer: Newer, entered: Path, tmp_path: Path
) -> None:
    before = entered.read_bytes()
    with pytest.raises(BookError, match=r"zone\.frost_in.*update fieldbook"):
        Book(entered)
    assert entered.read_bytes() == before
    again = tmp_path / "again.sqlite"
    assert rebuild(entered, again)
    with Book(again) as book:
        assert book.load(JOB).zones[0].number == 1
    zone, rebuilt_zone = newer.zones(entered, again)
    assert rebuilt_zone == zone


def test_a_book_killed_while_it_gets_a_fact_opens_with_all_it_held(
    newer: Newer, tmp_path: Path
) -> None:
    rebuilt(FORMAT_7, tmp_path / "0" / "book.sqlite")
    shutil.copyfile(FORMAT_7, tmp_path / "dump.sql")
    killed = [int(word) for word in newer.run(*command(open_each_until, tmp_path, 3)[1:]).split()]
    assert set(killed[1::2]) == {signal.SIGKILL}
    assert len(killed) // 2 >= 3
    struck = [tmp_path / str(step) / "book.sqlite" for step in killed[::2]]
    first, *others = newer.zones(tmp_path / "0" / "book.sqlite", *struck)
    assert others == [first] * len(struck)


def test_a_table_that_is_new_shows_the_rows_that_the_journal_kept(book_file: Path) -> None:
    added = {"job_id": JOB, "depth_in": 12.0}
    came = entry(job_id=JOB, table="frost", row_id="f", op="add", value=json.dumps(added))
    rebuilt(FORMAT_7, book_file)
    with Book(book_file) as book:
        assert book.receive([came], "a folder").new == 1
    told = subprocess.run(
        [sys.executable, "-c", NEW_TABLE, str(book_file)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert told.stdout.splitlines() == ["[(12.0,)]", "[('depth_in', '40.0')]"], told.stderr
