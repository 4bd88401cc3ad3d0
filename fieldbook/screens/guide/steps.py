"""The steps of the guided first job, in order: what to press, why, and how to tell it was done."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from textual.app import App
from textual.screen import Screen

from fieldbook.actions.signing import flushed
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.job.flags import FlagList
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.screens.pages.picture_page import PicturePage
from fieldbook.screens.widgets.dialogs import Read

WIRES, FLUSH = "31 Mill Street", "5 Harbor View"
"""The demo properties of the guide: one with a wire entered twice, one with a zone to flush."""
_TWICE = "colour used twice"

Done = Callable[[App[None]], bool]


@dataclass(frozen=True)
class Step:
    """One step: the sentence in the line at the top, and whether the app shows that it was done."""

    say: str
    done: Done


def _front(app: App[None]) -> Screen[object]:
    return app.screen


def _job(app: App[None], address: str = "") -> JobScreen | None:
    """The open property, if it has this address and nothing is open over it."""
    screen = _front(app)
    if not isinstance(screen, JobScreen):
        return None
    return screen if address in ("", screen.open_job.job.job.address) else None


def _opened(address: str) -> Done:
    return lambda app: _job(app, address) is not None


def _on_board(app: App[None]) -> bool:
    return isinstance(_front(app), BoardScreen)


def _in_flags(app: App[None]) -> bool:
    screen = _job(app)
    return screen is not None and isinstance(screen.focused, FlagList)


def _at_a_flag(app: App[None]) -> bool:
    """The flag was followed: the cursor is back on the sheet, on a wire under a terminal."""
    screen = _job(app)
    if screen is None or isinstance(screen.focused, FlagList):
        return False
    cell = screen.cursor.cell
    return cell is not None and cell.at.table == "terminal"


def _twice(app: App[None]) -> bool:
    screen = _job(app, WIRES)
    return screen is not None and any(flag.code == _TWICE for flag in screen.open_job.findings)


def _once(app: App[None]) -> bool:
    return _job(app, WIRES) is not None and not _twice(app)


def _explained(app: App[None]) -> bool:
    return isinstance(_front(app), Read)


def _zone_2_flushed(app: App[None]) -> bool:
    screen = _job(app, FLUSH)
    if screen is None:
        return False
    job = screen.open_job.job
    return any(zone.number == 2 and flushed(job, zone.id) for zone in job.zones)


def _wire_map(app: App[None]) -> bool:
    return isinstance(_front(app), PicturePage)


STEPS: tuple[Step, ...] = (
    Step(
        f"Each row is a property. Go down to {WIRES} and press Enter: two of its wires are mixed "
        "up.",
        _opened(WIRES),
    ),
    Step(
        "The line over the hint shows the worst flag. Ctrl+F goes to the list of all flags.",
        _in_flags,
    ),
    Step("Enter on a flag jumps to the cell that mends it: press Enter.", _at_a_flag),
    Step(
        "Yellow is entered under two terminals. The hint lists the free wires with their keys: on "
        "terminal 5 press o for orange.",
        _once,
    ),
    Step("One flag fewer. Ctrl+Z takes the entry back: try it, nothing is ever lost.", _twice),
    Step("The flag is back. Ctrl+Y puts the entry back in.", _once),
    Step("F1 explains any cell: what it is for, where its figures are from. Press F1.", _explained),
    Step("Esc closes what is open over a sheet.", _opened(WIRES)),
    Step("Ctrl+P finds everything by part of its name: press it, type wire map, Enter.", _wire_map),
    Step("Each wire from box to controller, and what is wrong. Esc closes it.", _opened(WIRES)),
    Step("Ctrl+B goes back to the board. Everything is on disk already.", _on_board),
    Step(f"Now open {FLUSH}: it opens where something is to be done.", _opened(FLUSH)),
    Step(
        "Say zone 2 was flushed: on the row of zone 2, on its first cell (Home), press Space.",
        _zone_2_flushed,
    ),
)
END = (
    "That is all it takes: cells, flags, Ctrl+Z, Ctrl+P. Your own book opens with: fieldbook. Esc "
    "closes this line."
)
