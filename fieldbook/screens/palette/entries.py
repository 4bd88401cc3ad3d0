"""A line of the palette: what it is called, what it does, and how well it matches what is typed."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from fieldbook.actions.keymap import Action, key_name
from fieldbook.languages.in_use import shown

_WHOLE, _BEGINS, _WORD_BEGINS, _INSIDE = 1.0, 0.9, 0.8, 0.7
_LESS_IF_NOT_NOW = 0.05
_LESS_PER_CHARACTER = 0.0005


@dataclass(frozen=True)
class Entry:
    """One line: `label` is found by typing part of it, `about` stands under it.

    `not_now` says why an action can't be done; it is empty for whatever can. Choosing such a line
    runs it all the same, which refuses it with the same sentence. `key` is the key that does it
    without the palette.
    """

    label: str
    about: str
    run: Callable[[], object]
    not_now: str = ""
    key: str = ""

    @property
    def said(self) -> Entry:
        """The entry in the language in use: it is found by its words there."""
        label, about, not_now = map(shown, (self.label, self.about, self.not_now))
        return replace(self, label=label, about=about, not_now=not_now)


def score(typed: str, entry: Entry) -> float:
    """How well an entry matches, 0 to 1; 0 where a typed word is not in its label.

    A label that begins with what is typed comes before one with the words somewhere inside, a short
    one before a long one, and what can be done now before what can't.
    """
    words, label = typed.casefold().split(), entry.label.casefold()
    if not words or any(word not in label for word in words):
        return 0.0
    whole = " ".join(words)
    if label == whole:
        found = _WHOLE
    elif label.startswith(whole):
        found = _BEGINS
    elif all(_begins_a_word(word, label) for word in words):
        found = _WORD_BEGINS
    else:
        found = _INSIDE
    less = _LESS_PER_CHARACTER * min(len(label), 80) + (_LESS_IF_NOT_NOW if entry.not_now else 0)
    return found - less


def entries_of_actions(
    actions: Iterable[Action], why_not: Callable[[str], str], do: Callable[[str], object]
) -> list[Entry]:
    """An entry for each action; `why_not` gives the sentence that refuses it now, or nothing."""
    return [_of_action(action, why_not(action.name), do) for action in actions]


def _of_action(action: Action, not_now: str, do: Callable[[str], object]) -> Entry:
    key = key_name(action.keys[0]) if action.keys else ""
    return Entry(action.label, action.help, lambda: do(action.name), not_now, key)


def _begins_a_word(word: str, label: str) -> bool:
    return label.startswith(word) or f" {word}" in label
