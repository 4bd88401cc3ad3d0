"""Exchange one property as a single file: all its entries, written here and received elsewhere."""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from pathlib import Path

from fieldbook.actions.exchange.exchange_report import ExchangeReport
from fieldbook.actions.files.attached_files import put_in_place
from fieldbook.actions.refused import disk_errors, refuse_existing
from fieldbook.store.attached import attached_folder, attached_path, is_hash
from fieldbook.store.book import Book
from fieldbook.store.exchange.bundle_reader import read_bundle
from fieldbook.store.exchange.bundle_writer import fitting, write_bundle
from fieldbook.store.journal.entry import Entry


def write_job_bundle(book: Book, job_id: str, path: Path, *, over: bool, files: bool) -> int:
    """Write every entry on a property to a file; returns how many there are.

    `files`: with its attached files. Raises RefusedError where the file exists and `over` is
    false, or the disk refuses.
    """
    refuse_existing(path, over=over)
    # Without a key that can be read the entries go unsigned, which the other laptop shows.
    book.seal_entries()
    entries = book.shared.entries_of_job(job_id)
    attached = _attached_here(book, entries) if files else {}
    with disk_errors(path, "written", "the folder and the disk"):
        seals = fitting(book.shared.seals_naming(entries), len(attached))
        write_bundle(path, entries, attached, [stored.seal for stored in seals])
    return len(entries)


def _attached_here(book: Book, entries: Iterable[Entry]) -> dict[str, Path]:
    """The attached files of these entries that this laptop has, by hash."""
    hashes = {str(entry.row.get("sha256")) for entry in entries if entry.table == "attachment"}
    paths = {sha256: attached_path(book.path, sha256) for sha256 in hashes if is_hash(sha256)}
    return {sha256: path for sha256, path in paths.items() if path.is_file()}


def receive_bundle(book: Book, path: Path) -> ExchangeReport:
    """Receive a file of entries, and the attached files in it that the book lacks.

    Raises BookError where the file is not accepted (nothing is changed then), RefusedError where
    the disk refuses.
    """
    scratch = attached_folder(book.path) / "coming"
    try:
        with disk_errors(path, "taken"):
            scratch.mkdir(parents=True, exist_ok=True, mode=0o700)
            bundle = read_bundle(path, lambda sha256: scratch / sha256)
            unsealed = book.seal_entries()
            received = book.receive_sealed(bundle.entries, bundle.seals, path.name)
            files = _keep_attached(book, bundle.files)
    finally:
        shutil.rmtree(scratch, ignore_errors=True)
    return ExchangeReport(
        received=received.new,
        sent=0,
        waiting=len(received.waiting),
        files_received=files,
        files_sent=0,
        in_conflict=tuple(book.shared.in_conflict()) if received.new else (),
        notes=tuple(filter(None, [unsealed, *received.warnings])),
        unsigned=received.unsigned,
        wrongly_signed=received.wrongly_signed,
    )


def _keep_attached(book: Book, received: dict[str, Path]) -> int:
    """Keep the received files that some row attaches and the book lacks; returns how many."""
    wanted, kept = set(book.shared.attached()), 0
    for sha256, part in received.items():
        target = attached_path(book.path, sha256)
        if sha256 in wanted and not target.is_file():
            put_in_place(part, target, sha256)
            kept += 1
    return kept
