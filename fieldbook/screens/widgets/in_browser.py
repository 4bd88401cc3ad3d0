"""What the app tells the page of `fieldbook serve`; in a terminal there is no page."""

from __future__ import annotations

from typing import Literal, Protocol, runtime_checkable

from textual.app import App
from textual.widgets import Input


@runtime_checkable
class Field(Protocol):
    """A widget of ours that is typed into now and then."""

    @property
    def typing(self) -> bool:
        """Whether a field is open."""


@runtime_checkable
class _Web(Protocol):
    """Textual's driver for a browser; its module is not imported where there is none."""

    def write_meta(self, data: dict[str, object]) -> None:
        """Send something that is no part of the screen."""


class BrowserPage:
    """The page around the app; nothing is told where the app runs in a terminal."""

    def __init__(self, app: App[None]) -> None:
        """The app starts its driver later, so that it is asked for at each call."""
        self._app, self._keyboard = app, False

    def show_keyboard(self) -> None:
        """Tell a tablet to show its keyboard while a field is open, once for each change."""
        focused = self._app.screen.focused
        wanted = isinstance(focused, Input) or (isinstance(focused, Field) and focused.typing)
        if wanted != self._keyboard and self._tell("keyboard", wanted):
            self._keyboard = wanted

    def say_last(self, sentence: str) -> None:
        """Leave a sentence on the page for when the app has ended."""
        self._tell("sentence", sentence)

    def _tell(self, kind: Literal["keyboard", "sentence"], value: bool | str) -> bool:
        driver = self._app._driver
        if driver is None or not driver.is_web or not isinstance(driver, _Web):
            return False
        driver.write_meta({"type": kind, "value": value})
        return True
