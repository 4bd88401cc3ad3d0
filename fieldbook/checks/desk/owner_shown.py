"""The owner's walk-through: what it lacks before it can be signed, or the refusal that ends it.

Sources: 30 Tex. Admin. Code 344.63 (walk-through, papers, signature or the refusal with its date
and time); 21 NCAC 23 .0510(b) (teach that need changes); Laredo, Texas, 25-87 (minutes a zone).
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from fieldbook.checks.common.job_rules import figure, required
from fieldbook.checks.common.naming import zone_word
from fieldbook.checks.finding import CellRef, Finding, Missing
from fieldbook.checks.looked import Looked
from fieldbook.records.column_values import amount
from fieldbook.records.days import CLOCK_TOLERANCE, time_of
from fieldbook.records.ids import once_id, zone_shown_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.owner.walk_through import WALK_THROUGH_SOURCE, WalkThrough, ZoneShown

WALK_THROUGH = "walk-through"
"""The kind of the sign-off of the walk-through."""
_NAMED = (("owner", "the owner's name"), ("held_at", "the day and hour of the walk-through"))
_TICKED = (
    ("season_taught", "that the owner was taught that need changes with the season"),
    ("checklist", "that the maintenance list was handed over"),
    ("manual", "that the controller's manual was handed over"),
    ("schedule", "that the seasonal schedule was handed over"),
    ("parts_list", "that the list of parts was handed over"),
    ("drawing", "that the plan as installed was handed over"),
)


def walk_through_lacks(job: LoadedJob) -> Iterator[Missing]:
    """What keeps the walk-through from being signed: of a refusal its day and hour alone."""
    held = job.walk_through
    row_id = held.id if held is not None else once_id(job.job.id, "walk_through")
    if held is not None and held.refused is True:
        if not _has_hour(held.refused_at):
            words = "the day and hour at which the owner refused"
            yield Missing(words, CellRef("walk_through", row_id, "refused_at"))
        return
    for column, words in _NAMED:
        value = str(getattr(held, column, None) or "")
        if not value.strip() or (column == "held_at" and not _has_hour(value)):
            yield Missing(words, CellRef("walk_through", row_id, column))
    yield from _zones_not_shown(job)
    for column, words in _TICKED:
        if getattr(held, column, None) is not True:
            yield Missing(words, CellRef("walk_through", row_id, column))


def is_begun(job: LoadedJob) -> bool:
    """Whether anything of the walk-through is entered."""
    rows = [job.walk_through, *job.zones_shown]
    return any(row is not None and _filled(row) for row in rows)


def check_walk_through(job: LoadedJob, now: datetime) -> Iterator[Finding | Looked]:
    """The walk-through, where it was begun, or where the rules ask for it before a handover.

    A job that is handed over already is not asked for one.
    """
    asked = required(job, "walk_through_required") and job.signed("handover") is None
    begun = is_begun(job)
    if not begun and not asked:
        return
    missing = tuple(walk_through_lacks(job))
    yield Looked("the owner's walk-through", _rows(job), missing, "survey" if begun else None)
    held = job.walk_through
    if held is None:
        return
    for column in ("held_at", "refused_at"):
        at = time_of(getattr(held, column))
        if at is not None and at > now.replace(tzinfo=None) + CLOCK_TOLERANCE:
            yield Finding(
                "walk-through in the future",
                "fix",
                f"The owner's walk-through is of {at:%Y-%m-%d %H:%M}, which is later than now.",
                "Correct its time; if it is right, this laptop's clock is wrong.",
                CellRef("walk_through", held.id, column),
                source=WALK_THROUGH_SOURCE,
            )


def _zones_not_shown(job: LoadedJob) -> Iterator[Missing]:
    """Zones that ran for less than the rule's minutes while the owner watched."""
    least = figure(job, "walk_through_zone_min").value
    shown = {row.zone_id: row for row in job.zones_shown}
    for zone in job.zones:
        row = shown.get(zone.id)
        minutes = amount(row, "shown_min")
        if least > 0.0 and (minutes is None or minutes < least):
            row_id = row.id if row is not None else zone_shown_id(zone.id)
            words = f"{least:g} min of {zone_word(zone)} shown to the owner"
            yield Missing(words, CellRef("zone_shown", row_id, "shown_min"))


def _has_hour(text: str | None) -> bool:
    """Whether a stored time has its hour, not the day alone."""
    return time_of(text) is not None and ":" in (text or "")


def _filled(row: WalkThrough | ZoneShown) -> bool:
    own = ("id", "job_id", "entered_by", "entered_at", "zone_id")
    values = row.values()
    return any(value not in (None, "") for name, value in values.items() if name not in own)


def _rows(job: LoadedJob) -> frozenset[str]:
    found = {once_id(job.job.id, "walk_through")} | {row.id for row in job.zones_shown}
    found |= {zone_shown_id(zone.id) for zone in job.zones}
    return frozenset(found | ({job.walk_through.id} if job.walk_through else set()))
