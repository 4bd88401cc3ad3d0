"""The language in which the app is shown: one setting for the whole program, as its keys are."""

from __future__ import annotations

from collections.abc import Collection

from fieldbook.languages.language_texts import LANGUAGES, Language
from fieldbook.languages.translator import Translator

_in_use = Translator("en")


def use_language(language: Language) -> None:
    """Show everything in this language from now on."""
    global _in_use  # noqa: PLW0603 - one setting for the whole program
    if language != _in_use.language:
        _in_use = Translator(language)


def language_in_use() -> Language:
    """The language in which the app is shown."""
    return _in_use.language


def language_after() -> Language:
    """The language that comes after the one in use; after the last the first."""
    return LANGUAGES[(LANGUAGES.index(_in_use.language) + 1) % len(LANGUAGES)]


def keep_as_entered(texts: Collection[str]) -> None:
    """Show these texts, which people entered, as they are."""
    _in_use.keep_as_entered(texts)


def say(text: str) -> str:
    """A text of ours in the language in use."""
    return _in_use.say(text)


def shown(text: str) -> str:
    """A text of ours in the language in use; one that a person entered stays as it is."""
    return _in_use.shown(text)
