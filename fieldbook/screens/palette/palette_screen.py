"""The palette's screen and its provider, built on Textual's command palette."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from typing import Protocol, runtime_checkable

from textual import on
from textual.await_complete import AwaitComplete
from textual.command import CommandPalette, DiscoveryHit, Hit, Hits, Provider
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, OptionList
from textual.worker import WorkerCancelled, WorkerFailed

from fieldbook.languages.in_use import say
from fieldbook.screens.palette.entries import Entry, score


@runtime_checkable
class HasEntries(Protocol):
    """The app, as the palette sees it."""

    def palette_entries(self, screen: Screen[object]) -> Sequence[Entry]:
        """Every action of the screen in front, and every place in its property."""

    def properties_named(self, typed: str) -> Sequence[Entry]:
        """The properties of the book that contain what was typed, the first few of them."""


class Everything(Provider):
    """Actions, places and properties. One provider, so that the order is always the same."""

    async def startup(self) -> None:
        """Ask for the entries once: nothing changes while the palette is open."""
        self._entries = [entry.said for entry in self._of_app().palette_entries(self.screen)]

    def _of_app(self) -> HasEntries:
        app = self.app
        assert isinstance(app, HasEntries)
        return app

    async def discover(self) -> Hits:
        """All of them, before anything is typed."""
        for entry in self._entries:
            yield DiscoveryHit(_drawn(entry, ""), entry.run, text=entry.label)

    async def search(self, query: str) -> Hits:
        """The entries whose label holds every typed word, and the properties found by them."""
        for entry in self._entries:
            found = score(query, entry)
            if found > 0:
                yield Hit(found, _drawn(entry, query), entry.run, text=entry.label)
        for entry in self._of_app().properties_named(query):
            # A property may be found by a text that is not in its address, such as a serial.
            found = max(score(query, entry), 0.1)
            yield Hit(found, _drawn(entry, query), entry.run, text=entry.label)


class PaletteScreen(CommandPalette):
    """Textual's palette, which waits for the results of what was typed before Enter takes one."""

    def __init__(self) -> None:
        """With our provider alone."""
        super().__init__([Everything], placeholder=say("Type what to do, or where to go"))

    def dismiss(self, result: None = None) -> AwaitComplete:
        """Leave, unless it was left already by a key typed ahead."""
        return super().dismiss(result) if self.is_active else AwaitComplete()

    def on_mount(self) -> None:
        """A blinking cursor keeps the terminal, and a battery, busy."""
        self.query_one(Input).cursor_blink = False

    def _action_command_list(self, action: str) -> None:
        """Move in the list, and stop at its ends: Textual's own goes on at the other end."""
        lines = self.query_one(OptionList)
        ends = {"cursor_up": 0, "cursor_down": lines.option_count - 1}
        if lines.highlighted is None or lines.highlighted != ends.get(action):
            super()._action_command_list(action)

    @on(Input.Submitted)
    async def take_first_of_what_was_typed(self, event: Input.Submitted) -> None:
        """Enter: wait for the search, then take the line that is highlighted.

        Textual takes a line of the list as it stands, so that Enter pressed right after a letter
        would run what was found for the letters before.
        """
        event.stop()
        event.prevent_default()
        with suppress(WorkerCancelled, WorkerFailed):
            await self.workers.wait_for_complete(
                [worker for worker in self.workers if worker.node is self]
            )
        self.query_one(OptionList).action_select()


def _drawn(entry: Entry, typed: str) -> Content:
    """The label, what was typed standing out, and under it what it does, or why it can't be done.

    Stored text is never markup, so that it goes into Content as it is.
    """
    # No colours: the line that is highlighted has one of its own, on which others are not read.
    label = Content.styled(entry.label, "bold")
    for word in typed.casefold().split():
        at = entry.label.casefold().find(word)
        if at >= 0:
            label = label.stylize("underline", at, at + len(word))
    if entry.key:
        label = Content.assemble(label, f"  {entry.key}")
    if entry.not_now:
        return Content.assemble(label, f"\n  {say('not now')}: {entry.not_now}")
    return Content.assemble(label, f"\n  {entry.about}")
