"""The commands; thin. What reads the book is imported only by a command that needs it."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

from fieldbook import __version__
from fieldbook.cli.common import NO_INITIALS, ToldError, book_at, one_job, plain, told, write_file
from fieldbook.cli.exchange_commands import bundle, exchange, take
from fieldbook.cli.office_commands import hub
from fieldbook.store.paths import BOOK_VARIABLE, book_path

# Commands import what they use when they run: `fieldbook` itself must show its first frame
# before the record and the store are imported.
# ruff: noqa: PLC0415


@click.group(invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="fieldbook")
@click.option(
    "--book",
    metavar="PATH",
    help=f"The book to use, instead of {BOOK_VARIABLE} or the one in the data folder.",
)
@click.pass_context
def main(context: click.Context, book: str | None) -> None:
    """The job record of an irrigation installer: one property from street to controller, checked.

    Without a command it opens the book. fieldbook records and checks; it certifies nothing.
    """
    context.obj = book_path(book)
    if context.invoked_subcommand is None:
        if not sys.stdout.isatty():
            raise ToldError(
                "There is no terminal to open on: use fieldbook check or fieldbook jobs."
            )
        _open(context.obj)


@main.command()
def demo() -> None:
    """Open a scratch copy of invented properties; without a terminal, print their checks."""
    if sys.stdout.isatty():
        _open(None)
        return
    from fieldbook.cli.output import print_demo

    print_demo()


@main.command()
@click.pass_obj
def jobs(path: Path) -> None:
    """List the properties: zones, flushed, what comes next, flags."""
    from fieldbook.cli.output import print_board

    with book_at(path) as book:
        print_board(book)


@main.command()
@click.argument("job", nargs=-1)
@click.option("--json", "as_json", is_flag=True, help="Print the flags as JSON.")
@click.pass_obj
def check(path: Path, job: tuple[str, ...], *, as_json: bool) -> None:
    """Check properties (all, or those named by address or id); exit 1 when there is a stop."""
    from fieldbook.cli.output import checked, named_jobs, print_checks

    with book_at(path) as book:
        found = checked(book, told(lambda: named_jobs(book, job)))
    if as_json:
        click.echo(json.dumps([one.as_json() for one in found], ensure_ascii=False, indent=2))
    else:
        print_checks(found)
    if any(one.stops for one in found):
        sys.exit(1)


@main.command(name="import")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--copy", is_flag=True, help="Take it in as another property, with ids of its own.")
@click.pass_obj
def import_(path: Path, file: Path, *, copy: bool) -> None:
    """Take a job file into the book."""
    from fieldbook.actions.job_files import import_file

    with book_at(path) as book:
        by = book.laptop.initials() or NO_INITIALS
        found = told(lambda: import_file(book, file, by, copy=copy))
    click.echo(f"Imported {plain(found.address)}: {len(found.rows)} rows.")


@main.command()
@click.argument("job")
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--over", is_flag=True, help="Write over a file that is there.")
@click.pass_obj
def export(path: Path, job: str, file: Path | None, *, over: bool) -> None:
    """Write the job file of a property, to FILE or to standard output."""
    from fieldbook.actions.job_files import export_text

    with book_at(path) as book:
        text = export_text(book, one_job(book, job))
    if file is None:
        sys.stdout.buffer.write(text.encode("utf-8"))
    else:
        write_file(file, text, over=over)


@main.command()
@click.pass_obj
def verify(path: Path) -> None:
    """Look the book over: file, journal, rows, text, backups; exit 1 if a thing is wrong."""
    from fieldbook.store.lifecycle.verify import verify as look_over

    found = look_over(path)
    for sentence in found.wrong:
        click.echo(plain(sentence))
    if found.wrong:
        sys.exit(1)
    click.echo(f"The book is sound: {found.sealed} entries sealed.")


@main.command()
@click.argument("new", type=click.Path(path_type=Path))
@click.pass_obj
def rebuild(path: Path, new: Path) -> None:
    """Make a new book at NEW from the text journal beside the book, which stays as it is."""
    from fieldbook.store.lifecycle.rebuild import rebuild as build

    count = told(lambda: build(path, new))
    click.echo(f"Rebuilt {new} from {count} entries.")


@main.command()
@click.pass_obj
def day(path: Path) -> None:
    """The day across all properties: what can be done now, what waits, what runs out this week."""
    from fieldbook.cli.output import print_day

    with book_at(path) as book:
        print_day(book)


@main.command()
@click.argument("job")
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option("--over", is_flag=True, help="Write over a file that is there.")
@click.pass_obj
def plan(path: Path, job: str, file: Path | None, *, over: bool) -> None:
    """Print the as-built plan of a property, or write it to FILE as SVG."""
    from fieldbook.papers.plan import plan_lines, plan_svg

    with book_at(path) as book:
        loaded = book.load(one_job(book, job))
    if file is None:
        click.echo("\n".join(plain(line) for line in plan_lines(loaded, 78)))
    else:
        write_file(file, plan_svg(loaded), over=over)


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
def solve(file: Path) -> None:
    """Solve a network document (JSON) and print every head, link and node; exit 1 if it can't.

    The format is that of `fieldbook schema network`; no job or book is needed.
    """
    from fieldbook.cli.output import solved_file

    found = told(lambda: solved_file(file))
    click.echo(json.dumps(found, ensure_ascii=False, indent=2))
    if not found["converged"]:
        sys.exit(1)


@main.command()
@click.argument("what", type=click.Choice(["job", "network"]), default="job")
def schema(what: str) -> None:
    """Print the JSON Schema of a job file, or of a network document."""
    if what == "network":
        from fieldbook.water import network_schema

        found = network_schema()
    else:
        from fieldbook.jobfile.schema import job_schema

        found = job_schema()
    click.echo(json.dumps(found, ensure_ascii=False, indent=2))


def _open(path: Path | None) -> None:
    """Run the app on the book at `path`, or on the demo."""
    from fieldbook.screens.app import FieldbookApp

    app = FieldbookApp(path)
    app.run()
    sys.exit(app.return_code or 0)


for _command in (exchange, bundle, take, hub):
    main.add_command(_command)
