"""Signatures on paper: who signed what and when, and every hold that somebody overrode."""

from __future__ import annotations

from collections.abc import Collection

from fieldbook.checks.progress.holds import HOLDS, SIGN_OFFS
from fieldbook.checks.progress.signature_rows import overrides_of
from fieldbook.checks.progress.signatures import sign_off_name
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.paper import Cell, Table
from fieldbook.records.tables.sign_offs import SignOff

EVERY_KIND = (*SIGN_OFFS, "backfill")


def signatures_table(source: PaperSource, kinds: Collection[str] = EVERY_KIND) -> Table:
    """The signatures that count, of these kinds, in the order in which they were signed."""
    say, job = source.say, source.job
    kept = {(row.kind, row.zone_id) for row in job.sign_offs if row.kind in kinds}
    signed = [row for kind, zone in kept if (row := job.signed(kind, zone)) is not None]
    rows: list[tuple[Cell, ...]] = [
        (sign_off_name(job, row), row.signed_by, row.signed_at.replace("T", " ")[:16], _let_on(row))
        for row in sorted(signed, key=lambda row: (row.signed_at, row.id))
    ]
    headers = (say("What"), say("Signed by"), say("When"), say("Holds that were overridden"))
    return Table(headers, tuple(rows), empty=say("Nothing is signed."))


def _let_on(row: SignOff) -> str:
    """The holds that were overridden by this signature, by whom and why; "" if none was."""
    numbers = overrides_of(row)
    titles = "; ".join(hold.title for hold in HOLDS if hold.number in numbers)
    return f"{titles} ({row.override_by}: {row.override_reason})" if titles else ""
