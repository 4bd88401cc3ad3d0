"""What a pasted table would change, shown before it is kept: Enter keeps it, Esc does not."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from fieldbook.actions.keymap import in_keys_in_use
from fieldbook.languages.in_use import say, shown
from fieldbook.screens.widgets.edge_lines import KeyLine
from fieldbook.screens.widgets.front_screen import FrontScreen

_UNDONE = "One Ctrl+Z takes all of it back."


class PastePage(FrontScreen[bool]):
    """Lists the changes line by line; dismisses with whether they are wanted."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("enter", "dismiss(True)", "Keep"),
        ("escape", "dismiss(False)", "Leave"),
    ]

    def __init__(self, lines: Sequence[str], rows_filled: int, rows_added: int) -> None:
        """`lines` are shown literally, each what becomes of one row."""
        super().__init__()
        self._lines = lines
        filled = f"{rows_filled} row{'' if rows_filled == 1 else 's'} changed"
        self._title = f"Paste: {filled}, {rows_added} new"

    def compose(self) -> ComposeResult:
        """The count and the keys first, so that they are in sight however long the list is."""
        with VerticalScroll(classes="dialog page"):
            yield Static(Content(say(self._title)), classes="dialog-title")
            yield Static(Content(in_keys_in_use(say(_UNDONE))))
            yield KeyLine()
            yield Static(Content("\n".join(map(shown, self._lines))), id="pasted", classes="faint")

    def on_mount(self) -> None:
        """Name the keys."""
        self.query_one(KeyLine).show((("Enter", "keep all of it"), ("Esc", "leave all as it is")))
