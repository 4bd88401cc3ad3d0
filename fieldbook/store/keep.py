"""Keep one act: apply its changes and seal them, in the caller's transaction."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from fieldbook.store.act import Act
from fieldbook.store.change import Change
from fieldbook.store.seal import seal
from fieldbook.store.sealed import ADD
from fieldbook.store.take import bring_waiting
from fieldbook.store.write import apply


def keep(connection: Connection, act: Act, changes: Sequence[Change], book_format: int) -> bool:
    """Apply and seal; whether anything changed."""
    changed = apply(connection, act, changes) > 0
    for table, row_id, op in seal(connection, act, book_format):
        if (table, op) == ("job", ADD):
            bring_waiting(connection, row_id)
    return changed
