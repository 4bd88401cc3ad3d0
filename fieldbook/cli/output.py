"""What the commands print: the board, and each property's flags, as Rich tables or JSON."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from fieldbook.actions.board.board import Board
from fieldbook.actions.board.day_list import day_list
from fieldbook.actions.properties import fill_demo
from fieldbook.actions.refused import RefusedError, read_file
from fieldbook.checks.finding import Finding
from fieldbook.checks.registry import check
from fieldbook.jobfile.parse import JobFileError, parse_json
from fieldbook.records.tables.job import Job
from fieldbook.records.values import printable
from fieldbook.store.book import Book
from fieldbook.water import NetworkError, solve_case

_STYLES = {"stop": "bold red", "fix": "yellow", "note": "cyan"}


@dataclass(frozen=True)
class Checked:
    """A property, its notes and its flags."""

    job_id: str
    address: str
    notes: tuple[str, ...]
    findings: tuple[Finding, ...]

    @property
    def stops(self) -> int:
        """How many stops there are."""
        return sum(finding.severity == "stop" for finding in self.findings)

    def as_json(self) -> dict[str, Any]:
        """The property and its flags, ready for JSON."""
        flags = [asdict(finding) for finding in self.findings]
        return {"job": self.job_id, "address": self.address, "flags": flags}


def named_jobs(book: Book, named: Sequence[str]) -> list[Job]:
    """The properties named by id or by words of the address or customer; all of them for none.

    Raises RefusedError naming the first that matches nothing.
    """
    jobs = book.jobs()
    if not named:
        return jobs
    found: list[Job] = []
    for name in named:
        words = name.casefold().split()
        matching = [job for job in jobs if job.id == name] or [
            job
            for job in jobs
            if words and all(word in f"{job.address} {job.customer}".casefold() for word in words)
        ]
        if not matching:
            raise RefusedError(f"No property matches “{name}”: fieldbook jobs lists them.")
        found += [job for job in matching if job not in found]
    return found


def checked(book: Book, jobs: Sequence[Job]) -> list[Checked]:
    """Check each of these properties."""
    found = []
    for job in jobs:
        loaded = book.load(job.id)
        notes = tuple(note.text for note in loaded.notes)
        found.append(Checked(job.id, job.address, notes, check(loaded)))
    return found


def print_board(book: Book) -> None:
    """The board as a table."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    for head in ("Property", "Customer", "Zones", "Flushed", "Next", "Flags"):
        table.add_column(head, overflow="fold", no_wrap=head in ("Zones", "Flushed"))
    for line in Board(book).all_rows():
        flushed = f"{line.flushed} of {line.zones}" if line.zones else "-"
        cells = (
            line.address,
            line.customer,
            str(line.zones or "-"),
            flushed,
            line.next,
            line.flags,
        )
        table.add_row(*(_literal(cell) for cell in cells))
    console = _console()
    console.print(table if table.row_count else "No property yet: fieldbook opens the board.")


def print_checks(found: Sequence[Checked], *, notes: bool = False) -> None:
    """Each property's flags as a table."""
    console = _console()
    for count, one in enumerate(found):
        if count:
            console.print()
        console.print(_literal(one.address, "bold"))
        if notes:
            for text in one.notes:
                console.print(_literal(f"Note: {text}"))
        console.print(_flags(one.findings) if one.findings else Text("No flags.", style="green"))
    if not found:
        console.print("No property yet: fieldbook opens the board.")


def print_demo() -> None:
    """The demo's board and checks, from a scratch book that is thrown away."""
    with (
        TemporaryDirectory(prefix="fieldbook-demo-") as folder,
        Book(Path(folder) / "demo.sqlite", scratch=True) as book,
    ):
        fill_demo(book)
        print_board(book)
        _console().print()
        print_checks(checked(book, book.jobs()), notes=True)


def print_day(book: Book) -> None:
    """The day list as plain lines."""
    console = _console()
    for heading, dues, _ in day_list(book).sections():
        console.print(Text(heading, style="bold"))
        for due in dues:
            console.print(_literal(f"  {due.address}: {due.words}"))


def solved_file(path: Path) -> dict[str, Any]:
    """The answer to a network document. Raises RefusedError naming the file and the place in it."""
    try:
        return solve_case(parse_json(read_file(path)))
    except (NetworkError, JobFileError) as why:
        raise RefusedError(f"{path}: {why}") from why


def _flags(findings: Sequence[Finding]) -> Table:
    table = Table(show_edge=False, header_style="bold", pad_edge=False)
    table.add_column("Flag", no_wrap=True)
    table.add_column("Place", no_wrap=True)
    table.add_column("What was found, what mends it, where the figure comes from", overflow="fold")
    for finding in findings:
        told = _literal(f"{finding.sentence}\n")
        told.append(f"{printable(finding.mend)}\n{printable(finding.source)}", style="dim")
        table.add_row(Text(finding.severity, _STYLES[finding.severity]), finding.place, told)
        table.add_section()
    return table


def _literal(text: str, style: str = "") -> Text:
    """Stored text, never markup and never a terminal's orders."""
    return Text(printable(text), style=style)


def _console() -> Console:
    """Standard output; a pipe gets 100 columns rather than a guess."""
    console = Console(highlight=False, soft_wrap=False)
    return console if console.is_terminal else Console(highlight=False, width=100)
