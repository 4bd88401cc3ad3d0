"""A book whose tables are not those of the model: brought up when only added to, else refused."""

from __future__ import annotations

import re
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from click.testing import CliRunner
from old_books import FORMAT_7, rebuilt

from fieldbook.actions.job_files import export_text
from fieldbook.cli.main import main
from fieldbook.records.base import Record
from fieldbook.records.loaded_job import RECORDS
from fieldbook.records.tables.zones import Zone
from fieldbook.store.book import Book
from fieldbook.store.changes import Put
from fieldbook.store.errors import BookError
from fieldbook.store.lifecycle.book_tables import MODEL
from fieldbook.store.lifecycle.layout import difference
from fieldbook.store.mending.verify import verify
from fieldbook.store.sqlite.backup import backup_files, backup_folder
from fieldbook.store.sqlite.row_statements import select_rows

JOB = "72d403ca-149d-5110-bfe7-a1397e2c8804"
"""The property of the book of format 7."""


@pytest.fixture
def raw(book_file: Path) -> Iterator[sqlite3.Connection]:
    """The file of a book with a row in every table, closed, as another program may change it."""
    rebuilt(FORMAT_7, book_file)
    Book(book_file).close()
    with closing(sqlite3.connect(book_file)) as opened:
        yield opened


def exported(book_file: Path) -> str:
    """The property of the book as a job file."""
    with Book(book_file) as book:
        return export_text(book, JOB)


def take_away(raw: sqlite3.Connection, table: str, columns: list[str]) -> None:
    """Make the file that of a fieldbook which does not know some columns of a table yet.

    The table is made anew, since SQLite parses the whole file again for each column it drops.
    """
    query = "SELECT type, name FROM sqlite_schema WHERE type IN ('trigger', 'index') AND sql LIKE ?"
    for kind, name in raw.execute(query, (f"%{table}%",)).fetchall():
        raw.execute(f'DROP {kind} "{name}"')
    made = raw.execute("SELECT sql FROM sqlite_schema WHERE name = ?", (table,)).fetchone()[0]
    left = [row[1] for row in raw.execute(f'PRAGMA table_info("{table}")') if row[1] not in columns]
    listed = ", ".join(f'"{column}"' for column in left)
    raw.execute(f'CREATE TEMP TABLE kept AS SELECT {listed} FROM "{table}"')
    raw.execute(f'DROP TABLE "{table}"')
    for column in columns:
        made = re.sub(rf'\s"?{column}"? [^,()]*,', "", made)
    raw.execute(made)
    raw.execute(f'INSERT INTO "{table}" ({listed}) SELECT {listed} FROM kept')
    raw.execute("DROP TABLE kept")
    raw.commit()
    assert [row[1] for row in raw.execute(f'PRAGMA table_info("{table}")')] == left


def untouched(book_file: Path, said: str) -> str:
    """The sentence with which the book is refused; not a byte of it has changed then."""
    before, copies = book_file.read_bytes(), backup_files(book_file)
    with pytest.raises(BookError, match=said) as why:
        Book(book_file)
    assert book_file.read_bytes() == before
    assert backup_files(book_file) == copies
    assert "\n" not in str(why.value)
    return str(why.value)


@pytest.mark.parametrize("table", RECORDS)
def test_columns_that_a_file_lacks_come_back_with_what_the_journal_tells(
    table: str, raw: sqlite3.Connection, book_file: Path
) -> None:
    before = exported(book_file)
    record = MODEL.tables[table]
    columns = [one.name for one in record.columns if one.name not in ("id", "job_id")]
    take_away(raw, table, columns)
    assert any("open it once" in sentence for sentence in verify(book_file).wrong)
    assert exported(book_file) == before
    assert not difference(raw).missing
    assert verify(book_file).wrong == ()
    assert backup_files(book_file)[-1].name.endswith("-before-new-columns.sqlite")


def test_a_table_that_a_file_lacks_comes_back_with_what_the_journal_tells(
    raw: sqlite3.Connection, book_file: Path
) -> None:
    before = exported(book_file)
    for table in ("note", "splice", "sign_off"):
        raw.execute(f'DROP TABLE "{table}"')
    raw.commit()
    assert exported(book_file) == before
    assert verify(book_file).wrong == ()
    with pytest.raises(sqlite3.IntegrityError, match="stays as it was signed"):
        raw.execute("DELETE FROM sign_off")


def test_an_index_that_a_file_lacks_is_made(raw: sqlite3.Connection, book_file: Path) -> None:
    raw.execute("DROP INDEX journal_by_row")
    Book(book_file).close()
    assert not difference(raw).missing


def test_a_change_of_a_column_that_was_added_is_caught(
    raw: sqlite3.Connection, book_file: Path
) -> None:
    take_away(raw, "zone", ["waters"])
    with Book(book_file) as book:
        zone = book.load(JOB).zones[0]
        book.commit(JOB, [Put("zone", zone.id, "waters", "the hedge")], by="AB", what="waters")
        assert book.load(JOB).zones[0].waters == "the hedge"
        assert book.past_values(JOB, zone.id, "waters")[-1].value == "the hedge"
        assert book.undo(JOB, by="AB") == "waters"
        assert book.load(JOB).zones[0].waters == zone.waters
    assert verify(book_file).wrong == ()


@pytest.mark.parametrize(("table", "column"), [("job", "phone"), ("zone", "waters")])
def test_a_text_that_could_be_null_is_made_blank(
    table: str, column: str, book_file: Path, tmp_path: Path
) -> None:
    """SQLite can't change NOT NULL of a column: the table is made anew, and rows point at it."""
    dump = FORMAT_7.read_text("utf-8")
    start = dump.index(f"CREATE TABLE {table} (")
    required = dump.index(f"{column} VARCHAR NOT NULL", start) + len(f"{column} VARCHAR")
    changed = tmp_path / "changed.sql"
    changed.write_text(dump[:required] + dump[required:].replace(" NOT NULL", "", 1), "utf-8")
    rebuilt(changed, book_file)
    with closing(sqlite3.connect(book_file)) as raw:
        raw.execute(f'UPDATE "{table}" SET "{column}" = NULL')
        raw.commit()
        Book(book_file).close()
        assert not difference(raw).missing
        assert raw.execute(f'SELECT DISTINCT "{table}"."{column}" FROM "{table}"').fetchall() == [
            ("",)
        ]
        assert raw.execute("PRAGMA foreign_key_check").fetchall() == []
    assert verify(book_file).wrong == ()


def test_a_column_of_a_newer_fieldbook_is_left_untouched(
    raw: sqlite3.Connection, book_file: Path
) -> None:
    raw.execute("ALTER TABLE zone ADD COLUMN frost_in FLOAT")
    said = untouched(book_file, "zone.frost_in")
    assert said.endswith("update fieldbook; the book was not touched.")
    assert said in verify(book_file).wrong
    told = CliRunner().invoke(main, ["--book", str(book_file), "jobs"])
    assert told.exit_code != 0
    assert "update fieldbook" in told.output
    assert told.exception is None or isinstance(told.exception, SystemExit)


def test_a_table_of_a_newer_fieldbook_is_left_untouched(
    raw: sqlite3.Connection, book_file: Path
) -> None:
    raw.executescript(
        "CREATE TABLE frost (id VARCHAR NOT NULL, job_id VARCHAR NOT NULL, PRIMARY KEY (id));"
        "CREATE TRIGGER caught_frost_insert AFTER INSERT ON frost BEGIN SELECT 1; END"
    )
    assert "update fieldbook" in untouched(book_file, "frost.id")


def test_a_table_of_another_program_is_left_alone(raw: sqlite3.Connection, book_file: Path) -> None:
    raw.execute("CREATE TABLE my_list (what)")
    raw.execute("INSERT INTO my_list VALUES ('buy sod')")
    raw.commit()
    with Book(book_file) as book:
        assert book.load(JOB).zones
    assert raw.execute("SELECT what FROM my_list").fetchall() == [("buy sod",)]
    assert verify(book_file).wrong == ()


def test_a_column_of_another_type_is_refused_with_a_way_out(
    book_file: Path, tmp_path: Path
) -> None:
    dump = FORMAT_7.read_text("utf-8")
    changed = tmp_path / "changed.sql"
    changed.write_text(dump.replace("pressure_h FLOAT", "pressure_h VARCHAR"), "utf-8")
    rebuilt(changed, book_file)
    said = untouched(book_file, "zone.pressure_h")
    assert said.endswith("make a new book from its journal with fieldbook rebuild NEW.")


def test_a_backup_that_has_no_room_leaves_the_book_as_it_was(
    raw: sqlite3.Connection, book_file: Path
) -> None:
    take_away(raw, "zone", ["waters"])
    shutil.rmtree(backup_folder(book_file), ignore_errors=True)
    backup_folder(book_file).write_text("in the way")
    before = book_file.read_bytes()
    with pytest.raises(BookError, match="can't be backed up before it is brought up"):
        Book(book_file)
    assert book_file.read_bytes() == before


def test_reading_a_column_that_is_not_there_is_an_error(book: Book) -> None:
    """SQLite takes a quoted name that no column has for a text, unless the table is named too."""

    class NewerZone(Record, table="zone"):
        frost_in: float | None = None

    connection = book._connection
    with connection.begin():
        assert connection.run('SELECT "frost_in" FROM zone').all() == []
        for record, column in ((NewerZone, "id"), (Zone, "frost_in")):
            with pytest.raises(sqlite3.OperationalError, match="no such column"):
                list(select_rows(connection, record, column, "x"))
