"""The rules of the set chosen for a job, kept with it, so that it is the same on every laptop."""

from __future__ import annotations

from typing import Annotated, ClassVar

from fieldbook.records.base import Record
from fieldbook.records.fact import hidden


class RuleRow(Record, table=True):
    """One rule: its key, its value as text, where it comes from."""

    __tablename__ = "rule"
    title: ClassVar[str] = "rule"

    key: Annotated[str, hidden("Rule")] = ""
    value: Annotated[str, hidden("Value")] = ""
    source: Annotated[str, hidden("Source")] = ""
    set_name: Annotated[str, hidden("Rule set")] = ""
