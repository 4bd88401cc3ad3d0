"""Commands that enter much at once: paste a table, fill down, copy a zone, the round of photos."""

from __future__ import annotations

from collections.abc import Callable

from fieldbook.actions.bulk.copy_zone import MOST_COPIES, copy_zone
from fieldbook.actions.bulk.fill_down import Target, fill, value_to_fill
from fieldbook.actions.bulk.photo_round import next_shot
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.common.naming import zone_name
from fieldbook.checks.finding import CellRef
from fieldbook.records.tables.zones import Zone
from fieldbook.screens.job.command_host import CommandHost
from fieldbook.screens.sheets import BUILDERS
from fieldbook.screens.sheets.pasting import paste_table
from fieldbook.screens.sheets.sheet import Cell
from fieldbook.screens.widgets.dialogs import AskLine

_NO_CELL = "Move to a cell with a value first: that column is filled."


def paste(host: CommandHost, text: str) -> None:
    """Show what a pasted table would change from the cell under the cursor on; keep it on Enter."""
    cell = host.cursor.cell
    if cell is None:
        raise RefusedError("Move to a cell first: the table is pasted from it on.")
    pasted = paste_table(host.open_job, BUILDERS[host.place], cell.at, text)

    def keep() -> None:
        pasted.keep()
        host.redraw()
        rows = pasted.rows_filled + pasted.rows_added
        host.say(f"Pasted: {rows} row{'' if rows == 1 else 's'}. Ctrl+Z takes all of it back.")

    def answered(wanted: bool | None) -> None:
        if wanted:
            host.attempt(keep)

    # Imported here: a property is open sooner.
    from fieldbook.screens.pages.paste_page import PastePage  # noqa: PLC0415

    page = PastePage(pasted.lines, pasted.rows_filled, pasted.rows_added)
    host.app.push_screen(page, answered)


def fill_from_above(host: CommandHost) -> None:
    """Enter the value of the cell above in this one, and go to the one below."""
    above = above_here(host)
    cell, _, below = _column(host)
    words = fill(host.open_job, above.at, [Target(cell.at, cell.seed)])
    host.redraw()
    if below:
        host.cursor.go_to(below[0].at)
    host.show_cursor()
    host.say(f"{cell.fact.label}: {words}, as above. Ctrl+Z takes it back.")


def above_here(host: CommandHost) -> Cell:
    """The cell above whose value can be filled in here. Raises RefusedError where none can."""
    _, above, _ = _column(host)
    if not above:
        raise RefusedError("There is no cell of this column above: nothing to fill in from.")
    value_to_fill(host.open_job, above[-1].at)
    return above[-1]


def fill_below(host: CommandHost) -> None:
    """Ask how many rows below get the value of this cell; Enter alone fills to the last row."""
    below = below_here(host)
    cell, _, _ = _column(host)

    def filled(count: int) -> None:
        targets = [Target(each.at, each.seed) for each in below[:count]]
        words = fill(host.open_job, cell.at, targets)
        host.redraw()
        rows = "1 row" if count == 1 else f"{count} rows"
        host.say(f"{cell.fact.label}: {words} in {rows} below. Ctrl+Z takes it back.")

    asked = f"Fill {cell.fact.label.lower()} “{cell.text[:30]}” into how many rows below?"
    hint = f"Enter alone fills all {len(below)}, to the last row."
    _ask_count(host, asked, hint, (len(below), len(below)), filled)


def below_here(host: CommandHost) -> list[Cell]:
    """The cells below that can be filled with this one. Raises RefusedError where none can."""
    cell, _, below = _column(host)
    if not below:
        raise RefusedError("There is no row below to fill: add one first.")
    value_to_fill(host.open_job, cell.at)
    return below


def copy_this_zone(host: CommandHost) -> None:
    """Ask how many zones to add like the one under the cursor; go to the name of the first."""
    zone = zone_here(host)

    def copied(count: int) -> None:
        ids = copy_zone(host.open_job, zone.id, count)
        host.redraw()
        host.open_place("ground", CellRef("zone", ids[0], "name"))
        host.say("Laterals, heads and valve facts are there; what is seen or measured is not.")

    asked = f"How many zones like {zone_name(zone)}?"
    hint = "Enter alone adds one. Wires, ohms, tests and sign-offs are never copied."
    _ask_count(host, asked, hint, (1, MOST_COPIES), copied)


def next_photo(host: CommandHost) -> None:
    """Go to the next thing that ought to have a photo and has none."""
    cell = host.cursor.cell
    shot, missing = next_shot(host.open_job.job, cell.at if cell is not None else None)
    host.open_place(shot.at.place, shot.at)
    left = "the last photo" if missing == 1 else f"{missing} photos missing"
    host.say(f"Photo of {shot.shows} ({left}). Ctrl+A attaches it.")


def _column(host: CommandHost) -> tuple[Cell, list[Cell], list[Cell]]:
    """The cell under the cursor, and those of its column in its section: above it, and below."""
    cell = host.cursor.cell
    if cell is None or cell.press is not None:
        raise RefusedError(_NO_CELL)
    section = host.cursor.lines[host.cursor.y].section
    cells = [
        each
        for row in section.rows
        for each in row.cells
        if each.press is None and (each.at.table, each.at.column) == (cell.at.table, cell.at.column)
    ]
    here = next(number for number, each in enumerate(cells) if each.at == cell.at)
    return cell, cells[:here], cells[here + 1 :]


def zone_here(host: CommandHost) -> Zone:
    """The zone that the row under the cursor is, or belongs to. Raises RefusedError for none."""
    zone = _zone_here(host)
    if zone is None:
        raise RefusedError("Move to a zone first, or to a row of one: that zone is copied.")
    return zone


def _zone_here(host: CommandHost) -> Zone | None:
    cell, job = host.cursor.cell, host.open_job.job
    if cell is None:
        return None
    table, row_id = cell.at.table, cell.at.row_id
    if table == "head":
        head = job.row(row_id)
        row_id = str(getattr(head, "run_id", "") or cell.seed.get("run_id") or "")
    row = job.row(row_id)
    if isinstance(row, Zone):
        return row
    # A flush, or the line that adds a run, has no row yet: what its key does names the zone.
    named = (getattr(row, "zone_id", None), cell.seed.get("zone_id"))
    return job.zone(next(filter(None, (*named, getattr(cell.press, "zone_id", None))), None))


def _ask_count(
    host: CommandHost,
    asked: str,
    hint: str,
    counts: tuple[int, int],
    answered: Callable[[int], None],
) -> None:
    """Ask for a whole number; `counts` are what Enter alone takes, and the highest."""
    usual, most = counts

    def refuse(typed: str) -> str | None:
        word = typed.strip()
        if not word or (word.isascii() and word.isdigit() and 1 <= int(word[:6]) <= most):
            return None
        return f"Type a number from 1 to {most}, or Enter alone for {usual}."

    def closed(typed: str | None) -> None:
        if typed is not None:
            host.attempt(lambda: answered(int(typed.strip() or usual)))

    host.app.push_screen(AskLine(asked, hint, refuse), closed)
