"""The command that lists the laptops known by their keys, and says which of them are trusted."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fieldbook.cli.common import NO_INITIALS, open_book, plain, read_book, refusals

if TYPE_CHECKING:
    from fieldbook.store.book import Book
    from fieldbook.store.book_reader import BookReader

# The command imports what it uses: the app's first frame comes before the record is loaded.
# ruff: noqa: PLC0415


@click.command()
@click.option("--compared", metavar="NAME", help="I compared this laptop's words: they are its.")
@click.option("--distrust", metavar="NAME", help="Refuse what this laptop signs from now on.")
@click.option("--trust", metavar="NAME", help="Take that back.")
@click.option("--name", metavar="TEXT", help="What this laptop is called in its signatures.")
@click.option("--json", "as_json", is_flag=True, help="Print the list as JSON.")
@click.pass_obj
def laptops(
    path: Path,
    *,
    compared: str | None,
    distrust: str | None,
    trust: str | None,
    name: str | None,
    as_json: bool,
) -> None:
    """List the laptops that signed something here, with the words of their keys.

    Each laptop signs what it made with a key of its own at every exchange. The first key seen for
    a laptop's entries counts; compare its four words with the other crew once, by voice or side by
    side, then say --compared. NAME is a laptop's name or the beginning of its words.

    A signature proves which laptop's key made an entry, and that nothing in it was altered. It does
    not prove who typed it: whoever holds the laptop holds its key.

    A stolen laptop: --distrust here and on each other laptop, or fieldbook hub remove-laptop once
    for all. What it made until then stays; what it signs later is refused. It could read every
    property, customer and file that it held.

    With --json an object: laptops (name, words, key, state, marked_by, marked_at, entries,
    signed_up_to, last_seen, another_key) and unsigned (origins, entries).
    """
    from fieldbook.actions.exchange import laptop_list

    marks: list[Callable[[Book, str], str]] = []
    if name is not None:
        from fieldbook.store.seals.laptop_key import name_laptop

        with refusals():
            name_laptop(name)
    if compared is not None:
        marks.append(lambda book, by: laptop_list.mark_compared(book, compared, by))
    if distrust is not None:
        marks.append(lambda book, by: laptop_list.distrust(book, distrust, by))
    if trust is not None:
        marks.append(lambda book, _by: laptop_list.trust_again(book, trust))
    if marks:
        with open_book(path) as book:
            for mark in marks:
                click.echo(plain(mark(book, book.laptop.initials() or NO_INITIALS)))
        return
    with read_book(path) as held:
        if as_json:
            _print_json(held)
        else:
            for line in laptop_list.all_lines(held):
                click.echo(plain(line))


def _print_json(book: BookReader) -> None:
    from fieldbook.cli.board_output import print_json

    origins, entries = book.laptops.count_unsigned_origins()
    listed = [
        {
            "name": one.name,
            "words": one.words,
            "key": one.key,
            "state": one.trust,
            "marked_by": one.marked_by,
            "marked_at": one.marked_at,
            "entries": one.entries,
            "signed_up_to": one.sealed_upto,
            "last_seen": one.seen,
            "another_key": one.another_key,
        }
        for one in book.laptops.listed()
    ]
    print_json({"laptops": listed, "unsigned": {"origins": origins, "entries": entries}})
