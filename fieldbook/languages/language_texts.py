"""The catalogues of texts, one file a language beside this one; English needs none."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Literal, get_args

Language = Literal["en", "es"]
LANGUAGES: tuple[Language, ...] = get_args(Language)
LANGUAGE_VARIABLE = "FIELDBOOK_LANGUAGE"
"""The environment variable that names the language where no option does."""
NAMES: Mapping[Language, str] = {"en": "English", "es": "Español"}
"""What each language calls itself."""


def language_named(word: str) -> Language | None:
    """The language of a code such as "es", "ES" or "es_MX.UTF-8"; None for any other text."""
    code = word.strip().casefold().replace("-", "_").split("_")[0].split(".")[0]
    return next((language for language in LANGUAGES if language == code), None)


def catalogue_path(language: Language) -> Path:
    """The file of a language; there is none of English."""
    return Path(__file__).with_name(f"{language}.po")


@cache
def texts(language: Language) -> Mapping[str, str]:
    """The text of a language by the English text; empty for English."""
    if language == "en":
        return {}
    # Imported here: a start in English reads no catalogue.
    import polib  # noqa: PLC0415

    entries = polib.pofile(str(catalogue_path(language)), encoding="utf-8")
    return {entry.msgid: entry.msgstr for entry in entries if entry.msgstr}
