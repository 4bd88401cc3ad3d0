"""The pages of an exchange through a folder, and of one property that is being fetched.

Keys are handled between the steps: Esc stops it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar, Protocol

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from fieldbook.actions.exchange.exchange_report import ExchangeReport
from fieldbook.actions.refused import RefusedError
from fieldbook.languages.in_use import say, shown
from fieldbook.screens.widgets.edge_lines import KeyLine
from fieldbook.screens.widgets.front_screen import FrontScreen
from fieldbook.store.errors import BookError

_BETWEEN_STEPS_S = 0.01
_BAR = 30
_STOPS = "Each file received is kept: after a stop, exchange again to go on."
_LEAVES_IT = "After a stop nothing of it is on this laptop."


class InSteps(Protocol):
    """What is done a step at a time, such as an exchange through a folder."""

    def steps(self) -> Iterator[tuple[int, int]]:
        """Yields how much is done and of how much. Raises RefusedError or BookError."""

    def report(self) -> ExchangeReport:
        """What was done so far."""


class ExchangePage(FrontScreen[None]):
    """Shows how far an exchange is, then what was received and sent."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape,enter,q", "dismiss(None)", "Stop or close")]

    hint = _STOPS

    def __init__(self, exchange: InSteps, where: str) -> None:
        """`where` names the folder to the crew."""
        super().__init__()
        self._exchange, self._title = exchange, f"Exchange through {where}"
        self._steps: Iterator[tuple[int, int]] = exchange.steps()

    def compose(self) -> ComposeResult:
        """The folder, how far the exchange is, how to stop it."""
        with VerticalScroll(classes="dialog reading"):
            yield Static(Content(say(self._title)), classes="dialog-title")
            yield Static(id="progress", markup=False)
            yield Static(Content(say(self.hint)), id="hint")
            yield KeyLine()

    def on_mount(self) -> None:
        """Begin the exchange."""
        self.query_one(KeyLine).show((("Esc", "stop after this file"),))
        self._show("Looking at the folder ...")
        self.set_timer(_BETWEEN_STEPS_S, self._step)

    def _step(self) -> None:
        """Exchange one file; a timer starts the next step, so that keys are handled in between."""
        if not self.is_attached:
            return
        try:
            done, total = next(self._steps)
        except StopIteration:
            self._end(self._exchange.report().sentences())
        except (RefusedError, BookError) as why:
            self._end([str(why)], bad=True)
        else:
            filled = _BAR * done // max(total, 1)
            self._show(f"{'=' * filled}{'.' * (_BAR - filled)} {done} of {total}")
            self.set_timer(_BETWEEN_STEPS_S, self._step)

    def _end(self, sentences: list[str], *, bad: bool = False) -> None:
        report = self._exchange.report()
        refused = () if bad else (*report.refused, *report.notes)
        self._show("\n".join([*sentences, *refused]))
        self.query_one("#progress", Static).set_class(bad or bool(refused), "bad")
        self.query_one("#hint", Static).display = False
        self.query_one(KeyLine).show((("Esc", "close"),))

    def _show(self, text: str) -> None:
        self.query_one("#progress", Static).update(Content(shown(text)))


class FetchPage(ExchangePage):
    """Shows how far the fetching of one property is; it closes by itself once all of it is here.

    It stays where a file was refused, which may hold more of it, or a maker is in doubt.
    """

    hint = _LEAVES_IT

    def __init__(self, fetching: InSteps, address: str) -> None:
        """`address` names the property to the crew."""
        super().__init__(fetching, "")
        self._title = f"Fetching {address}"

    def _end(self, sentences: list[str], *, bad: bool = False) -> None:
        report = self._exchange.report()
        if bad or report.refused or report.notes or report.wrongly_signed:
            super()._end(sentences, bad=bad)
        else:
            self.dismiss(None)
