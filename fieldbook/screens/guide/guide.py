"""The guide at work: the line at the top of whatever is in front, step after step until Esc."""

from __future__ import annotations

from collections.abc import Callable

from textual.app import App
from textual.content import Content
from textual.widgets import Static

from fieldbook.actions.keymap import in_keys_in_use
from fieldbook.languages.in_use import say
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.guide.steps import END, STEPS
from fieldbook.screens.job.job_screen import JobScreen

_LOOK_EVERY_S = 0.15
"""How often it looks whether the step was done. It draws only when one was."""


class GuideLine(Static):
    """The line at the top: the number of the step, and what to press."""

    def __init__(self) -> None:
        """Empty until the guide fills it."""
        super().__init__(classes="guide-line", markup=False)


class Guide:
    """The guided first job on one app. `number` is the step that is asked for, from 0."""

    def __init__(self, app: App[None], ended: Callable[[], None]) -> None:
        """Begin at the first step; `ended` is called when it is left."""
        self._app, self._ended = app, ended
        self.number = 0
        self._timer = app.set_interval(_LOOK_EVERY_S, self.look)
        self._show()

    @property
    def sentence(self) -> str:
        """What the line says."""
        if self.number >= len(STEPS):
            return in_keys_in_use(say(END))
        step = say(STEPS[self.number].say)
        return in_keys_in_use(f"{self.number + 1}/{len(STEPS)} {step}")

    def look(self) -> None:
        """Go on past every step that was done, and keep the line on the screen in front."""
        while self.number < len(STEPS) and STEPS[self.number].done(self._app):
            self.number += 1
        self._show()

    def leaves(self) -> bool:
        """Whether Esc leaves the guide now: nothing is open that Esc would close first."""
        screen = self._app.screen
        if isinstance(screen, JobScreen):
            # A screen that was pushed a moment ago has no sheet yet.
            return (
                bool(screen.query("#sheet"))
                and screen.focused is screen.sheet
                and not screen.sheet.typing
            )
        return isinstance(screen, BoardScreen)

    def leave(self) -> None:
        """End it, wherever it stands."""
        self._timer.stop()
        for screen in self._app.screen_stack:
            screen.query(GuideLine).remove()
        self._ended()

    def _show(self) -> None:
        screen = self._app.screen
        lines = screen.query(GuideLine)
        # Said only where it is so: over a page Esc closes the page, and the end says it itself.
        leaves = self.leaves() and self.number < len(STEPS)
        tail = f"  {say('Esc leaves the guide.')}" if leaves else ""
        text = Content(f"{self.sentence}{tail}")
        if not lines:
            line = GuideLine()
            screen.mount(line, before=0)
            line.update(text)
        elif str(lines.first().render()) != text.plain:
            lines.first().update(text)
