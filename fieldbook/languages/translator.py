"""Finds the words of a language for a text that is shown.

A text is looked up whole, then as a template with what stands in its blanks, then by its lines, its
sentences and the parts of a list. What is found in none of these ways stays in English.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from functools import lru_cache

from fieldbook.languages.language_texts import Language, texts
from fieldbook.languages.template import Templates, filled

_DEEPEST = 9
"""How deep phrases stand in phrases, such as a zone's name in the name of its valve in a flag."""
_PARTS = tuple(map(re.compile, (r"\n+", r" \| ", r"(?<=[.!?]) +(?=[A-Z0-9“])", r"(?<=[:;]) ")))
"""Where a text is divided, the widest first: lines, columns, sentences, what follows a colon."""
_LIST = re.compile(r"(, | and |/)")
_AND = {"en": " and ", "es": " y "}
_NAMED = re.compile(r"\([^()]*\)|“[^”]*”")
"""What a person entered, as it stands in a sentence."""
_ENGLISH = re.compile(
    r"\b(the|is|are|of|and|at|to|with|for|from|not|was|were|its|it|by|that|has|have|which|signed)\b",
    re.IGNORECASE,
)
"""Words that are in nearly every English phrase, and in no Spanish one."""
_A_WORD = re.compile("[a-z]{3}")
_LONGEST = 400
"""Most characters that are compared with templates: a page of help is looked up by its lines."""
_MOST_COMPARED = 3_000
"""So many templates are compared for one text: a key must not wait for a sentence of no entry."""
_BRACKETS = re.compile(r"(.*\S) (\(.*\))")
"""A thing and its name, such as "zone 3 (front lawn)"."""
_QUOTED = re.compile("“(.*)”")
_UNITS = "gpm|psi|bar|kPa|ft|in|m|mm|ohm|V|VA|A|L/min|in/h|mm/h"
_BEGIN = re.compile(rf"([!?+=~✓◆┊▼▲◂-] )?(-?[0-9.]+ ({_UNITS}) )?")
"""What may stand before a phrase: a sign, and a figure with its unit, as in "+ 40 psi good"."""
_END = re.compile(r"[.:;!]$| [A-Z]{2}(/[A-Z]{2})?$")
"""What may stand behind a phrase that is an entry without it: also the letters of a colour."""


class Translator:
    """The words of one language; English gives every text back as it is.

    `entered` are texts that a person entered: they stay as they are in the blanks of a sentence,
    even where one is also a word of the program, as where a valve box is called "Controller".
    """

    def __init__(self, language: Language, entered: Collection[str] = ()) -> None:
        """Reads the catalogue of a language other than English, once for the whole program."""
        self.language: Language = language
        self._texts = texts(language)
        self._templates = _templates(language)
        self._entered = frozenset(entered)
        self._found = lru_cache(maxsize=4096)(self._look_up)
        self._inner: dict[str, str | None] = {}
        """What was found of the phrases inside the text that is looked up now."""
        self._left = 0
        """How many templates may yet be compared for it."""

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

    def _look_up(self, text: str) -> str | None:
        """The text in this language, found within so many comparisons."""
        self._inner.clear()
        self._left = _MOST_COMPARED
        return self._find(text)

    def _find(self, text: str, depth: int = 0) -> str | None:
        """The text in this language; None where it is not found."""
        core = text.strip()
        if core in self._entered or not any(map(str.isalpha, core)) or depth > _DEEPEST:
            return None
        # A blank must not swallow the next sentence while the sentences can be found one by one.
        found = (
            self._whole(core, depth, several=False)
            or self._in_parts(core, depth)
            or self._whole(core, depth, several=True)
            or self._without_ends(core, depth)
        )
        if found is None:
            return None
        begins = text.index(core)
        return text[:begins] + found + text[begins + len(core) :]

    def _whole(self, text: str, depth: int, *, several: bool) -> str | None:
        """The text as an entry or a template, also where only its first letter is a capital.

        `several`: what stands in a blank may be several sentences.
        """
        found = self._texts.get(text) or self._by_template(text, depth, several=several)
        lower = text[:1].lower() + text[1:]
        if found or lower == text:
            return found
        found = self._texts.get(lower) or self._by_template(lower, depth, several=several)
        return found[:1].upper() + found[1:] if found else None

    def _by_template(self, text: str, depth: int, *, several: bool) -> str | None:
        """The text by a template that fits, and of whose blanks each is understood."""
        if len(text) > _LONGEST or self._templates is None:
            return None
        for template in self._templates.that_may_fit(text):
            if self._left <= 0:
                return None
            self._left -= 1
            values = template.fits(text)
            if values is None or not (several or all(map(_is_one, values.values()))):
                continue
            found = {name: self._understood(values[name], depth) for name in template.used}
            said = {name: found[name] or values[name] for name in found}
            known = all(found.values()) or not template.is_weak
            if known and not any(map(self._is_english, said.values())):
                return filled(template.other, said)
        return None

    def _understood(self, value: str, depth: int) -> str | None:
        """What stands in a blank, in this language; None for what is neither ours nor a name."""
        if value in self._entered or not _A_WORD.search(value) or value.endswith("..."):
            return value
        return self._inside(value, depth)

    def _is_english(self, said: str) -> bool:
        """Whether English of ours is left in a blank: then another template is meant."""
        if said in self._entered or said.endswith("..."):
            return False
        return _ENGLISH.search(_NAMED.sub("", said)) is not None

    def _phrase(self, value: str, depth: int) -> str:
        return value if value in self._entered else self._inside(value, depth) or value

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
        parts = _LIST.split(text)
        if len(parts) < 3:
            return None
        said: list[str] = []
        for index, part in enumerate(parts):
            if index % 2:
                said.append(part.replace(_AND["en"], _AND[self.language]))
            elif part in self._entered or not _A_WORD.search(part):
                said.append(part)
            elif (found := self._texts.get(part) or self._find(part, depth + 1)) is not None:
                said.append(found)
            else:
                return None
        return "".join(said)

    def _without_ends(self, text: str, depth: int) -> str | None:
        """The text without a name in brackets, quotes, a sign before it or a point behind it."""
        if quoted := _QUOTED.fullmatch(text):
            found = self._inside(quoted[1], depth)
            return found and f"“{found}”"
        if (held := _BRACKETS.fullmatch(text)) and (found := self._inside(held[1], depth)):
            inside = self._phrase(held[2][1:-1], depth)
            return f"{found} ({inside})"
        begun = _BEGIN.match(text)
        if begun and begun.end() and (found := self._inside(text[begun.end() :], depth)):
            return begun[0] + found
        end = _END.search(text)
        if end and end.start() and (found := self._inside(text[: end.start()], depth)):
            return found + end[0]
        return None

    def _inside(self, text: str, depth: int) -> str | None:
        """A phrase in a blank or a part. Many blanks hold the same one, each in many templates."""
        if text not in self._inner:
            self._inner[text] = self._texts.get(text) or self._find(text, depth + 1)
        return self._inner[text]


def _is_one(value: str) -> bool:
    """Whether a text in a blank is no more than one sentence."""
    return not any(between.search(value) for between in _PARTS[:3])


@lru_cache
def _templates(language: Language) -> Templates | None:
    if language == "en":
        return None
    entries = list(texts(language).items())
    # A paper may have filled a blank of its own sentence with what is English until it is printed.
    return Templates([*entries, *((other, other) for _, other in entries)])
