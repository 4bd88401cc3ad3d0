"""Signatures that come by file, bundle or SQL count only as far as the record bears them out."""

from __future__ import annotations

import json
import sqlite3
import tempfile
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from builders import all_signed, sound_job
from examples import examples
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.actions import cells, rows, signing
from fieldbook.actions.exchange.bundles import receive_bundle, write_job_bundle
from fieldbook.actions.job_files import export_text, import_bytes
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.checks.progress.holds import BACKFILL, unmet
from fieldbook.jobfile.write import write_job
from fieldbook.records.days import time_of
from fieldbook.records.ids import backfill_id, flush_id
from fieldbook.records.tables.sign_offs import SignOff
from fieldbook.store.book import Book

FOREMAN = signing.Override("A. Foreman", "sod was on the truck")
UNPROVEN = {"sign-off no longer met", "sign-off unproven", "signed on two laptops"}


def opened(book: Book, *, copy: bool = False) -> OpenJob:
    """The sound property of the builders, handed over and closed, taken in from its job file."""
    text = write_job(all_signed(sound_job()))
    imported = import_bytes(book, text.encode("utf-8"), "AB", copy=copy)
    return OpenJob(book, imported.job_id, "AB")


def flags(open_job: OpenJob) -> set[str]:
    """The codes of the flags of an open job."""
    return {flag.code for flag in open_job.findings}


def test_a_property_that_was_handed_over_is_exported_and_imported_again(book: Book) -> None:
    open_job = opened(book)
    assert open_job.job.signed("close") is not None
    assert not flags(open_job) & UNPROVEN
    text = export_text(book, open_job.job_id)
    assert len(max((row.covered for row in open_job.job.sign_offs), key=len)) > 400
    copy = import_bytes(book, text.encode("utf-8"), "AB", copy=True)
    again = OpenJob(book, copy.job_id, "AB")
    assert len(again.job.sign_offs) == len(open_job.job.sign_offs)
    assert not flags(again) & UNPROVEN
    assert "changed after sign-off" not in flags(again)


def test_a_job_file_whose_record_was_cut_down_brings_no_proven_signature(book: Book) -> None:
    document = json.loads(write_job(all_signed(sound_job())))
    del document["flushes"], document["backflow_tests"]
    imported = import_bytes(book, json.dumps(document).encode("utf-8"), "AB")
    open_job = OpenJob(book, imported.job_id, "AB")
    assert "sign-off no longer met" in flags(open_job)


def test_a_bundle_brings_the_signatures_with_what_bears_them_out(
    book: Book, tmp_path: Path
) -> None:
    open_job = opened(book)
    bundle = tmp_path / "job.gz"
    write_job_bundle(book, open_job.job_id, bundle, over=False, files=False)
    with Book(tmp_path / "other" / "book.sqlite") as other:
        receive_bundle(other, bundle)
        taken = OpenJob(other, open_job.job_id, "CD")
        assert not flags(taken) & UNPROVEN
        assert taken.job.signed("handover") is not None


def insert(book_file: Path, job_id: str, **values: object) -> None:
    """Add a row of a sign-off as another program would."""
    plain = SignOff(id="from outside", job_id=job_id, kind="price", signed_by="ZZ")
    signed = {"state": "signed", "signed_at": "2026-05-01T10:00:00+00:00", "covered": "{}"}
    held = {**plain.values(), **signed, **values}
    names = ", ".join(f'"{name}"' for name in held)
    marks = ", ".join("?" for _ in held)
    with closing(sqlite3.connect(book_file)) as raw, raw:
        raw.execute(f"INSERT INTO sign_off ({names}) VALUES ({marks})", tuple(held.values()))


@pytest.mark.parametrize(
    "values",
    [
        {"kind": "in service"},
        {"kind": "price", "signed_by": ""},
        {"kind": "price", "signed_at": (datetime.now(UTC) + timedelta(days=2)).isoformat()},
        {"kind": "dig", "overridden": "hold 2", "override_by": "A. B", "override_reason": "why"},
        {"kind": BACKFILL, "override_by": "\u200b", "overridden": "hold 4; hold 8"},
    ],
)
def test_a_row_that_sql_inserts_is_not_proven(book_file: Path, values: dict[str, object]) -> None:
    with Book(book_file) as book:
        book.laptop.set_initials("AB")
        text = write_job(sound_job())
        document = json.loads(text)
        del document["backflow_tests"], document["permits"], document["pressure_tests"]
        job_id = import_bytes(book, json.dumps(document).encode("utf-8"), "AB").job_id
    insert(book_file, job_id, **values)
    with Book(book_file) as book:
        assert flags(OpenJob(book, job_id, "AB")) & UNPROVEN


def test_a_redo_after_another_laptop_removed_the_reason_shows(book: Book) -> None:
    open_job = opened(book)
    zone_id = open_job.job.zones[0].id
    signing.sign_backfill(open_job, zone_id)
    open_job.undo()
    assert open_job.job.signed(BACKFILL, zone_id) is not None
    rows.remove_row(open_job, "flush", flush_id(zone_id))
    assert "sign-off no longer met" in flags(open_job)


def _entry(table: str, column: str, value: object) -> Callable[[OpenJob, str], object]:
    def act(open_job: OpenJob, zone_id: str) -> None:
        made = flush_id(zone_id) if table == "flush" else backfill_id(open_job.job_id, zone_id)
        held: bool | float | None = value if isinstance(value, bool | float) else None
        cells.enter(open_job, CellRef(table, made, column), held, {"zone_id": zone_id})

    return act


def _import_again(open_job: OpenJob, _zone: str) -> None:
    import_bytes(
        open_job.book, export_text(open_job.book, open_job.job_id).encode("utf-8"), "AB", copy=True
    )


ACTS: list[Callable[[OpenJob, str], object]] = [
    signing.tick_flush,
    signing.sign_backfill,
    lambda open_job, zone: signing.sign_backfill(open_job, zone, FOREMAN),
    lambda open_job, _: signing.sign_off(open_job, "in service"),
    lambda open_job, _: signing.sign_off(open_job, "handover"),
    lambda open_job, _: signing.sign_off(open_job, "price", FOREMAN),
    _entry("backfill", "cover_in", 14.0),
    _entry("backfill", "cover_in", 2.0),
    _entry("backfill", "cover_in", None),
    _entry("backfill", "rock_free", True),
    _entry("flush", "ran_clear", False),
    lambda open_job, _: rows.add_zone(open_job),
    lambda open_job, _: rows.remove_row(open_job, "backflow_test", "test-1"),
    lambda open_job, zone: rows.remove_row(open_job, "flush", flush_id(zone)),
    lambda open_job, _: open_job.undo(),
    lambda open_job, _: open_job.redo(),
    _import_again,
]
INSERTS: list[dict[str, object]] = [
    {"kind": "in service"},
    {"kind": "handover", "signed_by": ""},
    {"kind": BACKFILL, "zone_id": "zone-1", "signed_at": "2026-04-30T23:30:00-05:00"},
    {"kind": BACKFILL, "zone_id": "zone-1", "state": "withdrawn"},
    {"kind": "dig", "overridden": "hold 2", "override_by": "A. B", "override_reason": "why"},
]


def unflagged_and_unmet(book: Book) -> list[str]:
    """Signatures that count and have no flag, though the record does not bear them out."""
    found = []
    for job in book.jobs():
        open_job = OpenJob(book, job.id, "AB")
        flagged = {
            (flag.at.table, flag.at.row_id)
            for flag in open_job.findings
            if flag.code in UNPROVEN or flag.code == "hold overridden"
        }
        for kind, zone_id in {(row.kind, row.zone_id) for row in open_job.job.sign_offs}:
            row = open_job.job.signed(kind, zone_id)
            if row is None:
                continue
            cell = ("sign_off", kind)
            if kind == BACKFILL:
                cell = ("backfill", backfill_id(job.id, zone_id))
            at = time_of(row.signed_at)
            wrong = at is None or not row.signed_by or unmet(open_job.job, kind, zone_id, at)
            if wrong and cell not in flagged:
                found.append(f"{kind} {zone_id}")
    return found


def tried(numbers: list[int]) -> None:
    """Do these acts in turn on the handed-over property, and look after each."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "book.sqlite"
        with Book(path) as book:
            book.laptop.set_initials("AB")
            job_id = opened(book).job_id
        for count, number in enumerate(numbers):
            if number >= len(ACTS):
                values = {**INSERTS[number - len(ACTS)], "id": f"outside-{count}"}
                insert(path, job_id, **values)
            with Book(path) as book:
                if number < len(ACTS):
                    try:
                        ACTS[number](OpenJob(book, job_id, "AB"), "zone-1")
                    except RefusedError:
                        continue
                assert unflagged_and_unmet(book) == []


@examples(5)
@given(st.lists(st.integers(0, len(ACTS) + len(INSERTS) - 1), max_size=6))
def test_no_counting_unflagged_signature_has_an_unmet_hold(numbers: list[int]) -> None:
    tried(numbers)


@pytest.mark.slow
@examples(150)
@given(st.lists(st.integers(0, len(ACTS) + len(INSERTS) - 1), max_size=12))
def test_no_counting_unflagged_signature_has_an_unmet_hold_in_long_runs(
    numbers: list[int],
) -> None:
    tried(numbers)
