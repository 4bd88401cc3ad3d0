"""The command that says which properties this laptop holds, fetches one and puts one away."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fieldbook.cli.common import open_book, plain, progress_bar, read_book

if TYPE_CHECKING:
    from fieldbook.store.book import Book
    from fieldbook.store.book_reader import BookReader
    from fieldbook.store.holding.keeping import Held

# The command imports what it uses: the app's first frame comes before the record is loaded.
# ruff: noqa: PLC0415


@click.command()
@click.option("--chosen/--whole", default=None, help="Take chosen properties only, or all again.")
@click.option("--add", metavar="JOB", multiple=True, help="Fetch a property that is not here.")
@click.option("--put-away", metavar="JOB", multiple=True, help="Remove one that is elsewhere too.")
@click.option("--put-away-unused", is_flag=True, help="Remove those not used here for a year.")
@click.option("--json", "as_json", is_flag=True, help="Print what is held, and all else, as JSON.")
@click.pass_obj
def keep(
    path: Path,
    *,
    chosen: bool | None,
    add: Sequence[str],
    put_away: Sequence[str],
    put_away_unused: bool,
    as_json: bool,
) -> None:
    """Say which properties this laptop holds, and choose them.

    A laptop holds the whole firm's, or those chosen for it: begun, received or fetched here. Of
    the others it has a line on the board; opening one there, or --add, fetches it from the office
    (FIELDBOOK_OFFICE) or from the folder used last. --put-away takes a property off this laptop
    once it is handed over, or nothing was entered on it here, and all of its entries are at the
    office or in that folder; its line stays.
    """
    if chosen is not None or add or put_away or put_away_unused:
        with open_book(path) as book:
            if chosen is not None:
                (book.keeping.keep_chosen if chosen else book.keeping.keep_whole)()
            for name in add:
                click.echo(plain(_fetch(book, name)))
            for name in put_away:
                click.echo(plain(_put_away(book, name)))
            if put_away_unused:
                _put_away_unused(book)
    with read_book(path) as held:
        (_print_as_json if as_json else _print)(held, listed=not (add or put_away))


def _fetch(book: Book, name: str) -> str:
    from fieldbook.actions.holding.fetch_property import fetch, one_elsewhere

    far = one_elsewhere(book, name)
    with progress_bar(f"Fetching {far.address}") as progress:
        return f"{far.address}: {fetch(book, far.job_id, far.address, progress)}"


def _put_away(book: Book, name: str) -> str:
    from fieldbook.actions.holding.leave_laptop import put_away
    from fieldbook.actions.properties import one_property

    return put_away(book, one_property(book, name).id)


def _put_away_unused(book: Book) -> None:
    from fieldbook.actions.holding.leave_laptop import put_away_unused

    click.echo(put_away_unused(book))


def _print(book: BookReader, *, listed: bool) -> None:
    """What is held in a sentence, then each property with why it is here."""
    from rich.table import Table

    from fieldbook.actions.holding.leave_laptop import what_is_held
    from fieldbook.cli.board_output import console, literal

    click.echo(what_is_held(book))
    held = book.keeping.held() if listed else []
    if held:
        table = Table(box=None, pad_edge=False, header_style="bold")
        for head in ("Property", "Why it is here", "Entries"):
            table.add_column(head, overflow="fold")
        for one in held:
            table.add_row(*map(literal, (one.address, one.why, str(one.entries))))
        console().print(table)


def _print_as_json(book: BookReader, *, listed: bool) -> None:
    from fieldbook.cli.board_output import print_json

    held = book.keeping.held() if listed else []
    far = book.keeping.elsewhere() if listed else []
    print_json(
        {
            "chosen": book.keeping.is_chosen(),
            "held": [_held_data(one) for one in held],
            "elsewhere": [
                {
                    "job": one.job_id,
                    "address": one.address,
                    "customer": one.customer,
                    "made_from": one.made_from,
                    "put_away": one.put_away or None,
                }
                for one in far
            ],
        }
    )


def _held_data(one: Held) -> dict[str, object]:
    named = {"job": one.job_id, "address": one.address, "why": one.why, "entries": one.entries}
    return {**named, "at": one.at or None}
