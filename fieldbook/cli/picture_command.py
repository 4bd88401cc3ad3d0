"""The command that prints a zone's sheet, or writes it as SVG."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from fieldbook.cli.common import FILE_PATH, plain, read_book, refusals, write_file

if TYPE_CHECKING:
    from fieldbook.papers.zone_water.zone_sheet import PictureName

# The imports inside keep the other commands from loading the checks of the water.
# ruff: noqa: PLC0415

_PRINTED_COLUMNS = 78


@click.command()
@click.argument("job")
@click.argument("zone", type=int)
@click.argument("file", required=False, type=FILE_PATH)
@click.option(
    "--only",
    type=click.Choice(["supply", "pressure", "tree"]),
    help="Only the two curves, the waterfall of pressure, or the tree of the zone.",
)
@click.option("--over", is_flag=True, help="Write over a file that is there.")
@click.pass_obj
def picture(
    path: Path, job: str, zone: int, file: Path | None, only: PictureName | None, *, over: bool
) -> None:
    """Print a zone's verdict and pictures, or write them to FILE as SVG.

    ZONE is the zone's number. The pictures are supply and zone as two curves, the pressure from the
    street to the worst head, and the tree of the lateral with every head.
    """
    from fieldbook.actions.properties import one_property, zone_numbered
    from fieldbook.checks.water.zone_status import zone_statuses
    from fieldbook.papers.zone_water.zone_sheet import PICTURES, zone_sheet, zone_svg

    with read_book(path) as book:
        loaded = book.load(one_property(book, job).id)
    with refusals():
        named = zone_numbered(loaded, zone)
    status = next(one for one in zone_statuses(loaded) if one.zone is named)
    names = (only,) if only is not None else PICTURES
    if file is None:
        for line in zone_sheet(loaded, status, _PRINTED_COLUMNS, names).text().splitlines():
            click.echo(plain(line))
    else:
        write_file(file, zone_svg(loaded, status, names), over=over)
