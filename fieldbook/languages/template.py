"""A sentence with blanks, such as "Zone {number} takes {flow}", which also finds its blanks again.

What a check or an action says is made of such a sentence before it reaches a screen. So that the
sentence can be shown in another language, it is compared with the templates of the catalogue.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from heapq import merge

_BLANK = re.compile(r"\{(\w+)\}")
_LEAST_LETTERS = 2
"""A template with fewer letters outside its blanks would fit nearly every text."""
_WEAK = 12
"""A template with fewer letters is meant only where what stands in its blanks is understood."""


def blanks_of(text: str) -> list[str]:
    """The names of the blanks, in the order in which they stand."""
    return _BLANK.findall(text)


def filled(text: str, values: Mapping[str, str]) -> str:
    """The text with its blanks filled in; a blank without a value stays as it is."""
    return _BLANK.sub(lambda found: values.get(found[1], found[0]), text)


@dataclass(frozen=True)
class Template:
    """An English sentence with blanks, and the same in another language."""

    english: str
    other: str

    @cached_property
    def _given(self) -> list[str]:
        """What stands before, between and behind the blanks."""
        return _BLANK.split(self.english)[::2]

    @property
    def word(self) -> str:
        """Its first word as "^word", else its last as "word$"; "" where it has neither."""
        begins, ends = self._given[0], self._given[-1]
        if " " in begins:
            return f"^{begins.split(' ')[0]}"
        return f"{ends.rsplit(' ', 1)[-1]}$" if " " in ends else ""

    @cached_property
    def used(self) -> frozenset[str]:
        """The blanks that the other language has too: a verb may be put otherwise there."""
        return frozenset(blanks_of(self.other))

    @cached_property
    def letters(self) -> int:
        """How many letters are given: of two templates that fit, the one with more is meant."""
        return sum(map(str.isalpha, "".join(self._given)))

    @property
    def is_weak(self) -> bool:
        """Whether so little is given that a text may fit by chance."""
        return self.letters < _WEAK

    @cached_property
    def _pattern(self) -> re.Pattern[str]:
        seen: set[str] = set()
        pattern = ""
        for index, part in enumerate(_BLANK.split(self.english)):
            if index % 2 == 0:
                pattern += re.escape(part)
            else:
                # A blank that stands twice holds the same text both times.
                pattern += f"(?P={part})" if part in seen else f"(?P<{part}>.*?)"
                seen.add(part)
        return re.compile(pattern, re.DOTALL)

    def fits(self, text: str) -> Mapping[str, str] | None:
        """What stands in each blank, where the text is this sentence; else None."""
        given = self._given
        # Most templates are told apart by their ends, which is far quicker than by a pattern.
        if not (text.startswith(given[0]) and text.endswith(given[-1])):
            return None
        if any(part not in text for part in given[1:-1]):
            return None
        found = self._pattern.fullmatch(text)
        return found.groupdict() if found is not None else None


class Templates:
    """All templates of a language, by the word that they begin or end with."""

    def __init__(self, entries: Iterable[tuple[str, str]]) -> None:
        """`entries` are texts with what they are in the other language, with blanks or without."""
        made = [Template(*pair) for pair in entries if blanks_of(pair[0])]
        self._by_word: dict[str, list[Template]] = {}
        for template in sorted(made, key=lambda one: -one.letters):
            if template.letters >= _LEAST_LETTERS:
                self._by_word.setdefault(template.word, []).append(template)

    def that_may_fit(self, text: str) -> Iterator[Template]:
        """The templates that begin or end as the text does, those that give most first."""
        words = dict.fromkeys(("", f"^{text.split(' ', 1)[0]}", f"{text.rsplit(' ', 1)[-1]}$"))
        return merge(*(self._by_word.get(word, ()) for word in words), key=lambda one: -one.letters)
