"""Enter a value in a cell: typed, chosen, or by turning a tick.

`seed` holds the columns that a row begins with if it does not exist yet, such as a valve's zone.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TypeVar

from fieldbook.actions.nozzle_file import nozzles_beside
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import Record, facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import TABLES
from fieldbook.records.tables.job import Job
from fieldbook.records.tables.zones import HEAD_KINDS
from fieldbook.records.values import Value, ValueRefusedError, from_text, shown
from fieldbook.store.changes import Put
from fieldbook.trade.nozzle_list import ListedNozzle, find
from fieldbook.trade.shorthand import (
    ARCS_DEG,
    NOZZLE_EXAMPLE,
    Nozzle,
    looks_like_nozzle,
    read_nozzle,
    write_nozzle,
)

_T = TypeVar("_T")
NOZZLE_COLUMNS = ("nozzle_gpm", "arc_deg", "radius_ft")
"""Cells of a sprinkler head on which 15H is a nozzle."""


def fact_at(at: CellRef) -> Fact:
    """The description of a cell's column: label, kind, unit, limits."""
    record = Job if at.table == "job" else TABLES[at.table]
    return facts_of(record)[at.column]


def value_at(open_job: OpenJob, at: CellRef) -> Value:
    """The value a cell holds; None where its row does not exist yet."""
    row: Record | Job | None = (
        open_job.job.job if at.table == "job" else open_job.job.row(at.row_id)
    )
    value: Value = getattr(row, at.column) if row is not None else None
    return value


def enter_text(
    open_job: OpenJob, at: CellRef, text: str, seed: Mapping[str, Value] | None = None
) -> None:
    """Enter typed text in a cell, as one act; a blank text clears it.

    On a sprinkler head a name of the firm's list of nozzles enters all that stands there, else
    15H enters radius and arc. Raises RefusedError where the text is no value of
    this cell; the old value stays then.
    """
    on_nozzle = at.table == "head" and at.column in NOZZLE_COLUMNS
    listed = _listed_nozzle(open_job, text) if on_nozzle else None
    if listed is not None:
        _enter_listed(open_job, at, listed, seed)
        return
    nozzle = read_nozzle(text) if on_nozzle else None
    if nozzle is not None:
        _enter_nozzle(open_job, at, nozzle, seed)
        return
    try:
        value = from_text(fact_at(at), text, open_job.system)
    except ValueRefusedError as error:
        if on_nozzle and looks_like_nozzle(text):
            letters = ", ".join(ARCS_DEG)
            raise RefusedError(
                f"“{text.strip()}” is no nozzle: type radius in ft and one of {letters}, "
                f"such as {NOZZLE_EXAMPLE}."
            ) from error
        raise RefusedError(str(error)) from error
    enter(open_job, at, value, seed)


def _listed_nozzle(open_job: OpenJob, text: str) -> ListedNozzle | None:
    """The nozzle of the firm's list that was typed; a text without a letter is a quantity."""
    if not any(char.isalpha() for char in text):
        return None
    return find(nozzles_beside(open_job.book.path), text)


def _enter_listed(
    open_job: OpenJob, at: CellRef, nozzle: ListedNozzle, seed: Mapping[str, Value] | None
) -> None:
    """Enter the flow, the pressure it holds at, the arc and the radius of a listed nozzle."""
    values: dict[str, Value] = {
        "nozzle_gpm": nozzle.gpm,
        "rated_psi": nozzle.psi,
        "arc_deg": nozzle.arc_deg,
        "radius_ft": nozzle.radius_ft,
        "kind": nozzle.kind if nozzle.kind in HEAD_KINDS else None,
    }
    changes = [
        Put(at.table, at.row_id, column, value, dict(seed or {}))
        for column, value in values.items()
        if value is not None
    ]
    open_job.commit(changes, f"nozzle {nozzle.name}")


def _enter_nozzle(
    open_job: OpenJob, at: CellRef, nozzle: Nozzle, seed: Mapping[str, Value] | None
) -> None:
    """Enter the radius and the arc that a nozzle's shorthand says; its flow is read elsewhere."""
    values = {"radius_ft": nozzle.radius_ft, "arc_deg": nozzle.arc_deg}
    changes = [
        Put(at.table, at.row_id, column, value, dict(seed or {}))
        for column, value in values.items()
    ]
    open_job.commit(changes, f"nozzle {write_nozzle(nozzle)}")


def enter(
    open_job: OpenJob, at: CellRef, value: Value, seed: Mapping[str, Value] | None = None
) -> None:
    """Enter a value in a cell, as one act.

    Raises RefusedError on the cells of a sign-off, which only signing writes.
    """
    if at.table == "sign_off" or at.column in ("signed_by", "signed_at"):
        raise RefusedError("Only a sign-off writes here: sign with Space.")
    fact = fact_at(at)
    what = f"{fact.label.lower()} {shown(fact, value, open_job.system) or 'cleared'}"
    if fact.kind == "link":
        what = fact.label.lower()
    open_job.commit([Put(at.table, at.row_id, at.column, value, dict(seed or {}))], what)


def meant_by(fact: Fact, typed: str) -> str | None:
    """The choice of a fact that a typed text means, such as "1 1/4" for a size; None: no one."""
    try:
        value = from_text(fact, typed)
    except ValueRefusedError:
        return None
    return value if isinstance(value, str) else None


def turn_tick(
    open_job: OpenJob, at: CellRef, seed: Mapping[str, Value] | None = None
) -> bool | None:
    """Turn a tick from not looked at (None) to yes, then no, then round again; returns it."""
    now = value_at(open_job, at)
    value = True if now is None else False if now is True else None
    enter(open_job, at, value, seed)
    return value


def begun_by(typed: str, named: Iterable[tuple[str, _T]]) -> list[_T]:
    """The things whose name is what was typed; where there are none, whose name begins with it."""
    word, known = typed.strip().casefold(), list(named)
    same = [thing for name, thing in known if name.casefold() == word]
    return same or [thing for name, thing in known if name.casefold().startswith(word)]
