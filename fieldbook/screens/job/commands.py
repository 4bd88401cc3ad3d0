"""From a key on the place screen to a verb of `actions`, and where the cursor goes then."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from fieldbook.actions import cells as entering
from fieldbook.actions import log_wires, rows
from fieldbook.actions import signing as proofs
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import PLACES, Place
from fieldbook.records.loaded_job import TABLES
from fieldbook.records.values import Value
from fieldbook.screens.job import open_pages as opening
from fieldbook.screens.job.flags import FlagList
from fieldbook.screens.job.open_pages import OPENS, ask_line
from fieldbook.screens.job.place_tabs import PlaceTabs
from fieldbook.screens.messages import ThemeWanted
from fieldbook.screens.sheets.sheet import TYPED_ACTS, Cell, Option

if TYPE_CHECKING:
    from fieldbook.screens.job.job_screen import JobScreen


def editable(open_job: OpenJob, cell: Cell) -> str:
    """The text a cell's field opens with: what it holds, as a person would type it."""
    if cell.act in TYPED_ACTS or cell.fact.kind in ("text", "choice", "amount", "whole", "curve"):
        return cell.text
    value = entering.value_at(open_job, cell.at)
    return "" if value is None else str(value)


def keep_text(screen: JobScreen, cell: Cell, text: str) -> None:
    """Keep what was typed into a cell; a field left as it opened keeps the value to the digit."""
    if text == editable(screen.open_job, cell):
        return
    if cell.act == "conductors":
        log_wires.set_conductors(screen.open_job, cell.at.row_id, text)
    elif cell.act == "ran":
        log_wires.set_ran(screen.open_job, cell.at, text, cell.seed)
    elif cell.fact.kind in ("link", "colour"):
        _keep_option(screen, cell, text)
    else:
        entering.enter_text(screen.open_job, cell.at, text, cell.seed)
    screen.redraw()


def _keep_option(screen: JobScreen, cell: Cell, text: str) -> None:
    """A row or a colour named by typing."""
    typed = text.strip().casefold()
    if not typed:
        entering.enter(screen.open_job, cell.at, None, cell.seed)
        return
    if cell.fact.kind == "colour":
        colour = log_wires.colour_seen(typed, [one.word for one in cell.options])
        cable_id = cell.options[0].cable_id if cell.options else ""
        log_wires.log_wire(screen.open_job, cell.at, colour, cable_id, cell.seed)
        return
    found = [one for one in cell.options if one.word.casefold() == typed]
    found = found or [one for one in cell.options if one.word.casefold().startswith(typed)]
    if len(found) != 1:
        words = ", ".join(one.word for one in cell.options)
        raise RefusedError(
            f"{cell.fact.label} takes one of {words}."
            if words
            else nothing_to_choose(screen.open_job, cell)
        )
    _put_option(screen.open_job, cell, found[0])


def _put_option(open_job: OpenJob, cell: Cell, option: Option) -> None:
    if cell.fact.kind == "colour":
        log_wires.log_wire(open_job, cell.at, str(option.value), option.cable_id, cell.seed)
    else:
        entering.enter(open_job, cell.at, option.value, cell.seed)


def pick(screen: JobScreen, cell: Cell, option: Option) -> None:
    """Keep a picked colour and go down to the next wire."""
    _put_option(screen.open_job, cell, option)
    screen.redraw()
    _move(screen, 1)


def put(screen: JobScreen, cell: Cell, value: Value) -> None:
    """Keep a value chosen from a list."""
    option = next((one for one in cell.options if one.value == value), None)
    if option is not None:
        _put_option(screen.open_job, cell, option)
    else:
        entering.enter(screen.open_job, cell.at, value, cell.seed)
    screen.redraw()
    _go_on(screen)


def tick(screen: JobScreen, cell: Cell) -> None:
    """Space: turn a tick, tick a whole flush, sign a stretch, add a row."""
    if cell.act in ("flush", "sign", "sign off"):
        done = _done(screen.open_job, cell)
        screen.redraw()
        if done:
            _move(screen, 1)
    elif cell.act:
        enter_on(screen, cell)
    else:
        entering.turn_tick(screen.open_job, cell.at, cell.seed)
        screen.redraw()


def _done(open_job: OpenJob, cell: Cell, override: proofs.Override | None = None) -> bool:
    """Tick a whole flush, or sign; whether it is ticked or signed now."""
    held = cell.seed.get("zone_id")
    zone_id = None if held is None else str(held)
    if cell.act == "flush":
        return proofs.tick_flush(open_job, zone_id)
    if cell.act == "sign":
        return proofs.sign_backfill(open_job, zone_id, override)
    return proofs.sign_off(open_job, str(cell.seed["kind"]), override)


def _override(screen: JobScreen) -> None:
    """Sign though a hold is not met: who lets it go on, and why."""
    cell = screen.sheet.cell
    if cell is None or cell.act not in ("sign", "sign off"):
        raise RefusedError("Stand on a sign-off first: only a hold before one can be overridden.")

    def named(name: str | None) -> None:
        if name is not None:
            ask_line(
                screen, "Why may it go on?", "It is shown wherever the sign-off is.", reasoned(name)
            )

    def reasoned(name: str) -> Callable[[str | None], None]:
        def signed(reason: str | None) -> None:
            if reason is not None:
                screen.attempt(lambda: _signed(screen, cell, proofs.Override(name, reason)))

        return signed

    ask_line(screen, "Who lets it go on?", "The name of whoever answers for it.", named)


def _signed(screen: JobScreen, cell: Cell, override: proofs.Override) -> None:
    _done(screen.open_job, cell, override)
    screen.redraw()


def enter_on(screen: JobScreen, cell: Cell) -> None:
    """Enter on a tick goes on; on an add-line it adds the row; on an act it acts."""
    if cell.act.startswith("add "):
        at = _ADDERS[cell.act](screen.open_job, cell)
        screen.redraw()
        screen.sheet.at.go_to(at)
        screen.sheet.settle()
    elif cell.act in OPENS:
        OPENS[cell.act](screen, cell)
    elif cell.act:
        tick(screen, cell)
    else:
        _go_on(screen)


def choices(cell: Cell) -> tuple[list[str], list[Value]]:
    """What a cell can be chosen from: words, and their values."""
    if cell.options:
        return [one.word for one in cell.options], [one.value for one in cell.options]
    return list(cell.fact.choices), list(cell.fact.choices)


def nothing_to_choose(open_job: OpenJob, cell: Cell) -> str:
    """Why a cell has nothing to choose from, and what to do first."""
    if cell.fact.kind == "link":
        title = TABLES[cell.fact.links_to].title
        return f"There is no {title} yet: add one first."
    if not open_job.job.cables:
        return "No cable yet: add it and type its colours at the valve boxes first."
    return "No free conductor in this cable: type its colours at the valve boxes, or check doubles."


def step_on(screen: JobScreen, then: str) -> None:
    """After an entry: on to the next gap, or a row up or down; from a test to the next one."""
    tested = screen.sheet.cell is not None and screen.sheet.cell.act == "ran"
    if then == "on" and not tested:
        _go_on(screen)
    elif then in ("on", "down"):
        _move(screen, 1)
    else:
        _move(screen, -1)


def _move(screen: JobScreen, down: int) -> None:
    screen.sheet.at.move(down, 0)
    screen.sheet.settle()


def _go_on(screen: JobScreen) -> None:
    screen.sheet.at.go_on()
    screen.sheet.settle()


def _add_run(open_job: OpenJob, cell: Cell) -> CellRef:
    zone_id = cell.seed.get("zone_id")
    first = not open_job.job.runs_of(None if zone_id is None else str(zone_id))
    row_id = rows.repeat_run(open_job, None if zone_id is None else str(zone_id))
    return CellRef("pipe_run", row_id, "size" if first else "length_ft")


def _add_master(open_job: OpenJob, cell: Cell) -> CellRef:
    entering.enter(open_job, CellRef("valve", cell.at.row_id, "kind"), "master")
    return CellRef("valve", cell.at.row_id, "colour")


_ADDERS: Mapping[str, Callable[[OpenJob, Cell], CellRef]] = {
    "add flow test": lambda open_job, _: CellRef(
        "flow_test_point", rows.add_row(open_job, "flow_test_point"), "residual_psi"
    ),
    "add backflow": lambda open_job, _: CellRef(
        "backflow_assembly", rows.add_row(open_job, "backflow_assembly"), "kind"
    ),
    "add zone": lambda open_job, _: CellRef("zone", rows.add_zone(open_job), "name"),
    "add box": lambda open_job, _: CellRef("valve_box", rows.add_box(open_job), "location"),
    "add cable": lambda open_job, _: CellRef("cable", rows.add_cable(open_job), "conductors"),
    "add permit": lambda open_job, _: CellRef("permit", rows.add_row(open_job, "permit"), "kind"),
    "add ticket": lambda open_job, _: CellRef(
        "locate_ticket", rows.add_row(open_job, "locate_ticket"), "number"
    ),
    "add inspection": lambda open_job, _: CellRef(
        "inspection", rows.add_row(open_job, "inspection"), "kind"
    ),
    "add crew member": lambda open_job, _: CellRef(
        "crew_member", rows.add_row(open_job, "crew_member"), "name"
    ),
    "add backflow test": lambda open_job, _: CellRef(
        "backflow_test", rows.add_row(open_job, "backflow_test"), "tested_on"
    ),
    "add fixed point": lambda open_job, _: CellRef(
        "fixed_point", rows.add_fixed_point(open_job), "name"
    ),
    "add tie": lambda open_job, _: CellRef("tie", rows.add_tie(open_job), "thing"),
    "add splice": lambda open_job, _: CellRef("splice", log_wires.add_splice(open_job), "colour"),
    "add note": lambda open_job, _: CellRef("note", rows.add_row(open_job, "note"), "text"),
    "add run": _add_run,
    "add master": _add_master,
}


def _undo(screen: JobScreen) -> None:
    what = screen.open_job.undo()
    screen.redraw()
    screen.hint.say(f"Undone: {what}. Ctrl+Y puts it back.")


def _redo(screen: JobScreen) -> None:
    what = screen.open_job.redo()
    screen.redraw()
    screen.hint.say(f"Put back: {what}.")


def _flags(screen: JobScreen) -> None:
    if not screen.open_job.findings:
        raise RefusedError("No flags: nothing that was entered is wrong so far.")
    screen.add_class("flags-open")
    screen.set_focus(screen.query_one(FlagList))


def _next_wanted(screen: JobScreen) -> None:
    if not screen.sheet.at.next_open():
        raise RefusedError("Nothing more is wanted at this place.")
    screen.sheet.settle()


def _section(screen: JobScreen, step: int) -> None:
    screen.sheet.at.move_section(step)
    screen.sheet.settle()


def _turn_place(screen: JobScreen, step: int) -> None:
    index = (PLACES.index(screen.place) + step) % len(PLACES)
    screen.open_place(PLACES[index])


def _remove_row(screen: JobScreen) -> None:
    row = screen.sheet.at.row
    if row is None or row.removable is None:
        raise RefusedError("This line is part of every property and can't be removed.")
    rows.remove_row(screen.open_job, *row.removable)
    screen.redraw()
    screen.hint.say("Removed. u brings it back.")


def _clear(screen: JobScreen) -> None:
    cell = screen.sheet.cell
    if cell is None or cell.act:
        raise RefusedError("There is no value here to clear.")
    entering.enter_text(screen.open_job, cell.at, "", cell.seed)
    screen.redraw()


def _go(place: Place) -> Callable[[JobScreen], None]:
    return lambda screen: screen.open_place(place)


DO: Mapping[str, Callable[[JobScreen], None]] = {
    "undo": _undo,
    "redo": _redo,
    "explain": lambda screen: screen.explain(),
    "flags": _flags,
    "next_wanted": _next_wanted,
    "next_place": lambda screen: _turn_place(screen, 1),
    "previous_place": lambda screen: _turn_place(screen, -1),
    "places": lambda screen: screen.set_focus(screen.query_one(PlaceTabs)),
    **{f"go_{place}": _go(place) for place in PLACES},
    "remove_row": _remove_row,
    "clear": _clear,
    "next_section": lambda screen: _section(screen, 1),
    "previous_section": lambda screen: _section(screen, -1),
    "board": lambda screen: (screen.app.pop_screen(), None)[1],
    "wire_map": opening.wire_map,
    "compare_rules": opening.compare_rules,
    "plan": opening.plan,
    "history": opening.history,
    "settle": opening.settle,
    "attach": opening.attach_file,
    "override": _override,
    "look": lambda screen: (screen.post_message(ThemeWanted()), None)[1],
    "quit": lambda screen: screen.app.exit(),
}
