"""The answers of every check: what is wrong, what was not checked, what is not due, what is sound.

Only what was looked at and found good is called sound. What lacks an entry is not checked; before
its work has begun it is not due, so that a crew isn't asked for what it can't know yet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, get_args

from fieldbook.checks.finding import Finding, Missing
from fieldbook.checks.looked import STAGES, Looked, Stage

_NAMED = 3
"""How many missing entries a headline names."""

Word = Literal["wrong", "not checked", "sound", "not due"]
WORDS: tuple[Word, ...] = get_args(Word)


@dataclass(frozen=True)
class Answer:
    """What one check says of one thing.

    `check` is the check's name, `thing` what it looked at in words ("" where flags stand on nothing
    that it looked at). `flags` may be notes though the thing is sound or not checked. `missing` is
    what it lacks, each with its cell.
    """

    check: str
    thing: str
    word: Word
    flags: tuple[Finding, ...] = ()
    missing: tuple[Missing, ...] = ()


@dataclass(frozen=True)
class Verdicts:
    """Every answer for a job, in the order of the checks, and its flags, the worst first."""

    answers: tuple[Answer, ...]
    flags: tuple[Finding, ...]

    def of(self, word: Word) -> tuple[Answer, ...]:
        """The answers with this word."""
        return tuple(answer for answer in self.answers if answer.word == word)

    @property
    def open_count(self) -> int:
        """How many things are due and lack an entry."""
        return len(self.not_checked)

    @property
    def headline(self) -> str:
        """One sentence where nothing is wrong: what is open, named first; never more than is so."""
        missing = list(dict.fromkeys(a.missing[0].words for a in self.not_checked))
        if missing:
            more = f" and {len(missing) - _NAMED} more" if len(missing) > _NAMED else ""
            words = (
                "1 check is open" if self.open_count == 1 else f"{self.open_count} checks are open"
            )
            return f"{words}: {', '.join(missing[:_NAMED])}{more}."
        sound, later = len(self.of("sound")), len(self.of("not due"))
        if not sound:
            return "Nothing is checked yet."
        due = f"The {sound} things due so far are checked and sound"
        if sound == 1:
            due = "The one thing due so far is checked and sound"
        if not later:
            return f"{due}."
        return f"{due}; {later} {'is' if later == 1 else 'are'} not due yet."

    @property
    def not_checked(self) -> tuple[Answer, ...]:
        """What is due and lacks an entry, in the order of the work."""
        return self.of("not checked")


def answers(
    check: str, due: Stage, reached: Stage, seen: Sequence[Finding | Looked]
) -> Sequence[Answer]:
    """What a check yielded, as one answer a thing. A flag on nothing it looked at is wrong too.

    Notes alone on nothing it looked at are shown among the flags, and are no answer.
    """
    flags = [one for one in seen if isinstance(one, Finding)]
    found = []
    left = list(flags)
    for thing in seen:
        if isinstance(thing, Looked):
            own = tuple(flag for flag in flags if thing.covers(flag.at))
            left = [flag for flag in left if flag not in own]
            is_due = STAGES.index(thing.due or due) <= STAGES.index(reached)
            found.append(_answer(check, thing, own, is_due=is_due))
    if any(flag.severity != "note" for flag in left):
        found.append(Answer(check, "", "wrong", tuple(left)))
    return found


def _answer(check: str, thing: Looked, flags: tuple[Finding, ...], *, is_due: bool) -> Answer:
    """A stop or a fix makes a thing wrong; a note does not, and does not make it sound either."""
    word: Word = "sound"
    if any(flag.severity != "note" for flag in flags):
        word = "wrong"
    elif thing.missing:
        word = "not checked" if is_due else "not due"
    return Answer(check, thing.name, word, flags, thing.missing)
