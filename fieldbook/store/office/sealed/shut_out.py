"""Distrust at the hub the keys with which a laptop signed, when its keeper shuts it out."""

from __future__ import annotations

from contextlib import suppress

from fieldbook.store.office.connection import OfficeConnection
from fieldbook.store.office.sealed.seals_sql import COLUMNS
from fieldbook.store.seals.seal import SealError, from_plain, is_genuine

# Only of its own origins, not of those that it was allowed to send for another laptop.
_SENT = f"""
SELECT {", ".join(COLUMNS[1:])} FROM fieldbook.seal s
WHERE sent_by = %s AND EXISTS (
  SELECT FROM fieldbook.laptop_origin o WHERE o.origin = s.origin AND o.laptop = s.sent_by)
"""
_DISTRUST = """
INSERT INTO fieldbook.distrusted_key (key, laptop) VALUES (%s, %s) ON CONFLICT DO NOTHING
"""
_TRUST_AGAIN = "DELETE FROM fieldbook.distrusted_key WHERE laptop = %s"


def distrust_keys(connection: OfficeConnection, name: str) -> int:
    """Distrust every key that a laptop signed with; returns how many.

    The laptop may have sent seals in the name of another's key, which it can't sign with: only a
    genuine seal shows that a key is its own.
    """
    keys: set[str] = set()
    for row in connection.execute(_SENT.encode(), (name,)).fetchall():
        with suppress(SealError):
            seal = from_plain(dict(zip(COLUMNS[1:], row, strict=True)))
            if seal.key not in keys and is_genuine(seal):
                keys.add(seal.key)
    for key in sorted(keys):
        connection.execute(_DISTRUST, (key, name))
    return len(keys)


def trust_again(connection: OfficeConnection, name: str) -> None:
    """Distrust no key of a laptop that is let in again."""
    connection.execute(_TRUST_AGAIN, (name,))
