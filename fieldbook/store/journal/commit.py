"""Keep one act: apply its changes and seal them, in the caller's transaction."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from fieldbook.records.column_values import column_accepts
from fieldbook.store.changes import Act, Change, Keep, Reassert, Restore
from fieldbook.store.journal.append import append_outbox
from fieldbook.store.journal.apply import apply
from fieldbook.store.journal.entry import ADD, DELETED
from fieldbook.store.journal.latest_versions import state_of
from fieldbook.store.journal.reassert import reassert, reassert_row
from fieldbook.store.journal.receive import rebuild_waiting_rows
from fieldbook.store.journal.restore import restoring_changes


def commit(connection: Connection, act: Act, changes: Sequence[Change], book_format: int) -> bool:
    """Apply and seal; whether anything changed."""
    changed = False
    for change in changes:
        if isinstance(change, Restore):
            back = restoring_changes(connection, change.table, change.row_id)
            changed |= commit(connection, act, back, book_format)
        elif isinstance(change, Reassert | Keep):
            # What it says again is what is there once all before it is sealed.
            _append_outbox(connection, act, book_format)
            again = _kept(connection, change) if isinstance(change, Keep) else change
            if again is not None:
                reassert(connection, act, again, book_format)
                changed = True
        else:
            changed |= apply(connection, act, change) > 0
    _append_outbox(connection, act, book_format)
    return changed


def _append_outbox(connection: Connection, act: Act, book_format: int) -> None:
    for table, row_id, op in append_outbox(connection, act, book_format):
        if (table, op) == ("job", ADD):
            rebuild_waiting_rows(connection, row_id)


def _kept(connection: Connection, change: Keep) -> Reassert | None:
    """The row as it stands, what else differs in it still open; None unless it was removed."""
    state = state_of(connection, change.table, change.row_id, column_accepts)
    if state.values is None or all(one.column != DELETED for one in state.conflicts):
        return None
    return reassert_row(connection, change.table, change.row_id, state, removed=False)
