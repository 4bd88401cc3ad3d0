"""The language in which the app is shown: one setting for the whole program, as its keys are."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from fieldbook.languages.language_texts import LANGUAGES, Language
from fieldbook.languages.translator import Translator

_in_use = Translator("en")
_speaking: ContextVar[Translator | None] = ContextVar("speaking", default=None)
"""The language of a paper that is being made: of the thread that makes it alone."""


def use_language(language: Language) -> None:
    """Show everything in this language from now on."""
    global _in_use  # noqa: PLW0603 - one setting for the whole program
    if language != _in_use.language:
        _in_use = Translator(language)


def language_in_use() -> Language:
    """The language in which the app is shown."""
    return _in_use.language


@contextmanager
def speaking(language: Language, entered: Collection[str]) -> Iterator[Translator]:
    """Use another language until the block ends, as for a paper and the pictures on it."""
    token = _speaking.set(Translator(language, entered))
    try:
        yield _words()
    finally:
        _speaking.reset(token)


def _words() -> Translator:
    return _speaking.get() or _in_use


def language_after() -> Language:
    """The language that comes after the one in use; after the last the first."""
    return LANGUAGES[(LANGUAGES.index(_in_use.language) + 1) % len(LANGUAGES)]


def keep_as_entered(texts: Collection[str]) -> None:
    """Show these texts, which people entered, as they are."""
    _in_use.keep_as_entered(texts)


def say(text: str) -> str:
    """A text of ours in the language in use."""
    return _words().say(text)


def shown(text: str) -> str:
    """A text of ours in the language in use; one that a person entered stays as it is."""
    return _words().shown(text)
