"""Tick or count on the truck what is loaded of a line of the load list."""

from __future__ import annotations

from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.materials.load_lines import LoadLine, load_lines
from fieldbook.records.base import facts_of
from fieldbook.records.tables.load_items import LoadItem
from fieldbook.records.values import Value, ValueRefusedError, from_text, shown
from fieldbook.store.changes import Put

_TABLE = LoadItem.table_name


def load_typed(open_job: OpenJob, row_id: str, text: str) -> None:
    """Enter how much is loaded, in the unit of the line; an empty text clears it.

    Raises RefusedError where the text is no amount.
    """
    line = _line(open_job, row_id)
    fact = facts_of(LoadItem)[line.column("loaded")]
    try:
        value = from_text(fact, text, open_job.system)
    except ValueRefusedError as error:
        raise RefusedError(str(error)) from error
    _load(open_job, line, value)


def tick_loaded(open_job: OpenJob, row_id: str) -> bool:
    """Load all that is needed; of a line that is loaded as needed, take that back.

    Returns whether it is loaded now. Raises RefusedError where nothing says how much is needed.
    """
    line = _line(open_job, row_id)
    if not line.needed:
        raise RefusedError("Nothing says how much is needed: type how much is loaded.")
    as_needed = line.loaded is not None and not line.to_load and not line.need_changed
    _load(open_job, line, None if as_needed else line.needed)
    return not as_needed


def _line(open_job: OpenJob, row_id: str) -> LoadLine:
    found = next((line for line in load_lines(open_job.job) if line.row_id == row_id), None)
    if found is None:
        raise RefusedError("This item is on the load list no longer.")
    return found


def _load(open_job: OpenJob, line: LoadLine, value: Value) -> None:
    """Keep how much is loaded, and beside it what was needed then, as one act."""
    column = line.column("loaded")
    seed = {"key": line.key} if line.key else {}
    changes = [Put(_TABLE, line.row_id, column, value, seed)]
    if line.key:
        needed = None if value is None else line.needed
        changes.append(Put(_TABLE, line.row_id, line.column("needed"), needed, seed))
    words = shown(facts_of(LoadItem)[column], value, open_job.system) or "cleared"
    open_job.commit(changes, f"loaded {line.what[:40]}: {words}")
