"""The rows of one sign-off: which count, and what is wrong with a row in itself.

Whether its holds are met is asked elsewhere (`standing`); this looks at the rows alone.
"""

from __future__ import annotations

import re
import unicodedata
from datetime import datetime

from fieldbook.records.days import CLOCK_TOLERANCE, instant_of, order_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.sign_offs import SETTLED, WITHDRAWN, SignOff

LEAST_LETTERS = 2
_OVERRIDDEN = re.compile(r"hold (\d+)")


def latest_rows(job: LoadedJob, kind: str, zone_id: str | None) -> list[SignOff]:
    """The rows of a sign-off that no other of its rows supersedes, oldest first.

    More than one means that two laptops signed or withdrew without having seen each other.
    """
    rows = [row for row in job.sign_offs if (row.kind, row.zone_id) == (kind, zone_id)]
    superseded = {row.supersedes for row in rows if row.supersedes != row.id}
    latest = [row for row in rows if row.id not in superseded and row.state != SETTLED]
    return sorted(latest, key=lambda row: (order_of(row.signed_at), row.id))


def row_faults(row: SignOff, now: datetime) -> list[str]:
    """What is wrong with a row in itself, in words; `now` is an instant with its offset."""
    at = instant_of(row.signed_at)
    found = []
    if not readable_words(row.signed_by or "", least=1):
        found.append("nobody is named as its signer")
    if row.state != "signed":
        found.append("it is neither signed nor withdrawn")
    if at is None:
        found.append("it has no time that can be read")
    elif at > now.astimezone() + CLOCK_TOLERANCE:
        found.append(f"its time, {row.signed_at[:16]}, is in the future: a clock was wrong")
    return found


def faultless_row(job: LoadedJob, kind: str, zone_id: str | None, now: datetime) -> SignOff | None:
    """The one row that signs, if there is one, nothing is wrong with it and no other rivals it."""
    latest = latest_rows(job, kind, zone_id)
    if len(latest) != 1 or latest[0].state == WITHDRAWN or row_faults(latest[0], now):
        return None
    return latest[0]


def overrides_of(row: SignOff) -> set[int]:
    """The numbers of the holds that a row overrides with a name and a reason that can be read."""
    if not (readable_words(row.override_by or "") and readable_words(row.override_reason or "")):
        return set()
    return {int(number) for number in _OVERRIDDEN.findall(row.overridden or "")}


def readable_words(text: str, least: int = LEAST_LETTERS) -> bool:
    """Whether a person can read a name or reason here: letters or digits, not invisible signs.

    At least `least` of them are letters of some script; initials may be a single one, or digits.
    """
    letters = [char for char in text if unicodedata.category(char)[0] in "LN"]
    real = [char for char in letters if unicodedata.category(char)[0] == "L"]
    return len(letters if least == 1 else real) >= least
