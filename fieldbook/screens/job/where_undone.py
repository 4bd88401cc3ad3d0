"""Where an act that is undone or put back was entered: its row by name, the cursor on it."""

from __future__ import annotations

from fieldbook.checks.finding import CellRef
from fieldbook.records.loaded_job import TABLES
from fieldbook.screens.job.command_host import CommandHost
from fieldbook.screens.sheets import BUILDERS
from fieldbook.store.journal.history import NextAct


def place_of(host: CommandHost, act: NextAct | None) -> str:
    """The section and the row on which an act was entered, in words; "" where no sheet has it."""
    for at in _cells_of(act):
        for section in BUILDERS[at.place](host.open_job.job, host.open_job.system).sections:
            for row in section.rows:
                if any(_is_of_row(cell.at, at) for cell in row.cells):
                    in_table = bool(section.heads and row.label)
                    return f"{section.title}: {row.label}" if in_table else section.title
    return ""


def go_to_act(host: CommandHost, act: NextAct | None) -> str:
    """Put the cursor on the cell of an act, at its place; returns `place_of`.

    Where the row is gone, since adding it was undone, the cursor stays.
    """
    where = place_of(host, act)
    if not where:
        return ""
    for at in _cells_of(act):
        if at.place != host.place:
            host.open_place(at.place, at)
        if host.cursor.go_to(at):
            host.show_cursor()
            break
    return where


def _is_of_row(at: CellRef, other: CellRef) -> bool:
    return (at.table, at.row_id) == (other.table, other.row_id)


def _cells_of(act: NextAct | None) -> list[CellRef]:
    cells = act.cells if act is not None else ()
    # A sign-off's cell has its kind for a row id, so no row of the journal finds it.
    return [CellRef(*cell) for cell in cells if cell[0] in TABLES or cell[0] == "job"]
