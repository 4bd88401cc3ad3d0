"""Print what the commands found: the board, the flags of properties, the day list."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import asdict

import click
from rich.console import Console
from rich.table import Table
from rich.text import Text

from fieldbook.actions.board.board_row import BoardRow
from fieldbook.actions.board.day_list import DayList
from fieldbook.actions.files.materials import Materials
from fieldbook.actions.open_job import CheckedJob
from fieldbook.checks.finding import Finding
from fieldbook.checks.registry import counts
from fieldbook.checks.verdicts import WORDS, Answer, Verdicts
from fieldbook.records.printable import printable

_STYLES = {"stop": "bold red", "fix": "yellow", "note": "cyan"}
_EMPTY = "No property yet: fieldbook opens the board."


def print_board(rows: Iterable[BoardRow]) -> None:
    """The board as a table."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    for head in ("Property", "Customer", "Zones", "Flushed", "Next", "Flags", "Open"):
        table.add_column(head, overflow="fold", no_wrap=head in ("Zones", "Flushed"))
    for row in rows:
        flushed = f"{row.flushed} of {row.zones}" if row.zones else "-"
        zones, still_open = str(row.zones or "-"), str(row.open or "-")
        cells = (row.address, row.customer, zones, flushed, row.next, row.flags, still_open)
        table.add_row(*map(_literal, cells))
    _console().print(table if table.row_count else _EMPTY)


def print_checks(checked: Sequence[CheckedJob], *, notes: bool = False) -> None:
    """Each property's flags as a table; `notes`: with its notes before them."""
    console = _console()
    for number, job in enumerate(checked):
        if number:
            console.print()
        console.print(_literal(job.address, "bold"))
        for text in job.notes if notes else ():
            console.print(_literal(f"Note: {text}"))
        if job.verdicts.flags:
            console.print(_flags(job.verdicts.flags))
        if job.verdicts.not_checked:
            console.print(_open(job.verdicts.not_checked))
        if not job.verdicts.flags and not job.verdicts.not_checked:
            console.print(_literal(job.verdicts.headline))
        else:
            console.print(_literal(_counted(job.verdicts)))
    if not checked:
        console.print(_EMPTY)


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
        table.add_row(_literal(answer.thing), answer.missing[0].at.place, _literal(words))
    return table


def _flags(findings: Iterable[Finding]) -> Table:
    table = Table(show_edge=False, header_style="bold", pad_edge=False)
    table.add_column("Flag", no_wrap=True)
    table.add_column("Place", no_wrap=True)
    table.add_column("What was found, what mends it, where the figure comes from", overflow="fold")
    for finding in findings:
        words = _literal(f"{finding.sentence}\n")
        words.append(f"{printable(finding.mend)}\n{printable(finding.source)}", style="dim")
        table.add_row(Text(finding.severity, _STYLES[finding.severity]), finding.place, words)
        table.add_section()
    return table


def print_day(day: DayList) -> None:
    """The day list as plain lines under three headings."""
    console = _console()
    for heading, dues, _ in day.sections():
        console.print(Text(heading, style="bold"))
        for due in dues:
            console.print(_literal(f"  {due.address}: {due.words}"))


def print_materials(found: Materials) -> None:
    """The materials as a table, with the sums where a price list gives any."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    for name in ("Item", "Count", "", "How it was counted", "Cost", "Price"):
        table.add_column(name, justify="right" if name in ("Count", "Cost", "Price") else "left")
    for line in found.quote.lines:
        item = line.item
        money = ("" if amount is None else str(amount) for amount in (line.cost, line.price))
        cells = (item.what, f"{item.count:g}", item.unit, item.how, *money)
        table.add_row(*map(_literal, cells))
    console = _console()
    console.print(table if table.row_count else "The record has nothing to count yet.")
    if found.quote.price or found.quote.cost:
        unpriced = len(found.quote.unpriced)
        left = f"; {unpriced} items have no price" if unpriced else ""
        console.print(f"Cost {found.quote.cost}, price {found.quote.price}{left}.")
    if found.takeoff.not_counted:
        console.print(_literal(f"Not counted: {', '.join(found.takeoff.not_counted)}."))


def _literal(text: str, style: str = "") -> Text:
    """Stored text as it is: never read as markup, and without characters a terminal obeys."""
    return Text(printable(text), style=style)


def _console() -> Console:
    """Standard output; a pipe gets 100 columns rather than a guess."""
    console = Console(highlight=False, soft_wrap=False)
    return console if console.is_terminal else Console(highlight=False, width=100)
