"""The help on a cell: what it is, why it is asked, what good looks like, who entered it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldbook.actions.cell_history import cell_history
from fieldbook.actions.cells import NOZZLE_COLUMNS
from fieldbook.actions.keymap import Where, key_name, offered
from fieldbook.actions.open_job import OpenJob
from fieldbook.languages.in_use import say
from fieldbook.records.fact import Kind
from fieldbook.records.values import shown
from fieldbook.screens.sheets.options import countersigned_by
from fieldbook.screens.sheets.presses import ShowSteps, Signature, SignJob
from fieldbook.screens.sheets.sheet import Cell, Section
from fieldbook.trade.cautions import MARK_COLOURS, MARK_SOURCE, Caution
from fieldbook.trade.pipe_words import CLASS_EXAMPLE, class_among
from fieldbook.trade.shorthand import NOZZLE_EXAMPLE, size_among
from fieldbook.units import LENGTH, SHORT_LENGTH, System

_HOW = {
    "amount": "Type a number; a unit may follow it.",
    "whole": "Type a whole number.",
    "day": "Type a date such as 2026-05-01 or May 1, today, yesterday or tomorrow.",
    "clock": "Type now, a time such as 14:30, or 2026-05-01 14:30.",
    "days": "Type weekdays, odd, even, odd not 31, every 3 from 2027-05-01, or any.",
    "times": "Type times such as 5:00 am, 8:30, 17:00; a blank or comma between them.",
    "text": "Type; Enter keeps it.",
    "choice": "Type its beginning, or Enter to choose from the list.",
    "link": "Type its name, or Enter to choose from the list.",
    "tick": "Space: yes, then no, then blank; y is yes, n is no.",
    "colour": "Press the key shown under the sheet; only free conductors are offered.",
    "colours": "Type the colours in a row, commas between them.",
}
_TURNS = 6
"""The help shows so many of the newest entries; F5 shows all."""


def how_to_type(kind: Kind) -> str:
    """What may be typed into a cell; "" where the value is chosen or any text is taken."""
    return _HOW[kind] if kind in ("amount", "whole", "day", "clock", "days", "times") else ""


def explain_cell(open_job: OpenJob, cell: Cell, cautions: Sequence[Caution] = ()) -> str:
    """The help on one cell, in paragraphs; `cautions` are those of its section."""
    parts = [cell.fact.why]
    if isinstance(cell.press, ShowSteps):
        parts.append(cell.press.text)
    if isinstance(cell.press, Signature):
        parts.append(countersigned_by(open_job.job, *cell.press.signs))
        parts.append(_held_back(cell.press.reasons(open_job)))
        if cell.press == SignJob("dig"):
            marks = "\n".join(f"{say(colour):<10} {say(what)}" for colour, what in MARK_COLOURS)
            parts.append(f"What the colour of a mark means\n{marks}\nSource: {MARK_SOURCE}")
    parts += _of_fact(cell, open_job.system)
    parts += [f"Caution. {one.text}\nSource: {one.source}" for one in cautions]
    parts.append(_entered(open_job, cell))
    return "\n\n".join(part for part in parts if part)


def explain_columns(section: Section) -> str:
    """What each column of a table is: its head and why it is asked; "" for a form."""
    rows = [row for row in section.rows if row.label and len(row.cells) > 1]
    if not section.heads or not rows:
        return ""
    row = max(rows, key=lambda row: len(row.cells))
    pairs = zip(section.heads, row.cells, strict=False)
    lines = [f"{head}: {cell.fact.why}" if cell.fact.why else head for head, cell in pairs]
    return "The columns\n" + "\n".join(lines)


def about_cell(cell: Cell, system: System) -> str:
    """What stands beside the sheet about a cell: the help without what the book is asked for."""
    return "\n\n".join(filter(None, (cell.fact.why, *_of_fact(cell, system))))


def _of_fact(cell: Cell, system: System) -> Iterator[str]:
    """What good looks like, the limits, the choices, how it is typed, the source."""
    fact = cell.fact
    if fact.good:
        yield f"Good looks like: {fact.good}"
    if fact.kind == "amount" and fact.measure is not None:
        low, high = shown(fact, fact.low, system), shown(fact, fact.high, system)
        units = ", ".join(name for name in fact.measure.factors if name not in "'\"")
        yield f"From {low} to {high}." + (f" Units understood: {units}." if units else "")
    if fact.choices:
        yield "One of: " + ", ".join(fact.choices) + "."
    yield " ".join(filter(None, (_HOW.get(fact.kind, ""), _shorthand(cell))))
    if fact.source:
        yield f"Source: {fact.source}"


def _shorthand(cell: Cell) -> str:
    """What a crew may write for short: feet and inches, sizes, nozzles."""
    ways = []
    if cell.fact.measure in (LENGTH, SHORT_LENGTH):
        ways.append("Also 12'6, 12 ft 6 in or 3.5 m.")
    if size_among("1/2", cell.fact.choices):
        ways.append("A size also as 1 1/4 or 1.25.")
    if class_among("class 200", cell.fact.choices):
        ways.append(f"A class also as {CLASS_EXAMPLE}.")
    if cell.at.table == "head" and cell.at.column in NOZZLE_COLUMNS:
        ways.append(f"A nozzle also as {NOZZLE_EXAMPLE}.")
    return " ".join(ways)


def _held_back(reasons: Sequence[str]) -> str:
    """Why a sign-off can't be signed now, every reason whole."""
    if not reasons:
        return "No hold and no stop keeps it back."
    return "What keeps it back\n" + "\n".join(f"- {reason}" for reason in reasons)


def _entered(open_job: OpenJob, cell: Cell) -> str:
    """Who entered the value, newest first; nothing for a cell that holds no single value."""
    if cell.history_at is None:
        return ""
    turns = cell_history(open_job, cell.history_at)[:_TURNS]
    lines = [f"{turn.who}  {turn.when}  {turn.became}" for turn in turns]
    return "Entered:\n" + "\n".join(lines) if lines else "Not entered yet."


def explain_keys(where: Where) -> str:
    """Every action offered on the board or at a place, with its keys."""
    lines = []
    for action in offered(where):
        keys = " or ".join(key_name(key) for key in action.keys)
        lines.append(f"{keys:<14} {say(action.label)}. {say(action.help)}")
    return "\n".join(lines)
