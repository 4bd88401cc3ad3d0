"""The `fieldbook` command, and its subcommands on the book."""

from __future__ import annotations

import os
import sys
from datetime import date, timedelta
from pathlib import Path

import click

from fieldbook import __version__
from fieldbook.cli.common import (
    FILE_PATH,
    NO_INITIALS,
    CommandError,
    in_language,
    open_book,
    plain,
    reached,
    read_book,
    refusals,
    usable,
    write_file,
)
from fieldbook.cli.diagnose_command import diagnose
from fieldbook.cli.document_commands import schema, solve
from fieldbook.cli.exchange_commands import bundle, exchange, take
from fieldbook.cli.keep_command import keep
from fieldbook.cli.laptops_command import laptops
from fieldbook.cli.office_commands import hub
from fieldbook.cli.paper_commands import dispute, materials, papers, tables
from fieldbook.cli.picture_command import picture
from fieldbook.cli.programme_command import programme
from fieldbook.cli.serve_command import serve
from fieldbook.cli.visits_command import visits
from fieldbook.cli.zones_command import zones
from fieldbook.languages.language_texts import Language
from fieldbook.store.paths import BOOK_VARIABLE, book_path

# Each command imports what it uses: the app's first frame comes before the record is loaded.
# ruff: noqa: PLC0415


@click.group(invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="fieldbook")
@click.option(
    "--book",
    metavar="PATH",
    help=f"The book to use, instead of {BOOK_VARIABLE} or the one in the data folder.",
)
@in_language
@click.pass_context
def main(context: click.Context, book: str | None, language: Language | None) -> None:
    """The job record of an irrigation installer: one property from street to controller, checked.

    Without a command it opens the book. fieldbook records and checks; it certifies nothing.
    """
    with usable(book or os.environ.get(BOOK_VARIABLE, "")):
        path = context.obj = book_path(book)
        # The longest name of a file that is made beside a book has to fit too.
        reached(path.with_name(f"{path.name}.rebuilding-journal"))
    if context.invoked_subcommand is None:
        if not _has_screen():
            raise CommandError(
                "There is no terminal to open on: use fieldbook check or fieldbook jobs."
            )
        _open_app(context.obj, language)


def _has_screen() -> bool:
    """Whether there is a terminal, or the browser for which `fieldbook serve` started this."""
    return sys.stdout.isatty() or "TEXTUAL_DRIVER" in os.environ


def _open_app(path: Path | None, language: Language | None, *, guided: bool = False) -> None:
    """Run the app on the book at `path`, or on a scratch copy of the demo (None)."""
    from fieldbook.actions.keys_file import KEYS_FILE
    from fieldbook.screens.app import FieldbookApp

    keys = (path or book_path()).parent / KEYS_FILE
    app = FieldbookApp(path, guided=guided, keys_file=keys, language=language)
    app.run()
    if app.last_words:
        click.echo(plain(app.last_words), err=True)
    sys.exit(app.return_code or 0)


@main.command()
@click.option("--guided", is_flag=True, help="Begin with a guided first job of two minutes.")
@in_language
def demo(language: Language | None, *, guided: bool) -> None:
    """Open a scratch copy of invented properties; without a terminal, print their checks."""
    if _has_screen():
        _open_app(None, language, guided=guided)
        return
    from fieldbook.actions.board.board import Board
    from fieldbook.actions.open_job import check_jobs
    from fieldbook.actions.properties import demo_book
    from fieldbook.cli.board_output import print_board
    from fieldbook.cli.output import print_checks

    with refusals(), demo_book() as book:
        print_board(Board(book).all_rows())
        click.echo()
        print_checks(check_jobs(book, book.jobs()), notes=True)


@main.command()
def keys() -> None:
    """Print every action with its usual keys, as a keys.toml to begin with."""
    from fieldbook.actions.keys_file import as_toml

    click.echo(as_toml())


@main.command()
def nozzles() -> None:
    """Print an example of the firm's list of nozzles, as a nozzles.toml to begin with."""
    from fieldbook.trade.nozzle_list import EXAMPLE

    click.echo(EXAMPLE, nl=False)


@main.command()
@click.option("--json", "as_json", is_flag=True, help="Print the rows as JSON.")
@click.pass_obj
def jobs(path: Path, *, as_json: bool) -> None:
    """List the properties: zones, flushed, what comes next, flags, open checks."""
    from fieldbook.actions.board.board import Board
    from fieldbook.cli.board_output import print_board, print_board_as_json

    with read_book(path, lists=True) as book:
        (print_board_as_json if as_json else print_board)(Board(book).all_rows())


@main.command()
@click.argument("job", nargs=-1)
@click.option("--json", "as_json", is_flag=True, help="Print the flags and every answer as JSON.")
@click.pass_obj
def check(path: Path, job: tuple[str, ...], *, as_json: bool) -> None:
    """Check properties (all, or those named by address or id); exit 1 when there is a stop."""
    from fieldbook.actions.open_job import check_jobs
    from fieldbook.actions.properties import find_properties
    from fieldbook.cli.output import print_checks, print_checks_as_json

    with read_book(path) as book:
        checked = check_jobs(book, find_properties(book, job))
    if as_json:
        print_checks_as_json(checked)
    else:
        print_checks(checked)
    if any(
        flag.severity == "stop" for checked_job in checked for flag in checked_job.verdicts.flags
    ):
        sys.exit(1)


@main.command(name="import")
@click.argument("file", type=FILE_PATH)
@click.option("--copy", is_flag=True, help="Take it in as another property, with ids of its own.")
@click.pass_obj
def import_(path: Path, file: Path, *, copy: bool) -> None:
    """Take a job file into the book."""
    from fieldbook.actions.job_files import import_file

    with open_book(path) as book:
        by = book.laptop.initials() or NO_INITIALS
        imported = import_file(book, file, by, copy=copy)
    click.echo(f"Imported {plain(imported.address)}: {len(imported.rows)} rows.")


@main.command()
@click.argument("job")
@click.argument("file", required=False, type=FILE_PATH)
@click.option("--over", is_flag=True, help="Write over a file that is there.")
@click.pass_obj
def export(path: Path, job: str, file: Path | None, *, over: bool) -> None:
    """Write the job file of a property, to FILE or to standard output.

    A FILE that ends in .geojson gets the as-built on the earth, one in .ics the dates.
    """
    from fieldbook.actions.files.open_formats import ENDINGS, write_open
    from fieldbook.actions.job_files import export_text
    from fieldbook.actions.properties import one_property

    with read_book(path) as book:
        found = one_property(book, job).id
        if file is not None and file.suffix.lower() in ENDINGS:
            write_open(book.load(found), file, date.today(), over=over)
            click.echo(f"Wrote {plain(str(file))}.")
            return
        text = export_text(book, found)
    if file is None:
        # Bytes, so that a terminal's encoding or line ends never change the file.
        sys.stdout.buffer.write(text.encode("utf-8"))
    else:
        write_file(file, text, over=over)


@main.command()
@click.pass_obj
def verify(path: Path) -> None:
    """Look the book over: file, journal, rows, text, backups; exit 1 if a thing is wrong."""
    from fieldbook.store.mending.verify import verify as verify_book

    with refusals():
        found = verify_book(path)
    for sentence in found.wrong:
        click.echo(plain(sentence))
    if found.held:
        click.echo(plain(f"It is open in {found.held}: this is how it was a moment ago."))
    for line in filter(None, (found.part, found.signed)):
        click.echo(line)
    if found.wrong:
        sys.exit(1)
    click.echo(f"The book is sound: {found.entries} entries sealed.")


@main.command()
@click.argument("new", required=False, type=FILE_PATH)
@click.option("--in-place", is_flag=True, help="Put it where the damaged book is, kept beside it.")
@click.pass_obj
def rebuild(path: Path, new: Path | None, *, in_place: bool) -> None:
    """Make the book anew from every sound entry in its text journal, its backups and itself.

    With NEW it becomes a new book there, and the old one stays as it is.
    """
    from fieldbook.store.mending.in_place import rebuild_in_place
    from fieldbook.store.mending.rebuild import rebuild as rebuild_book

    if (new is None) != in_place:
        raise CommandError("Name the new book, or say --in-place to replace the damaged one.")
    with refusals():
        if new is None:
            click.echo(plain(rebuild_in_place(path).sentence))
            return
        count = rebuild_book(path, new)
    click.echo(f"Rebuilt {plain(str(new))} from {count} entries.")


@main.command()
@click.option("--json", "as_json", is_flag=True, help="Print the lists as JSON.")
@click.option(
    "--days",
    type=click.IntRange(0, 366),
    default=7,
    show_default=True,
    help="How many days ahead what runs out is named.",
)
@click.pass_obj
def day(path: Path, days: int, *, as_json: bool) -> None:
    """The day across all properties: what can be done now, what waits, what runs out this week."""
    from fieldbook.actions.board.day_list import day_list
    from fieldbook.cli.output import print_day, print_day_as_json

    with read_book(path) as book:
        found = day_list(book, within=timedelta(days=days))
        (print_day_as_json if as_json else print_day)(found)


@main.command()
@click.argument("job")
@click.argument("file", required=False, type=FILE_PATH)
@click.option("--over", is_flag=True, help="Write over a file that is there.")
@click.pass_obj
def plan(path: Path, job: str, file: Path | None, *, over: bool) -> None:
    """Print the as-built plan of a property, or write it to FILE as SVG."""
    from fieldbook.actions.properties import one_property
    from fieldbook.papers.site_plan.plan_picture import plan_lines
    from fieldbook.papers.site_plan.plan_sheet import plan_svg

    with read_book(path) as book:
        loaded = book.load(one_property(book, job).id)
    if file is None:
        click.echo("\n".join(plain(line) for line in plan_lines(loaded, 78)))
    else:
        write_file(file, plan_svg(loaded), over=over)


for _command in (
    exchange,
    bundle,
    take,
    keep,
    laptops,
    hub,
    picture,
    serve,
    solve,
    schema,
    papers,
    materials,
    dispute,
    zones,
    diagnose,
    visits,
    programme,
    tables,
):
    main.add_command(_command)
