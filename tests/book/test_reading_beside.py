"""Commands that read work beside an open app: a second process, a snapshot, nothing written."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from crew import at_a_new_property

from fieldbook.actions.properties import new_property
from fieldbook.store.book import Book
from fieldbook.store.changes import Put
from fieldbook.store.errors import BookHeldError
from fieldbook.store.journal.entry import FORMAT
from fieldbook.store.snapshot import reading
from fieldbook.store.sqlite.lock import WriterLock, is_held


def ask(book: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """Run a command in a second process."""
    return subprocess.run(
        [sys.executable, "-m", "fieldbook", "--book", str(book), *words],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def files(folder: Path) -> dict[str, bytes]:
    """What every file of a folder holds."""
    return {str(path): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize("words", [("jobs",), ("check",), ("day",), ("export", "Elm")])
def test_a_second_process_reads_what_was_entered_last_and_writes_nothing(
    book: Book, book_file: Path, words: tuple[str, ...]
) -> None:
    job_id = new_property(book, "12 Elm Street", "AB")
    book.commit(job_id, [Put("job", job_id, "customer", "Q. Late")], by="AB", what="customer")
    before = files(book_file.parent)
    told = ask(book_file, *words)
    assert told.returncode == 0, told.stderr
    assert "12 Elm Street" in told.stdout
    assert ("Q. Late" in told.stdout) == (words[0] in ("jobs", "export"))
    assert files(book_file.parent) == before
    book.commit(job_id, [Put("job", job_id, "customer", "Q. Later")], by="AB", what="customer")


def test_a_command_that_writes_says_who_holds_the_book(book: Book, book_file: Path) -> None:
    new_property(book, "12 Elm Street", "AB")
    for words in (("import", "none.json"), ("exchange", str(book_file.parent))):
        told = ask(book_file, *words)
        assert told.returncode == 2
        assert f"already open (process {os.getpid()} on " in told.stderr


def test_a_snapshot_is_of_one_moment_and_shows_no_act_that_is_not_whole(
    book: Book, book_file: Path
) -> None:
    job_id = new_property(book, "12 Elm Street", "AB")
    with book._writing():
        book._connection.run("UPDATE job SET customer = 'half'")
        with reading(book_file) as beside:
            assert beside.load(job_id).job.customer == ""
    with reading(book_file) as beside:
        book.commit(job_id, [Put("job", job_id, "customer", "Late")], by="AB", what="customer")
        assert beside.load(job_id).job.customer == "half"
    assert book.load(job_id).job.customer == "Late"


def test_an_entry_waits_for_a_reader_rather_than_being_lost(book: Book, book_file: Path) -> None:
    job_id = new_property(book, "12 Elm Street", "AB")
    reader = sqlite3.connect(book_file, isolation_level=None, check_same_thread=False)
    reader.execute("BEGIN")
    reader.execute("SELECT count(*) FROM job").fetchone()
    release = threading.Timer(0.3, reader.close)
    release.start()
    book.commit(job_id, [Put("job", job_id, "customer", "Late")], by="AB", what="customer")
    release.join()
    assert book.load(job_id).job.customer == "Late"


def test_what_another_program_writes_beside_is_nobodys(book: Book, book_file: Path) -> None:
    job_id = new_property(book, "12 Elm Street", "AB")
    with closing(sqlite3.connect(book_file)) as other:
        other.execute("UPDATE job SET phone = '555 0100'")
        other.commit()
    book.commit(job_id, [Put("job", job_id, "customer", "Late")], by="AB", what="customer")
    assert [turn.who for turn in book.past_values(job_id, job_id, "customer")][-1] == "AB"
    assert "AB" not in [turn.who for turn in book.past_values(job_id, job_id, "phone")][-1:]


@contextmanager
def held(book_file: Path) -> Iterator[None]:
    """The book's lock, as a program has it that is only just opening the book."""
    lock = WriterLock(book_file)
    try:
        yield
    finally:
        lock.release()


def test_a_book_that_has_to_be_brought_up_is_read_once_it_is_open_nowhere(
    book_file: Path,
) -> None:
    with Book(book_file) as book:
        new_property(book, "12 Elm Street", "AB")
    with closing(sqlite3.connect(book_file)) as raw:
        raw.execute(f"PRAGMA user_version={FORMAT - 1}")
    with held(book_file):
        told = ask(book_file, "jobs")
        assert told.returncode == 2
        assert "can't be read while it is open (process " in told.stderr
        assert "brought up to this fieldbook first: close fieldbook there first." in " ".join(
            told.stderr.split()
        )
    assert "12 Elm Street" in ask(book_file, "jobs").stdout


def test_a_book_with_an_entry_cut_off_is_read_once_it_is_open_nowhere(
    book_file: Path, tmp_path: Path
) -> None:
    with Book(book_file) as book:
        job_id = new_property(book, "12 Elm Street", "AB")
    struck = tmp_path / "struck" / "book.sqlite"
    struck.parent.mkdir()
    with closing(sqlite3.connect(book_file, isolation_level=None)) as raw:
        # A page cache this small has changed pages written before the transaction ends.
        raw.execute("PRAGMA cache_size=1")
        raw.execute("BEGIN IMMEDIATE")
        raw.execute("UPDATE job SET customer = hex(zeroblob(40000))")
        raw.execute("UPDATE journal SET came = hex(zeroblob(40000)) WHERE 0")
        raw.execute("CREATE TABLE filler AS SELECT hex(zeroblob(90000)) AS x")
        for ending in ("", "-journal"):
            shutil.copy(f"{book_file}{ending}", f"{struck}{ending}")
        raw.execute("ROLLBACK")
    refused = pytest.raises(BookHeldError, match="an entry was cut off")
    with held(struck), refused, reading(struck):
        pass
    with reading(struck) as whole:
        assert whole.load(job_id).job.customer == ""


def test_many_rows_made_for_a_listing_are_stored_unless_the_book_is_open(book_file: Path) -> None:
    with Book(book_file) as book:
        for number in range(51):
            new_property(book, f"{number} Long Street", "AB")
        assert "50 Long Street" in ask(book_file, "jobs").stdout
        assert book.board.count_stale("2026-01-01") == 51
    assert "50 Long Street" in ask(book_file, "jobs").stdout
    before = files(book_file.parent)
    assert "50 Long Street" in ask(book_file, "jobs").stdout
    assert files(book_file.parent) == before
    with reading(book_file) as beside:
        assert beside.board.count_stale("2026-01-01") == 0


def test_the_lock_ends_with_its_book(book_file: Path) -> None:
    with Book(book_file):
        assert is_held(book_file)
        assert book_file.with_name(f"{book_file.name}.lock").read_bytes() == b""
        assert not book_file.with_name(f"{book_file.name}.lock-journal").exists()
    assert not is_held(book_file)


async def test_commands_read_beside_the_open_app(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.enter("62")
        told = ask(book_file, "export", "Elm")
        assert '"static_psi": 62' in told.stdout, told.stderr
        assert ask(book_file, "check").returncode == 0
        await crew.stand_on("supply", "static_psi")
        await crew.enter("64")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.static_psi == 64
