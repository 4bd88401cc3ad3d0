"""The sign-offs of the whole job, each on the sheet of the work that it lets go on."""

from __future__ import annotations

from datetime import datetime

from fieldbook.checks.finding import CellRef
from fieldbook.checks.progress.countersignatures import over_entries
from fieldbook.checks.progress.holds import SIGN_OFFS, unmet
from fieldbook.records.base import Place
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.sheets.options import countersigned_rows, signature_words
from fieldbook.screens.sheets.presses import SignJob
from fieldbook.screens.sheets.sheet import Row, Section, press_cell

_SIGNED = 23
"""The width of a signature: initials, day, and whether it is unproven or overridden."""
_WHY = "Space asks to sign, with your initials and the time; an open hold says why not."


def sign_off_section(
    job: LoadedJob, *kinds: str, why: str = "", below: tuple[Row, ...] = ()
) -> Section:
    """The sign-offs of these kinds, each with the holds it waits for.

    `why` is said before the help on signing, `below` are rows that follow.
    """
    now = datetime.now()
    rows: list[Row] = []
    for kind in kinds:
        rows.append(_sign_off(job, kind, f"{why} {_WHY}".strip(), now))
        rows += countersigned_rows(job, kind, None)
    title = "Sign-offs" if len(kinds) > 1 else "Sign-off"
    return Section(title, (*rows, *below), label_width=36)


def _sign_off(job: LoadedJob, kind: str, why: str, now: datetime) -> Row:
    text = signature_words(job, kind, None, _SIGNED) or _waits(job, kind, now)
    at = CellRef("sign_off", kind, "sign off")
    return Row(SIGN_OFFS[kind], (press_cell(SignJob(kind), at, text, _SIGNED, why),))


def countersigned_section(job: LoadedJob, place: Place) -> tuple[Section, ...]:
    """Whose entries at a place are countersigned; no section where nobody's are."""
    rows = tuple(Row("", tail=f"  {one.words}") for one in over_entries(job, place))
    return (Section("Countersigned entries", rows),) if rows else ()


def _waits(job: LoadedJob, kind: str, now: datetime) -> str:
    """How many holds a sign-off waits for."""
    waits = len(unmet(job, kind, None, now))
    return f"waits for {waits} hold{'s' if waits > 1 else ''}" if waits else "-"
