"""Print what the checks found: the flags and open checks of properties, the day list."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import asdict

import click
from rich.table import Table
from rich.text import Text

from fieldbook.actions.board.day_list import DayList
from fieldbook.actions.files.materials import Materials, agreed_words
from fieldbook.actions.open_job import CheckedJob
from fieldbook.checks.finding import Finding
from fieldbook.checks.registry import counts
from fieldbook.checks.verdicts import WORDS, Answer, Verdicts
from fieldbook.cli.board_output import NO_PROPERTY, console, literal, print_json
from fieldbook.materials.agreed_changes import price_of, sum_of
from fieldbook.records.printable import printable

_STYLES = {"stop": "bold red", "fix": "yellow", "note": "cyan"}


def print_checks(checked: Sequence[CheckedJob], *, notes: bool = False) -> None:
    """Each property's flags as a table; `notes`: with its notes before them."""
    out = console()
    for number, job in enumerate(checked):
        if number:
            out.print()
        out.print(literal(job.address, "bold"))
        for text in job.notes if notes else ():
            out.print(literal(f"Note: {text}"))
        if job.verdicts.flags:
            out.print(_flags(job.verdicts.flags))
        if job.verdicts.not_checked:
            out.print(_open(job.verdicts.not_checked))
        if not job.verdicts.flags and not job.verdicts.not_checked:
            out.print(literal(job.verdicts.headline))
        else:
            out.print(literal(_counted(job.verdicts)))
    if not checked:
        out.print(NO_PROPERTY)


def _counted(verdicts: Verdicts) -> str:
    """How many things are wrong, not checked, sound and not due, in a sentence."""
    counted = [(len(verdicts.of(word)), word) for word in WORDS]
    return f"Checks: {', '.join(f'{count} {word}' for count, word in counted if count)}."


def print_checks_as_json(checked: Iterable[CheckedJob]) -> None:
    """Each property's flags and answers as a list of JSON objects."""
    document = [
        {
            "job": job.job_id,
            "address": job.address,
            "flags": list(map(asdict, job.verdicts.flags)),
            "checks": [_answer(answer) for answer in job.verdicts.answers],
            "counts": {
                **counts(job.verdicts.flags),
                **{word: len(job.verdicts.of(word)) for word in WORDS},
            },
        }
        for job in checked
    ]
    click.echo(json.dumps(document, ensure_ascii=False, indent=2))


def _answer(answer: Answer) -> dict[str, object]:
    """One answer without its flags, which stand in a list of their own."""
    codes = [flag.code for flag in answer.flags]
    missing = list(map(asdict, answer.missing)) if answer.word == "not checked" else []
    named = {"check": answer.check, "thing": answer.thing, "answer": answer.word}
    return {**named, "flags": codes, "missing": missing}


def _open(answers: Sequence[Answer]) -> Table:
    """What is due and was not checked, and what each lacks."""
    table = Table(show_edge=False, header_style="bold", pad_edge=False)
    table.add_column("Not checked", overflow="fold")
    table.add_column("Place", no_wrap=True)
    table.add_column("What is missing", overflow="fold")
    for answer in answers:
        words = ", ".join(missing.words for missing in answer.missing)
        table.add_row(literal(answer.thing), answer.missing[0].at.place, literal(words))
    return table


def _flags(findings: Iterable[Finding]) -> Table:
    table = Table(show_edge=False, header_style="bold", pad_edge=False)
    table.add_column("Flag", no_wrap=True)
    table.add_column("Place", no_wrap=True)
    table.add_column("What was found, what mends it, where the figure comes from", overflow="fold")
    for finding in findings:
        words = literal(f"{finding.sentence}\n")
        words.append(f"{printable(finding.mend)}\n{printable(finding.source)}", style="dim")
        table.add_row(Text(finding.severity, _STYLES[finding.severity]), finding.place, words)
        table.add_section()
    return table


def print_day(day: DayList) -> None:
    """The day list as plain lines under three headings."""
    out = console()
    for heading, dues, _ in day.sections():
        out.print(Text(heading, style="bold"))
        for due in dues:
            out.print(literal(f"  {due.address}: {due.words}"))


def print_day_as_json(day: DayList) -> None:
    """The four lists of the day as one JSON object."""
    lists = {"can": day.can, "waits": day.waits, "runs_out": day.runs_out, "flags": day.flags}
    print_json(
        {
            name: [
                {
                    "address": due.address,
                    "what": due.what,
                    "on": due.on.isoformat() if due.on else None,
                    "waits_for": due.waits or None,
                }
                for due in dues
            ]
            for name, dues in lists.items()
        }
    )


def print_materials(found: Materials) -> None:
    """The materials as a table, with the sums where a price list gives any."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    for name in ("Item", "Count", "", "How it was counted", "Cost", "Price"):
        table.add_column(name, justify="right" if name in ("Count", "Cost", "Price") else "left")
    for line in found.quote.lines:
        item = line.item
        money = ("" if amount is None else str(amount) for amount in (line.cost, line.price))
        cells = (item.what, f"{item.count:g}", item.unit, item.how, *money)
        table.add_row(*map(literal, cells))
    for order in found.changes:
        price = str(price_of(order) or "")
        words = (order.changed, "1", "change", agreed_words(order), "", price)
        table.add_row(*map(literal, words))
    out = console()
    out.print(table if table.row_count else "The record has nothing to count yet.")
    if found.quote.price or found.quote.cost:
        unpriced = len(found.quote.unpriced)
        left = f"; {unpriced} items have no price" if unpriced else ""
        out.print(f"Cost {found.quote.cost}, price {found.quote.price}{left}.")
    if found.changes:
        more = sum_of(found.changes)
        out.print(f"Agreed changes {more}; with them the price is {found.quote.price + more}.")
    if found.takeoff.not_counted:
        out.print(literal(f"Not counted: {', '.join(found.takeoff.not_counted)}."))
