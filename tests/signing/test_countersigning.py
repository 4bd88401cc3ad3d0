"""Countersignatures in the book: beside a signature, append-only, undone and exchanged with it."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from pathlib import Path

import pytest
from builders import sound_job
from two_books import TwoBooks, two_books

from fieldbook.actions import cells, countersigning, signing
from fieldbook.actions.job_files import import_bytes
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.checks.progress.countersignatures import over_entries, over_sign_off
from fieldbook.checks.progress.holds import unmet
from fieldbook.jobfile.write import write_job
from fieldbook.records.days import time_of
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError

LICENCE = "LI 2041, state board"


def priced(pair: TwoBooks) -> OpenJob:
    """The property of the first book, its price signed by AB over an open hold."""
    foreman = signing.Override("A. Foreman", "the customer knows")
    signing.sign_off(pair.here, "price", foreman)
    return pair.here


@pytest.fixture
def pair(tmp_path: Path) -> Iterator[TwoBooks]:
    """Two books of one property."""
    with two_books(tmp_path / "here" / "b.sqlite", tmp_path / "there" / "b.sqlite") as books:
        yield books


def test_a_countersignature_stands_beside_the_signature_of_another(pair: TwoBooks) -> None:
    job = priced(pair)
    with pytest.raises(RefusedError, match="AB signed it: somebody else countersigns"):
        countersigning.countersign(job, "price", None, LICENCE)
    job.by = "CD"
    with pytest.raises(RefusedError, match="number of the licence"):
        countersigning.countersign(job, "price", None, " - ")
    with pytest.raises(RefusedError, match="Nobody has signed here yet"):
        countersigning.countersign(job, "close", None, LICENCE)
    countersigning.countersign(job, "price", None, LICENCE)
    found = over_sign_off(job.job, "price", None)
    assert found is not None
    assert (found.signed_by, found.licence) == ("CD", LICENCE)
    with pytest.raises(RefusedError, match="CD has countersigned it already"):
        countersigning.countersign(job, "price", None, LICENCE)


def test_it_meets_no_hold(pair: TwoBooks) -> None:
    job = priced(pair)
    signed = job.job.signed("price")
    assert signed is not None
    at = time_of(signed.signed_at)
    assert at is not None
    before = (unmet(job.job, "price", None, at), [flag.code for flag in job.findings])
    job.by = "CD"
    countersigning.countersign(job, "price", None, LICENCE)
    after = (unmet(job.job, "price", None, at), [flag.code for flag in job.findings])
    assert after == before
    assert before[0]


def test_it_is_of_that_signature_and_no_later_one(pair: TwoBooks) -> None:
    job = priced(pair)
    job.by = "CD"
    countersigning.countersign(job, "price", None, LICENCE)
    signing.sign_off(job, "price")
    assert over_sign_off(job.job, "price", None) is None
    signing.sign_off(job, "price", signing.Override("A. Foreman", "the customer knows"))
    assert over_sign_off(job.job, "price", None) is None


def test_undo_takes_it_back_and_redo_puts_it_back_and_nothing_is_changed(pair: TwoBooks) -> None:
    job = priced(pair)
    job.by = "CD"
    countersigning.countersign(job, "price", None, LICENCE)
    assert job.undo() == "countersignature"
    assert over_sign_off(job.job, "price", None) is None
    assert job.job.signed("price") is not None
    job.redo()
    found = over_sign_off(job.job, "price", None)
    assert found is not None
    assert found.licence == LICENCE
    with pytest.raises(BookError, match="stays as it was signed"), job.book._writing():
        job.book._connection.run("UPDATE sign_off SET licence = 'other'")


def test_entries_of_a_place_are_countersigned_until_they_change(pair: TwoBooks) -> None:
    job = pair.here
    with pytest.raises(RefusedError, match="Every entry at the ground is by AB"):
        countersigning.people_to_countersign(job, "ground")
    job.by = "CD"
    assert countersigning.people_to_countersign(job, "ground") == ["AB"]
    countersigning.countersign_entries(job, "ground", "AB", LICENCE)
    (found,) = over_entries(job.job, "ground")
    assert (found.person, found.changed) == ("AB", False)
    assert found.words.startswith(f"entries of AB countersigned by CD, licence {LICENCE}, ")
    assert list(over_entries(job.job, "boxes")) == []
    with pytest.raises(RefusedError, match="is by CD or countersigned already"):
        countersigning.people_to_countersign(job, "ground")
    job.by = "AB"
    cells.enter_text(job, pair.zone(1, "head_kind"), "spray")
    (found,) = over_entries(job.job, "ground")
    assert found.words.endswith("; changed since")
    job.by = "CD"
    countersigning.countersign_entries(job, "ground", "AB", LICENCE)
    assert [one.changed for one in over_entries(job.job, "ground")] == [False]


def test_it_is_exchanged_and_two_apart_are_one(pair: TwoBooks) -> None:
    priced(pair)
    pair.exchange()
    pair.here.by = "EF"
    for laptop in (pair.here, pair.there):
        countersigning.countersign(laptop, "price", None, f"of {laptop.by}")
    pair.exchange()
    here, there = (over_sign_off(one.job, "price", None) for one in (pair.here, pair.there))
    assert here is not None
    assert here == there
    assert len(pair.here.job.sign_offs) == 3
    assert pair.here.job.conflicts == ()


def test_a_job_file_and_a_copy_keep_it(pair: TwoBooks, book_file: Path) -> None:
    job = priced(pair)
    job.by = "CD"
    countersigning.countersign(job, "price", None, LICENCE)
    countersigning.countersign_entries(job, "ground", "AB", LICENCE)
    text = write_job(job.job)
    with Book(book_file) as book:
        for copy in (False, True):
            found = import_bytes(book, text.encode(), "EF", copy=copy)
            taken = book.load(found.job_id)
            over = over_sign_off(taken, "price", None)
            assert over is not None
            assert over.licence == LICENCE
            assert [one.row.licence for one in over_entries(taken, "ground")] == [LICENCE]


def test_a_record_without_any_has_none() -> None:
    job = dataclasses.replace(sound_job(), sign_offs=())
    assert over_sign_off(job, "price", None) is None
    assert list(over_entries(job, "ground")) == []
    assert CellRef("sign_off", "price", "sign off").place == "desk"
