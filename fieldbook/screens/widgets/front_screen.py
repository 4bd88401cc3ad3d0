"""A screen over another one, which is left once however many keys were typed ahead."""

from __future__ import annotations

from typing import TypeVar

from textual.await_complete import AwaitComplete
from textual.screen import ModalScreen

Result = TypeVar("Result")


class FrontScreen(ModalScreen[Result]):
    """A dialog or page. Textual would take the screen below away with a second Enter or Esc."""

    def dismiss(self, result: Result | None = None) -> AwaitComplete:
        """Leave with a result, unless it was left already."""
        return super().dismiss(result) if self.is_active else AwaitComplete()
