"""A visit with all that belongs to it, in words: for pages, the command `visits` and papers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fieldbook.checks.common.naming import row_name, stretch_name, system_of
from fieldbook.checks.progress.before_visits import kept_value
from fieldbook.records.base import Record, facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import TABLES, LoadedJob
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.tables.season.season_work import SeasonWork, SeasonZone
from fieldbook.records.tables.visits import Visit, VisitChange, VisitStep
from fieldbook.records.values import Value, shown

_OWN_TABLES = ("visit_step", "visit_change")
_UNSAID = ("hidden", "when")


@dataclass(frozen=True)
class ChangeWords:
    """One change: the thing, its column ("" for the whole thing), and what it was and is now.

    `what` is one of the kinds of a change, or "". `change` is its row.
    """

    change: VisitChange
    thing: str
    column: str
    what: str
    before: str
    after: str
    why: str
    warranty: bool | None

    @property
    def sentence(self) -> str:
        """Such as "the head of lateral run 1 of zone 2, flow: replaced, 2 gpm, then 3 gpm"."""
        thing = f"{self.thing}, {self.column.lower()}" if self.column else self.thing
        values = ", then ".join(filter(None, (self.before, self.after)))
        parts = [self.what, values, self.why, "under warranty" if self.warranty else ""]
        said = ", ".join(filter(None, parts))
        return f"{thing}: {said}" if said else thing


@dataclass(frozen=True)
class VisitSummary:
    """One visit, its steps in their order, what changed, its readings in words, its photos.

    `who` is whoever is named, else the initials of those who made its entries.
    """

    visit: Visit
    who: str
    steps: tuple[VisitStep, ...]
    changes: tuple[ChangeWords, ...]
    readings: tuple[str, ...]
    photos: tuple[Attachment, ...]

    @property
    def title(self) -> str:
        """Such as "2027-04-12, start-up"."""
        return ", ".join(filter(None, (self.visit.held_on, self.visit.reason))) or "no date"

    @property
    def steps_done(self) -> int:
        """How many steps are done."""
        return sum(step.done is True for step in self.steps)

    @property
    def in_short(self) -> str:
        """Such as "7 of 11 steps, 2 changes, 3 readings, 1 photo"; "" where there is nothing."""
        counts = (
            (len(self.changes), "change"),
            (len(self.readings), "reading"),
            (len(self.photos), "photo"),
        )
        steps = [f"{self.steps_done} of {len(self.steps)} steps"] if self.steps else []
        return ", ".join([*steps, *(f"{no} {what}{'s' * (no > 1)}" for no, what in counts if no)])


def visit_summaries(job: LoadedJob) -> tuple[VisitSummary, ...]:
    """Every visit of a job, the newest first."""
    visits = sorted(job.visits, key=lambda visit: (visit.held_on or "", visit.id), reverse=True)
    return tuple(visit_summary(job, visit) for visit in visits)


def visit_summary(job: LoadedJob, visit: Visit) -> VisitSummary:
    """One visit of a job with all that belongs to it."""
    steps = tuple(one for one in job.visit_steps if one.visit_id == visit.id)
    changes = sorted(
        (one for one in job.visit_changes if one.visit_id == visit.id),
        key=lambda one: (one.entered_at, one.thing, one.of_column),
    )
    own = {visit.id, *(one.id for one in (*steps, *changes))}
    people = {one.entered_by for one in (visit, *steps, *changes) if one.entered_by}
    return VisitSummary(
        visit,
        visit.who or ", ".join(sorted(people)),
        steps,
        tuple(change_words(job, one) for one in changes),
        tuple(_readings(job, visit.id)),
        tuple(file for file in job.attachments if file.of_row in own),
    )


def change_words(job: LoadedJob, change: VisitChange) -> ChangeWords:
    """A change in words, its values in the units that the job is shown in."""
    column, before, after = "", change.before, change.after
    record = TABLES.get(change.of_table)
    if record is not None and change.of_column:
        fact = facts_of(record).get(change.of_column)
        column = fact.label if fact is not None else change.of_column
        before, after = (
            _value_words(job, record, change.of_column, kept_value(text))
            for text in (change.was, change.became)
        )
    elif record is not None and (change.was or change.became):
        before, after = (
            _row_words(job, record, kept_value(text)) for text in (change.was, change.became)
        )
    thing = change.thing or row_name(job, change.of_table, change.of_row)
    return ChangeWords(
        change, thing, column, change.what or "", before, after, change.why, change.warranty
    )


def _value_words(job: LoadedJob, record: type[Record], column: str, value: object) -> str:
    """A kept value as a person reads it; "blank" for none."""
    fact = facts_of(record).get(column)
    if fact is None or not isinstance(value, str | int | float) or value == "":
        return "blank"
    if fact.links_to:
        return row_name(job, fact.links_to, str(value))
    # The book keeps a tick as 0 or 1.
    held: Value = bool(value) if fact.kind == "tick" else value
    return shown(fact, held, system_of(job))


def _row_words(job: LoadedJob, record: type[Record], kept: object) -> str:
    """What a whole row held, such as "Size 1, Length 40 ft"; "" for a row that was not there."""
    if not isinstance(kept, dict):
        return ""
    facts = facts_of(record)
    said = [
        _cell_words(facts[column], _value_words(job, record, column, value))
        for column, value in kept.items()
        if column in facts and facts[column].kind not in _UNSAID and value not in (None, "")
    ]
    return ", ".join(said) or f"a {record.title}"


def _cell_words(fact: Fact, words: str) -> str:
    """A value after its label, which a link such as "zone 3" says by itself."""
    named = fact.links_to and words.startswith(fact.label.lower())
    return words if named else f"{fact.label} {words}"


def _readings(job: LoadedJob, visit_id: str) -> Iterator[str]:
    """What was measured on a visit: the rows of other tables that name it, zone by zone."""
    for table, rows in job.tables().items():
        if table in _OWN_TABLES:
            continue
        own = [row for row in rows if getattr(row, "visit_id", None) == visit_id]
        for row in sorted(own, key=lambda row: _zone_number(job, row)):
            words = _row_words(job, type(row), _said(row))
            yield f"{_reading_name(job, table, row)}: {words}"


def _zone_number(job: LoadedJob, row: Record) -> int:
    """The number of the zone that a reading is of; 0 for the mainline and the whole system."""
    zone = job.zone(getattr(row, "zone_id", None))
    return (zone.number or 0) if zone is not None else 0


def _reading_name(job: LoadedJob, table: str, row: Record) -> str:
    """What a reading is of: the stretch that was closed or opened, the whole system, or its row."""
    if isinstance(row, SeasonZone):
        return stretch_name(job, row.zone_id)
    return "the system" if isinstance(row, SeasonWork) else row_name(job, table, row.id)


def _said(row: Record) -> dict[str, object]:
    """The columns of a reading that say more than which visit it belongs to."""
    return {name: value for name, value in row.values().items() if name != "visit_id"}
