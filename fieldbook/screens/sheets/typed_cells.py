"""What a typed text enters in a cell of any kind, whoever typed it: a field, or a pasted table."""

from __future__ import annotations

from fieldbook.actions import log_wires
from fieldbook.actions.cells import begun_by, enter, enter_text
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.taken_wires import cable_at, where_taken
from fieldbook.records.loaded_job import TABLES
from fieldbook.screens.sheets.options import colour_of_key
from fieldbook.screens.sheets.presses import TypedPress
from fieldbook.screens.sheets.sheet import Cell, Option


def keep_typed(open_job: OpenJob, cell: Cell, text: str) -> None:
    """Enter what was typed in a cell, as one act; raises RefusedError."""
    if isinstance(cell.press, TypedPress):
        cell.press.keep(open_job, text)
    elif cell.press is not None:
        raise RefusedError(f"{cell.fact.label} is a key to press, and takes no text.")
    elif cell.fact.kind in ("link", "colour"):
        _keep_word(open_job, cell, text)
    else:
        enter_text(open_job, cell.at, text, cell.seed)


def put_option(open_job: OpenJob, cell: Cell, option: Option) -> None:
    """Enter one of the options of a cell, as one act."""
    if cell.fact.kind == "colour":
        log_wires.log_wire(open_job, cell.at, str(option.value), option.cable_id, cell.seed)
    else:
        enter(open_job, cell.at, option.value, cell.seed)


def why_none(open_job: OpenJob, cell: Cell) -> str:
    """Why a cell has nothing to choose from, and what to do first."""
    if cell.fact.kind == "link":
        return f"There is no {TABLES[cell.fact.links_to].title} yet: add one first."
    first = "type its colours at the valve boxes"
    if not open_job.job.cables:
        return f"There is no cable yet: add it and {first} first."
    return f"No conductor of this cable is free: {first}, or look for one entered twice."


def _keep_word(open_job: OpenJob, cell: Cell, text: str) -> None:
    """Enter the colour or the row that a typed word names."""
    typed = text.strip().casefold()
    if not typed:
        enter(open_job, cell.at, None, cell.seed)
        return
    if cell.fact.kind == "colour":
        colour = _colour_seen(open_job, cell, typed)
        cable_id = cell.options[0].cable_id if cell.options else ""
        log_wires.log_wire(open_job, cell.at, colour, cable_id, cell.seed)
        return
    found = begun_by(typed, [(option.word, option) for option in cell.options])
    if len(found) != 1:
        words = ", ".join(option.word for option in cell.options)
        label = cell.fact.label
        raise RefusedError(f"{label} takes one of {words}." if words else why_none(open_job, cell))
    put_option(open_job, cell, found[0])


def _colour_seen(open_job: OpenJob, cell: Cell, typed: str) -> str:
    """The colour that a typed word names. A refusal says where a colour begun so is used."""
    try:
        return log_wires.colour_seen(typed, [option.word for option in cell.options])
    except RefusedError as why:
        where = where_typed(open_job, cell, typed)
        raise RefusedError(where or str(why)) from why


def where_typed(open_job: OpenJob, cell: Cell, typed: str) -> str:
    """Where a colour that a text begins, or is the key of, is used already; else nothing."""
    job = open_job.job
    cable = cable_at(job, cell.at)
    word = typed.strip().casefold()
    if cable is None or not word or cell.fact.kind != "colour":
        return ""
    colours = [wire.colour for wire in job.conductors_of(cable.id) if wire.colour]
    meant = [colour_of_key(job, cable, word), *(name for name in colours if name.startswith(word))]
    found = (where_taken(job, cell.at, colour) for colour in meant if colour is not None)
    where = next(filter(None, found), "")
    return f"{where} Type it in full to enter it all the same." if where else ""
