"""Sign-offs that no longer cover what is there, or were let through."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import listed
from fieldbook.checks.finding import CellRef, Finding
from fieldbook.checks.ground.pressure_test import stretch_name
from fieldbook.checks.progress.digests import changed
from fieldbook.checks.progress.holds import BACKFILL, SIGN_OFFS
from fieldbook.records.ids import backfill_id
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.sign_offs import SignOff


def sign_off_name(job: LoadedJob, sign_off: SignOff) -> str:
    """Such as "the backfill of zone 3 (front lawn)" or "“Digging may begin”"."""
    if sign_off.kind == BACKFILL:
        return f"the backfill of {stretch_name(job, sign_off.zone_id)}"
    return f"“{SIGN_OFFS.get(sign_off.kind, sign_off.kind)}”"


def check_signatures(job: LoadedJob) -> Iterator[Finding]:
    """Flags on every sign-off that counts, and on signatures that have none."""
    yield from _without_evidence(job)
    for sign_off in counting(job):
        said = (
            f"{sign_off_name(job, sign_off)}, signed by {sign_off.signed_by} on "
            f"{sign_off.signed_at[:10]}"
        )
        tables = changed(job, sign_off)
        if tables:
            words = [TABLES[one].title if one in TABLES else one for one in tables]
            yield Finding(
                "changed after sign-off",
                "fix",
                f"{said[:1].upper()}{said[1:]}: the {listed(words)} changed after it.",
                "Look at what changed, then take the signature back and sign again with Space.",
                _cell_of(job, sign_off),
            )
        if sign_off.overridden:
            yield Finding(
                "hold overridden",
                "note",
                f"{said[:1].upper()}{said[1:]}, overrides a hold: {sign_off.overridden}. "
                f"{sign_off.override_by}: {sign_off.override_reason}",
                "It stays on record; prove what was skipped if it still can be.",
                _cell_of(job, sign_off),
            )


def _without_evidence(job: LoadedJob) -> Iterator[Finding]:
    """A stretch that says it is signed, of which no sign-off is on record."""
    for stretch in job.backfills:
        zone = job.zone(stretch.zone_id)
        lost = zone is None and stretch.zone_id is not None
        if not stretch.signed_by or lost or job.signed(BACKFILL, stretch.zone_id) is not None:
            continue
        yield Finding(
            "no sign-off on record",
            "fix",
            f"The backfill of {stretch_name(job, stretch.zone_id)} says it is signed by "
            f"{stretch.signed_by}, but no sign-off of it is on record.",
            "Look at what can still be seen, then sign it with Space.",
            CellRef("backfill", stretch.id, "sign"),
        )


def counting(job: LoadedJob) -> list[SignOff]:
    """The sign-offs that count now, by when they were signed."""
    known = {BACKFILL, *SIGN_OFFS}
    keys = dict.fromkeys((one.kind, one.zone_id) for one in job.sign_offs if one.kind in known)
    found = [one for key in keys if (one := job.signed(*key)) is not None]
    return sorted(found, key=lambda one: (one.signed_at, one.id))


def _cell_of(job: LoadedJob, sign_off: SignOff) -> CellRef:
    """The cell where a sign-off is signed."""
    if sign_off.kind == BACKFILL:
        return CellRef("backfill", backfill_id(job.job.id, sign_off.zone_id), "sign")
    return CellRef("sign_off", sign_off.kind, "sign off")
