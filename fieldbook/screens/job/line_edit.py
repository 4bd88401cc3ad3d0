"""One line of text being typed: the text, the caret, and the keys that change them."""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len
from rich.segment import Segment

from fieldbook.screens.sheets.drawing import Styles
from fieldbook.screens.widgets.terminal_cells import fit

LONGEST = 400


@dataclass
class LineEdit:
    """The text of a field while it is typed into; `caret` is an index into it.

    Textual's Input is a widget of its own; this one is drawn by the sheet, over its cell.
    """

    text: str
    caret: int

    @classmethod
    def at_end(cls, text: str) -> LineEdit:
        """A field with the caret behind its text."""
        return cls(text, len(text))

    def insert(self, typed: str) -> None:
        """Put text in at the caret; what would make the field longer than LONGEST is left out."""
        typed = typed[: max(LONGEST - len(self.text), 0)]
        self.text = self.text[: self.caret] + typed + self.text[self.caret :]
        self.caret += len(typed)

    def key(self, name: str) -> bool:
        """Carry out an editing key, named as Textual names it; False for any other key."""
        if name == "backspace":
            self._cut(max(self.caret - 1, 0), self.caret)
        elif name == "delete":
            self._cut(self.caret, min(self.caret + 1, len(self.text)))
        elif name == "ctrl+u":
            self._cut(0, self.caret)
        elif name == "ctrl+w":
            kept = self.text[: self.caret].rstrip()
            self._cut(kept.rfind(" ") + 1, self.caret)
        elif name in ("left", "right", "home", "end"):
            moved = {"left": self.caret - 1, "right": self.caret + 1, "home": 0}
            self.caret = min(max(moved.get(name, len(self.text)), 0), len(self.text))
        else:
            return False
        return True

    def window(self, width: int) -> tuple[str, int]:
        """The part of the text around the caret that fits `width` cells, and the caret in it."""
        start = 0
        while cell_len(self.text[start : self.caret]) >= width:
            start += 1
        end = len(self.text)
        while cell_len(self.text[start:end]) > width and end > self.caret:
            end -= 1
        return self.text[start:end], self.caret - start

    def _cut(self, start: int, end: int) -> None:
        self.text = self.text[:start] + self.text[end:]
        self.caret = start


def field_segments(edit: LineEdit, width: int, styles: Styles) -> list[Segment]:
    """The field that is typed into, exactly `width` cells, its caret standing out."""
    text, caret = edit.window(width)
    under = text[caret : caret + 1] or " "
    rest = fit(text[caret + 1 :], max(width - cell_len(text[:caret] + under), 0))
    return [
        Segment(text[:caret], styles("field")),
        Segment(under, styles("caret")),
        Segment(rest, styles("field")),
    ]
