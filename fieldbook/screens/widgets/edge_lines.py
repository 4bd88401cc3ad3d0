"""The first and the last line of a screen: what is open, and the keys for what is in focus."""

from __future__ import annotations

from rich.cells import cell_len
from textual import events
from textual.content import Content
from textual.widgets import Static

from fieldbook.actions.keymap import KeyWords, in_keys_in_use, key_named
from fieldbook.languages.in_use import say
from fieldbook.screens.widgets.terminal_cells import fit


class TitleLine(Static):
    """A text on the left, cut where both don't fit, and whose entries are made on the right."""

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__(id="title", markup=False)
        self._left = self._right = ""

    def on_click(self) -> None:
        """A click opens the palette, so that the mouse reaches every action."""
        self.app.action_command_palette()

    def show(self, left: str, right: str) -> None:
        """Show these texts literally."""
        self._left, self._right = left, right
        self._fill()

    def on_resize(self) -> None:
        """Fit the texts to the new width."""
        self._fill()

    def _fill(self) -> None:
        # The size is 0 before the first layout; 80 is then a guess that on_resize puts right.
        room = (self.size.width or 80) - 2
        left = fit(self._left, max(room - cell_len(self._right) - 1, 1))
        # layout=False: a text that never changes the height must not lay out the whole screen.
        self.update(Content(f"{left} {self._right}"), layout=False)


class KeyLine(Static):
    """The keys, as many as fit; a key and its word are shown whole or not at all."""

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__(id="keys", markup=False)
        self._keys: KeyWords = ()
        self._spans: list[tuple[int, int, str]] = []
        """From which cell to which each key and its word stand, and the key."""

    def on_click(self, event: events.Click) -> None:
        """Press the key that is pointed at."""
        at = event.get_content_offset(self)
        for begins, ends, key in self._spans:
            if at is not None and begins <= at.x < ends:
                event.stop()
                self.app.simulate_key(key)

    def show(self, keys: KeyWords) -> None:
        """Show these keys, the first ones where not all fit."""
        # Most moves lead to a cell with the same keys: there is nothing to draw then.
        if keys != self._keys:
            self._keys = keys
            self._fill()

    def on_resize(self) -> None:
        """Fit the keys to the new width."""
        self._fill()

    def say_again(self) -> None:
        """Show the keys in the language in use now."""
        self._fill()

    def _fill(self) -> None:
        room = (self.size.width or 80) - 2
        shown: list[Content] = []
        self._spans, begins = [], 0
        for usual, meaning in self._keys:
            in_use = in_keys_in_use(usual)
            key, word = say(in_use), say(meaning)
            width = cell_len(key) + cell_len(word) + 3
            if width > room:
                continue
            room -= width
            if (named := key_named(in_use)) is not None:
                self._spans.append((begins, begins + width - 2, named))
            begins += width
            shown.append(Content.assemble((key, "$accent bold"), " ", Content(word), "  "))
        self.update(Content("").join(shown), layout=False)
