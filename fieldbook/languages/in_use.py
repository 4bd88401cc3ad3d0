"""The language in which the app is shown: one setting for the whole program, as its keys are."""

from __future__ import annotations

from collections.abc import Collection

from fieldbook.languages.language_texts import Language
from fieldbook.languages.translator import Translator

_in_use = Translator("en")


def use_language(language: Language, entered: Collection[str] = ()) -> None:
    """Show everything in this language from now on; `entered` is text to leave as it is."""
    global _in_use  # noqa: PLW0603 - one setting for the whole program
    _in_use = Translator(language, entered)


def language_in_use() -> Language:
    """The language in which the app is shown."""
    return _in_use.language


def say(text: str) -> str:
    """A text of ours in the language in use."""
    return _in_use.say(text)
