"""The page that writes papers: choose them, see how far they are, open one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from fieldbook.actions.files.paper_run import PAPER_WORDS, PaperRun, can_write_pdf, typed_folder
from fieldbook.actions.files.system_viewer import show_outside
from fieldbook.actions.files.write_papers import Kind
from fieldbook.actions.refused import RefusedError
from fieldbook.screens.widgets.dialogs import AskLine
from fieldbook.screens.widgets.edge_lines import KeyLine
from fieldbook.screens.widgets.front_screen import FrontScreen
from fieldbook.screens.widgets.line_list import LineList

Begin = Callable[[Path, Sequence[str], Sequence[Kind]], PaperRun]
"""Begins to write papers into a folder, in these kinds."""

_AROUND = 9
"""Lines of the page besides its list: frame, title, folder or progress, keys."""
_BAR = 30
_PDF = "pdf"
_CHOOSING = (
    ("Enter", "write"),
    ("Space", "tick"),
    ("f", "folder"),
    ("Esc", "close"),
    ("a", "all or none"),
)
_WRITING = (("Esc", "stop"), ("Enter", "go on with entries"))
_OVER = (("Enter", "open it"), ("f", "folder"), ("Esc", "close"), ("w", "write again"))


class PapersPage(FrontScreen[None]):
    """Lists the papers to tick; then the run as it goes on; then the files to open.

    It may be closed while papers are written: the run goes on, and the page opens on it again.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        ("escape,q", "leave", "Stop or close"),
        ("f11", "dismiss(None)", "Close"),
        ("space", "tick", "Tick"),
        ("a", "tick_all", "All or none"),
        ("p", "tick_pdf", "PDF"),
        ("f", "folder", "Folder"),
        ("o", "open", "Open"),
        ("w", "again", "Write again"),
    ]

    def __init__(self, address: str, folder: Path, begin: Begin, run: PaperRun | None) -> None:
        """`folder` is where papers are written unless another is typed; `run` is that of before."""
        super().__init__()
        self._address, self._folder, self._begin = address, folder, begin
        self._run = run
        self._ticked = set(PAPER_WORDS)
        self._listed: tuple[str, ...] = ()

    def compose(self) -> ComposeResult:
        """The title, the list, the folder or the progress, why something failed, the keys."""
        with Vertical(classes="dialog papers-page"):
            yield Static(id="asked", classes="dialog-title", markup=False)
            yield LineList(compact=True, markup=False)
            yield Static(id="progress", markup=False)
            yield Static(id="refused", classes="bad", markup=False)
            yield KeyLine()

    def on_mount(self) -> None:
        """Show what there is to choose, or the run of before."""
        self.query_one(LineList).focus()
        self.query_one("#refused").display = False
        self.show_run()

    def on_resize(self) -> None:
        """Leave the list the room that the lines around it do not need."""
        self.query_one(LineList).styles.max_height = max(self.app.size.height - _AROUND, 3)

    # showing

    def show_run(self) -> None:
        """Show how far the run is, or how it ended; what can be chosen where there is none."""
        run = self._run
        if run is None:
            self._show_choice()
        elif not run.over:
            self._show_progress(run)
        else:
            self._show_end(run)

    def _show_choice(self) -> None:
        self._say_title(f"Papers of {self._address}: which?")
        self._list([_ticked(words, name in self._ticked) for name, words in self._lines()])
        self._say_progress(f"Into {self._folder}")
        self.query_one(KeyLine).show(_CHOOSING)

    def _lines(self) -> Iterator[tuple[str, str]]:
        yield from PAPER_WORDS.items()
        if can_write_pdf():
            yield _PDF, "PDF besides HTML (p)"

    def _show_progress(self, run: PaperRun) -> None:
        self._say_title(f"Writing papers of {self._address}")
        self._list([path.name for path in run.written])
        filled = _BAR * run.done // max(len(run.names), 1)
        bar = f"{'=' * filled}{'.' * (_BAR - filled)} {run.done} of {len(run.names)}"
        doing = "Stopping after this paper" if run.stopped else PAPER_WORDS.get(run.doing, "Photos")
        self._say_progress(f"{bar}\n{doing} ...")
        self.query_one(KeyLine).show(_WRITING)

    def _show_end(self, run: PaperRun) -> None:
        self._say_title(f"Papers of {self._address}")
        self._list([path.name for path in run.written])
        self._say_progress(run.sentence(), bad=bool(run.fault))
        self.query_one(KeyLine).show(_OVER if run.written else _OVER[2:])

    def _say_title(self, words: str) -> None:
        self.query_one("#asked", Static).update(Content(words))

    def _say_progress(self, words: str, *, bad: bool = False) -> None:
        said = self.query_one("#progress", Static)
        said.set_class(bad, "bad")
        said.update(Content(words))

    def _list(self, lines: Sequence[str]) -> None:
        """List these lines; the highlight stays where it is as far as it can."""
        shown, wanted = self.query_one(LineList), tuple(lines)
        if wanted == self._listed:
            return
        at, self._listed = shown.highlighted or 0, wanted
        shown.clear_options()
        shown.add_options(Option(Content(line)) for line in wanted)
        shown.highlighted = min(at, len(wanted) - 1) if wanted else None

    def _refuse(self, sentence: str) -> None:
        refused = self.query_one("#refused", Static)
        refused.display = bool(sentence)
        refused.update(Content(sentence))

    # keys

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter, or a click on a line: write, go on with entries, or open the file."""
        event.stop()
        if self._run is None:
            self._write()
        elif not self._run.over:
            self.dismiss(None)
        else:
            self.action_open()

    def key_enter(self) -> None:
        """Enter where the list is empty, so that it selects nothing."""
        if self._run is not None and not self._run.over:
            self.dismiss(None)

    def _write(self) -> None:
        kinds: tuple[Kind, ...] = ("html", "pdf") if _PDF in self._ticked else ("html",)
        names = [name for name in PAPER_WORDS if name in self._ticked]
        if not names:
            self._refuse("No paper is ticked: tick one with Space, or all with a.")
            return
        self._refuse("")
        self._run = self._begin(self._folder, names, kinds)
        self.query_one(LineList).highlighted = None
        self.show_run()

    def action_leave(self) -> None:
        """Stop the run; close the page where none is going on."""
        if self._run is None or self._run.over:
            self.dismiss(None)
        else:
            self._run.stop()
            self.show_run()

    def action_tick(self) -> None:
        """Tick the line under the highlight, or take its tick away."""
        at = self.query_one(LineList).highlighted
        if self._run is None and at is not None:
            self._ticked ^= {list(self._lines())[at][0]}
            self.show_run()

    def action_tick_all(self) -> None:
        """Tick every paper, or none where all are ticked."""
        if self._run is None:
            every = set(PAPER_WORDS)
            self._ticked = self._ticked - every if every <= self._ticked else self._ticked | every
            self.show_run()

    def action_tick_pdf(self) -> None:
        """Write PDF too, or not; says what to install where the extra is not there."""
        if self._run is not None:
            return
        if can_write_pdf():
            self._ticked ^= {_PDF}
            self.show_run()
        else:
            self._refuse("PDF needs an extra: pip install 'fieldbook[pdf]'. The pages print too.")

    def action_folder(self) -> None:
        """Ask where papers are written; once they are, open the folder."""
        if self._run is not None:
            if self._run.over and self._run.written:
                self._open(self._run.folder)
            return

        def refuse(typed: str) -> str | None:
            try:
                self._folder = typed_folder(typed)
            except RefusedError as why:
                return str(why)
            return None

        hint = "It is made if it is not there; a paper of the same name is written over."
        asked = AskLine("Papers into which folder?", hint, refuse, str(self._folder))
        self.app.push_screen(asked, lambda _typed: self.show_run())

    def action_open(self) -> None:
        """Open the file under the highlight in the system's viewer."""
        at, run = self.query_one(LineList).highlighted, self._run
        if run is not None and run.over and at is not None and at < len(run.written):
            self._open(run.written[at])

    def _open(self, path: Path) -> None:
        try:
            show_outside(path)
        except RefusedError as why:
            self._refuse(str(why))
            return
        self._refuse("")
        self._say_progress(f"{path.name} is handed to the system's viewer.")

    def action_again(self) -> None:
        """Choose papers anew once a run is over."""
        if self._run is not None and self._run.over:
            self._run = None
            self._refuse("")
            self.show_run()


def _ticked(words: str, yes: bool) -> str:
    return f"[{'x' if yes else ' '}] {words}"
