"""Finds the words of a language for a text that is shown.

A text is looked up whole, then as a template with what stands in its blanks, then by its sentences
and by the parts of a list. What is found in none of these ways stays in English.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from functools import lru_cache

from fieldbook.languages.language_texts import Language, texts
from fieldbook.languages.template import Template, blanks_of, filled

_DEEPEST = 5
"""How deep phrases stand in phrases, such as a zone's name in the name of its valve in a flag."""
_PARTS = tuple(map(re.compile, (r"\n+", r" \| ", r"(?<=[.!?]) +(?=[A-Z0-9“])", r"(?<=[:;]) ")))
"""Where a text is divided, the widest first: lines, columns, sentences, what follows a colon."""
_LONGEST = 400
"""Most characters that are compared with templates: a page of help is looked up by its lines."""
_BEGIN = re.compile(r"([!?+=~-] )?(-?[0-9.]+ [A-Za-z/]{2,5} )?")
"""What may stand before a phrase: a sign, and a figure with its unit, as in "+ 40 psi good"."""
_END = re.compile(r"[.:;!]$| [A-Z]{2}(/[A-Z]{2})?$")
"""What may stand behind a phrase that is an entry without it: also the letters of a colour."""
_AND = {"en": " and ", "es": " y "}


class Translator:
    """The words of one language; English gives every text back as it is.

    `entered` are texts that a person entered: they stay as they are in the blanks of a sentence,
    even where one is also a word of the program, as where a valve box is called "Controller".
    """

    def __init__(self, language: Language, entered: Collection[str] = ()) -> None:
        """Reads the catalogue of a language other than English, once for the whole program."""
        self.language: Language = language
        self._texts = texts(language)
        self._entered = frozenset(entered)
        self._found = lru_cache(maxsize=4096)(self._find)

    def keep_as_entered(self, texts: Collection[str]) -> None:
        """Take these for the texts that a person entered, in place of those before."""
        before, self._entered = self._entered, frozenset(texts)
        # What was found of other texts stays right, so that a key press looks nothing up again.
        if any(text in self._texts for text in self._entered ^ before):
            self._found.cache_clear()

    def shown(self, text: str) -> str:
        """A text of ours, or one that a person entered, which stays as it is."""
        return text if text in self._entered else self.say(text)

    def say(self, text: str) -> str:
        """A text of ours in this language; what is not in the catalogue stays as it is."""
        if self.language == "en" or not text:
            return text
        return self._texts.get(text) or self._found(text) or text

    def knows(self, text: str) -> bool:
        """Whether the text is found in any way."""
        return self.language == "en" or text in self._texts or self._found(text) is not None

    def _find(self, text: str, depth: int = 0) -> str | None:
        """The text in this language; None where it is not found."""
        if text in self._entered or not any(map(str.isalpha, text)) or depth > _DEEPEST:
            return None
        core = text.strip()
        # A blank must not swallow the next sentence while the sentences can be found one by one.
        found = (
            self._whole(core, depth, several=False)
            or self._in_parts(core, depth)
            or self._whole(core, depth, several=True)
        )
        if found is None and (begun := _BEGIN.match(core)) and begun.end():
            found = self._find(core[begun.end() :], depth + 1)
            found = found and begun[0] + found
        if found is None and (end := _END.search(core)) and end.start():
            found = self._find(core[: end.start()], depth + 1)
            found = found and found + end[0]
        if found is None:
            return None
        begins = text.index(core)
        return text[:begins] + found + text[begins + len(core) :]

    def _whole(self, text: str, depth: int, *, several: bool) -> str | None:
        """The text as an entry or a template, also where only its first letter is a capital.

        `several`: what stands in a blank may be several sentences.
        """
        found = self._texts.get(text) or self._template(text, depth, several=several)
        lower = text[:1].lower() + text[1:]
        if found or lower == text:
            return found
        found = self._texts.get(lower) or self._template(lower, depth, several=several)
        return found[:1].upper() + found[1:] if found else None

    def _template(self, text: str, depth: int, *, several: bool) -> str | None:
        for template in _templates(self.language) if len(text) <= _LONGEST else ():
            values = template.fits(text)
            if values is None or not (several or all(map(_is_one, values.values()))):
                continue
            said = {name: self._phrase(value, depth) for name, value in values.items()}
            return filled(template.other, said)
        return None

    def _phrase(self, value: str, depth: int) -> str:
        if value in self._entered:
            return value
        return self._texts.get(value, "") or self._find(value, depth + 1) or value

    def _in_parts(self, text: str, depth: int) -> str | None:
        """Lines or sentences one by one, or a list of which every part is known."""
        for between in _PARTS:
            parts, gaps = between.split(text), between.findall(text)
            if gaps:
                said = [self._phrase(part, depth - 1) for part in parts]
                whole = "".join(part + gap for part, gap in zip(said, [*gaps, ""], strict=True))
                return whole if said != parts else None
        return self._list(text, depth)

    def _list(self, text: str, depth: int) -> str | None:
        """A list such as "a, b and c", or "red/black", where each part is known or was entered."""
        parts = re.split(r"(, | and |/)", text)
        if len(parts) < 3:
            return None
        said: list[str] = []
        for index, part in enumerate(parts):
            if index % 2:
                said.append(part.replace(_AND["en"], _AND[self.language]))
            elif part in self._entered or not any(map(str.isalpha, part)):
                said.append(part)
            elif (found := self._texts.get(part) or self._find(part, depth + 1)) is not None:
                said.append(found)
            else:
                return None
        return "".join(said)


def _is_one(value: str) -> bool:
    """Whether a text in a blank is no more than one sentence."""
    return not any(between.search(value) for between in _PARTS[:3])


@lru_cache
def _templates(language: Language) -> tuple[Template, ...]:
    """The entries with blanks, those that give most first."""
    made = (Template(*pair) for pair in _with_blanks(texts(language)))
    return tuple(sorted((one for one in made if one.tells), key=lambda one: -one.weight))


def _with_blanks(entries: Mapping[str, str]) -> list[tuple[str, str]]:
    return [pair for pair in entries.items() if blanks_of(pair[0])]
