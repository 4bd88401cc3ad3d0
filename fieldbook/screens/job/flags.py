"""The flags, always in sight: a list beside a wide sheet, one line under a narrow one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from fieldbook.actions.keymap import KeyWords, in_keys_in_use
from fieldbook.checks.finding import CellRef, Finding
from fieldbook.checks.registry import counts
from fieldbook.checks.severity import tally
from fieldbook.checks.verdicts import Answer, Verdicts
from fieldbook.languages.in_use import say, shown
from fieldbook.screens.widgets.line_list import LineList

FLAG_KEYS: KeyWords = (("Enter", "go to its cell"), ("Esc", "back"), ("Up Down", "choose"))

_STYLE = {"stop": "$error bold", "fix": "$warning bold", "note": "$foreground bold"}
_SIGN = {"stop": "!", "fix": "!", "note": "-"}
"""Before the word, so that neither the colour nor the language of the word is needed."""


def flag_text(finding: Finding, *, whole: bool) -> Content:
    """A flag in words: how grave it is and what is wrong; `whole` adds what mends it."""
    text = Content.assemble(
        (f"{_SIGN[finding.severity]} {say(finding.severity).upper()}", _STYLE[finding.severity]),
        " ",
        Content(shown(finding.sentence)),
    )
    if whole:
        text = Content.assemble(text, "\n", Content(f"{in_keys_in_use(shown(finding.mend))}\n"))
    return text


def open_text(answer: Answer) -> Content:
    """A check that is open: what it looks at, and what it lacks."""
    words = ", ".join(missing.words for missing in answer.missing)
    # One lack often names the thing already, as "the ohms of zone 5" does "ohms of zone 5".
    said = words if answer.thing in words else f"{answer.thing}: {words}"
    word = f"? {say('not checked').upper()}"
    return Content.assemble((word, "$foreground bold"), " ", Content(shown(said)))


def step_to(answer: Answer) -> Target:
    """Where an open check is entered."""
    first = answer.missing[0]
    return Target(first.at, f"Enter {first.words}.")


@dataclass(frozen=True)
class Target:
    """The cell that a line of the list leads to, and the sentence shown there."""

    at: CellRef
    sentence: str


class FlagList(LineList):
    """Every flag, then every open check; Enter goes to the cell that mends or answers it."""

    @dataclass
    class Follow(Message):
        """Go to the cell of this line."""

        target: Target

    class Leave(Message):
        """The sheet is wanted again."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape", "leave", "Back to the sheet")]

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__(id="flags", compact=True, markup=False)
        self._shown: tuple[tuple[Finding, ...], tuple[Answer, ...]] | None = None
        self._targets: list[Target] = []

    def show(self, verdicts: Verdicts) -> None:
        """List the flags and the open checks, the highlight kept where it can be."""
        if (verdicts.flags, verdicts.not_checked) == self._shown:
            return
        here = self.highlighted
        self._shown = (verdicts.flags, verdicts.not_checked)
        self._targets = [Target(flag.at, flag.mend) for flag in verdicts.flags]
        self._targets += [step_to(answer) for answer in verdicts.not_checked]
        self.clear_options()
        options = [Option(flag_text(flag, whole=True)) for flag in verdicts.flags]
        options += [Option(open_text(answer)) for answer in verdicts.not_checked]
        self.add_options(options or [Option(Content(shown(verdicts.headline)), disabled=True)])
        if self._targets:
            self.highlighted = min(here or 0, len(self._targets) - 1)

    def forget(self) -> None:
        """List everything again at the next `show`: the language is another one."""
        self._shown = None

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter: go to the cell."""
        event.stop()
        if event.option_index < len(self._targets):
            self.post_message(self.Follow(self._targets[event.option_index]))

    def action_leave(self) -> None:
        """Esc: ask for the sheet."""
        self.post_message(self.Leave())


class FlagLine(Static):
    """The flags in one line: how many, the worst of them, how many checks are open."""

    class Clicked(Message):
        """The list of all flags is wanted."""

    def on_click(self) -> None:
        """A click asks for the list."""
        self.post_message(self.Clicked())

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__(id="flag-line", markup=False)

    def show(self, verdicts: Verdicts) -> None:
        """The tally, the open checks and the worst flag; without a flag, what is open."""
        if not verdicts.flags:
            style = "" if verdicts.not_checked or not verdicts.of("sound") else "$success"
            self.update(Content.styled(shown(verdicts.headline), style), layout=False)
            return
        count = verdicts.open_count
        more = f", {say(f'{count} not checked')}" if count else ""
        words = Content(f"{say(tally(counts(verdicts.flags)))}{more} | ")
        self.update(
            Content.assemble(words, flag_text(verdicts.flags[0], whole=False)), layout=False
        )
