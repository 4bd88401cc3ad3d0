"""The command that prints the visits to a property: what was found, done, changed and read."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fieldbook.cli.common import plain, read_book

if TYPE_CHECKING:
    from fieldbook.checks.service.visit_summary import ChangeWords, VisitSummary

# The command imports what it uses: the app's first frame comes before the record is loaded.
# ruff: noqa: PLC0415

_NEWEST = 5


@click.command()
@click.argument("job")
@click.option("--json", "as_json", is_flag=True, help="Print them as JSON.")
@click.option("--all", "every", is_flag=True, help=f"Print every visit, not the newest {_NEWEST}.")
@click.pass_obj
def visits(path: Path, job: str, *, as_json: bool, every: bool) -> None:
    """Print the visits to a property, the newest first.

    Each with its reason, who, found, done, its steps, what changed on it, its readings and photos,
    and when the next one is due.

    With --json an object: job, address, left_out (how many older visits are not listed), next_due
    (the day, or null) and visits. A visit has id, date, reason, who, asked_by, found, done, hours,
    note, ended, next_due, next_reason, steps (step, done, note), changed (thing, table, row,
    column, what, before, after, why, warranty), readings and photos (texts).
    """
    from fieldbook.actions.properties import one_property
    from fieldbook.checks.common.visit_due import visit_that_names_next
    from fieldbook.checks.service.visit_summary import visit_summaries
    from fieldbook.checks.service.visit_text import visit_lines

    with read_book(path) as book:
        loaded = book.load(one_property(book, job).id)
    found = visit_summaries(loaded)
    shown = found if every else found[:_NEWEST]
    if as_json:
        due = visit_that_names_next(loaded)
        document = {
            "job": loaded.job.id,
            "address": loaded.job.address,
            "left_out": len(found) - len(shown),
            "next_due": due.next_due if due is not None else None,
            "visits": [_document(one) for one in shown],
        }
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
        return
    click.echo(plain(loaded.job.address))
    for one in shown:
        click.echo(f"\n{plain(one.title)}")
        for line in visit_lines(one):
            click.echo(plain(line).rstrip())
    if len(found) > len(shown):
        click.echo(f"\n{len(found) - len(shown)} older: --all prints every visit.")
    if not found:
        click.echo("No visit yet: start one at the service.")


def _document(one: VisitSummary) -> dict[str, object]:
    visit = one.visit
    return {
        "id": visit.id,
        "date": visit.held_on,
        "reason": visit.reason,
        "who": one.who,
        "asked_by": visit.asked_by,
        "found": visit.found,
        "done": visit.done,
        "hours": visit.hours,
        "note": visit.note,
        "ended": visit.ended is True,
        "next_due": visit.next_due,
        "next_reason": visit.next_reason,
        "steps": [{"step": step.step, "done": step.done, "note": step.note} for step in one.steps],
        "changed": [_change(change) for change in one.changes],
        "readings": list(one.readings),
        "photos": [file.name for file in one.photos],
    }


def _change(words: ChangeWords) -> dict[str, object]:
    change = words.change
    return {
        "thing": words.thing,
        "table": change.of_table,
        "row": change.of_row,
        "column": change.of_column,
        "what": words.what,
        "before": words.before,
        "after": words.after,
        "why": words.why,
        "warranty": words.warranty,
    }
