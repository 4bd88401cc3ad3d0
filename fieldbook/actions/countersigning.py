"""Countersign a signature, or what somebody entered at a place, with the number of a licence."""

from __future__ import annotations

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.progress.countersignatures import (
    covered_entries,
    kind_over_entries,
    kind_over_sign_off,
    over_entries,
    over_sign_off,
    people_at,
)
from fieldbook.checks.progress.signature_rows import readable_words
from fieldbook.records.base import PLACE_WORDS, Place, new_id, now
from fieldbook.records.tables.sign_offs import SignOff
from fieldbook.store.changes import Add


def refuse_sign_off(open_job: OpenJob, kind: str, zone_id: str | None) -> SignOff:
    """The signature that may be countersigned now. Raises RefusedError where there is none."""
    signed = open_job.job.signed(kind, zone_id)
    if signed is None:
        raise RefusedError("Nobody has signed here yet: a countersignature stands beside one.")
    if signed.signed_by == open_job.by:
        raise RefusedError(
            f"{open_job.by} signed it: somebody else countersigns. F9 says who is typing."
        )
    held = over_sign_off(open_job.job, kind, zone_id)
    if held is not None:
        raise RefusedError(f"{held.signed_by} has countersigned it already.")
    return signed


def countersign(open_job: OpenJob, kind: str, zone_id: str | None, licence: str) -> None:
    """Countersign the signature of a kind and stretch, as one act. Raises RefusedError."""
    signed = refuse_sign_off(open_job, kind, zone_id)
    _add(open_job, kind_over_sign_off(kind), licence, zone_id=zone_id, countersigns=signed.id)


def people_to_countersign(open_job: OpenJob, place: Place) -> list[str]:
    """Who has entries at a place that may be countersigned. Raises RefusedError for nobody."""
    job = open_job.job
    done = {one.person for one in over_entries(job, place) if not one.changed}
    found = [who for who in people_at(job, place) if who != open_job.by and who not in done]
    if not found:
        raise RefusedError(
            f"Every entry at the {PLACE_WORDS[place]} is by {open_job.by} or countersigned "
            "already. F9 changes who is typing."
        )
    return found


def countersign_entries(open_job: OpenJob, place: Place, person: str, licence: str) -> None:
    """Countersign what a person entered at a place, as one act. Raises RefusedError."""
    if person not in people_to_countersign(open_job, place):
        raise RefusedError(f"{person} has no entries here to countersign.")
    covered = covered_entries(open_job.job, place, person)
    _add(open_job, kind_over_entries(place, person), licence, covered=covered)


def _add(
    open_job: OpenJob,
    kind: str,
    licence: str,
    *,
    zone_id: str | None = None,
    countersigns: str | None = None,
    covered: str = "",
) -> None:
    if not readable_words(licence, least=1):
        raise RefusedError("A countersignature needs the number of the licence.")
    newest = open_job.job.newest_sign_off(kind, zone_id)
    row = {
        "kind": kind,
        "zone_id": zone_id,
        "state": "signed",
        "signed_by": open_job.by,
        "signed_at": now(),
        "supersedes": newest.id if newest is not None else None,
        "countersigns": countersigns,
        "covered": covered,
        "licence": licence.strip(),
    }
    open_job.commit([Add("sign_off", new_id(), row)], "countersignature")
