"""The entries of the journal that bear on a claim, in words, and whether they are as sealed."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import datetime

from fieldbook.actions.cell_history import BLANK, REMOVED, laptop_word, value_words, with_doubt
from fieldbook.actions.disputes.claim_about import PRIVATE_TABLES, About, read_about
from fieldbook.actions.files.attached_files import state_of
from fieldbook.checks.common.naming import row_name
from fieldbook.checks.progress.holds import BACKFILL
from fieldbook.papers.contents.dispute_sheet import Claim, ClaimEntry, ClaimPhoto, Later, grouped
from fieldbook.records.base import facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.printable import printable
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.values import Value
from fieldbook.store.book_reader import BookReader
from fieldbook.store.journal.chain import Link
from fieldbook.store.journal.entry import ADD, DELETED, Entry

_PRIVATE_COLUMNS = {("visit", "note"), ("visit_step", "note")}
"""Remarks that the crew made for itself."""
_SHOWN_HIDDEN = {
    "sign_off": ("kind", "state", "signed_by", "digest", "overridden"),
    "attachment": ("sha256",),
}
"""Columns that no cell shows and that matter here."""
_DONE = {"undo": "undone", "redo": "put back"}
NEW_ROW = "new row"
_HASH = re.compile(r"[0-9a-f]{64}")


def claim_of(book: BookReader, job: LoadedJob, words: str, typed: Sequence[str]) -> Claim:
    """All that the journal holds of what a claim is about; `typed` says what that is.

    Raises RefusedError where it names nothing of the record.
    """
    links = [link for link in book.links_of_job(job.job.id) if _is_printed(link.entry)]
    about = [read_about(job, [link.entry for link in links], one) for one in typed]
    bearing = [link for link in links if any(_bears(link.entry, one) for one in about)]
    own = book.origin_in_use()
    origins = dict.fromkeys(link.entry.origin for link in bearing)
    rows = {link.entry.row_id for link in bearing}
    return Claim(
        printable(words).strip(),
        tuple(one.words for one in about),
        tuple(_Words(job, book, bearing).entries()),
        tuple((laptop_word(origin, own), origin) for origin in origins),
        tuple(_photos(book, job, rows)),
        frozenset(rows | _sign_offs_of_all(job)),
    )


def _sign_offs_of_all(job: LoadedJob) -> set[str]:
    """The sign-offs over the whole property, which bear on every claim."""
    return {row.id for row in job.sign_offs if row.zone_id is None and row.kind != BACKFILL}


def _is_printed(entry: Entry) -> bool:
    """Whether an entry may be printed: not how to get in, nor what the crew noted for itself."""
    if entry.table not in TABLES or entry.table in PRIVATE_TABLES:
        return False
    fact = facts_of(TABLES[entry.table]).get(entry.op)
    if fact is not None and fact.kind == "hidden" and not fact.links_to:
        return entry.op in _SHOWN_HIDDEN.get(entry.table, ())
    return (entry.table, entry.op) not in _PRIVATE_COLUMNS


def _bears(entry: Entry, about: About) -> bool:
    if entry.row_id not in about.rows:
        return False
    return not about.column or entry.op in (about.column, ADD, DELETED)


def _photos(book: BookReader, job: LoadedJob, rows: set[str]) -> Iterator[ClaimPhoto]:
    for file in job.attachments:
        if file.id in rows or file.of_row in rows:
            state = state_of(book.path, file).wrong
            yield ClaimPhoto(file.id, file.note.strip() or file.name, file.sha256, state)


class _Words:
    """The words of the entries that bear on a claim, numbered from 1 in the order of time."""

    def __init__(self, job: LoadedJob, book: BookReader, links: Sequence[Link]) -> None:
        self._job, self._own, self._links = job, book.origin_in_use(), links
        self._proofs = book.proofs(link.entry for link in links)
        self._numbers = {link.entry.id: number for number, link in enumerate(links, start=1)}
        self._by_id = {link.entry.id: link.entry for link in links}

    def entries(self) -> Iterator[ClaimEntry]:
        """Each entry in words."""
        for link in self._links:
            entry = link.entry
            yield ClaimEntry(
                self._numbers[entry.id],
                time_words(entry.wall),
                entry.who or "?",
                with_doubt(laptop_word(entry.origin, self._own), self._proofs[entry.id]),
                self._thing(entry),
                self._change(entry),
                self._before(entry),
                self._after(entry),
                *self._later(entry),
                entry.id,
                entry.prev,
                entry.seq,
                link.fault or "",
                _in_file(entry),
            )

    def _thing(self, entry: Entry) -> str:
        if entry.table == "attachment":
            row = self._job.row(entry.row_id)
            if isinstance(row, Attachment) and row.of_table in TABLES:
                return f"file of {row_name(self._job, row.of_table, row.of_row)}"
        return row_name(self._job, entry.table, entry.row_id)

    def _change(self, entry: Entry) -> str:
        done = _DONE.get(entry.kind, "")
        if entry.op == ADD:
            what = "added"
        elif entry.op == DELETED:
            what = "removed"
        else:
            fact = facts_of(TABLES[entry.table]).get(entry.op)
            what = fact.label if fact is not None else entry.op
        return f"{what}, {done}" if done else what

    def _before(self, entry: Entry) -> str:
        """What the entry replaced; several values where laptops differed."""
        parents = [self._by_id[one] for one in entry.parents if one in self._by_id]
        if entry.op in (ADD, DELETED):
            return (REMOVED if parents else "") if entry.op == ADD else "the row"
        held = dict.fromkeys(self._value(parent, entry.op) for parent in parents)
        return " / ".join(held) or BLANK

    def _after(self, entry: Entry) -> str:
        if entry.op == DELETED:
            return REMOVED
        if entry.op != ADD:
            return self._value(entry, entry.op)
        row = entry.row
        shown = [
            f"{fact.label} {self._value(entry, column)}"
            for column, fact in facts_of(TABLES[entry.table]).items()
            if row.get(column) not in (None, "") and self._is_shown(entry.table, column, fact)
        ]
        return "; ".join(shown) or NEW_ROW

    def _is_shown(self, table: str, column: str, fact: Fact) -> bool:
        if (table, column) in _PRIVATE_COLUMNS or column in ("entered_at", "id"):
            return False
        return fact.kind != "hidden" or column in _SHOWN_HIDDEN.get(table, ())

    def _value(self, entry: Entry, column: str) -> str:
        """The value that an entry gave a column, in words."""
        if entry.op == DELETED:
            return REMOVED
        fact = facts_of(TABLES[entry.table]).get(column)
        value: Value = entry.value_of(column)
        if fact is None:
            return BLANK if value in (None, "") else str(value)
        # SQLite keeps a tick as 0 or 1, and so does its entry.
        if fact.kind == "tick" and value is not None:
            value = bool(value)
        words = value_words(self._job, fact, value)
        return grouped(words) if _HASH.fullmatch(words) else words

    def _later(self, entry: Entry) -> tuple[Later, tuple[int, ...]]:
        """What became of an entry, and the numbers of the entries that did it."""
        after = [other for link in self._links if entry.id in (other := link.entry).parents]
        numbers = tuple(self._numbers[other.id] for other in after)
        if not after:
            beside = tuple(self._numbers[other.id] for other in self._beside(entry))
            return ("differs", beside) if beside else ("stands", ())
        if all(other.kind == "undo" for other in after):
            return "undone", numbers
        return "changed" if entry.op == ADD else "replaced", numbers

    def _beside(self, entry: Entry) -> Iterator[Entry]:
        """Entries of the same cell, made elsewhere without knowing of this one, that stand too."""
        replaced = {parent for link in self._links for parent in link.entry.parents}
        for other in (link.entry for link in self._links):
            same = (other.row_id, other.op) == (entry.row_id, entry.op)
            if same and other.id not in replaced | {entry.id} and other.value != entry.value:
                yield other


def _in_file(entry: Entry) -> tuple[str, str] | None:
    """Who entered a row in the job file that it was taken from, and when; None for any other."""
    row = entry.row
    by, at = str(row.get("entered_by") or ""), str(row.get("entered_at") or "")
    if not by or (by == entry.who and at[:16] == entry.wall[:16]):
        return None
    return by, time_words(at)


def time_words(wall: str) -> str:
    """A stored time to the second with its offset, such as "2026-05-06 10:11:12 -05:00"."""
    try:
        at = datetime.fromisoformat(wall)
    except ValueError:
        return wall
    offset = at.strftime("%z")
    shown = f"{at:%Y-%m-%d %H:%M:%S}"
    return f"{shown} {offset[:3]}:{offset[3:5]}" if offset else shown
