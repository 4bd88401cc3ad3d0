"""The tabs of the five places, each with the number of its open cells."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rich.cells import cell_len
from textual import events
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from fieldbook.actions.keymap import KeyWords
from fieldbook.records.base import PLACES, Place

PLACE_NAMES: Mapping[Place, str] = {
    "street": "Street",
    "boxes": "Valve boxes",
    "ground": "Ground",
    "controller": "Controller",
    "desk": "Desk",
}
_SHORT: Mapping[Place, str] = {**PLACE_NAMES, "boxes": "Boxes", "controller": "Contr."}

PLACE_KEYS: KeyWords = (
    ("1 to 5", "go there"),
    ("Esc", "board"),
    ("Left Right", "choose"),
    ("Enter", "go"),
)

_FITS: tuple[tuple[Mapping[Place, str], str], ...] = (
    (PLACE_NAMES, "  "),
    (PLACE_NAMES, " "),
    (_SHORT, " "),
    (_SHORT, ""),
    ({}, ""),
)
"""Names and the gap between them, the widest first; in the last only the place shown has a name."""


class PlaceTabs(Static, can_focus=True):
    """The five places: 1 to 5 go there, arrows choose, Enter goes, Esc leaves for the board."""

    @dataclass
    class Go(Message):
        """A place is wanted; None: the board."""

        place: Place | None

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__(id="strip", markup=False)
        self._place: Place = "street"
        self._chosen: Place = "street"
        self._open: Mapping[Place, int] = {}
        self._spans: list[tuple[int, int, Place]] = []
        """From which cell to which the tab of each place stands."""

    def show(self, place: Place, still_open: Mapping[Place, int]) -> None:
        """Mark the place shown, and say how many cells are open in each."""
        self._place = self._chosen = place
        self._open = still_open
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
        if event.key in ("1", "2", "3", "4", "5"):
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
        """Go to the place that is pointed at."""
        at = event.get_content_offset(self)
        for begins, ends, place in self._spans:
            if at is not None and begins <= at.x < ends:
                self.post_message(self.Go(place))

    def _fill(self) -> None:
        room = (self.size.width or 80) - 2
        for names, gap in _FITS:
            parts = [self._part(place, names.get(place, "")) for place in PLACES]
            if sum(cell_len(text) for text, _ in parts) + len(gap) * (len(parts) - 1) <= room:
                break
        begins = 0
        self._spans = []
        for place, (text, _) in zip(PLACES, parts, strict=True):
            self._spans.append((begins, begins + cell_len(text), place))
            begins += cell_len(text) + len(gap)
        line = Content(gap).join([Content.styled(text, style) for text, style in parts])
        self.update(line, layout=False)

    def _part(self, place: Place, name: str) -> tuple[str, str]:
        count = self._open.get(place, 0)
        name = name or (_SHORT[place] if place == self._chosen else "")
        words = (str(PLACES.index(place) + 1), name, f"({count})" if count else "")
        text = " ".join(word for word in words if word)
        if place == self._chosen:
            focused = self.has_focus
            return f"[{text}]", "bold $accent" if focused else "bold $primary"
        return f" {text} ", "$foreground"
