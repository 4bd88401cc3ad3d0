"""The tabs of the places, each with how much of what it asks for is entered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rich.cells import cell_len
from textual import events
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from fieldbook.actions.keymap import KeyWords
from fieldbook.languages.in_use import say
from fieldbook.records.base import PLACES, Place
from fieldbook.screens.sheets.sheet import Count
from fieldbook.screens.widgets.terminal_cells import fit

PLACE_NAMES: Mapping[Place, str] = {
    "street": "Street",
    "boxes": "Valve boxes",
    "ground": "Ground",
    "controller": "Controller",
    "desk": "Desk",
    "service": "Service",
}
SHORT_NAMES: Mapping[Place, str] = {
    **PLACE_NAMES,
    "boxes": "Boxes",
    "controller": "Contr.",
    "service": "Serv.",
}

PLACE_KEYS: KeyWords = (
    ("1 to 6", "go there"),
    ("Esc", "board"),
    ("Left Right", "choose"),
    ("Enter", "go"),
)
_WIDEST_TAB = 20
_NONE = Count()


class PlaceTabs(Static, can_focus=True):
    """The places: 1 to 6 go there, arrows choose, Enter goes, Esc leaves for the board.

    All tabs have one width, whatever they say, so that each stays where the eye and the finger look
    for it.
    """

    @dataclass
    class Go(Message):
        """A place is wanted; None: the board."""

        place: Place | None

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__(id="strip", markup=False)
        self._place: Place = "street"
        self._chosen: Place = "street"
        self._counts: Mapping[Place, Count] = {}

    def show(self, place: Place, counts: Mapping[Place, Count]) -> None:
        """Mark the place shown, and say how many cells of each place are filled in."""
        self._place = self._chosen = place
        self._counts = counts
        self._fill()

    def on_resize(self) -> None:
        """Fit the tabs to the new width."""
        self._fill()

    def on_focus(self) -> None:
        """Begin to choose, at the place shown."""
        self._chosen = self._place
        self._fill()

    def on_blur(self) -> None:
        """End choosing: mark the place shown again."""
        self._chosen = self._place
        # The widget still counts as focused here; by the next message it does not.
        self.call_next(self._fill)

    def on_key(self, event: events.Key) -> None:
        """Choose a place, go there, or leave."""
        index = PLACES.index(self._chosen)
        if event.key in ("1", "2", "3", "4", "5", "6"):
            self.post_message(self.Go(PLACES[int(event.key) - 1]))
        elif event.key in ("left", "right"):
            step = 1 if event.key == "right" else -1
            self._chosen = PLACES[min(max(index + step, 0), len(PLACES) - 1)]
            self._fill()
        elif event.key in ("enter", "down", "space"):
            self.post_message(self.Go(self._chosen))
        elif event.key == "escape":
            self.post_message(self.Go(None))
        else:
            return
        event.stop()
        event.prevent_default()

    def on_click(self, event: events.Click) -> None:
        """Go to the place that is pointed at, on either line."""
        at = event.get_content_offset(self)
        if at is not None and at.x // self._tab_width < len(PLACES):
            self.post_message(self.Go(PLACES[at.x // self._tab_width]))

    @property
    def _tab_width(self) -> int:
        return min((self.size.width or 80) // len(PLACES), _WIDEST_TAB)

    def _fill(self) -> None:
        names = [self._styled(place, self._heading(place)) for place in PLACES]
        filled = [self._styled(place, self._filled(place)) for place in PLACES]
        lines = Content("\n").join([Content("").join(names), Content("").join(filled)])
        self.update(lines, layout=False)

    def _heading(self, place: Place) -> str:
        """The place and its key; the one shown is in brackets, so that no colour is needed."""
        number, (first, last) = PLACES.index(place) + 1, "[]" if place == self._chosen else "  "
        words = f"{first}{number} {say(PLACE_NAMES[place])}{last}"
        fits = cell_len(words) <= self._tab_width
        return words if fits else f"{first}{number} {say(SHORT_NAMES[place])}{last}"

    def _filled(self, place: Place) -> str:
        """How much is entered, in the longest words that fit under the name."""
        count = self._counts.get(place, _NONE)
        words, still_open = say(count.words), say(f"{count.open} open")
        ways = [f"  {words}", f" {words}", f" {still_open}"]
        if count.asked:
            ways.insert(0, f"  {say(f'{count.words} entered')}")
        return next((way for way in ways if cell_len(way) < self._tab_width), ways[-1])

    def _styled(self, place: Place, text: str) -> Content:
        text = fit(text, self._tab_width)
        if place != self._chosen:
            return Content.styled(text, "$foreground")
        return Content.styled(
            text, "bold $background on $accent" if self.has_focus else "bold $accent"
        )
