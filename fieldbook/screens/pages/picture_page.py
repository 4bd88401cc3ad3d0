"""A page with a picture of the job: drawn for the terminal, explained by `?`, written as SVG."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from fieldbook.actions.files.svg_files import save_svg, usual_file
from fieldbook.actions.keymap import FUNCTION_KEYS
from fieldbook.actions.refused import RefusedError
from fieldbook.languages.in_use import shown
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.pages.page import joined
from fieldbook.screens.widgets.dialogs import AskLine, Read
from fieldbook.screens.widgets.edge_lines import KeyLine
from fieldbook.screens.widgets.front_screen import FrontScreen
from fieldbook.screens.widgets.terminal_cells import page_width

KEYS = (("Esc", "close"), ("?", "explain"), ("Ctrl+S", "write as SVG"))
"""The keys of such a page, named at its foot."""
_FRAME = 3
"""Lines of the screen that the page's frame and its keys take."""


@dataclass(frozen=True)
class Pictured:
    """What a page shows. `draw` gives its lines for columns and for the rows that are in sight.

    `svg` makes the same as an SVG document, `what` is its name, `about` what `?` says.
    """

    what: str
    draw: Callable[[int, int], Iterable[Content]]
    svg: Callable[[], str]
    about: str


class PicturePage(FrontScreen[None]):
    """Shows a picture; Esc, Enter, q or a function key closes it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        (
            ",".join(("escape", "enter", "q", *(key for key in FUNCTION_KEYS if key != "f1"))),
            "dismiss(None)",
            "Back",
        ),
        ("question_mark,f1", "explain", "Explain"),
        ("ctrl+s", "save", "Write as SVG"),
    ]

    def __init__(self, job: LoadedJob, pictured: Pictured) -> None:
        """`job` is drawn as it is now."""
        super().__init__()
        self._job, self._pictured = job, pictured

    def compose(self) -> ComposeResult:
        """The picture, which scrolls, and the keys, which stay in sight under it."""
        with Vertical(classes="dialog page whole-page"):
            with VerticalScroll():
                yield Static(id="page", markup=False)
                yield from self.below()
            yield Static(id="written", markup=False)
            yield KeyLine()

    def below(self) -> ComposeResult:
        """What scrolls under the picture; a page that has more than its picture says so here."""
        yield from ()

    def on_mount(self) -> None:
        """Name the keys."""
        self.query_one("#written").display = False
        self.query_one(KeyLine).show(self.keys())

    def keys(self) -> tuple[tuple[str, str], ...]:
        """The keys that are named at the foot, each with what it does."""
        return KEYS

    def on_resize(self) -> None:
        """Draw for the room there is."""
        size = self.app.size
        lines = self._pictured.draw(page_width(size.width), size.height - _FRAME)
        self.query_one("#page", Static).update(joined(lines))

    def action_explain(self) -> None:
        """Say what each sign and header of the page means."""
        self.app.push_screen(Read("This page", self._pictured.about))

    def action_save(self) -> None:
        """Ask for a file and write the picture to it."""
        job, pictured = self._job, self._pictured

        def save(typed: str) -> Path:
            return save_svg(job, pictured.what, typed, pictured.svg)

        ask_file(self, usual_file(job, pictured.what), save)


def ask_file(page: Screen[None], usual: Path, save: Callable[[str], Path]) -> None:
    """Ask for a file, `save` to it, and say above the page's keys what was written."""
    written = ""

    def refuse(typed: str) -> str | None:
        nonlocal written
        try:
            written = str(save(typed))
        except RefusedError as why:
            return str(why)
        return None

    def closed(typed: str | None) -> None:
        if typed is not None:
            said = page.query_one("#written", Static)
            said.display = True
            said.update(Content(shown(f"Wrote {written}")))

    hint = f"Enter alone writes {usual}"
    page.app.push_screen(AskLine("Write as SVG to which file?", hint, refuse), closed)
