"""First run on a laptop: it asks for the initials of its entries, and offers the demo."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import Input, Static

from fieldbook.languages.in_use import say, shown
from fieldbook.screens.widgets.edge_lines import KeyLine
from fieldbook.screens.widgets.front_screen import FrontScreen

_WHAT = (
    "The job record of an irrigation crew: what was seen at the street, in the valve box and in "
    "the trench, kept for the controller and the years after. It records and it checks; it "
    "certifies nothing. Local code and the licensed trade decide."
)
_ASK = "Your initials. Every entry on this laptop is signed with them."
_KEYS = (("Enter", "begin an empty book"), ("F2", "see the demo"))
_DEMO = "The demo is a scratch copy; your own book stays as it is."


class FirstRun(FrontScreen[None]):
    """Asks for initials; the app takes or refuses them, and closes the screen."""

    class DemoWanted(Message):
        """Open a scratch copy of the demo properties instead of the book."""

    @dataclass
    class InitialsGiven(Message):
        """Initials were typed."""

        typed: str

    BINDINGS: ClassVar[list[BindingType]] = [("f2", "demo", "Demo")]

    def compose(self) -> ComposeResult:
        """What fieldbook is, the line for the initials, the keys."""
        with Vertical(classes="dialog"):
            yield Static("fieldbook", classes="dialog-title")
            yield Static(Content(say(_WHAT)))
            yield Static(Content(say(_ASK)), id="hint", classes="faint")
            yield Input(id="answer", max_length=20, placeholder=say("initials"))
            yield Static(Content(say(_DEMO)))
            yield KeyLine()

    def on_mount(self) -> None:
        """Make the line ready for typing."""
        line = self.query_one("#answer", Input)
        line.cursor_blink = False
        line.focus()
        self.query_one(KeyLine).show(_KEYS)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter: pass the initials to the app."""
        event.stop()
        self.post_message(self.InitialsGiven(event.value))

    def action_demo(self) -> None:
        """F2: ask for the demo."""
        self.post_message(self.DemoWanted())

    def refuse(self, why: str) -> None:
        """Say why the initials are refused."""
        hint = self.query_one("#hint", Static)
        hint.add_class("bad")
        hint.update(Content(shown(why)))
