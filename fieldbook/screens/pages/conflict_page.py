"""The page that F6 opens: what laptops entered differently, one question at a time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from fieldbook.actions.cells import fact_at
from fieldbook.actions.conflicts import settling
from fieldbook.actions.conflicts.question import Question
from fieldbook.actions.keymap import FUNCTION_KEYS, in_keys_in_use
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.languages.in_use import say, shown
from fieldbook.screens.pages.question_lines import (
    MOST_KEYS,
    POINTED,
    question_keys,
    question_lines,
)
from fieldbook.screens.sheets.explain import how_to_type
from fieldbook.screens.widgets.dialogs import AskLine
from fieldbook.screens.widgets.edge_lines import KeyLine
from fieldbook.screens.widgets.front_screen import FrontScreen
from fieldbook.screens.widgets.terminal_cells import page_width
from fieldbook.store.errors import BookError

_AROUND = 5
"""Lines of the page besides the question and what was done: the frame, the title, the keys."""


@dataclass(frozen=True)
class Settled:
    """How the page was left. Once all is settled: the cell answered last, and what was done."""

    at: CellRef | None = None
    said: str = ""


class ConflictPage(FrontScreen[Settled]):
    """Asks the questions of a property; each answer is on disk before the next is asked."""

    BINDINGS: ClassVar[list[BindingType]] = [
        (",".join(("escape", "q", *FUNCTION_KEYS)), "leave", "Back"),
        ("t,enter", "type", "Type another value"),
        Binding("ctrl+z", "undo", "Undo the last choice", id="undo"),
        ("right,tab", "turn(1)", "Next question"),
        ("left,shift+tab", "turn(-1)", "Question before"),
        ("up", "scroll(-1)", "Up"),
        ("down", "scroll(1)", "Down"),
        ("pageup", "scroll(-8)", "Up"),
        ("pagedown", "scroll(8)", "Down"),
    ]

    def __init__(self, open_job: OpenJob, at: CellRef | None = None) -> None:
        """Begin with the question about `at`, else with the first."""
        super().__init__()
        self._open_job = open_job
        self._questions = settling.questions_of(open_job)
        self._no = self._about(at)
        self._answered: list[CellRef] = []
        self._said, self._bad = "", False

    def compose(self) -> ComposeResult:
        """The number of the question, the question, what was done, the keys."""
        with Vertical(classes="dialog page"):
            yield Static(id="asked", classes="dialog-title", markup=False)
            with VerticalScroll(id="question-area", can_focus=False):
                yield Static(id="question", markup=False)
            yield Static(id="done", markup=False)
            yield KeyLine()

    @property
    def question(self) -> Question:
        """The question that is shown."""
        return self._questions[self._no]

    def on_resize(self) -> None:
        """Draw for the width there is."""
        self._show()

    def _show(self) -> None:
        width, height = page_width(self.app.size.width), self.app.size.height
        count = len(self._questions)
        self.query_one("#asked", Static).update(
            Content(say(f"Entered differently: {self._no + 1} of {count}"))
        )
        lines = list(question_lines(self.question, width))
        self.query_one("#question", Static).update(Content("\n").join(lines))
        said = Content(in_keys_in_use(shown(self._said))).wrap(width) if self._said else []
        done = self.query_one("#done", Static)
        done.display = bool(said)
        done.set_class(self._bad, "bad")
        done.update(Content("\n").join(said))
        room = height - _AROUND - (len(said) + 1 if said else 0)
        self.query_one("#question-area").styles.max_height = max(room, 3)
        keys = question_keys(self.question, count, chosen=bool(self._answered))
        self.query_one(KeyLine).show(keys)

    def _say(self, sentence: str, *, bad: bool = False) -> None:
        self._said, self._bad = sentence, bad
        self._show()

    # keys

    def on_key(self, event: events.Key) -> None:
        """A number keeps the version that has it."""
        number = event.character or ""
        if number in "123456789"[:MOST_KEYS] and number:
            event.stop()
            self._keep(int(number))

    def on_click(self, event: events.Click) -> None:
        """A click on a version keeps it."""
        if isinstance(number := event.style.meta.get(POINTED), int):
            self._keep(number)

    def _keep(self, number: int) -> None:
        question = self.question
        self._attempt(lambda: settling.choose(self._open_job, question, number))

    def action_turn(self, step: int) -> None:
        """Go to another question, round the end."""
        self._no = (self._no + step) % len(self._questions)
        self._say("")
        self.query_one("#question-area").scroll_home(animate=False)

    def action_scroll(self, lines: int) -> None:
        """Scroll a question that is longer than the screen."""
        self.query_one("#question-area").scroll_relative(y=lines, animate=False)

    def action_type(self) -> None:
        """Ask for another value; a value that is refused changes nothing."""
        question = self.question
        if not question.typed:
            self._say("There is no other value to type here: choose by number.", bad=True)
            return
        done: list[str] = []

        def refuse(typed: str) -> str | None:
            try:
                done.append(settling.answer_typed(self._open_job, question, typed))
            except (RefusedError, BookError) as why:
                return str(why)
            return None

        def typed(_text: str | None) -> None:
            if done:
                self._answer(done[0])

        self.app.push_screen(AskLine(question.title, self._hint(question), refuse), typed)

    def _hint(self, question: Question) -> str:
        words = ", ".join(settling.words_to_type(self._open_job.job, question))
        how = f"One of: {words}." if words else how_to_type(fact_at(question.at).kind)
        return f"{how} Enter keeps it, Esc leaves it open.".strip()

    def action_undo(self) -> None:
        """Take back the last choice made here; its question is open again."""
        if not self._answered:
            self._say("Nothing was chosen here yet.", bad=True)
            return
        try:
            what = self._open_job.undo()
        except (RefusedError, BookError) as why:
            self._say(str(why), bad=True)
            return
        self._questions = settling.questions_of(self._open_job)
        self._no = self._about(self._answered.pop())
        self._say(f"Taken back: {what}. It is open again.")

    def action_leave(self) -> None:
        """Close the page; what is open stays open."""
        self.dismiss(Settled())

    def _attempt(self, choose: Callable[[], str]) -> None:
        try:
            done = choose()
        except (RefusedError, BookError) as why:
            self._say(str(why), bad=True)
            return
        self._answer(done)

    def _answer(self, done: str) -> None:
        """Say what was done and show the next question; after the last one close the page."""
        at = self.question.at
        self._answered.append(at)
        self._questions = settling.questions_of(self._open_job)
        # Questions that are settled come after the open ones: those are the first `left`.
        left = sum(question.open for question in self._questions)
        # A property that was given up for another is left at once.
        if not left or self._open_job.job.job.off_board:
            self.dismiss(Settled(at, done))
            return
        self._no = self._no if self._no < left else 0
        self._say(f"{done} Ctrl+Z takes it back.")

    def _about(self, at: CellRef | None) -> int:
        """The index of the question about a cell, else about its row, else of the first."""
        cells = [question.at for question in self._questions]
        rows = [cell.row_id for cell in cells]
        if at in cells:
            return cells.index(at)
        return rows.index(at.row_id) if at is not None and at.row_id in rows else 0
