"""Sign-offs that are no longer true: unmet holds, later changes, overrides, wrong rows."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from datetime import datetime

from fieldbook.checks.common.naming import fitting, listed, sentence, short, stretch_name
from fieldbook.checks.finding import CellRef, Finding
from fieldbook.checks.looked import Looked
from fieldbook.checks.progress.before_visits import as_signed
from fieldbook.checks.progress.digests import changed, covered
from fieldbook.checks.progress.holds import BACKFILL, SIGN_OFFS
from fieldbook.checks.progress.standing import Standing, standings
from fieldbook.records.days import day_of
from fieldbook.records.ids import backfill_id
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.sign_offs import SignOff
from fieldbook.records.tables.visits import VisitChange

CHANGED_ON_A_VISIT = "changed on a visit"
"""The code of the note that a visit changed what was signed before it."""
_LONGEST_THING = 60


def sign_off_name(job: LoadedJob, sign_off: SignOff) -> str:
    """Such as "the backfill of zone 3 (front lawn)" or "“What digging needs is recorded”"."""
    if sign_off.kind == BACKFILL:
        return f"the backfill of {stretch_name(job, sign_off.zone_id)}"
    return f"“{SIGN_OFFS.get(sign_off.kind, sign_off.kind)}”"


def check_signatures(job: LoadedJob, now: datetime) -> Iterator[Finding | Looked]:
    """Every sign-off that counts, and signatures of which none is on record."""
    yield from _without_evidence(job)
    all_standing = standings(job, now)
    for stands in all_standing:
        at = _cell_of(job, stands.sign_off)
        yield Looked(sign_off_name(job, stands.sign_off), frozenset({at.row_id}))
        yield from _unproven(job, stands, at)
        yield from _changed(job, stands.sign_off, at, now)
        yield from _overridden(job, stands, at)
    if job.visit_changes:
        yield from _on_visits(job, [stands.sign_off for stands in all_standing], now)


def _signed(job: LoadedJob, sign_off: SignOff) -> str:
    """The sign-off with its signer and day, to begin a sentence."""
    who, day = short(sign_off.signed_by) or "nobody", short(sign_off.signed_at[:10]) or "no day"
    return sentence(f"{sign_off_name(job, sign_off)}, signed by {who} on {day}")


def _unproven(job: LoadedJob, stands: Standing, at: CellRef) -> Iterator[Finding]:
    """What speaks against a signature, whatever way it came into the book."""
    said = _signed(job, stands.sign_off)
    if stands.unmet:
        first = stands.unmet[0]
        hold = f"hold {first.hold.number}"
        more = f", and {len(stands.unmet) - 1} more holds" if stands.unmet[1:] else ""
        yield Finding(
            "sign-off no longer met",
            "fix",
            fitting(
                f"{said}, isn't proven: {hold} lacks {first.missing[0].words}{more}.",
                f"{said}, isn't proven: {hold} is no longer met{more}.",
            ),
            "Enter what is missing, or take the signature back with Space.",
            at,
            source=first.hold.source,
        )
    if stands.faults:
        yield Finding(
            "sign-off unproven",
            "fix",
            f"{said}, is not proven: {listed(stands.faults)}.",
            "Take it back and sign again with Space, with the clock of this laptop right.",
            at,
        )
    if stands.rivals:
        rival = stands.rivals[-1]
        who = short(rival.signed_by) or "another laptop"
        verb = "signed" if rival.state == "signed" else "withdrew"
        yield Finding(
            "signed on two laptops",
            "fix",
            f"{said}: {who} {verb} it too, not having seen that.",
            "Agree which counts, then take it back and sign again with Space.",
            at,
        )


def changed_words(job: LoadedJob, sign_off: SignOff, now: datetime) -> list[str]:
    """What a sign-off covers that is no longer as it was signed over, as a crew calls it.

    What visits changed after the handover is left out: `changed_on_visits` names it. So is what is
    now as it was signed over, whatever it was between.
    """
    before = as_signed(job, sign_off, now)
    tables = changed(before.job, sign_off)
    if tables and before.taken_back:
        today = changed(job, sign_off)
        tables = [table for table in tables if table in today]
    return [TABLES[one].title if one in TABLES else one for one in tables]


def changed_on_visits(job: LoadedJob, sign_off: SignOff, now: datetime) -> list[VisitChange]:
    """What visits changed after the handover of all that a sign-off covers, the newest first."""
    before = as_signed(job, sign_off, now)
    if not before.taken_back:
        return []
    kind, zone_id = sign_off.kind, sign_off.zone_id
    then, today = covered(before.job, kind, zone_id), covered(job, kind, zone_id)
    tables = {table for table in {*then, *today} if then.get(table) != today.get(table)}
    return [change for change in before.taken_back if change.of_table in tables]


def _on_visits(job: LoadedJob, signed: Sequence[SignOff], now: datetime) -> Iterator[Finding]:
    """A note on each visit that changed what somebody signed over: no signature is asked for."""
    found = [change for row in signed for change in changed_on_visits(job, row, now)]
    if any(changed_words(job, row, now) for row in signed):
        yield from _not_after_handover(job, {change.visit_id for change in found})
    for visit in job.visits:
        things = dict.fromkeys(
            short(change.thing, _LONGEST_THING) or TABLES[change.of_table].title
            for change in found
            if change.visit_id == visit.id
        )
        if things:
            said = f"The visit of {visit.held_on} changed what was signed over"
            yield Finding(
                CHANGED_ON_A_VISIT,
                "note",
                fitting(f"{said}: {listed(list(things))}.", f"{said}."),
                "Nothing to mend: the visit lists what changed, and no new signature is due.",
                CellRef("visit", visit.id, "done"),
            )


def _not_after_handover(job: LoadedJob, counting: Collection[str | None]) -> Iterator[Finding]:
    """Visits whose day is wrong, so that what they changed counts as changed after a signature."""
    handover = job.signed("handover")
    handed_over = day_of(handover.signed_at) if handover is not None else None
    with_changes = {one.visit_id for one in job.visit_changes if one.was or one.became}
    for visit in job.visits if handed_over is not None else ():
        day = day_of(visit.held_on)
        wrong = day is None or (handed_over is not None and day < handed_over)
        if wrong and visit.id in with_changes and visit.id not in counting:
            when = f"is dated {day}, before the handover" if day is not None else "has no date"
            yield Finding(
                "visit not after handover",
                "fix",
                f"A visit that changed the record {when}: it asks for the signatures again.",
                "Correct the date of the visit.",
                CellRef("visit", visit.id, "held_on"),
            )


def _changed(job: LoadedJob, sign_off: SignOff, at: CellRef, now: datetime) -> Iterator[Finding]:
    """Rows that are no longer as they were signed over, for another reason than a visit."""
    words = changed_words(job, sign_off, now)
    if words:
        yield Finding(
            "changed after sign-off",
            "fix",
            f"{_signed(job, sign_off)}: the {listed(words)} changed after it.",
            "Look at what changed, then take the signature back and sign again with Space.",
            at,
        )


def _overridden(job: LoadedJob, stands: Standing, at: CellRef) -> Iterator[Finding]:
    """Holds that were overridden: a fix until they are met, a note for good."""
    row = stands.sign_off
    if not row.overridden:
        return
    left = [str(one.hold.number) for one in stands.overridden]
    said, what = _signed(job, row), " ".join(row.overridden.split()).rstrip(".")
    why = f"{short(row.override_by)}: {' '.join(row.override_reason.split())}".rstrip(".")
    yield Finding(
        "hold overridden",
        "fix" if left else "note",
        fitting(
            f"{said}, overrides a hold: {what}. {why}.",
            f"{said}, overrides a hold. {why}.",
            f"{said}, overrides a hold, for a reason that is too long to show here.",
        ),
        f"Prove what hold {listed(left)} asks; it stays on record."
        if left
        else "What was skipped is proven now; the override stays on record.",
        at,
    )


def _without_evidence(job: LoadedJob) -> Iterator[Finding]:
    """A stretch that says it is signed, of which no sign-off is on record."""
    for stretch in job.backfills:
        zone = job.zone(stretch.zone_id)
        gone = zone is None and stretch.zone_id is not None
        if not stretch.signed_by or gone or job.signed(BACKFILL, stretch.zone_id) is not None:
            continue
        yield Finding(
            "no sign-off on record",
            "fix",
            f"The backfill of {stretch_name(job, stretch.zone_id)} says it is signed by "
            f"{short(stretch.signed_by)}, but no sign-off of it is on record.",
            "Look at what can still be seen, then sign it with Space.",
            CellRef("backfill", stretch.id, "sign"),
        )


def _cell_of(job: LoadedJob, sign_off: SignOff) -> CellRef:
    """The cell where a sign-off is signed."""
    if sign_off.kind == BACKFILL:
        return CellRef("backfill", backfill_id(job.job.id, sign_off.zone_id), "sign")
    return CellRef("sign_off", sign_off.kind, "sign off")
