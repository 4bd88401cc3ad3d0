"""Signatures on paper: who signed what and when, and whether the record still bears it out."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from fieldbook.checks.progress.holds import HOLDS, SIGN_OFFS
from fieldbook.checks.progress.signature_rows import overrides_of
from fieldbook.checks.progress.signatures import changed_on_visits, changed_words, sign_off_name
from fieldbook.checks.progress.standing import Standing, standings
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.paper import Cell, Table
from fieldbook.records.tables.sign_offs import SignOff

EVERY_KIND = (*SIGN_OFFS, "backfill")


def signatures_table(
    source: PaperSource,
    kinds: Collection[str] = EVERY_KIND,
    of_rows: Collection[str] | None = None,
) -> Table:
    """The signatures of these kinds in the order of time; one that is not borne out says why.

    `of_rows` leaves only those whose rows have these ids.
    """
    say, job = source.say, source.job
    found = [
        one
        for one in standings(job, source.now)
        if one.sign_off.kind in kinds and (of_rows is None or one.sign_off.id in of_rows)
    ]
    found.sort(key=lambda one: (one.sign_off.signed_at, one.sign_off.id))
    rows: list[tuple[Cell, ...]] = [
        (
            sign_off_name(job, one.sign_off),
            one.sign_off.signed_by,
            one.sign_off.signed_at.replace("T", " ")[:16],
            "; ".join((*(tuple(_against(source, one)) or (say("yes"),)), *_on_visits(source, one))),
            _let_on(one.sign_off),
        )
        for one in found
    ]
    headers = ("What", "Signed by", "When", "Does the record bear it out?", "Holds overridden")
    return Table(tuple(map(say, headers)), tuple(rows), empty=say("Nothing is signed."))


def _against(source: PaperSource, stands: Standing) -> Iterator[str]:
    """All that speaks against a signature, in words."""
    say = source.say
    yield from stands.faults
    for hold in stands.unmet:
        yield say("no: {what} is missing").format(what=hold.words)
    for hold in stands.overridden:
        yield say("not yet: signed without {what}").format(what=hold.words)
    if stands.rivals:
        yield say("no: another laptop signed apart from it")
    for what in changed_words(source.job, stands.sign_off, source.now):
        yield say("changed since: {what}").format(what=what)


def _let_on(row: SignOff) -> str:
    """The holds that were overridden by this signature, by whom and why; "" if none was."""
    numbers = overrides_of(row)
    titles = "; ".join(hold.title for hold in HOLDS if hold.number in numbers)
    return f"{titles} ({row.override_by}: {row.override_reason})" if titles else ""


def _on_visits(source: PaperSource, stands: Standing) -> Iterator[str]:
    """The days of the visits that changed what a signature covers, after the handover."""
    changes = changed_on_visits(source.job, stands.sign_off, source.now)
    visits = {visit.id: visit for visit in source.job.visits}
    days = {str(visits[one.visit_id].held_on) for one in changes if one.visit_id in visits}
    for day in sorted(days):
        yield source.say("changed on the visit of {day}").format(day=day)
