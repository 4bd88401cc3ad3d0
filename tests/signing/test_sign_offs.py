"""Sign-offs in the book: never changed, never deleted, never without their holds."""

from __future__ import annotations

import sqlite3
import tempfile
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from builders import sound_job
from examples import examples
from hypothesis import given
from hypothesis import strategies as st

from fieldbook.actions import cells, rows, signing
from fieldbook.actions.job_files import import_bytes
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.checks.progress.holds import BACKFILL, SIGN_OFFS, unmet
from fieldbook.checks.progress.standing import proven
from fieldbook.jobfile.write import write_job
from fieldbook.records.base import natural_id
from fieldbook.records.days import time_of
from fieldbook.records.ids import backfill_id, flush_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.store.book import Book
from fieldbook.store.changes import Add, Put
from fieldbook.store.errors import BookError

FOREMAN = signing.Override("A. Foreman", "sod was on the truck")


def begun(book: Book) -> OpenJob:
    """A property with one zone that has one run."""
    open_job = OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")
    zone_id = rows.add_zone(open_job)
    rows.repeat_run(open_job, zone_id)
    return open_job


def prove(open_job: OpenJob) -> str:
    """Record everything that the zone's backfill waits for; return the zone's id."""
    zone_id = open_job.job.zones[0].id
    signing.tick_flush(open_job, zone_id)
    row_id, seed = backfill_id(open_job.job_id, zone_id), {"zone_id": zone_id}
    cells.enter(open_job, CellRef("backfill", row_id, "cover_in"), 14.0, seed)
    cells.enter(open_job, CellRef("backfill", row_id, "rock_free"), True, seed)
    return zone_id


def test_an_unmet_hold_refuses_and_an_override_records_name_reason_and_time(book: Book) -> None:
    open_job = begun(book)
    zone_id = open_job.job.zones[0].id
    with pytest.raises(RefusedError, match="Hold 7, no nozzle and no backfill"):
        signing.sign_backfill(open_job, zone_id)
    assert not open_job.job.sign_offs
    with pytest.raises(RefusedError, match="a reason in letters"):
        signing.sign_backfill(open_job, zone_id, signing.Override("A. Foreman", " "))
    assert signing.sign_backfill(open_job, zone_id, FOREMAN)
    (signed,) = open_job.job.sign_offs
    assert (signed.override_by, signed.override_reason) == ("A. Foreman", "sod was on the truck")
    assert "hold 7, missing the flush of zone 1" in signed.overridden
    assert time_of(signed.signed_at) is not None
    (note,) = [flag for flag in open_job.findings if flag.code == "hold overridden"]
    assert "A. Foreman: sod was on the truck" in note.sentence


def test_a_signature_is_superseded_and_never_deleted(book: Book) -> None:
    open_job = begun(book)
    zone_id = prove(open_job)
    assert signing.sign_backfill(open_job, zone_id)
    first = open_job.job.signed(BACKFILL, zone_id)
    assert not signing.sign_backfill(open_job, zone_id)
    assert open_job.job.signed(BACKFILL, zone_id) is None
    assert signing.sign_backfill(open_job, zone_id)
    open_job.undo()
    assert open_job.job.signed(BACKFILL, zone_id) is None
    open_job.redo()
    assert open_job.job.signed(BACKFILL, zone_id) is not None
    assert first in open_job.job.sign_offs
    assert len(open_job.job.sign_offs) == 5
    assert [flag.code for flag in open_job.findings] == []


def test_a_change_after_the_sign_off_is_flagged(book: Book) -> None:
    open_job = begun(book)
    zone_id = prove(open_job)
    signing.sign_backfill(open_job, zone_id)
    row_id = backfill_id(open_job.job_id, zone_id)
    cells.enter(open_job, CellRef("backfill", row_id, "cover_in"), 3.0)
    assert "changed after sign-off" in [flag.code for flag in open_job.findings]
    open_job.undo()
    assert "changed after sign-off" not in [flag.code for flag in open_job.findings]


@pytest.mark.parametrize(
    "line",
    [
        "UPDATE sign_off SET signed_by = 'XX'",
        "DELETE FROM sign_off",
        "INSERT OR REPLACE INTO sign_off SELECT * FROM sign_off",
    ],
)
def test_raw_sql_is_refused(book_file: Path, line: str) -> None:
    with Book(book_file) as book:
        book.laptop.set_initials("AB")
        open_job = begun(book)
        signing.sign_backfill(open_job, prove(open_job))
    with sqlite3.connect(book_file) as raw:
        raw.execute("PRAGMA recursive_triggers = ON")
        with pytest.raises(sqlite3.IntegrityError, match="stays"):
            raw.execute(line)
    raw.close()


def test_tampering_with_dropped_triggers_is_flagged(book_file: Path) -> None:
    with Book(book_file) as book:
        book.laptop.set_initials("AB")
        open_job = begun(book)
        signing.sign_backfill(open_job, prove(open_job))
        job_id = open_job.job_id
    with sqlite3.connect(book_file) as raw:
        raw.execute("DROP TRIGGER sign_off_no_update")
        raw.execute("UPDATE sign_off SET signed_by = 'XX'")
    raw.close()
    with Book(book_file) as book:
        open_job = OpenJob(book, job_id, "AB")
        assert "signature changed" in [flag.code for flag in open_job.findings]
        assert {one.signed_by for one in open_job.job.sign_offs} == {"AB"}


def test_no_cell_entry_writes_a_signature(book: Book) -> None:
    open_job = begun(book)
    zone_id = open_job.job.zones[0].id
    row_id = backfill_id(open_job.job_id, zone_id)
    for column in ("signed_by", "signed_at"):
        with pytest.raises(RefusedError, match="Only a sign-off"):
            cells.enter(open_job, CellRef("backfill", row_id, column), "XX", {"zone_id": zone_id})
    signing.sign_backfill(open_job, zone_id, FOREMAN)
    signed = open_job.job.sign_offs[0]
    with pytest.raises(RefusedError, match="Only a sign-off"):
        cells.enter(open_job, CellRef("sign_off", signed.id, "state"), "withdrawn")
    with pytest.raises(BookError, match="stays as it was signed"):
        book.commit(open_job.job_id, [Put("sign_off", signed.id, "state", "x")], by="AB", what="x")


FAST = {
    "dig": "override_dig",
    "in service": "override_service",
    "handover": "override_service",
    "close": "override_service",
}
"""The sign-offs that nobody overrides, and the local rule that lets somebody."""


def sound(book: Book) -> OpenJob:
    """The sound property of the builders, without a sign-off of the whole job."""
    text = write_job(sound_job())
    return OpenJob(book, import_bytes(book, text.encode("utf-8"), "AB").job_id, "AB")


def bury(open_job: OpenJob) -> None:
    """Sign every stretch anew: the builders' rows say that they are signed, without a sign-off."""
    for zone_id in (None, *(zone.id for zone in open_job.job.zones)):
        assert not signing.sign_backfill(open_job, zone_id)
        assert signing.sign_backfill(open_job, zone_id)


def test_nobody_overrides_digging_and_service_unless_the_local_rules_allow_it(book: Book) -> None:
    open_job = begun(book)
    for kind in SIGN_OFFS:
        with pytest.raises(RefusedError, match="Hold"):
            signing.sign_off(open_job, kind)
        if kind in FAST:
            with pytest.raises(RefusedError, match="The local rules let nobody override it"):
                signing.sign_off(open_job, kind, FOREMAN)
            assert open_job.job.signed(kind) is None
        else:
            assert signing.sign_off(open_job, kind, FOREMAN)
    own = {"value": "true", "source": "Own rule", "set_name": "Own"}
    allowed = [
        Add("rule", natural_id(open_job.job_id, "rule", key), {"key": key, **own})
        for key in sorted(set(FAST.values()))
    ]
    open_job.commit(allowed, "own rules")
    for kind in FAST:
        assert signing.sign_off(open_job, kind, FOREMAN)
    codes = [flag.code for flag in open_job.findings if flag.severity == "fix"]
    assert codes.count("hold overridden") == len(SIGN_OFFS)


def test_a_sound_job_is_signed_step_by_step_without_an_override(book: Book) -> None:
    open_job = sound(book)
    renewed = CellRef("locate_ticket", open_job.job.locate_tickets[0].id, "renewed_on")
    with pytest.raises(RefusedError, match="Hold 2"):
        signing.sign_off(open_job, "dig")
    cells.enter(open_job, renewed, datetime.now().date().isoformat())
    bury(open_job)
    for kind, words in SIGN_OFFS.items():
        assert signing.sign_off(open_job, kind), words
        assert proven(open_job.job, kind, None, datetime.now().astimezone()), words
    with pytest.raises(RefusedError, match="signed already"):
        signing.sign_off(open_job, "price", FOREMAN)
    assert not signing.sign_off(open_job, "price")
    assert open_job.job.signed("price") is None


def test_handover_waits_for_service(book: Book) -> None:
    open_job = sound(book)
    with pytest.raises(RefusedError, match=r"Hold 13, .*“What service needs is recorded”"):
        signing.sign_off(open_job, "handover")
    assert signing.sign_off(open_job, "in service")
    with pytest.raises(RefusedError, match=r"Hold 14, .* the signed backfill of the mainline"):
        signing.sign_off(open_job, "handover")
    bury(open_job)
    assert signing.sign_off(open_job, "handover")


def test_a_stop_refuses_a_sign_off_and_no_override_lifts_it(book: Book) -> None:
    open_job = sound(book)
    zone_id = open_job.job.zones[0].id
    row_id = backfill_id(open_job.job_id, zone_id)
    cells.enter(open_job, CellRef("backfill", row_id, "cover_in"), 2.0)
    for override in (None, FOREMAN):
        with pytest.raises(RefusedError, match="A stop stands on it"):
            signing.sign_off(open_job, "in service", override)
    assert open_job.job.signed("in service") is None


def buried_without_proof(job: LoadedJob) -> list[str]:
    """The stretches that count as signed though a hold of them is neither met nor overridden."""
    found = []
    for stretch in job.backfills:
        signed = job.signed(BACKFILL, stretch.zone_id)
        if signed is None:
            assert not stretch.signed_by
            continue
        at = time_of(signed.signed_at)
        assert at is not None
        if unmet(job, BACKFILL, stretch.zone_id, at) and not signed.overridden:
            found.append(str(stretch.zone_id))
    return found


def _turn(table: str, column: str) -> Callable[[OpenJob, str], None]:
    def act(open_job: OpenJob, zone_id: str) -> None:
        made = flush_id if table == "flush" else lambda one: backfill_id(open_job.job_id, one)
        cells.turn_tick(open_job, CellRef(table, made(zone_id), column), {"zone_id": zone_id})

    return act


ACTS: list[Callable[[OpenJob, str], object]] = [
    signing.tick_flush,
    signing.sign_backfill,
    lambda open_job, zone: signing.sign_backfill(open_job, zone, FOREMAN),
    lambda open_job, zone: cells.enter(
        open_job,
        CellRef("backfill", backfill_id(open_job.job_id, zone), "cover_in"),
        14.0,
        {"zone_id": zone},
    ),
    _turn("backfill", "rock_free"),
    _turn("flush", "ran_clear"),
    lambda open_job, _: open_job.undo(),
    lambda open_job, _: open_job.redo(),
    lambda open_job, zone: rows.remove_row(open_job, "flush", flush_id(zone)),
    lambda open_job, zone: rows.remove_row(
        open_job, "backfill", backfill_id(open_job.job_id, zone)
    ),
]


@examples(25)
@given(st.lists(st.integers(0, len(ACTS) - 1), max_size=14))
def test_nothing_is_buried_without_its_holds_or_an_override(numbers: list[int]) -> None:
    with tempfile.TemporaryDirectory() as folder, Book(Path(folder) / "book.sqlite") as book:
        book.laptop.set_initials("AB")
        open_job = begun(book)
        zone_id = open_job.job.zones[0].id
        for number in numbers:
            try:
                ACTS[number](open_job, zone_id)
            except RefusedError:
                continue
            # What was proven may be changed after it was signed: that shows as a flag of its own.
            codes = [flag.code for flag in open_job.findings]
            assert not buried_without_proof(open_job.job) or "changed after sign-off" in codes
