"""Enter wires: the colours of a cable, the colour seen at a valve or terminal, splices."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from fieldbook.actions.cells import begun_by
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import new_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.printable import printable
from fieldbook.records.tables.controller import Terminal
from fieldbook.records.tables.wires import Cable, Valve
from fieldbook.records.values import Value
from fieldbook.store.changes import Add, Change, Put, Remove
from fieldbook.trade.colours import parse_colour

_WHOLE_WORD = 3


def set_conductors(open_job: OpenJob, cable_id: str, typed: str) -> None:
    """Set a cable's conductors from typed colours, as one act: "white, red, blue, red/black".

    Conductors whose colour stays keep their rows. White becomes the cable's common if none is
    known. Raises RefusedError naming a word that is no colour.
    """
    wanted = _colours(typed)
    left = list(open_job.job.conductors_of(cable_id))
    changes: list[Change] = []
    for position, colour in enumerate(wanted, start=1):
        same = next((conductor for conductor in left if conductor.colour == colour), None)
        if same is None:
            values: dict[str, Value] = {
                "cable_id": cable_id,
                "position": position,
                "colour": colour,
            }
            changes.append(Add("conductor", new_id(), values))
        else:
            left.remove(same)
            changes.append(Put("conductor", same.id, "position", position))
    changes += [Remove("conductor", conductor.id) for conductor in left]
    cable = open_job.job.row(cable_id)
    common_known = isinstance(cable, Cable) and cable.common_colour is not None
    if "white" in wanted and not common_known:
        changes.append(Put("cable", cable_id, "common_colour", "white"))
    open_job.commit(changes, f"{len(wanted)} conductors")


def _colours(typed: str) -> list[str]:
    """The typed colours, in order; separated by commas, by blanks, or by both."""
    text = printable(typed).strip()
    parts = text.split(",") if "," in text else text.split()
    return [colour for part in parts if part.strip() for colour in _one_or_more(part)]


def _one_or_more(part: str) -> list[str]:
    """What stands between two commas: a colour such as "unmarked 3", else one for each word."""
    try:
        return [parse_colour(part)]
    except ValueError:
        return [_parsed(word) for word in part.split()]


def _parsed(word: str) -> str:
    try:
        return parse_colour(word)
    except ValueError as error:
        raise RefusedError(str(error)) from error


def colour_seen(typed: str, free: Sequence[str]) -> str:
    """The colour that was typed: a free one by its beginning, or any other in full.

    A colour that is not free is accepted as it was seen, and a check flags it. It takes three
    letters, so that a slip of one key is not taken for it. Raises RefusedError.
    """
    found = begun_by(typed, [(colour, colour) for colour in free])
    if len(found) == 1:
        return found[0]
    word = typed.strip().casefold()
    if len(word) < _WHOLE_WORD:
        offered = f"free here: {', '.join(free)}" if free else "no conductor listed is free here"
        raise RefusedError(f"“{word}” is not one of them; {offered}. Any other, type in full.")
    return _parsed(word)


def log_wire(
    open_job: OpenJob,
    at: CellRef,
    colour: str,
    cable_id: str,
    seed: Mapping[str, Value] | None = None,
) -> None:
    """Enter the colour seen at a valve, terminal or common, and its cable if there are several."""
    changes: list[Change] = [Put(at.table, at.row_id, at.column, colour, dict(seed or {}))]
    if cable_id and at.table in ("valve", "terminal") and len(open_job.job.cables) > 1:
        changes.append(Put(at.table, at.row_id, "cable_id", cable_id, dict(seed or {})))
    open_job.commit(changes, f"wire {colour}")


def add_splice(open_job: OpenJob) -> str:
    """Add a splice, as one act; returns its id.

    It begins with the box and cables of the last splice, the first one with the likely cables.
    """
    job = open_job.job
    last = job.splices[-1] if job.splices else None
    onward = next((cable for cable in job.cables if job.row(cable.fed_from) is not None), None)
    homes = [cable for cable in job.home_cables() if cable is not onward]
    values: dict[str, Value] = {
        "box_id": last.box_id if last else onward.fed_from if onward else None,
        "cable_id": last.cable_id if last else homes[0].id if homes else None,
        "to_cable_id": last.to_cable_id if last else onward.id if onward else None,
    }
    return open_job.add("splice", values, "splice added")


def free_at_box(job: LoadedJob, cable_id: str, but_for: str = "") -> list[str]:
    """A cable's colours that no valve but `but_for`, no common and no splice uses."""
    used = _used_by(job, job.valves, cable_id, but_for)
    cable = job.row(cable_id)
    if isinstance(cable, Cable):
        used.append(cable.common_colour)
    return _unused(job, cable_id, used + spliced(job, cable_id))


def free_at_controller(
    job: LoadedJob, cable_id: str, but_for: str = "", controller_id: str | None = None
) -> list[str]:
    """A cable's colours that are under no terminal of one controller (None: the first).

    The terminal `but_for` does not count. What another controller has may be free again here, where
    the cable was cut between them; a flag says so where it was not.
    """
    ends = [one for one in job.terminals if (one.controller_id or None) == (controller_id or None)]
    return _unused(job, cable_id, _used_by(job, ends, cable_id, but_for))


def spliced(job: LoadedJob, cable_id: str, but_for: str = "") -> list[str | None]:
    """A cable's colours that a splice other than `but_for` joins to another conductor."""
    splices = [splice for splice in job.splices if splice.id != but_for]
    here = [splice.colour for splice in splices if splice.cable_id == cable_id]
    return here + [splice.to_colour for splice in splices if splice.to_cable_id == cable_id]


def _used_by(
    job: LoadedJob, ends: Iterable[Valve | Terminal], cable_id: str, but_for: str
) -> list[str | None]:
    found: list[str | None] = []
    for end in ends:
        cable = job.cable_of(end)
        if end.id != but_for and cable is not None and cable.id == cable_id:
            found.append(end.colour)
    return found


def _unused(job: LoadedJob, cable_id: str, used: Sequence[str | None]) -> list[str]:
    colours = [conductor.colour for conductor in job.conductors_of(cable_id)]
    return [colour for colour in colours if colour is not None and colour not in used]
