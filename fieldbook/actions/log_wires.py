"""Wire entries: a cable's colours, the colour at a valve, the colour under a terminal."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import new_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.wires import Cable
from fieldbook.records.values import Value, printable
from fieldbook.store.changes import Add, Change, Put, Remove
from fieldbook.trade.colours import parse_colour

_WHOLE_WORD = 3


def set_conductors(open_job: OpenJob, cable_id: str, typed: str) -> None:
    """Set a cable's conductors from colours typed in a row: "white, red, blue, red/black".

    Conductors that stay keep their rows. Raises RefusedError naming the word that is no colour.
    """
    wanted = _colours(typed)
    had = list(open_job.job.conductors_of(cable_id))
    changes: list[Change] = []
    for position, colour in enumerate(wanted, start=1):
        same = next((one for one in had if one.colour == colour), None)
        if same is None:
            values: dict[str, Value] = {
                "cable_id": cable_id,
                "position": position,
                "colour": colour,
            }
            changes.append(Add("conductor", new_id(), values))
        else:
            had.remove(same)
            changes.append(Put("conductor", same.id, "position", position))
    changes += [Remove("conductor", gone.id) for gone in had]
    if not _common_known(open_job, cable_id) and "white" in wanted:
        changes.append(Put("cable", cable_id, "common_colour", "white"))
    open_job.keep(changes, f"{len(wanted)} conductors")


def colour_seen(typed: str, free: Sequence[str]) -> str:
    """The colour meant by what was typed: a free one by its beginning, or any in full.

    A colour that is not free is kept too, as it was seen: checks flag it. It takes three letters,
    so that a slip of one key is not taken for it. Raises RefusedError with one sentence.
    """
    word = typed.strip().casefold()
    begun = [colour for colour in free if colour == word] or [
        colour for colour in free if colour.startswith(word)
    ]
    if len(begun) == 1:
        return begun[0]
    if len(word) < _WHOLE_WORD:
        offered = f"free here: {', '.join(free)}" if free else "no conductor listed is free here"
        raise RefusedError(f"“{word}” is not one of them: {offered}. Any other, type in full.")
    try:
        return parse_colour(word)
    except ValueError as why:
        raise RefusedError(str(why)) from why


def _common_known(open_job: OpenJob, cable_id: str) -> bool:
    cable = open_job.job.row(cable_id)
    return isinstance(cable, Cable) and cable.common_colour is not None


def _colours(typed: str) -> list[str]:
    """The colours of a typed row, in order. Commas part them; without one, blanks do."""
    text = printable(typed).strip()
    parts = text.split(",") if "," in text else text.split()
    try:
        return [parse_colour(part) for part in parts if part.strip()]
    except ValueError as why:
        raise RefusedError(str(why)) from why


def set_ran(open_job: OpenJob, at: CellRef, typed: str, seed: Mapping[str, Value]) -> None:
    """Keep which zones ran as a terminal was energised: "3", "3 4" for two, "0" for nothing.

    Blank clears it. Raises RefusedError for a number that no zone has.
    """
    words = printable(typed).replace(",", " ").split()
    nothing = [word.casefold() for word in words] in (["0"], ["none"], ["nothing"])
    zones = [] if nothing else [_zone_of(open_job, word) for word in words]
    if len(zones) > 2:
        raise RefusedError("Type the zone that ran, or two if two ran, or 0 for none.")
    values: dict[str, Value] = {
        "ran_zone_id": zones[0] if zones else None,
        "ran_also_id": zones[1] if len(zones) > 1 else None,
        "ran_nothing": True if nothing else None,
    }
    changes: list[Change] = [
        Put(at.table, at.row_id, column, value, dict(seed)) for column, value in values.items()
    ]
    open_job.keep(changes, "what ran")


def _zone_of(open_job: OpenJob, word: str) -> str:
    for zone in open_job.job.zones:
        if word == str(zone.number):
            return zone.id
    raise RefusedError(f"No zone has the number “{word[:20]}”: type one that ran, or 0 for none.")


def add_splice(open_job: OpenJob) -> str:
    """Add a splice; the box and both cables are those of the last one, or the likely ones."""
    job = open_job.job
    last = job.splices[-1] if job.splices else None
    going_on = next((one for one in job.cables if job.row(one.fed_from) is not None), None)
    homes = [one for one in job.home_cables() if one is not going_on]
    values: dict[str, Value] = {
        "box_id": last.box_id if last else going_on.fed_from if going_on else None,
        "cable_id": last.cable_id if last else homes[0].id if homes else None,
        "to_cable_id": last.to_cable_id if last else going_on.id if going_on else None,
    }
    row_id = new_id()
    open_job.keep([Add("splice", row_id, values)], "splice added")
    return row_id


def free_at_box(job: LoadedJob, cable_id: str, but_for: str = "") -> list[str]:
    """The colours of a cable that no valve and no common has at the box end."""
    used = [
        valve.colour for valve in job.valves if valve.id != but_for and _on(job, valve, cable_id)
    ]
    cable = job.row(cable_id)
    if isinstance(cable, Cable):
        used.append(cable.common_colour)
    used += spliced(job, cable_id)
    return _left(job, cable_id, used)


def spliced(job: LoadedJob, cable_id: str, but_for: str = "") -> list[str | None]:
    """The colours of a cable that are joined to another conductor on the way."""
    rows = [one for one in job.splices if one.id != but_for]
    here = [one.colour for one in rows if one.cable_id == cable_id]
    return here + [one.to_colour for one in rows if one.to_cable_id == cable_id]


def free_at_controller(job: LoadedJob, cable_id: str, but_for: str = "") -> list[str]:
    """The colours of a cable that are under no terminal."""
    used = [end.colour for end in job.terminals if end.id != but_for and _on(job, end, cable_id)]
    return _left(job, cable_id, used)


def _on(job: LoadedJob, end: object, cable_id: str) -> bool:
    cable = job.cable_of(end)  # type: ignore[arg-type]
    return cable is not None and cable.id == cable_id


def _left(job: LoadedJob, cable_id: str, used: list[str | None]) -> list[str]:
    return [
        one.colour
        for one in job.conductors_of(cable_id)
        if one.colour is not None and one.colour not in used
    ]


def log_wire(
    open_job: OpenJob,
    at: CellRef,
    colour: str,
    cable_id: str,
    seed: Mapping[str, Value] | None = None,
) -> None:
    """Keep the colour seen at a wire end (valve, terminal or common) and the cable it is of."""
    changes: list[Change] = [Put(at.table, at.row_id, at.column, colour, dict(seed or {}))]
    if cable_id and at.table in ("valve", "terminal") and len(open_job.job.cables) > 1:
        changes.append(Put(at.table, at.row_id, "cable_id", cable_id, dict(seed or {})))
    open_job.keep(changes, f"wire {colour}")
