"""A section of a sheet that lists rows of one kind, with the line that adds one."""

from __future__ import annotations

from collections.abc import Sequence

from fieldbook.records.base import Record, facts_of
from fieldbook.screens.sheets.sheet import CellMaker, Row, Section, add_row
from fieldbook.units import System


def table_section(
    held: Sequence[Record],
    record: type[Record],
    system: System,
    title: str,
    columns: Sequence[tuple[str, int]],
    word: str,
) -> Section:
    """Rows of one kind under each other, and the line that adds one."""
    table = record.__tablename__
    assert isinstance(table, str)
    rows: list[Row] = []
    for one in held:
        make = CellMaker(record, table, one.id, one, system)
        cells = tuple(make.cell(column, width) for column, width in columns)
        rows.append(Row(str(len(rows) + 1), cells, removable=(table, one.id)))
    article = "an" if word[0] in "aeiou" else "a"
    rows.append(add_row(f"add {word}", table, None, f"+ {article} {word}"))
    facts = facts_of(record)
    return Section(title, tuple(rows), tuple(facts[c].label for c, _ in columns), label_width=4)
