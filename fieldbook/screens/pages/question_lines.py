"""The lines of one question: what differs, each version with its key, what else may be done."""

from __future__ import annotations

from collections.abc import Iterator

from textual.content import Content
from textual.style import Style

from fieldbook.actions.conflicts.question import Option, Question
from fieldbook.actions.keymap import KeyWords
from fieldbook.languages.in_use import say, shown
from fieldbook.screens.pages.page import CAUTION, FAINT, title

_KEY = "$accent bold"
POINTED = "version"
"""The name under which a version's line holds its number, for a click on it."""
MOST_KEYS = 9
"""So many options have a key: 1 to 9."""


def question_lines(question: Question, width: int) -> Iterator[Content]:
    """A question for a width in cells; a line that is too long goes on under its own beginning."""
    yield from title(f"{shown(question.title)}, {shown(question.where)}").wrap(width)
    yield from Content(shown(question.explanation)).wrap(width)
    for number, option in enumerate(question.options[:MOST_KEYS], start=1):
        yield Content("")
        yield from _option(number, option, width)
    if question.notes:
        yield Content("")
    for note in question.notes:
        yield from hanging("-", Content.styled(shown(note), CAUTION), width)
    if question.typed:
        yield Content("")
        another = "type another value" if question.options else "type a value"
        yield from hanging("t", Content(say(another)), width)


def _option(number: int, option: Option, width: int) -> Iterator[Content]:
    lines = list(hanging(str(number), Content.styled(shown(option.words), "bold"), width))
    for line in option.by:
        lines += hanging("", Content.styled(shown(line), FAINT), width)
    pointed = Style.from_meta({POINTED: number})
    yield from (line.stylize(pointed) for line in lines)


def hanging(key: str, text: Content, width: int) -> Iterator[Content]:
    """A key and the text beside it; further lines of the text begin under its first."""
    for number, line in enumerate(text.wrap(max(width - 3, 1))):
        yield Content.assemble((f"{key if number == 0 else '':<3}", _KEY), line)


def question_keys(question: Question, count: int, *, chosen: bool) -> KeyWords:
    """The keys of a question, the most needed first.

    `count`: of so many questions. `chosen`: an answer was given here that Ctrl+Z takes back.
    """
    keys: list[tuple[str, str]] = []
    numbers = min(len(question.options), MOST_KEYS)
    if numbers:
        keys.append(("1" if numbers == 1 else f"1-{numbers}", "keep"))
    if question.typed:
        keys.append(("t", "type"))
    keys.append(("Esc", "back"))
    if chosen:
        keys.append(("Ctrl+Z", "undo"))
    if count > 1:
        keys.append(("Right", "next"))
    return keys
