"""Why an action of the keymap can't be done now on an open property: the palette says it before.

Each reason is the sentence with which the action itself would refuse; a test compares the two.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from fieldbook.actions import countersigning, usual
from fieldbook.actions.bulk.draft import DraftJob
from fieldbook.actions.bulk.photo_round import next_shot
from fieldbook.actions.conflicts import settling
from fieldbook.actions.refused import RefusedError
from fieldbook.screens.job import bulk_commands, to_sign, visit_commands
from fieldbook.screens.job.command_host import CommandHost
from fieldbook.screens.job.open_papers import claim_here
from fieldbook.screens.sheets.presses import Signature


def why_not(host: CommandHost, name: str) -> str:
    """The sentence that would refuse an action now; empty where it can be done."""
    if name in _TRIED:
        try:
            _TRIED[name](host)
        except RefusedError as why:
            return str(why)
        return ""
    return _WHY_NOT[name](host) if name in _WHY_NOT else ""


def _undo(host: CommandHost) -> str:
    left = host.open_job.book.count_undoable(host.open_job.job_id)
    return "" if left >= 1 else "Nothing more to undo on this property."


def _redo(host: CommandHost) -> str:
    if host.open_job.next_redo() is not None:
        return ""
    return "Nothing to put back: nothing was undone since the last entry."


def _flags(host: CommandHost) -> str:
    verdicts = host.open_job.verdicts
    return "" if verdicts.flags or verdicts.not_checked else verdicts.headline


def _override(host: CommandHost) -> None:
    cell = host.cursor.cell
    if cell is None or not isinstance(cell.press, Signature):
        raise RefusedError("Move to a sign-off first: only a hold before one can be overridden.")
    cell.press.refuse_override(host.open_job)


def _countersign(host: CommandHost) -> None:
    cell = host.cursor.cell
    if cell is not None and isinstance(cell.press, Signature):
        countersigning.refuse_sign_off(host.open_job, *cell.press.signs)
    else:
        countersigning.people_to_countersign(host.open_job, host.place)


def _repeat_nozzle(host: CommandHost) -> None:
    cell = host.cursor.cell
    run_id = "" if cell is None else str(cell.seed.get("run_id") or cell.at.row_id)
    usual.repeat_nozzle(DraftJob(host.open_job), run_id)


def _remove_row(host: CommandHost) -> str:
    row = host.cursor.row
    if row is not None and row.removable is not None:
        return ""
    return "This row is part of every property and can't be removed."


def _clear(host: CommandHost) -> str:
    cell = host.cursor.cell
    if cell is not None and cell.press is None:
        return ""
    return "There is no single value here to clear."


def _history(host: CommandHost) -> str:
    cell = host.cursor.cell
    if cell is not None and cell.history_at is not None:
        return ""
    return "Move to a single value first: this line has no history of its own."


def _diagnose(host: CommandHost) -> str:
    return "" if host.open_job.job.zones else "There is no zone yet: enter it at the ground."


def _settle(host: CommandHost) -> str:
    return "" if settling.questions_of(host.open_job) else settling.NOTHING_DIFFERS


_WHY_NOT: Mapping[str, Callable[[CommandHost], str]] = {
    "undo": _undo,
    "redo": _redo,
    "flags": _flags,
    "remove_row": _remove_row,
    "clear": _clear,
    "history": _history,
    "settle": _settle,
    "diagnose": _diagnose,
}
_TRIED: Mapping[str, Callable[[CommandHost], object]] = {
    "next_wanted": to_sign.next_wanted,
    "override": _override,
    "countersign": _countersign,
    "repeat_nozzle": _repeat_nozzle,
    "fill_from_above": bulk_commands.above_here,
    "fill_below": bulk_commands.below_here,
    "visits": visit_commands.refuse_no_visits,
    "note_work": visit_commands.thing_here,
    "copy_zone": bulk_commands.zone_here,
    "dispute": claim_here,
    "next_photo": lambda host: next_shot(host.open_job.job, None),
}
"""By the name of the action, the sentence, or what raises it; others can always be asked for."""
