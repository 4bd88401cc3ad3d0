"""The foot of a screen: the keys for what is in focus, whole words only, never cut."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len
from textual.content import Content
from textual.widgets import Static

Keys = Sequence[tuple[str, str]]
"""(key, word) pairs, the most needed first."""


class KeyLine(Static):
    """As many keys as fit."""

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__(id="keys", markup=False)
        self._keys: Keys = ()

    def show(self, keys: Keys) -> None:
        """Show these keys."""
        self._keys = keys
        self._fill()

    def on_resize(self) -> None:
        """Fit them again."""
        self._fill()

    def _fill(self) -> None:
        room = (self.size.width or 80) - 2
        shown: list[Content] = []
        for key, word in self._keys:
            width = cell_len(key) + cell_len(word) + 3
            if width > room:
                continue
            room -= width
            shown.append(Content.assemble((key, "$accent bold"), " ", Content(word), "  "))
        self.update(Content("").join(shown), layout=False)
