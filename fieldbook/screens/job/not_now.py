"""Why an action of the keymap can't be done now on an open property: the palette says it before."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from fieldbook.actions.bulk.photo_round import next_shot
from fieldbook.actions.conflicts import settling
from fieldbook.actions.refused import RefusedError
from fieldbook.screens.job.command_host import CommandHost
from fieldbook.screens.sheets.presses import Signature

_NO_ROW = "This row is part of every property and can't be removed."
_NO_VALUE = "There is no single value here."


def why_not(host: CommandHost, name: str) -> str:
    """The sentence that would refuse an action now; empty where it can be done."""
    return _WHY_NOT[name](host) if name in _WHY_NOT else ""


def _undo(host: CommandHost) -> str:
    left = host.open_job.book.count_undoable(host.open_job.job_id)
    return "" if left else "Nothing more to undo on this property."


def _flags(host: CommandHost) -> str:
    verdicts = host.open_job.verdicts
    return "" if verdicts.flags or verdicts.not_checked else verdicts.headline


def _override(host: CommandHost) -> str:
    cell = host.cursor.cell
    if cell is None or not isinstance(cell.press, Signature):
        return "Move to a sign-off first: only a hold before one can be overridden."
    signature = cell.press
    return _refusal(lambda: signature.refuse_override(host.open_job))


def _remove_row(host: CommandHost) -> str:
    row = host.cursor.row
    return "" if row is not None and row.removable is not None else _NO_ROW


def _single_value(host: CommandHost) -> str:
    cell = host.cursor.cell
    return "" if cell is not None and cell.press is None else _NO_VALUE


def _history(host: CommandHost) -> str:
    cell = host.cursor.cell
    return "" if cell is not None and cell.history_at is not None else _NO_VALUE


def _settle(host: CommandHost) -> str:
    return "" if settling.questions_of(host.open_job) else settling.NOTHING_DIFFERS


def _next_photo(host: CommandHost) -> str:
    return _refusal(lambda: next_shot(host.open_job.job, None))


def _refusal(act: Callable[[], object]) -> str:
    try:
        act()
    except RefusedError as why:
        return str(why)
    return ""


_WHY_NOT: Mapping[str, Callable[[CommandHost], str]] = {
    "undo": _undo,
    "flags": _flags,
    "override": _override,
    "remove_row": _remove_row,
    "clear": _single_value,
    "history": _history,
    "settle": _settle,
    "next_photo": _next_photo,
}
"""By the name of the action; one that is not named here can always be asked for."""
