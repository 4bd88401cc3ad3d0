"""The dispute sheet: what the journal holds of a claim, and nothing that is nobody's business."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from crew import at_a_new_property
from two_books import two_books

from fieldbook.actions.cells import enter, enter_text
from fieldbook.actions.disputes.claim_entries import claim_of
from fieldbook.actions.disputes.write_dispute import write_dispute
from fieldbook.actions.files.attach import attach
from fieldbook.actions.files.write_papers import paper_source
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.rows import remove_row
from fieldbook.checks.finding import CellRef
from fieldbook.cli.main import main
from fieldbook.papers.contents.dispute_sheet import Claim, ClaimEntry, grouped
from fieldbook.records.values import Value
from fieldbook.store.attached import attached_path
from fieldbook.store.book import Book
from fieldbook.store.journal.entry import FIELDS, Entry

NOW = datetime(2026, 5, 20, 12, 0, tzinfo=UTC)
SECRETS = ("gate code 4417", "555-0123", "owner@example.org", "PO box 9", "owner argues", "key 12")


@pytest.fixture
def alder(alder_book: Path) -> Iterator[OpenJob]:
    """14 Alder Lane, open."""
    with Book(alder_book) as book:
        yield OpenJob(book, book.jobs()[0].id, "RO")


def first_length(open_job: OpenJob) -> CellRef:
    """The length of the first run of zone 1."""
    run = open_job.job.runs_of(open_job.job.zones[0].id)[0]
    return CellRef("pipe_run", run.id, "length_ft")


def claim(open_job: OpenJob, *about: str) -> Claim:
    return claim_of(open_job.book, open_job.job, "It was never so", about)


def of_length(found: Claim) -> list[ClaimEntry]:
    return [entry for entry in found.entries if entry.change.startswith("Length")]


def test_each_change_is_told_with_before_after_and_what_became_of_it(alder: OpenJob) -> None:
    at = first_length(alder)
    enter_text(alder, at, "33")
    enter_text(alder, at, "44")
    alder.undo()
    found = claim(alder, "stretch:1")
    changes = of_length(found)
    assert [(one.before, one.after) for one in changes] == [
        ("12 ft", "33 ft"),
        ("33 ft", "44 ft"),
        ("44 ft", "33 ft"),
    ]
    numbers = [one.number for one in changes]
    assert [(one.later, one.later_by) for one in changes] == [
        ("replaced", (numbers[1],)),
        ("undone", (numbers[2],)),
        ("stands", ()),
    ]
    assert changes[2].change == "Length, undone"
    assert {one.laptop for one in changes} == {"this laptop"}
    assert [entry.number for entry in found.entries] == [*range(1, len(found.entries) + 1)]
    assert all(not entry.fault for entry in found.entries)
    assert found.entries[0].in_file == ("MO", "2026-05-06 16:40:00 -05:00")


def test_a_claim_is_about_what_was_named_and_nothing_else(alder: OpenJob) -> None:
    zone = claim(alder, "zone:1")
    things = {entry.thing for entry in zone.entries}
    assert {"the flush of zone 1", "the head of lateral run 1 of zone 1"} <= things
    assert not any("zone 2" in thing for thing in things)
    mainline = {entry.thing for entry in claim(alder, "stretch:mainline").entries}
    assert "the flush of the mainline" in mainline
    assert not any("zone" in thing for thing in mainline)
    cell = claim(alder, "supply.static pressure")
    assert cell.about == ("Static pressure of the supply",)
    assert len(cell.entries) == 1
    both = claim(alder, "box:A", "sign-off:backfill:1")
    assert len(both.about) == 2
    assert "the sign-off of zone 1" in {entry.thing for entry in both.entries}


def test_rows_that_were_removed_are_still_told(alder: OpenJob) -> None:
    zone_id = alder.job.zones[0].id
    last = alder.job.runs_of(zone_id)[-1]
    remove_row(alder, "pipe_run", last.id)
    found = claim(alder, "zone:1")
    removed = [entry for entry in found.entries if entry.change == "removed"]
    assert len(removed) == 2  # The run, and the head at its end.
    assert {entry.after for entry in removed} == {"row removed"}
    assert claim(alder, f"row:{last.id}").entries


def test_another_laptop_is_named_and_what_it_replaced(tmp_path: Path) -> None:
    with two_books(tmp_path / "here.sqlite", tmp_path / "there.sqlite") as pair:
        pair.enter_apart(pair.zone(1), "south", "east")
        pair.exchange()
        found = claim_of(pair.here.book, pair.here.job, "words", ["zone:1.name"])
        # Both may be entered in one millisecond: either may come first.
        assert {(one.before, one.after) for one in found.entries[2:]} == {
            ("lawn", "south"),
            ("lawn", "east"),
        }
        assert len({one.laptop for one in found.entries}) == 2
        origins = {origin for _, origin in found.laptops}
        assert origins == {pair.here.book.origin, pair.there.book.origin}
        told = [("changed", (2,)), ("replaced", (3, 4)), ("differs", (4,)), ("differs", (3,))]
        assert [(one.later, one.later_by) for one in found.entries] == told


def test_anyone_can_compute_the_hash_that_is_printed(alder: OpenJob) -> None:
    """As the sheet says it is made: the fields as a compact JSON list, in SHA-256."""
    enter_text(alder, first_length(alder), "33")
    (printed,) = of_length(claim(alder, "stretch:1"))
    entry: Entry = next(
        link.entry
        for link in alder.book.links_of_job(alder.job_id)
        if link.entry.id == printed.entry_id
    )
    fields = [getattr(entry, name) for name in FIELDS]
    text = json.dumps(fields, ensure_ascii=False, separators=(",", ":"))
    assert hashlib.sha256(text.encode()).hexdigest() == printed.entry_id
    assert grouped(printed.entry_id).replace(" ", "") == printed.entry_id


def test_an_entry_that_was_altered_is_said_to_be(alder: OpenJob) -> None:
    enter_text(alder, first_length(alder), "33")
    (printed,) = of_length(claim(alder, "stretch:1"))
    path = alder.book.path
    alder.book.close()
    with sqlite3.connect(path) as raw:
        raw.execute("DROP TRIGGER journal_no_update")
        raw.execute("UPDATE journal SET value = '45.0' WHERE id = ?", (printed.entry_id,))
    raw.close()
    out = path.parent / "sheet.html"
    result = run(path, "never so", str(out), "--about", "stretch:1")
    assert result.exit_code == 0, result.output
    page = out.read_text("utf-8")
    assert "no: it is not what was sealed" in page
    assert f"broken at {printed.number}" in page


def test_a_photo_is_told_with_its_hash_and_its_state(alder: OpenJob, tmp_path: Path) -> None:
    photo = tmp_path / "clear.jpg"
    photo.write_bytes(b"not a real photo")
    flush = alder.job.flush_of(alder.job.zones[0].id)
    assert flush is not None
    attach(alder, "flush", flush.id, str(photo), "runs clear")
    digest = hashlib.sha256(photo.read_bytes()).hexdigest()
    (told,) = claim(alder, "stretch:1").photos
    assert (told.name, told.sha256, told.state) == ("runs clear", digest, "")
    attached_path(alder.book.path, digest).write_bytes(b"another")
    page = page_of(alder, tmp_path, "stretch:1")
    assert grouped(digest) in page
    assert "beside the book it is altered" in page


ABOUT = (
    *("zone:1", "zone:2", "stretch:1", "stretch:mainline", "box:A", "supply", "controller"),
    *("sign-off:backfill:1", "sign-off:handover", "attachment", "terminal", "visit", "visit_step"),
    "visit_change",
)


@pytest.mark.parametrize("about", ABOUT)
def test_how_to_get_in_and_private_notes_are_on_no_sheet(
    alder: OpenJob, tmp_path: Path, about: str
) -> None:
    columns = ("access", "phone", "email", "billing_address")
    for column, secret in zip(columns, SECRETS, strict=False):
        enter(alder, CellRef("job", alder.job_id, column), secret)
    alder.add("note", {"text": SECRETS[4]}, f"note {SECRETS[4]}")
    visit = alder.add("visit", {"held_on": "2026-05-19", "note": SECRETS[5]}, "visit")
    alder.add("visit_step", {"visit_id": visit, "step": "Look", "note": SECRETS[5]}, "step")
    gate: dict[str, Value] = {"of_table": "job", "of_row": alder.job_id, "of_column": "access"}
    change = alder.add("visit_change", {"visit_id": visit, **gate, "was": SECRETS[0]}, "change")
    enter(alder, CellRef("visit_change", change, "became"), SECRETS[5])
    if about == "attachment":
        alder.add("attachment", {"of_table": "job", "of_row": alder.job_id, "name": "a"}, "file")
    page = page_of(alder, tmp_path, about)
    assert not [secret for secret in SECRETS if secret in page]


@pytest.mark.parametrize("words", ["<script>alert(1)</script>", "[/]", "\x1b[2J", "{{ 7 * 7 }}"])
def test_hostile_words_are_inert(alder: OpenJob, tmp_path: Path, words: str) -> None:
    enter_text(alder, CellRef("zone", alder.job.zones[0].id, "name"), words)
    source = paper_source(alder.book, alder.job, NOW)
    out = tmp_path / "sheet.html"
    write_dispute(source, claim_of(alder.book, alder.job, words, ["zone:1"]), out)
    page = out.read_text("utf-8")
    assert "<script" not in page
    assert "\x1b" not in page
    assert "49" not in page.split("<h2>")[0].split("<dd>")[1]


def test_the_sheet_says_what_it_does_not_prove(alder: OpenJob, tmp_path: Path) -> None:
    page = page_of(alder, tmp_path, "stretch:1")
    assert "It does not prove who typed an entry" in page
    assert "fieldbook verify" in page
    assert "each entry is as it was sealed" in page


@pytest.mark.parametrize(
    ("about", "words"),
    [
        ("job", "never on a dispute sheet"),
        ("note:1", "never on a dispute sheet"),
        ("zone:9", "no zone “9”"),
        ("stretch:side", "no zone “side”"),
        ("sign-off:dance", "no sign-off “dance”"),
        ("wire:1", "names nothing of the record"),
        ("box:Q", "no valve_box “Q” in the journal"),
        ("supply.colour", "no column “colour”"),
        ("row:", "no row “”"),
    ],
)
def test_what_names_nothing_is_refused_with_how_to_write_it(
    alder: OpenJob, about: str, words: str
) -> None:
    with pytest.raises(RefusedError, match=words):
        claim(alder, about)


def page_of(open_job: OpenJob, folder: Path, *about: str) -> str:
    """The sheet as HTML."""
    out = folder / "sheet.html"
    source = paper_source(open_job.book, open_job.job, NOW)
    write_dispute(source, claim(open_job, *about), out)
    return out.read_text("utf-8")


def run(book: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, ["--book", str(book), "dispute", "14 Alder Lane", *arguments])


def test_the_command_writes_html_or_pdf_or_prints_the_entries(
    alder_book: Path, tmp_path: Path
) -> None:
    for ending, begins in (("html", b"<!doctype html>"), ("pdf", b"%PDF-")):
        out = tmp_path / f"sheet.{ending}"
        result = run(alder_book, "never flushed", str(out), "--about", "stretch:1")
        assert result.exit_code == 0, result.output
        assert out.read_bytes().startswith(begins)
    printed = run(alder_book, "never flushed", "--about", "stretch:1")
    assert "never flushed: zone 1" in printed.output
    assert "verified" in printed.output
    for arguments, words in (
        (("x", str(tmp_path / "sheet.txt"), "--about", "zone:1"), "neither in .html nor in .pdf"),
        (("x", "--about", "zone:77"), "There is no zone"),
    ):
        refused = run(alder_book, *arguments)
        assert (refused.exit_code, "Traceback" in refused.output) == (2, False)
        assert words in refused.output


async def test_a_sheet_of_the_cell_is_written_from_the_desk(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.press("alt+d")
        assert "Move to a row with something entered in it first" in crew.said
        await crew.stand_on("job", "access")
        await crew.press("alt+d")
        assert "never on a dispute sheet" in crew.said
        await crew.stand_on("supply", "static_psi")
        await crew.enter("62", "")
        await crew.stand_on("supply", "static_psi")
        for _ in range(2):
            await crew.press("alt+d")
            await crew.enter("It was never <62>")
            await crew.wait_until(lambda: "Wrote" in crew.said)
    folder = book_file.parent / "12-elm-street-papers"
    names = {"12-elm-street-dispute-sheet.html", "12-elm-street-dispute-sheet-2.html"}
    assert {path.name for path in folder.iterdir()} == names
    page = (folder / "12-elm-street-dispute-sheet.html").read_text("utf-8")
    for words in ("It was never &lt;62&gt;", "Static pressure of the supply", "62 psi", "AB"):
        assert words in page
