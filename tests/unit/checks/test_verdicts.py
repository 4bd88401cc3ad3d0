"""What a check yielded, as answers: one a thing, and one for flags on nothing it looked at."""

from __future__ import annotations

from fieldbook.checks.finding import CellRef, Finding
from fieldbook.checks.looked import Looked
from fieldbook.checks.severity import Severity
from fieldbook.checks.verdicts import answers

AT = CellRef("visit", "v", "done")
ZONE = Looked("zone 1", frozenset({"z"}))


def flag(severity: Severity) -> Finding:
    return Finding("a check", severity, "It is so.", "Do this.", AT)


def words(*seen: Finding | Looked) -> list[tuple[str, str]]:
    return [(one.thing, one.word) for one in answers("a check", "dig", "dig", seen)]


def test_a_note_on_nothing_looked_at_is_no_answer() -> None:
    assert words(ZONE, flag("note")) == [("zone 1", "sound")]


def test_a_fix_or_a_stop_on_nothing_looked_at_is_wrong() -> None:
    wanted = [("zone 1", "sound"), ("", "wrong")]
    assert words(ZONE, flag("note"), flag("fix")) == wanted
    assert words(ZONE, flag("stop")) == wanted
