"""The commands that exchange with other laptops: through a folder, the office, or a file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from fieldbook.cli.common import (
    FILE_PATH,
    CommandError,
    open_book,
    plain,
    progress_bar,
    usable,
)
from fieldbook.store.paths import OFFICE_VARIABLE, is_office

if TYPE_CHECKING:
    from fieldbook.actions.exchange.exchange_report import ExchangeReport

# Each command imports what it uses: the app's first frame comes before the record is loaded.
# ruff: noqa: PLC0415


@click.command()
@click.argument("place", envvar=OFFICE_VARIABLE)
@click.option("--anew", is_flag=True, help="Read my files in the folder, write spoilt ones again.")
@click.pass_obj
def exchange(path: Path, place: str, *, anew: bool) -> None:
    """Exchange entries through PLACE: a folder on a stick, or one kept alike on two laptops.

    PLACE may be the address of the office's database (postgresql://...), which fieldbook hub
    add-laptop prints; without PLACE it is what FIELDBOOK_OFFICE holds.

    In whatever order laptops exchange, and however often, they end up with the same record. F6
    settles what two of them entered differently. Close fieldbook first: only one program at a time
    can have the book open.
    """
    if is_office(place):
        from fieldbook.actions.exchange.office import exchange_with_office

        with open_book(path) as book, progress_bar("Exchanging with the office") as progress:
            report = exchange_with_office(book, place, progress)
    else:
        from fieldbook.actions.exchange.folder_exchange import exchange_through_folder

        with usable(place):
            folder = FILE_PATH.convert(place and Path(place).expanduser(), None, None)
        with open_book(path) as book, progress_bar("Exchanging") as progress:
            report = exchange_through_folder(book, folder, progress, anew=anew)
    _print_report(report)


@click.command()
@click.argument("job")
@click.argument("file", type=FILE_PATH)
@click.option("--over", is_flag=True, help="Write over a file that is there.")
@click.option("--no-files", is_flag=True, help="Leave attached photos and papers out.")
@click.pass_obj
def bundle(path: Path, job: str, file: Path, *, over: bool, no_files: bool) -> None:
    """Write all that was ever entered on a property to FILE, for another laptop to take."""
    from fieldbook.actions.exchange.bundles import write_job_bundle
    from fieldbook.actions.exchange.exchange_report import counted
    from fieldbook.actions.properties import one_property

    with open_book(path) as book:
        job_id = one_property(book, job).id
        count = write_job_bundle(book, job_id, file, over=over, files=not no_files)
    click.echo(f"Wrote {plain(str(file))}: {counted(count, 'entry', 'entries')}.")


@click.command()
@click.argument("file", type=FILE_PATH)
@click.pass_obj
def take(path: Path, file: Path) -> None:
    """Take FILE, which `fieldbook bundle` wrote on another laptop; twice does no harm."""
    from fieldbook.actions.exchange.bundles import receive_bundle

    with open_book(path) as book:
        report = receive_bundle(book, file)
    _print_report(report)


def _print_report(report: ExchangeReport) -> None:
    """What came and went; notes and refusals go to standard error, a refusal with exit code 2."""
    for note in report.notes:
        click.echo(plain(note), err=True)
    for sentence in report.sentences():
        click.echo(sentence)
    if report.refused:
        raise CommandError(" ".join(map(plain, report.refused)))
