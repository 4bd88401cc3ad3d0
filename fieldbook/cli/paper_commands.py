"""The commands that write papers."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

import click

from fieldbook.cli.common import FILE_PATH, in_language, plain, read_book, refusals, write_file
from fieldbook.languages.language_texts import Language

# Imported inside: the app's first frame comes before the record and the papers are loaded.
# ruff: noqa: PLC0415


@click.command()
@click.argument("job")
@click.argument("folder", type=FILE_PATH)
@click.option("--only", multiple=True, metavar="PAPER", help="One paper by name; may be repeated.")
@click.option("--pdf", is_flag=True, help="Write PDF besides HTML; needs fieldbook[pdf].")
@in_language
@click.pass_obj
def papers(
    path: Path,
    job: str,
    folder: Path,
    only: tuple[str, ...],
    language: Language | None,
    *,
    pdf: bool,
) -> None:
    """Write the papers of a property into FOLDER: packet, door card, tags, logs, records.

    Each is one file that needs no network. A paper of the same name is written over.
    """
    from fieldbook.actions.files.write_papers import paper_source, write_papers
    from fieldbook.actions.properties import one_property

    now = datetime.now().astimezone()
    with read_book(path) as book, refusals():
        source = paper_source(book, book.load(one_property(book, job).id), now, language or "en")
        count = 0
        for written in write_papers(source, folder, only, ("html", "pdf") if pdf else ("html",)):
            click.echo(f"Wrote {plain(str(written))}.")
            count += 1
    if not count:
        click.echo("Nothing was written: no visit is recorded.")


@click.command()
@click.argument("job")
@click.argument("file", required=False, type=FILE_PATH)
@click.option("--prices", type=FILE_PATH, help="A price list: item,cost,price.")
@click.option("--waste", type=click.FloatRange(0, 100), default=0.0, help="Percent of pipe, wire.")
@click.option("--over", is_flag=True, help="Write over a file that is there.")
@click.pass_obj
def materials(
    path: Path,
    job: str,
    file: Path | None,
    prices: Path | None,
    waste: float,
    *,
    over: bool,
) -> None:
    """Count the materials of a property, or write them to FILE: CSV, or JSON by its ending.

    With a price list it is a quote, each line with its cost and price. The price list is prices.csv
    beside the book unless one is named.
    """
    from fieldbook.actions.files.materials import materials_of, own_prices
    from fieldbook.actions.properties import one_property
    from fieldbook.cli.output import print_materials

    with read_book(path) as book, refusals():
        loaded = book.load(one_property(book, job).id)
        found = materials_of(loaded, prices or own_prices(path), waste)
    if file is None:
        print_materials(found)
        return
    as_json = file.suffix.lower() == ".json"
    data = json.dumps(found.as_data(), ensure_ascii=False, indent=2) + "\n"
    write_file(file, data if as_json else found.as_csv(), over=over)


@click.command()
@click.argument("job")
@click.argument("folder", type=FILE_PATH)
@click.pass_obj
def tables(path: Path, job: str, folder: Path) -> None:
    """Write the record of a property into FOLDER as CSV, a file a table, for a spreadsheet."""
    from fieldbook.actions.files.open_formats import write_tables
    from fieldbook.actions.properties import one_property

    with read_book(path) as book, refusals():
        for written in write_tables(book.load(one_property(book, job).id), folder):
            click.echo(f"Wrote {plain(str(written))}.")


@click.command()
@click.argument("job")
@click.argument("claim")
@click.argument("file", required=False, type=FILE_PATH)
@click.option(
    "--about",
    multiple=True,
    required=True,
    metavar="THING",
    help="zone:2, stretch:mainline, sign-off:backfill:2, box:A, row:ID, or a cell such as "
    "supply.static_psi; may be repeated.",
)
@in_language
@click.pass_obj
def dispute(
    path: Path,
    job: str,
    claim: str,
    file: Path | None,
    about: tuple[str, ...],
    language: Language | None,
) -> None:
    """Show every journal entry that bears on a CLAIM, or write the sheet to FILE: .html or .pdf.

    Who entered what and when, before and after, its hash and whether its chain holds. How to get in
    and the crew's own notes are never on it. A file of that name is written over.
    """
    from fieldbook.actions.disputes.claim_entries import claim_of
    from fieldbook.actions.disputes.write_dispute import claim_lines, write_dispute
    from fieldbook.actions.files.write_papers import paper_source
    from fieldbook.actions.properties import one_property

    now = datetime.now().astimezone()
    with read_book(path) as book, refusals():
        loaded = book.load(one_property(book, job).id)
        found = claim_of(book, loaded, claim, about)
        source = paper_source(book, loaded, now, language or "en")
        if file is None:
            click.echo("\n".join(plain(line) for line in claim_lines(source, found)))
            return
        write_dispute(source, found, file)
        click.echo(f"Wrote {plain(str(file))}.")
