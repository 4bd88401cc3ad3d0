"""Exchange through a folder from the board: a step between keys, so that Esc stops it at once."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from fieldbook.actions.exchange.folder_exchange import FolderExchange
from fieldbook.actions.refused import RefusedError
from fieldbook.store.errors import BookError

_BETWEEN_STEPS_S = 0.01
_BAR = 30
_KEPT = "Each file that came is kept. Esc stops after this one; exchange again to go on."
_THEN = "Esc closes."


class ExchangePage(ModalScreen[None]):
    """Shows how far an exchange is, then what came and went."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape,enter,q", "dismiss(None)", "Stop or close")]

    def __init__(self, exchange: FolderExchange, where: str) -> None:
        """`where` is the folder, as it was typed."""
        super().__init__()
        self._exchange, self._where = exchange, where
        self._steps: Iterator[tuple[int, int]] = exchange.steps()

    def compose(self) -> ComposeResult:
        """What is done, how far, how to stop."""
        with VerticalScroll(classes="dialog reading"):
            yield Static(Content(f"Exchange through {self._where}"), classes="dialog-title")
            yield Static(id="told", markup=False)
            yield Static(Content(_KEPT), id="hint")

    def on_mount(self) -> None:
        """Begin."""
        self._tell("Looking at the folder ...")
        self.set_timer(_BETWEEN_STEPS_S, self._step)

    def _step(self) -> None:
        """One file, then whatever key was pressed, then the next."""
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
            self._tell(f"{'=' * filled}{'.' * (_BAR - filled)} {done} of {total}")
            self.set_timer(_BETWEEN_STEPS_S, self._step)

    def _end(self, sentences: list[str], *, bad: bool = False) -> None:
        refused = () if bad else self._exchange.report().refused
        self._tell("\n".join([*sentences, *refused]))
        self.query_one("#told", Static).set_class(bad or bool(refused), "bad")
        self.query_one("#hint", Static).update(Content(_THEN))

    def _tell(self, text: str) -> None:
        self.query_one("#told", Static).update(Content(text))
