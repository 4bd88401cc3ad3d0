"""Other properties that bear on one: with the same address, or joined with it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Neighbour:
    """Another property of the book, as the checks of one property need it.

    `by` and `at` say who added it and when. `signed` is whether it has sign-offs. `later` is how
    many entries it has that were not there when it was joined with this one; 0 for a property that
    only has the same address.
    """

    job_id: str
    address: str
    customer: str
    by: str
    at: str
    signed: bool
    later: int = 0


def joined_text(job_id: str, entries: int) -> str:
    """What the property that is given up keeps: with which it was joined, and how much of it."""
    return f"{job_id} {entries}"


def joined_parts(text: str | None) -> tuple[str, int]:
    """The id and the count of `joined_text`; ("", 0) where there is none."""
    job_id, _, count = (text or "").partition(" ")
    return job_id, int(count) if count.isascii() and count.isdigit() else 0
