"""A sentence with blanks, such as "Zone {number} takes {flow}", which also finds its blanks again.

What a check or an action says is made of such a sentence before it reaches a screen. So that the
sentence can be shown in another language, it is compared with the templates of the catalogue.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

_BLANK = re.compile(r"\{(\w+)\}")
_LEAST_LETTERS = 2
"""A template with fewer letters outside its blanks would fit nearly every text."""


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
    def literal(self) -> str:
        """The longest part between blanks: a text without it can't fit."""
        return max(_BLANK.split(self.english)[::2], key=len)

    @cached_property
    def weight(self) -> int:
        """How many characters are given: of two templates that fit, more is meant by the longer."""
        return sum(map(len, _BLANK.split(self.english)[::2]))

    @property
    def tells(self) -> bool:
        """Whether enough is given that a text which fits is meant by it."""
        letters = sum(map(str.isalpha, "".join(_BLANK.split(self.english)[::2])))
        return letters >= _LEAST_LETTERS

    @cached_property
    def _pattern(self) -> re.Pattern[str]:
        parts = _BLANK.split(self.english)
        seen: set[str] = set()
        pattern = ""
        for index, part in enumerate(parts):
            if index % 2 == 0:
                pattern += re.escape(part)
            else:
                # A blank that stands twice holds the same text both times.
                pattern += f"(?P={part})" if part in seen else f"(?P<{part}>.*?)"
                seen.add(part)
        return re.compile(pattern, re.DOTALL)

    def fits(self, text: str) -> Mapping[str, str] | None:
        """What stands in each blank, where the text is this sentence; else None."""
        if self.literal not in text:
            return None
        found = self._pattern.fullmatch(text)
        return found.groupdict() if found is not None else None
