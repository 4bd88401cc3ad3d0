"""Commit one act: write its changes to the tables and append their entries to the journal."""

from __future__ import annotations

from collections.abc import Sequence

from fieldbook.records.column_values import column_accepts
from fieldbook.store.changes import Act, Change, Keep, Reassert, Restore
from fieldbook.store.journal.append import append_outbox
from fieldbook.store.journal.apply import apply
from fieldbook.store.journal.entry import ADD, DELETED
from fieldbook.store.journal.latest_versions import state_of
from fieldbook.store.journal.reassert import reassert, reassert_row
from fieldbook.store.journal.restore import restoring_changes
from fieldbook.store.journal.row_rebuilding import rebuild_waiting_rows
from fieldbook.store.sqlite.book_connection import Connection


def commit(connection: Connection, act: Act, changes: Sequence[Change]) -> bool:
    """Commit the changes of one act in the caller's transaction; returns whether any had effect."""
    changed = False
    for change in changes:
        if isinstance(change, Restore):
            restoring = restoring_changes(connection, change.table, change.row_id)
            changed |= commit(connection, act, restoring)
        elif isinstance(change, Reassert | Keep):
            # Both read the journal, so the changes before them must be in it first.
            _append(connection, act)
            wanted = _kept_row(connection, change) if isinstance(change, Keep) else change
            if wanted is not None:
                reassert(connection, act, wanted)
                changed = True
        else:
            changed |= apply(connection, act, change)
    _append(connection, act)
    return changed


def _append(connection: Connection, act: Act) -> None:
    for change in append_outbox(connection, act):
        if (change.table, change.op) == ("job", ADD):
            rebuild_waiting_rows(connection, change.row_id)


def _kept_row(connection: Connection, change: Keep) -> Reassert | None:
    """The row and its conflicts, but for the removal; None if no removal is in conflict with it."""
    state = state_of(connection, change.table, change.row_id, column_accepts)
    removed = any(conflict.column == DELETED for conflict in state.conflicts)
    if state.values is None or not removed:
        return None
    return reassert_row(connection, change.table, change.row_id, state, removed=False)
