"""Sign-offs that no longer cover what is there, that overrode a hold, or that have no evidence."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.cell_refs import backfill_cell
from fieldbook.checks.common.naming import listed, sentence, short, stretch_name
from fieldbook.checks.finding import CellRef, Finding
from fieldbook.checks.progress.digests import changed
from fieldbook.checks.progress.holds import BACKFILL, SIGN_OFFS
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.sign_offs import SignOff

_LONGEST_REASON = 120


def check_signatures(job: LoadedJob) -> Iterator[Finding]:
    """Flags on every sign-off that counts, and on signed stretches without a sign-off."""
    yield from _without_evidence(job)
    for sign_off in _counting(job):
        signed = sentence(
            f"{_sign_off_name(job, sign_off)}, signed by {short(sign_off.signed_by)} on "
            f"{sign_off.signed_at[:10]}"
        )
        tables = changed(job, sign_off)
        if tables:
            titles = [TABLES[table].title if table in TABLES else table for table in tables]
            yield Finding(
                "changed after sign-off",
                "fix",
                f"{signed}: the {listed(titles)} changed after it.",
                "Look at what changed, then take the signature back and sign again with Space.",
                _cell_of(job, sign_off),
            )
        if sign_off.overridden:
            hold = short(sign_off.overridden, _LONGEST_REASON)
            reason = short(sign_off.override_reason, _LONGEST_REASON).rstrip(".")
            yield Finding(
                "hold overridden",
                "note",
                f"{signed}, overrides {hold}. {short(sign_off.override_by)}: {reason}.",
                "Prove what was skipped, if that can still be done; the override stays on record.",
                _cell_of(job, sign_off),
            )


def _sign_off_name(job: LoadedJob, sign_off: SignOff) -> str:
    """Such as "the backfill of zone 3 (front lawn)" or "“Digging may begin”"."""
    if sign_off.kind == BACKFILL:
        return f"the backfill of {stretch_name(job, sign_off.zone_id)}"
    return f"“{SIGN_OFFS.get(sign_off.kind, sign_off.kind)}”"


def _counting(job: LoadedJob) -> list[SignOff]:
    """The newest sign-off of each kind and stretch, unless withdrawn, in the order of signing."""
    kinds = {BACKFILL, *SIGN_OFFS}
    keys = dict.fromkeys((row.kind, row.zone_id) for row in job.sign_offs if row.kind in kinds)
    found = [sign_off for key in keys if (sign_off := job.signed(*key)) is not None]
    return sorted(found, key=lambda sign_off: (sign_off.signed_at, sign_off.id))


def _without_evidence(job: LoadedJob) -> Iterator[Finding]:
    """Stretches that are entered as signed, though no sign-off of them is on record."""
    for stretch in job.backfills:
        zone_is_gone = stretch.zone_id is not None and job.zone(stretch.zone_id) is None
        if not stretch.signed_by or zone_is_gone or job.signed(BACKFILL, stretch.zone_id):
            continue
        yield Finding(
            "no sign-off on record",
            "fix",
            f"The backfill of {stretch_name(job, stretch.zone_id)} is entered as signed by "
            f"{short(stretch.signed_by)}, but no sign-off of it is on record.",
            "Look at what can still be seen, then sign it at the ground with Space.",
            CellRef("backfill", stretch.id, "sign"),
        )


def _cell_of(job: LoadedJob, sign_off: SignOff) -> CellRef:
    """The cell where a sign-off is signed."""
    if sign_off.kind == BACKFILL:
        return backfill_cell(job, sign_off.zone_id, "sign")
    return CellRef("sign_off", sign_off.kind, "sign off")
