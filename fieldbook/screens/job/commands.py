"""The commands of the job screen: what each action that `actions/keymap.py` offers at a place does.

A command raises RefusedError with a sentence where it can't be carried out.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from fieldbook.actions import countersigning, rows, usual
from fieldbook.actions.cells import enter_text
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.signing import Override
from fieldbook.records.base import PLACE_WORDS, PLACES, Place
from fieldbook.screens.job import bulk_commands, open_pages, to_sign, visit_commands
from fieldbook.screens.job.command_host import CommandHost
from fieldbook.screens.job.open_papers import write_dispute_sheet, write_papers
from fieldbook.screens.job.where_undone import go_to_act, place_of
from fieldbook.screens.sheets.presses import Signature
from fieldbook.screens.widgets.dialogs import Choose, LanguageWanted, TypistWanted
from fieldbook.screens.widgets.theme import ThemeWanted
from fieldbook.store.journal.history import NextAct

Command = Callable[[CommandHost], None]


def _undo(host: CommandHost) -> None:
    act = host.open_job.next_undo()

    def undo() -> None:
        before = place_of(host, act)
        what = host.open_job.undo()
        host.redraw()
        where = go_to_act(host, act) or before
        host.say(f"Undone: {what}{f', {where}' if where else ''}. Ctrl+Y puts it back.")

    _asked_first(host, act, "Undo", undo)


def _redo(host: CommandHost) -> None:
    act = host.open_job.next_redo()

    def redo() -> None:
        before = place_of(host, act)
        what = host.open_job.redo()
        host.redraw()
        where = go_to_act(host, act) or before
        host.say(f"Put back: {what}{f', {where}' if where else ''}.")

    _asked_first(host, act, "Put back", redo)


def _asked_first(
    host: CommandHost, act: NextAct | None, verb: str, go_on: Callable[[], None]
) -> None:
    """Ask before a signature is undone or put back: it is evidence. Any other act goes on."""

    def answered(index: int | None) -> None:
        if index == 1:
            host.attempt(go_on)

    if act is None or not act.signs:
        go_on()
        return
    title = f"{verb} “{act.what}”? It is a signature."
    host.app.push_screen(Choose(title, ("Not now", f"{verb} it")), answered)


def _override(host: CommandHost) -> None:
    """Sign though a hold is not met: ask who lets it go on, and why."""
    cell = host.cursor.cell
    if cell is None or not isinstance(cell.press, Signature):
        raise RefusedError("Move to a sign-off first: only a hold before one can be overridden.")
    signature = cell.press
    signature.refuse_override(host.open_job)

    def sign(override: Override) -> None:
        signature.sign(host.open_job, override)
        host.redraw()

    def ask_why(name: str) -> None:
        open_pages.ask_line(
            host,
            "Why may it go on?",
            "The reason is shown wherever the sign-off is.",
            lambda reason: host.attempt(lambda: sign(Override(name, reason))),
        )

    open_pages.ask_line(host, "Who lets it go on?", "The name of whoever answers for it.", ask_why)


def _countersign(host: CommandHost) -> None:
    """Countersign the signature under the cursor, or what somebody entered at this place."""
    cell = host.cursor.cell
    if cell is not None and isinstance(cell.press, Signature):
        signs = cell.press.signs
        countersigning.refuse_sign_off(host.open_job, *signs)
        _ask_licence(host, partial(countersigning.countersign, host.open_job, *signs))
        return
    place = host.place
    people = countersigning.people_to_countersign(host.open_job, place)

    def chosen(index: int | None) -> None:
        if index is not None:
            sign = partial(countersigning.countersign_entries, host.open_job, place, people[index])
            _ask_licence(host, sign)

    asked = f"Whose entries at the {PLACE_WORDS[place]}?"
    host.app.push_screen(Choose(asked, people), chosen)


def _ask_licence(host: CommandHost, sign: Callable[[str], None]) -> None:
    def answered(licence: str) -> None:
        sign(licence)
        host.redraw()
        host.say("Countersigned. Ctrl+Z takes it back.")

    open_pages.ask_line(
        host,
        f"Licence of {host.open_job.by}",
        "Its number, and who issued it. It is shown with the countersignature.",
        lambda licence: host.attempt(lambda: answered(licence)),
    )


def _repeat_nozzle(host: CommandHost) -> None:
    cell = host.cursor.cell
    run_id = ""
    if cell is not None:
        run_id = str(cell.seed.get("run_id") or cell.at.row_id)
    usual.repeat_nozzle(host.open_job, run_id)
    host.redraw()
    host.cursor.move(1, 0)
    host.show_cursor()
    host.say("Repeated the nozzle before it. Ctrl+Z takes it back.")


def _flags(host: CommandHost) -> None:
    verdicts = host.open_job.verdicts
    if not verdicts.flags and not verdicts.not_checked:
        raise RefusedError(verdicts.headline)
    host.focus_flags()


def _next_wanted(host: CommandHost) -> None:
    """Go to the next open cell, here or at the next places, else to what can be signed."""
    if host.cursor.next_open():
        host.show_cursor()
        return
    place, at = to_sign.next_wanted(host)
    host.open_place(place, at)
    if at is None:
        host.cursor.go_to_first_open()
        host.show_cursor()


def _move_section(host: CommandHost, step: int) -> None:
    host.cursor.move_section(step)
    host.show_cursor()


def _turn_place(host: CommandHost, step: int) -> None:
    index = (PLACES.index(host.place) + step) % len(PLACES)
    host.open_place(PLACES[index])


def _go(place: Place) -> Command:
    return lambda host: host.open_place(place)


def _remove_row(host: CommandHost) -> None:
    row = host.cursor.row
    if row is None or row.removable is None:
        raise RefusedError("This row is part of every property and can't be removed.")
    rows.remove_row(host.open_job, *row.removable)
    host.redraw()
    host.say("Removed. Ctrl+Z brings it back.")


def _clear(host: CommandHost) -> None:
    cell = host.cursor.cell
    if cell is None or cell.press is not None:
        raise RefusedError("There is no single value here to clear.")
    enter_text(host.open_job, cell.at, "", cell.seed)
    host.redraw()


def _leave(host: CommandHost) -> None:
    host.leave()


def _ask_who(host: CommandHost) -> None:
    def changed(initials: str) -> None:
        host.open_job.by = initials
        host.redraw()
        host.say(f"{initials} is typing from now on.")

    host.app.post_message(TypistWanted(changed))


def _change_language(host: CommandHost) -> None:
    host.app.post_message(LanguageWanted())


def _change_theme(host: CommandHost) -> None:
    host.app.post_message(ThemeWanted())


COMMANDS: Mapping[str, Command] = {
    "undo": _undo,
    "redo": _redo,
    "explain": open_pages.explain,
    "flags": _flags,
    "next_wanted": _next_wanted,
    "next_place": lambda host: _turn_place(host, 1),
    "previous_place": lambda host: _turn_place(host, -1),
    "places": lambda host: host.focus_places(),
    **{f"go_{place}": _go(place) for place in PLACES},
    "remove_row": _remove_row,
    "clear": _clear,
    "whole_row": open_pages.whole_row,
    "next_section": lambda host: _move_section(host, 1),
    "previous_section": lambda host: _move_section(host, -1),
    "board": _leave,
    "wire_map": open_pages.wire_map,
    "diagnose": open_pages.diagnose,
    "compare_rules": open_pages.compare_rules,
    "plan": open_pages.plan,
    "month": open_pages.month,
    "history": open_pages.history,
    "settle": open_pages.settle,
    "attach": open_pages.attach_file,
    "papers": write_papers,
    "dispute": write_dispute_sheet,
    "fill_from_above": bulk_commands.fill_from_above,
    "fill_below": bulk_commands.fill_below,
    "copy_zone": bulk_commands.copy_this_zone,
    "next_photo": bulk_commands.next_photo,
    "visits": visit_commands.read_visits,
    "note_work": visit_commands.note_work,
    "override": _override,
    "countersign": _countersign,
    "repeat_nozzle": _repeat_nozzle,
    "who": _ask_who,
    "theme": _change_theme,
    "language": _change_language,
    "palette": lambda host: host.app.action_command_palette(),
    "quit": lambda host: host.app.exit(),
}
"""By the name of the action, as `keymap.offered("place")` lists them."""
