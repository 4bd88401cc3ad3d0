"""One thing done: its changes are kept, sealed and undone together."""

from __future__ import annotations

from dataclasses import dataclass, field

from fieldbook.records.base import new_id, now


@dataclass
class Act:
    """Who did what on which job.

    `kind` is do, undo, redo or other (nothing to undo), `target` the act undone or put back.
    """

    job_id: str
    by: str
    what: str
    kind: str = "do"
    target: str = ""
    group_id: str = field(default_factory=new_id)
    at: str = field(default_factory=now)


def another_program() -> Act:
    """What was written past fieldbook and is sealed as nobody's."""
    return Act("", "", "written by another program", "other")
