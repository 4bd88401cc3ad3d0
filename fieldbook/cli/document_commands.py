"""The commands that need no book: solve a network document, print a JSON Schema."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

from fieldbook.cli.common import FILE_PATH, CommandError, plain, refusals

# Each command imports what it uses, so that `solve` starts without the record.
# ruff: noqa: PLC0415


@click.command()
@click.argument("file", type=FILE_PATH)
@click.option("--json/--table", "as_json", default=True, help="Print JSON (the default) or tables.")
def solve(file: Path, *, as_json: bool) -> None:
    """Solve a network document (JSON) and print every head, link and node; exit 1 if it can't.

    The format is that of `fieldbook schema network`; no job or book is needed.
    """
    from fieldbook.actions.refused import read_file
    from fieldbook.jobfile.parse import JobFileError, parse_json
    from fieldbook.water import NetworkError, solve_case

    with refusals():
        raw = read_file(file)
    try:
        solution = solve_case(parse_json(raw))
    except (NetworkError, JobFileError) as error:
        raise CommandError(plain(f"{file}: {error}")) from error
    if as_json:
        _print_json(solution)
    else:
        from fieldbook.cli.solved_tables import solved_lines

        click.echo("\n".join(solved_lines(solution)))
    if not solution["converged"]:
        sys.exit(1)


@click.command()
@click.argument("what", type=click.Choice(["job", "network"]), default="job")
def schema(what: str) -> None:
    """Print the JSON Schema of a job file, or of a network document."""
    if what == "network":
        from fieldbook.water import network_schema

        _print_json(network_schema())
    else:
        from fieldbook.jobfile.schema import job_schema

        _print_json(job_schema())


def _print_json(document: object) -> None:
    click.echo(json.dumps(document, ensure_ascii=False, indent=2))
