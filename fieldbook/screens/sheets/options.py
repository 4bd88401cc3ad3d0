"""What a cell can be set to, and words that several sheets show: labels, signatures."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from fieldbook.actions.log_wires import free_at_box, free_at_controller, spliced
from fieldbook.checks.progress.countersignatures import over_sign_off, signed_words
from fieldbook.checks.progress.holds import BACKFILL
from fieldbook.checks.progress.standing import standing
from fieldbook.languages.in_use import say
from fieldbook.records.base import Record
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.wires import Cable, Valve
from fieldbook.records.tables.zones import Zone
from fieldbook.screens.sheets.sheet import Cell, CellMaker, Option, Row
from fieldbook.trade.colours import swatch

_SPARE_KEYS = "123456789zxcvmjhal"


def colour_keys(colours: Sequence[str]) -> dict[str, str]:
    """A key for each colour: a letter of its words, else a digit; "" where none is left.

    The keys depend only on the whole list, so a crew learns them once for a cable.
    """
    keys: dict[str, str] = {}
    for colour in colours:
        letters = [char for char in colour if char.isalnum()]
        free = (key for key in [*letters, *_SPARE_KEYS] if key not in keys.values())
        key = next(free, "")
        keys.setdefault(colour, key)
    return keys


def colour_of_key(job: LoadedJob, cable: Cable, key: str) -> str | None:
    """The colour of a cable that a key stands for, free or not."""
    keys = colour_keys([wire.colour for wire in job.conductors_of(cable.id) if wire.colour])
    return next((colour for colour, held in keys.items() if held == key), None)


def valve_options(job: LoadedJob, valve_id: str, cable: Cable | None) -> tuple[Option, ...]:
    """The conductors of a cable that are free for a valve."""
    if cable is None:
        return ()
    return _colours(job, cable, free_at_box(job, cable.id, valve_id))


def terminal_options(job: LoadedJob, end: Terminal, cable: Cable | None) -> tuple[Option, ...]:
    """The conductors of a cable that are under no other terminal of the same controller."""
    if cable is None:
        return ()
    return _colours(job, cable, free_at_controller(job, cable.id, end.id, end.controller_id))


def splice_options(job: LoadedJob, splice_id: str, cable_id: str | None) -> tuple[Option, ...]:
    """The conductors of a cable that no valve and no other splice has."""
    cable = job.row(cable_id)
    if not isinstance(cable, Cable):
        return ()
    return _without_valve(job, cable, spliced(job, cable.id, splice_id))


def common_options(job: LoadedJob, cable: Cable) -> tuple[Option, ...]:
    """The conductors of a cable that no valve has, for its common."""
    return _without_valve(job, cable, ())


def _without_valve(job: LoadedJob, cable: Cable, used: Sequence[str | None]) -> tuple[Option, ...]:
    """The conductors of a cable that neither a valve nor what is `used` has."""
    taken = {*used, *(valve.colour for valve in job.valves if job.cable_of(valve) is cable)}
    wires = job.conductors_of(cable.id)
    free = [wire.colour for wire in wires if wire.colour and wire.colour not in taken]
    return _colours(job, cable, free)


def default_cable(job: LoadedJob, end: Valve | Terminal | None) -> Cable | None:
    """The cable a wire end is offered: its own, the only one, else the first with free colours.

    `end` is None for a valve of which nothing is entered yet.
    """
    if end is not None and (own := job.cable_of(end)) is not None:
        return own
    if isinstance(end, Terminal):
        return _default_at_controller(job, end)
    return _first_free(job, job.valves, job.cables, lambda cable: free_at_box(job, cable.id))


def _default_at_controller(job: LoadedJob, end: Terminal) -> Cable | None:
    at = end.controller_id or None
    ends = [one for one in job.terminals if (one.controller_id or None) == at]
    cables = [
        cable
        for cable in job.home_cables()
        if at in (cable.controller_id or None, cable.second_controller_id)
    ]
    return _first_free(
        job,
        ends,
        cables or job.home_cables(),
        lambda cable: free_at_controller(job, cable.id, end.id, at),
    )


def _first_free(
    job: LoadedJob,
    ends: Sequence[Valve | Terminal],
    cables: Sequence[Cable],
    free: Callable[[Cable], Sequence[str]],
) -> Cable | None:
    """The cable used last if it has a free colour, else the first one that has."""
    # The cable that was used last is tried first: a crew works along one cable.
    used = [job.cable_of(other) for other in ends if other.colour]
    for cable in [*reversed(used), *cables]:
        if cable is not None and free(cable):
            return cable
    return cables[0] if cables else None


def link_cell(
    make: CellMaker, job: LoadedJob, column: str, width: int, text: str | None = None
) -> Cell:
    """The cell of a link: each row it may lead to is an option, shown by its name.

    An option's key is the first letter or digit of its name that no other option has.
    """
    fact = make.fact(column)
    options: list[Option] = []
    keys: set[str] = set()
    for row in getattr(job, FIELD_OF[fact.links_to]):
        name = _link_name(job, row)
        key = next((char for char in name.lower() if char.isalnum() and char not in keys), "")
        keys.add(key)
        options.append(Option(key, name, row.id))
    if text is None:
        value = make.value(column)
        text = next((option.word for option in options if option.value == value), "")
    return make.cell(column, width, options=tuple(options), text=text)


def _link_name(job: LoadedJob, row: Record) -> str:
    """What a link to a row says: a zone's number, a run's after its zone's, else a name."""
    if isinstance(row, PipeRun):
        zone = job.zone(row.zone_id)
        return f"{'main' if zone is None else zone.number or '?'}/{row.number or '?'}"
    if isinstance(row, Zone):
        return str(row.number or row.name)
    kind = row.kind if isinstance(row, BackflowAssembly) else None
    return str(getattr(row, "name", "") or kind or "?")


def _colours(job: LoadedJob, cable: Cable, free: Sequence[str]) -> tuple[Option, ...]:
    keys = colour_keys([wire.colour for wire in job.conductors_of(cable.id) if wire.colour])
    return tuple(Option(keys[colour], colour, colour, swatch(colour), cable.id) for colour in free)


def zone_label(zone: Zone) -> str:
    """A zone by number and name, as the label of its row."""
    return f"{zone.number or '?'} {zone.name}".strip()


def attached_to(job: LoadedJob, file: Attachment) -> str:
    """What a file is attached to, in words."""
    row = job.row(file.of_row)
    title = TABLES[file.of_table].title if file.of_table in TABLES else "property"
    number = getattr(row, "number", None) or getattr(row, "name", None)
    return f"{title} {number}".strip() if number else title


def countersigned_rows(job: LoadedJob, kind: str, zone_id: str | None) -> list[Row]:
    """The line under a signature that says who countersigned it; none where nobody did."""
    words = countersigned_by(job, kind, zone_id)
    return [Row("", tail=f"  {words}")] if words else []


def countersigned_by(job: LoadedJob, kind: str, zone_id: str | None) -> str:
    """Who countersigned a signature, with the licence; empty where nobody did."""
    row = over_sign_off(job, kind, zone_id)
    return signed_words(row) if row is not None else ""


def signature_words(job: LoadedJob, kind: str, zone_id: str | None, width: int) -> str:
    """Who signed, the day, and "unproven" or "override"; empty where nobody did.

    The word always fits in `width`: beside a long name the year of the day is left out.
    """
    stands = standing(job, kind, zone_id, datetime.now().astimezone())
    stretch = job.backfill_of(zone_id) if kind == BACKFILL else None
    # A stretch may say that it is signed while no sign-off of it is on record.
    row = stretch if stretch is not None and stretch.signed_by else stands and stands.sign_off
    if not row:
        return ""
    word = ""
    if stands is None or not stands.proven:
        word = f" {say('unproven')}"
    elif stands.sign_off.overridden:
        word = f" {say('override')}"
    day = row.signed_at[:10]
    if len(f"{row.signed_by} {day}{word}") > width:
        day = day[5:]
    end = f" {day}{word}"
    return f"{row.signed_by[: width - len(end)]}{end}"
