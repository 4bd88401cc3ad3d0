"""The sign-offs that could be signed now: there work goes on once nothing is left to fill in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import PLACES, Place
from fieldbook.screens.job.command_host import CommandHost
from fieldbook.screens.sheets import BUILDERS, COUNTS
from fieldbook.screens.sheets.presses import Signature
from fieldbook.screens.sheets.sheet import Cell

NOTHING_WANTED = "No cell of this property wants a value any more, and nothing can be signed now."


def next_wanted(host: CommandHost) -> tuple[Place, CellRef | None]:
    """The place after this one that wants a value (no cell), else a sign-off and its place.

    Raises RefusedError where there is neither.
    """
    here = PLACES.index(host.place)
    after = [*PLACES[here + 1 :], *PLACES[: here + 1]]
    wanting = next((place for place in after if COUNTS[place](host.open_job.job).open), None)
    if wanting is not None:
        return wanting, None
    signs = next(to_sign(host, [host.place, *after]), None)
    if signs is None:
        raise RefusedError(NOTHING_WANTED)
    return signs


def to_sign(host: CommandHost, places: Sequence[Place]) -> Iterator[tuple[Place, CellRef]]:
    """The sign-offs of these places that are not signed and that nothing keeps back."""
    for place in places:
        sheet = BUILDERS[place](host.open_job.job, host.open_job.system)
        yield from ((place, cell.at) for cell in sheet.cells() if _may_be_signed(host, cell))


def _may_be_signed(host: CommandHost, cell: Cell) -> bool:
    if not isinstance(cell.press, Signature) or cell.press.is_signed(host.open_job):
        return False
    try:
        cell.press.refuse_signing(host.open_job)
    except RefusedError:
        return False
    return True
