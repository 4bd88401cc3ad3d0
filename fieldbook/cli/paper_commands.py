"""The commands that write papers."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from fieldbook.cli.common import plain, read_book, refusals

# Imported inside: the app's first frame comes before the record and the papers are loaded.
# ruff: noqa: PLC0415


@click.command()
@click.argument("job")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--only", multiple=True, metavar="PAPER", help="One paper by name; may be repeated.")
@click.option("--pdf", is_flag=True, help="Write PDF besides HTML; needs fieldbook[pdf].")
@click.pass_obj
def papers(path: Path, job: str, folder: Path, only: tuple[str, ...], *, pdf: bool) -> None:
    """Write the papers of a property into FOLDER: packet, door card, tags, logs, records.

    Each is one file that needs no network. A paper of the same name is written over.
    """
    from fieldbook.actions.files.write_papers import paper_source, write_papers
    from fieldbook.actions.properties import one_property

    with read_book(path) as book, refusals():
        source = paper_source(book, book.load(one_property(book, job).id), date.today())
        for written in write_papers(source, folder, only, ("html", "pdf") if pdf else ("html",)):
            click.echo(f"Wrote {plain(str(written))}.")
