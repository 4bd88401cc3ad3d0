"""Small screens over the others: a line to type, a list to choose from, a text to read.

A modal screen is no part of the default screen: `App.query_one` does not find its widgets, so each
queries itself.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import ClassVar, Protocol, runtime_checkable

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from fieldbook.actions.keymap import KeyWords, in_keys_in_use
from fieldbook.languages.in_use import shown
from fieldbook.screens.widgets.edge_lines import KeyLine
from fieldbook.screens.widgets.front_screen import FrontScreen
from fieldbook.screens.widgets.line_list import LineList, Reads, fitting_lines

CLOSE_KEYS: KeyWords = (("Esc", "close"),)


@dataclass
class TypistWanted(Message):
    """Ask who makes the entries from now on: two people may share a laptop.

    `changed` gets the initials that were chosen.
    """

    changed: Callable[[str], None]


@dataclass
class ScreenTold(Message):
    """Work in a thread has something to show. `show` gets the screen that is in front now."""

    show: Callable[[Screen[object]], None]


class LanguageWanted(Message):
    """The next language is wanted."""


@runtime_checkable
class InLanguage(Protocol):
    """A screen that can be shown in another language while it is open."""

    def say_again(self) -> None:
        """Show everything again, in the language in use now."""


class AskLine(FrontScreen[str | None]):
    """Asks for a line of text; dismisses with it, or with None on Esc."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape", "dismiss(None)", "Cancel")]

    def __init__(
        self, title: str, hint: str, refuse: Callable[[str], str | None], begun: str = ""
    ) -> None:
        """`title` names what is asked, `hint` says what a good answer is.

        `refuse` gets what was typed and gives the sentence that refuses it, or None. `begun` stands
        in the line already.
        """
        super().__init__()
        self._title, self._hint = shown(title), shown(hint)
        self._refuse, self._begun = refuse, begun

    def compose(self) -> ComposeResult:
        """The title, the line, the hint."""
        with Vertical(classes="dialog"):
            yield Static(Content(self._title), classes="dialog-title")
            yield Input(self._begun, id="answer", select_on_focus=False)
            yield Static(Content(in_keys_in_use(self._hint)), id="hint")
            yield KeyLine()

    def on_mount(self) -> None:
        """Make the line ready for typing."""
        line = self.query_one("#answer", Input)
        # A blinking cursor keeps the terminal, and a battery, busy.
        line.cursor_blink = False
        line.focus()
        self.query_one(KeyLine).show((("Enter", "keep"), ("Esc", "leave")))

    def on_key(self, event: events.Key) -> None:
        """Take characters typed ahead, before the line had the focus; the line takes its own."""
        if event.is_printable and event.character:
            # Left to bubble, the key reaches the app, which would hand it to the line once more.
            event.stop()
            self.query_one("#answer", Input).insert_text_at_cursor(event.character)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter: dismiss with the text, or say why it is refused."""
        reason = self._refuse(event.value)
        if reason is None:
            self.dismiss(event.value)
        else:
            hint = self.query_one("#hint", Static)
            hint.add_class("bad")
            hint.update(Content(shown(reason)))


def _no_such(typed: str) -> str:
    return f"Nothing in this list fits “{typed}”."


@dataclass(frozen=True)
class Typing:
    """How typing narrows a list: what is typed already, what a text means, why nothing fits it."""

    begun: str = ""
    reads: Reads | None = None
    why_none: Callable[[str], str] = _no_such


_PLAIN = Typing()


class Choose(FrontScreen[int | None]):
    """Asks for one of a list, which typing narrows; dismisses with its index, or None on Esc."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape", "dismiss(None)", "Cancel")]

    def __init__(
        self,
        title: str,
        words: Sequence[str],
        current: int | None = None,
        typing: Typing = _PLAIN,
    ) -> None:
        """`words` are what to choose from, `current` is highlighted."""
        super().__init__()
        self._title, self._current = shown(title), current or 0
        self._words = list(map(shown, words))
        self._typing, self._typed = typing, typing.begun
        self._fitting = list(range(len(words)))

    def compose(self) -> ComposeResult:
        """The title, what is typed, the list."""
        with Vertical(classes="dialog"):
            yield Static(Content(self._title), classes="dialog-title")
            yield Static(id="typed", markup=False)
            yield LineList(compact=True, markup=False)
            yield KeyLine()

    def on_mount(self) -> None:
        """Make the list ready for choosing."""
        self.query_one(LineList).focus()
        self.query_one(KeyLine).show((("Enter", "take it"), ("Esc", "leave")))
        self._narrow()
        if not self._typed:
            self.query_one(LineList).highlighted = self._current

    def on_key(self, event: events.Key) -> None:
        """Narrow the list by what is typed; Enter takes the line highlighted."""
        if event.key == "enter":
            self._take(self.query_one(LineList).highlighted)
        elif event.key == "backspace":
            self._typed = self._typed[:-1]
            self._narrow()
        elif event.is_printable and event.character:
            self._typed += event.character
            self._narrow()
        else:
            return
        event.stop()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A click: dismiss with the line clicked."""
        self._take(event.option_index)

    def _narrow(self) -> None:
        """List the words that fit what is typed, the likeliest highlighted."""
        self._fitting = fitting_lines(self._words, self._typed, self._reads)
        lines, typed = self.query_one(LineList), self.query_one("#typed", Static)
        lines.clear_options()
        lines.add_options(Option(Content(self._words[no])) for no in self._fitting)
        lines.highlighted = 0 if self._fitting else None
        typed.display = bool(self._typed)
        typed.set_class(not self._fitting, "bad")
        why_none = shown(self._typing.why_none(self._typed))
        typed.update(Content(f"{self._typed}_" if self._fitting else why_none))

    def _reads(self, typed: str) -> str | None:
        """The word of the list, as it is shown, that is meant by what is typed."""
        meant = self._typing.reads(typed) if self._typing.reads is not None else None
        return shown(meant) if meant is not None else None

    def _take(self, line: int | None) -> None:
        if line is not None and line < len(self._fitting):
            self.dismiss(self._fitting[line])


class Read(FrontScreen[None]):
    """Shows a text; Esc, Enter, q, ? or F1 closes it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("escape,enter,q,question_mark,f1", "dismiss(None)", "Back")
    ]

    def __init__(self, title: str, text: str) -> None:
        """`text` is shown literally."""
        super().__init__()
        self._title, self._text = shown(title), shown(text)

    def compose(self) -> ComposeResult:
        """The title and the text."""
        with VerticalScroll(classes="dialog reading"):
            yield Static(Content(self._title), classes="dialog-title")
            yield Static(Content(in_keys_in_use(self._text)))
            yield KeyLine()

    def on_mount(self) -> None:
        """Name the key that closes it."""
        self.query_one(KeyLine).show(CLOSE_KEYS)
