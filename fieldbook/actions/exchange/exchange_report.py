"""What an exchange with other laptops did, as counts and as the sentences a crew reads."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

_MOST_NAMED = 5
ShowProgress = Callable[[int, int], None]
"""Called with how much is done, and of how much."""


@dataclass(frozen=True)
class ExchangeReport:
    """How many entries and attached files were received and sent, and what to tell the person.

    `waiting` counts entries whose parents have not arrived, `refused` has a sentence for each file
    that was not accepted, `in_conflict` the addresses of properties that are in conflict.
    `unsigned` and `wrongly_signed` count received entries of which nothing proves who made them.
    """

    received: int
    sent: int
    waiting: int
    files_received: int
    files_sent: int
    refused: tuple[str, ...] = ()
    in_conflict: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    unsigned: int = 0
    wrongly_signed: int = 0

    def sentences(self) -> list[str]:
        """What was received, sent and is waiting, and which properties are in conflict."""
        parts = [f"{counted(self.received, 'entry', 'entries')} came"]
        if self.sent or not self.received:
            parts.append(f"{self.sent} went")
        if self.files_received or self.files_sent:
            parts.append(f"attached files: {self.files_received} came, {self.files_sent} went")
        found = [f"{', '.join(parts)}."]
        if self.unsigned:
            found.append(f"Unsigned: {counted(self.unsigned, 'entry', 'entries')} of these.")
        if self.wrongly_signed:
            wrong = counted(self.wrongly_signed, "entry", "entries")
            found.append(f"Wrongly signed: {wrong} of these.")
        if self.waiting:
            verb = "waits" if self.waiting == 1 else "wait"
            found.append(f"{counted(self.waiting, 'entry', 'entries')} {verb} for others to come.")
        if self.in_conflict:
            more = len(self.in_conflict) - _MOST_NAMED
            rest = f" and {more} more" if more > 0 else ""
            named = ", ".join(self.in_conflict[:_MOST_NAMED])
            found.append(f"Laptops differ on {named}{rest}: F6 there settles it.")
        return found


def counted(count: int, singular: str, plural: str) -> str:
    """A count with its noun, such as "1 entry" or "4 entries"."""
    return f"{count} {singular if count == 1 else plural}"
