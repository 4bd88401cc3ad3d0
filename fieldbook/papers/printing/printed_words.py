"""The few words that printing itself puts on a page, in the language of the paper."""

from __future__ import annotations

from collections.abc import Mapping

_WORDS: Mapping[str, Mapping[str, str]] = {
    "en": {
        "caution": "Caution",
        "ticked": "done",
        "open": "to do",
        "code": "QR code",
        "date": "date",
    },
    "es": {
        "caution": "Precaución",
        "ticked": "hecho",
        "open": "por hacer",
        "code": "código QR",
        "date": "fecha",
    },
}


def printed_words(language: str) -> Mapping[str, str]:
    """The words by what they are for; English for a language that is not known."""
    return _WORDS.get(language, _WORDS["en"])
