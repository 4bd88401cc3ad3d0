"""The few words that printing itself puts on a page, in the language of the paper."""

from __future__ import annotations

from collections.abc import Mapping

from fieldbook.languages.language_texts import Language
from fieldbook.languages.translator import Translator

WORDS: Mapping[str, str] = {
    "caution": "Caution",
    "ticked": "done",
    "open": "to do",
    "code": "QR code",
    "date": "date",
}


def printed_words(language: Language) -> Mapping[str, str]:
    """The words by what they are for."""
    say = Translator(language).say
    return {what: say(word) for what, word in WORDS.items()}
