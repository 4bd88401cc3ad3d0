"""Tick a flush, sign a stretch for backfill, and sign off a whole job for the next step.

A sign-off is refused while one of its holds is not met, unless somebody overrides it with a name
and a reason. It is never changed or deleted: taking it back adds a row that supersedes it.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import fitting, listed
from fieldbook.checks.desk.open_punch_items import item_name, open_on
from fieldbook.checks.finding import Finding
from fieldbook.checks.ground.flush import flush_steps, missing_steps
from fieldbook.checks.progress.digests import covered, whole_digest
from fieldbook.checks.progress.holds import BACKFILL, SIGN_OFFS, Unmet, may_override, unmet
from fieldbook.checks.progress.reliance import open_before, stops_against
from fieldbook.checks.progress.signature_rows import latest_rows, readable_words
from fieldbook.checks.progress.stages import SIGNED_AT
from fieldbook.checks.registry import verdicts
from fieldbook.checks.verdicts import Answer
from fieldbook.records.base import PLACE_WORDS, new_id, now
from fieldbook.records.ids import backfill_id, flush_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.flush_backfill import Backfill
from fieldbook.records.tables.sign_offs import SETTLED, WITHDRAWN
from fieldbook.records.values import Value
from fieldbook.store.changes import Add, Change, Put

_SIGNED_ALREADY = "It is signed already: there is no hold to override. Space takes it back."
_NOBODY = "The local rules let nobody override it."
_USUAL_MAINLINE = {"let_on_by": "by hand", "came_out_at": "line ends"}
_USUAL_ZONE = {"let_on_by": "controller", "came_out_at": "heads, nozzles out"}
"""How a line is usually flushed (common practice, no source); one key enters it."""


@dataclass(frozen=True)
class Override:
    """Who lets the work go on though a hold is not met, and why."""

    name: str
    reason: str


def flushed(job: LoadedJob, zone_id: str | None) -> bool:
    """Whether every step of a zone's flush, or the mainline's (None), is ticked."""
    return not missing_steps(job.flush_of(zone_id), zone_id)


def tick_flush(open_job: OpenJob, zone_id: str | None) -> bool:
    """Enter a flush as it is usually done, or clear its steps when all are ticked, as one act.

    `zone_id` is None for the mainline, which has no heads. What was entered of how water was let on
    and where it came out stays. Returns whether it is flushed now.
    """
    value = None if flushed(open_job.job, zone_id) else True
    held = open_job.job.flush_of(zone_id)
    row_id, seed = flush_id(zone_id or open_job.job_id), {"zone_id": zone_id}
    zone = open_job.job.zone(zone_id)
    usual = _USUAL_MAINLINE if zone_id is None else _USUAL_ZONE
    changes = [Put("flush", row_id, step, value, seed) for step in flush_steps(zone_id)]
    if value:
        changes += [
            Put("flush", row_id, column, word, seed)
            for column, word in usual.items()
            if held is None or getattr(held, column) is None
        ]
    open_job.commit(changes, f"flush of {f'zone {zone.number}' if zone else 'the mainline'}")
    return value is True


def sign_backfill(open_job: OpenJob, zone_id: str | None, override: Override | None = None) -> bool:
    """Sign a stretch as fit to bury, or take its signature back, as one act.

    `zone_id` is None for the mainline. Returns whether it is signed now. Raises RefusedError, which
    says what is missing and where it is entered, while a hold is not met and there is no override
    with a name and a reason.
    """
    taking_back = _stretch_signed(open_job.job, zone_id)
    if taking_back and override is not None:
        raise RefusedError(_SIGNED_ALREADY)
    by, at = ("", "") if taking_back else (open_job.by, now())
    row_id, seed = backfill_id(open_job.job_id, zone_id), {"zone_id": zone_id}
    also: list[Change] = [
        Put("backfill", row_id, "signed_by", by, seed),
        Put("backfill", row_id, "signed_at", at, seed),
    ]
    if taking_back:
        _withdraw(open_job, BACKFILL, zone_id, also, "backfill signature taken back")
    else:
        _sign(open_job, BACKFILL, zone_id, override, also)
    return not taking_back


def is_signed(job: LoadedJob, kind: str, zone_id: str | None) -> bool:
    """Whether a sign-off is signed, proven or not."""
    if kind == BACKFILL:
        return _stretch_signed(job, zone_id)
    return job.signed(kind, zone_id) is not None


def _stretch_signed(job: LoadedJob, zone_id: str | None) -> bool:
    """Whether a stretch is signed: by its newest sign-off, or by its row where there is none.

    After two laptops signed and withdrew apart, the row may show another of them than counts.
    """
    newest, stretch = job.newest_sign_off(BACKFILL, zone_id), job.backfill_of(zone_id)
    if newest is not None:
        return newest.state != WITHDRAWN
    return stretch is not None and bool(stretch.signed_by)


def sign_off(open_job: OpenJob, kind: str, override: Override | None = None) -> bool:
    """Sign one of the `SIGN_OFFS` of the whole job, or take it back, as one act.

    Returns whether it is signed now. Raises RefusedError as `sign_backfill` does.
    """
    if open_job.job.signed(kind) is not None:
        if override is not None:
            raise RefusedError(_SIGNED_ALREADY)
        _withdraw(open_job, kind, None, [], "signature taken back")
        return False
    _sign(open_job, kind, None, override, [])
    return True


def unchecked(open_job: OpenJob, kind: str, zone_id: str | None) -> str:
    """What a sign-off relies on and nobody has entered, in words; empty when there is nothing.

    It keeps no signature back, so whoever signs has to read it.
    """
    job = open_job.job
    answers = verdicts(job, None, None, SIGNED_AT[kind]).answers
    missing = [one.words for one in open_before(job, answers, kind, zone_id)]
    return listed(missing, most=2) if missing else ""


def still_to_do(job: LoadedJob, kind: str) -> str:
    """The punch items that are open as a job is handed over or closed; empty for any other."""
    left = open_on(job, date.today()) if kind in ("handover", "close") else []
    return listed([item_name(job, item) for item in left], most=4) if left else ""


def why_not(
    job: LoadedJob,
    kind: str,
    zone_id: str | None,
    at: datetime | None = None,
    answers: Sequence[Answer] | None = None,
) -> str:
    """The sentence that refuses a sign-off at a time, or now; empty when it may be signed.

    A hold that is not met comes first, then a stop on what the sign-off covers. `answers` are those
    of the job's checks at that time; they are worked out unless given.
    """
    held = unmet(job, kind, zone_id, at or datetime.now())
    if held:
        first, more = held[0], f" {len(held) - 1} more after it: F1 shows all." if held[1:] else ""
        number, title = f"Hold {first.hold.number}", _lower(first.hold.title)
        versions = [(f"{number}, {title}", 2), (f"{number}, {title}", 1), (number, 1)]
        return fitting(*(f"{_missing(first, begins, most)}{more}" for begins, most in versions))
    answers = verdicts(job, at).answers if answers is None else answers
    stops = stops_against(job, answers, kind, zone_id)
    if not stops:
        return ""
    return _stopped(stops)


def _missing(first: Unmet, begins: str, most: int) -> str:
    """The sentence on a hold that names at most so many of the things it waits for."""
    lacks = {lack.words: PLACE_WORDS[lack.at.place] for lack in first.missing}
    places = dict.fromkeys(list(lacks.values())[:most])
    where = listed([f"at the {place}" for place in places])
    return f"{begins}: missing {listed(list(lacks), most=most)} (enter it {where})."


def _stopped(stops: Sequence[Finding]) -> str:
    """The first of the stops that stand, and how many more there are."""
    more = {1: "", 2: " One more stop stands."}.get(
        len(stops), f" {len(stops) - 1} more stops stand."
    )
    said = stops[0].sentence
    return f"{fitting(f'A stop stands on it: {said}', f'A stop stands on it. {said}')}{more}"


def refuse_signing(open_job: OpenJob, kind: str, zone_id: str | None) -> None:
    """Raise RefusedError where a sign-off may not be signed, before anybody is asked to sign."""
    _refuse(open_job, kind, zone_id, None)


def refuse_override(open_job: OpenJob, kind: str, zone_id: str | None) -> None:
    """Raise RefusedError where there is nothing to override: before anybody is asked for a name."""
    job = open_job.job
    if job.signed(kind, zone_id) is not None:
        raise RefusedError(_SIGNED_ALREADY)
    held = unmet(job, kind, zone_id, datetime.now())
    if not held:
        raise RefusedError("No hold is open here, so there is none to override: Space signs.")
    if not all(may_override(job, one.hold) for one in held):
        raise RefusedError(f"{why_not(job, kind, zone_id)} {_NOBODY}")
    if stops := stops_against(job, open_job.verdicts.answers, kind, zone_id):
        raise RefusedError(f"{_stopped(stops)} No override lifts a stop.")


def reasons(open_job: OpenJob, kind: str, zone_id: str | None) -> list[str]:
    """Every hold that keeps a sign-off back with all it waits for, then every stop against it."""
    job = open_job.job
    held = [
        f"Hold {one.hold.number}, {_lower(one.hold.title)}: missing {_whole(one)}."
        for one in unmet(job, kind, zone_id, datetime.now())
    ]
    stops = stops_against(job, open_job.verdicts.answers, kind, zone_id)
    return [*held, *(f"Stop: {stop.sentence} {stop.mend}" for stop in stops)]


def _whole(one: Unmet) -> str:
    """All that a hold waits for, each with the place where it is entered."""
    return "; ".join(f"{lack.words} ({PLACE_WORDS[lack.at.place]})" for lack in one.missing)


def _lower(title: str) -> str:
    return f"{title[:1].lower()}{title[1:]}"


def _refuse(open_job: OpenJob, kind: str, zone_id: str | None, override: Override | None) -> None:
    """Raise RefusedError unless a sign-off may be signed, with the override if there is one."""
    job = open_job.job
    held = unmet(job, kind, zone_id, datetime.now())
    fast = next((one for one in held if not may_override(job, one.hold)), None)
    if held and (override is None or fast is not None):
        mend = "" if fast is not None else " Ctrl+O overrides it, with a name."
        if override is not None:
            mend = f" {_NOBODY}"
        raise RefusedError(why_not(job, kind, zone_id) + mend)
    if override is not None:
        for text, words in ((override.name, "name"), (override.reason, "reason")):
            if not readable_words(text):
                raise RefusedError(f"An override needs a {words} in letters that can be read.")
    stops = stops_against(job, open_job.verdicts.answers, kind, zone_id)
    if stops:
        raise RefusedError(f"{_stopped(stops)} {stops[0].mend}")


def _sign(
    open_job: OpenJob, kind: str, zone_id: str | None, override: Override | None, also: list[Change]
) -> None:
    """Add a sign-off, and make the changes `also`, in one act. Raises RefusedError."""
    _refuse(open_job, kind, zone_id, override)
    held = unmet(open_job.job, kind, zone_id, datetime.now())
    parts = covered(_with_stretch(open_job.job, zone_id, also), kind, zone_id)
    values = _sign_off_row(open_job, kind, zone_id, "signed")
    values["covered"] = json.dumps(parts, sort_keys=True)
    if held and override is not None:
        values["overridden"] = "; ".join(
            f"hold {unmet_hold.hold.number}, missing {unmet_hold.words}" for unmet_hold in held
        )
        values["override_by"] = override.name.strip()
        values["override_reason"] = override.reason.strip()
    values["digest"] = whole_digest(parts, values)
    what = "backfill signed" if kind == BACKFILL else f"signed: {SIGN_OFFS[kind].lower()}"
    settled = _settled_rivals(open_job, kind, zone_id)
    open_job.commit([*also, *settled, Add("sign_off", new_id(), values)], what)


def _withdraw(
    open_job: OpenJob, kind: str, zone_id: str | None, also: list[Change], what: str
) -> None:
    """Add a row that withdraws the newest sign-off, and make the changes `also`, in one act."""
    values = _sign_off_row(open_job, kind, zone_id, WITHDRAWN)
    settled = _settled_rivals(open_job, kind, zone_id)
    open_job.commit([*also, *settled, Add("sign_off", new_id(), values)], what)


def _sign_off_row(
    open_job: OpenJob, kind: str, zone_id: str | None, state: str
) -> dict[str, Value]:
    newest = open_job.job.newest_sign_off(kind, zone_id)
    return {
        "kind": kind,
        "zone_id": zone_id,
        "state": state,
        "signed_by": open_job.by,
        "signed_at": now(),
        "supersedes": newest.id if newest is not None else None,
    }


def _settled_rivals(open_job: OpenJob, kind: str, zone_id: str | None) -> list[Change]:
    """A row for each rival that another laptop signed or withdrew apart: it counts no longer."""
    newest = open_job.job.newest_sign_off(kind, zone_id)
    return [
        Add(
            "sign_off",
            new_id(),
            {**_sign_off_row(open_job, kind, zone_id, SETTLED), "supersedes": rival.id},
        )
        for rival in latest_rows(open_job.job, kind, zone_id)
        if newest is not None and rival.id != newest.id
    ]


def _with_stretch(job: LoadedJob, zone_id: str | None, also: list[Change]) -> LoadedJob:
    """The job with a row for the stretch, which signing a backfill adds where there is none yet.

    The columns that sign it are not part of what a sign-off covers, so they stay blank.
    """
    if also and job.backfill_of(zone_id) is None:
        row = Backfill(id=backfill_id(job.job.id, zone_id), job_id=job.job.id, zone_id=zone_id)
        return replace(job, backfills=(*job.backfills, row))
    return job
