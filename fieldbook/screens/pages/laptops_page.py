"""The page of the laptops known by their keys: their words, and which are trusted."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from fieldbook.actions.exchange.laptop_list import (
    DISTRUST,
    HOW_TO_COMPARE,
    NONE_YET,
    distrust,
    laptop_lines,
    mark_compared,
    trust_again,
    trust_words,
)
from fieldbook.actions.refused import RefusedError
from fieldbook.languages.in_use import say, shown
from fieldbook.screens.widgets.dialogs import Choose
from fieldbook.screens.widgets.edge_lines import KeyLine
from fieldbook.screens.widgets.front_screen import FrontScreen
from fieldbook.screens.widgets.line_list import LineList
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.seals.known_laptops import KnownLaptop

_AROUND = 14
"""Lines of the page besides its list: frame, title, the laptop highlighted, a hint, the keys."""
_TITLE = "The laptops known by their signatures"
_KEYS = (("c", "compared"), ("d", "distrust"), ("t", "trust again"), ("Esc", "close"))


class LaptopsPage(FrontScreen[None]):
    """Lists the laptops; below it what is known of the one highlighted."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("escape,q", "dismiss(None)", "Close"),
        ("c", "compared", "Compared"),
        ("d", "distrust", "Distrust"),
        ("t", "trust", "Trust again"),
    ]

    def __init__(self, book: Book, by: str) -> None:
        """`by` are the initials of who marks a laptop."""
        super().__init__()
        self._book, self._by = book, by
        self._laptops: list[KnownLaptop] = []

    def compose(self) -> ComposeResult:
        """The title, the list, one laptop, a hint, the keys."""
        with Vertical(classes="dialog"):
            yield Static(Content(say(_TITLE)), classes="dialog-title")
            yield LineList(compact=True, markup=False)
            yield Static(id="progress", markup=False)
            yield Static(Content(say(HOW_TO_COMPARE)), id="hint")
            yield KeyLine()

    def on_mount(self) -> None:
        """List the laptops."""
        self.query_one(LineList).focus()
        self.query_one(KeyLine).show(_KEYS)
        self._list()

    def on_resize(self) -> None:
        """Leave the list the room that the lines around it do not need."""
        self.query_one(LineList).styles.max_height = max(self.app.size.height - _AROUND, 2)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show what is known of this laptop."""
        self._say(laptop_lines(self._laptops[event.option_index]))

    def action_compared(self) -> None:
        """Note that the words were compared."""
        self._mark(lambda name: mark_compared(self._book, name, self._by))

    def action_distrust(self) -> None:
        """Ask, then refuse what this laptop signs from now on."""

        def answered(choice: int | None) -> None:
            if choice == 1:
                self._mark(lambda name: distrust(self._book, name, self._by))

        laptop = self._laptop()
        if laptop is not None:
            title = f"{laptop.name}: {say(DISTRUST)}"
            self.app.push_screen(Choose(title, ("Leave it as it is", "Distrust it")), answered)

    def action_trust(self) -> None:
        """Take a distrust back."""
        self._mark(lambda name: trust_again(self._book, name))

    def _laptop(self) -> KnownLaptop | None:
        line = self.query_one(LineList).highlighted
        return None if line is None else self._laptops[line]

    def _mark(self, mark: Callable[[str], str]) -> None:
        laptop = self._laptop()
        if laptop is None:
            return
        try:
            mark(laptop.words)
        except (RefusedError, BookError) as why:
            self._say([str(why)], bad=True)
            return
        # The event of the highlight shows what the laptop is now.
        self._list()

    def _list(self) -> None:
        """List the laptops as they are now; the highlight stays where it is."""
        lines = self.query_one(LineList)
        line = lines.highlighted or 0
        self._laptops = self._book.laptops.listed()
        lines.clear_options()
        lines.add_options(
            Option(Content(f"{one.name}  {say(trust_words(one))}")) for one in self._laptops
        )
        if self._laptops:
            lines.highlighted = line
        else:
            self._say([NONE_YET])

    def _say(self, lines: list[str], *, bad: bool = False) -> None:
        said = self.query_one("#progress", Static)
        said.set_class(bad, "bad")
        said.update(Content("\n".join(map(shown, lines))))
