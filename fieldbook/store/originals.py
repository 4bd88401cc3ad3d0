"""Who said first what undo, or keeping a row, only said again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from fieldbook.store.journal.entry import ADD, DELETED, Sealed

Known = Mapping[str, Sealed]
"""The entries of one row by their ids."""


def originals(known: Known, entries: Iterable[Sealed], column: str) -> list[Sealed]:
    """These entries, each that only says again what was said of the column replaced by those."""
    found: dict[str, Sealed] = {}
    for entry in entries:
        told = _said_before(known, entry, column) if is_again(known, entry) else []
        for one in originals(known, told, column) if told else [entry]:
            found.setdefault(one.id, one)
    return list(found.values())


def is_again(known: Known, entry: Sealed) -> bool:
    """Whether it is one of several that an act sealed beside each other."""
    return any(
        one.act == entry.act
        and one.parents == entry.parents
        and one.id != entry.id
        and (one.op == entry.op or {one.op, entry.op} == {ADD, DELETED})
        for one in known.values()
    )


def _said_before(known: Known, entry: Sealed, column: str) -> list[Sealed]:
    """The nearest before its act, and before the act it undid, that say the same; latest first."""
    acts = {entry.act, entry.target} - {""}
    left, seen, found = list(entry.parents), set[str](), []
    while left:
        one = known.get(left.pop())
        if one is None or one.id in seen:
            continue
        seen.add(one.id)
        if {one.act, one.target} & acts:
            left.extend(one.parents)
        elif _same(one, entry, column):
            found.append(one)
    return sorted(found, key=lambda one: one.age, reverse=True)


def _same(one: Sealed, entry: Sealed, column: str) -> bool:
    if DELETED in (one.op, entry.op):
        return one.op == entry.op
    return one.op in (ADD, column) and one.said(column) == entry.said(column)
