"""Any one file of a book is spoilt in one place: found, mended from the others, no traceback."""

from __future__ import annotations

import random
import shutil
from contextlib import suppress
from pathlib import Path

import pytest
from examples import few_or_many
from exported_jobs import exported

from fieldbook.actions import cells as entering
from fieldbook.actions.open_job import OpenJob
from fieldbook.checks.finding import CellRef
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.mending.in_place import rebuild_in_place
from fieldbook.store.mending.verify import verify

_SEEDS = 2
"""So many places in each file are spoilt by the test that is not slow."""


@pytest.fixture
def whole_book(busy_book: Path) -> Path:
    """A book with entries after its whole copy, so that every kind of file is there."""
    with Book(busy_book) as book:
        open_job = OpenJob(book, book.jobs()[0].id, "AB")
        entering.enter_text(open_job, CellRef("job", open_job.job_id, "customer"), "B. Customer")
    return busy_book


def files_of(path: Path) -> list[Path]:
    """The book, its text journal, its backup, the entries after it, its attached file."""
    beside = ("journal/*.jsonl", "backups/*.sqlite", "backups/*.jsonl", "files/??/*")
    return [path, *(file for each in beside for file in path.parent.glob(f"{path.name}.{each}"))]


def spoil(file: Path, pick: random.Random) -> None:
    """Flip one bit, overwrite a stretch, or cut the file off."""
    held = bytearray(file.read_bytes())
    at = pick.randrange(len(held))
    how = pick.choice(("flip", "flip", "flip", "stretch", "cut"))
    if how == "flip":
        held[at] ^= 1 << pick.randrange(8)
    elif how == "stretch":
        held[at : at + 64] = pick.randbytes(64)
    else:
        del held[at:]
    file.write_bytes(held)


@few_or_many("seeds", _SEEDS, 80)
def test_what_is_spoilt_is_mended_from_what_is_sound(whole_book: Path, seeds: int) -> None:
    before, sealed = exported(whole_book), verify(whole_book).entries
    assert len(files_of(whole_book)) == 5
    kept = whole_book.parent.with_name("kept")
    shutil.copytree(whole_book.parent, kept)
    for seed in range(seeds):
        for number in range(5):
            shutil.rmtree(whole_book.parent)
            shutil.copytree(kept, whole_book.parent)
            pick = random.Random(1000 * number + seed)
            spoil(files_of(whole_book)[number], pick)
            found = verify(whole_book)
            if not found.wrong:
                # Unused space, or a count that SQLite keeps for itself: what was entered is whole.
                assert exported(whole_book) == before, (number, seed)
            with suppress(BookError):
                # What a crew does first: open it. That ends in a sentence or in a book.
                exported(whole_book)
            rebuilt = rebuild_in_place(whole_book)
            assert (rebuilt.entries, rebuilt.missing) == (sealed, 0), (number, seed)
            assert exported(whole_book) == before, (number, seed)
            of_files = [said for said in verify(whole_book).wrong if "attached file" not in said]
            assert [said for said in of_files if "backup" not in said] == [], (number, seed)


def test_an_entry_that_is_spoilt_everywhere_is_told_and_the_rest_is_there(
    whole_book: Path,
) -> None:
    sealed = verify(whole_book).entries
    for file in files_of(whole_book)[:4]:
        held = file.read_bytes()
        file.write_bytes(
            held.replace(b'"white, red', b'"white, rex').replace(b"B. Cust", b"B. Curt")
        )
    assert verify(whole_book).wrong
    rebuilt = rebuild_in_place(whole_book)
    assert (rebuilt.entries, rebuilt.missing) == (sealed - 1, 1)
    assert "1 of its entries are in no copy: ask the other laptops." in rebuilt.sentence
    with Book(whole_book) as book:
        assert book.jobs()[0].address == "12 Elm Street"


@pytest.mark.parametrize("spoilt", ['{"seq": 1}', "[" * 5000, "\udcff", "null", "7"])
def test_parents_of_any_kind_end_nothing_in_a_traceback(whole_book: Path, spoilt: str) -> None:
    import sqlite3

    before = exported(whole_book)
    with sqlite3.connect(whole_book) as raw:
        raw.executescript("DROP TRIGGER journal_no_update")
        raw.execute(
            "UPDATE journal SET parents = CAST(? AS TEXT) WHERE n = 5",
            (spoilt.encode("utf-8", "surrogateescape"),),
        )
    raw.close()
    assert any("not what was sealed" in said for said in verify(whole_book).wrong)
    try:
        rebuild_in_place(whole_book)
    except BookError as why:
        pytest.fail(str(why))
    assert exported(whole_book) == before


def test_a_letter_changed_in_the_newest_backup_never_comes_back(whole_book: Path) -> None:
    before = exported(whole_book)
    backup = next(iter(whole_book.parent.glob("*.backups/*.sqlite")))
    held = backup.read_bytes()
    assert held.count(b"12 Elm Street") > 1
    backup.write_bytes(held.replace(b"12 Elm Street", b"12 Elk Street"))
    assert any("are not what was sealed" in said for said in verify(whole_book).wrong)
    whole_book.unlink()
    rebuild_in_place(whole_book)
    assert exported(whole_book) == before
