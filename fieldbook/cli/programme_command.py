"""The command that prints what is typed into the controller, or writes the season to a file."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import click

from fieldbook.cli.common import FILE_PATH, plain, read_book, refusals

# The command imports what it uses: the app's first frame comes before the record is loaded.
# ruff: noqa: PLC0415


@click.command()
@click.argument("job")
@click.argument("file", required=False, type=FILE_PATH)
@click.option("--json", "as_json", is_flag=True, help="Print programmes and season as JSON.")
@click.option("--over", is_flag=True, help="Write over a file that is there.")
@click.pass_obj
def programme(path: Path, job: str, file: Path | None, *, as_json: bool, over: bool) -> None:
    """Print what to type into the controller, or write the season to FILE: .ics, .json or .csv."""
    from fieldbook.actions.properties import one_property
    from fieldbook.actions.watering.programme_files import (
        programme_data,
        programme_text,
        write_programme,
    )

    with read_book(path) as book:
        loaded = book.load(one_property(book, job).id)
    today = date.today()
    if file is not None:
        with refusals():
            write_programme(loaded, file, today, over=over)
        click.echo(f"Wrote {plain(str(file))}.")
    elif as_json:
        click.echo(json.dumps(programme_data(loaded, today), ensure_ascii=False, indent=2))
    else:
        click.echo(plain(loaded.job.address))
        for line in programme_text(loaded, today):
            click.echo(plain(line))
