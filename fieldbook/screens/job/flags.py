"""The flags, always in sight: a list beside a wide sheet, one line under a narrow one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from fieldbook.checks.finding import Finding
from fieldbook.checks.registry import counts, tally

_STYLE = {"stop": "$error bold", "fix": "$warning bold", "note": "$primary"}


def flag_text(finding: Finding, *, whole: bool) -> Content:
    """A flag in words: how grave it is and what is wrong; `whole` adds what mends it."""
    text = Content.assemble(
        (finding.severity.upper(), _STYLE[finding.severity]), " ", Content(finding.sentence)
    )
    if whole:
        text = Content.assemble(text, "\n", Content(f"{finding.mend}\n"))
    return text


class FlagList(OptionList):
    """All flags; Enter on a flag goes to the cell that mends it."""

    @dataclass
    class Follow(Message):
        """The cell that mends this flag is wanted."""

        finding: Finding

    class Leave(Message):
        """The sheet is wanted again."""

    BINDINGS: ClassVar[list[BindingType]] = [("escape", "leave", "Back to the sheet")]

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__(id="flags", compact=True, markup=False)
        self._findings: tuple[Finding, ...] = ()

    def show(self, findings: tuple[Finding, ...]) -> None:
        """List the flags; the highlight keeps its index, or goes to the last flag."""
        # Filling the list lays it out anew, which is slow: most keys change no flag.
        if findings == self._findings and self.option_count:
            return
        here = self.highlighted
        self._findings = findings
        self.clear_options()
        options = [Option(flag_text(finding, whole=True)) for finding in findings]
        self.add_options(options or [Option(Content("No flags."), disabled=True)])
        if findings:
            self.highlighted = min(here or 0, len(findings) - 1)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter: ask for the cell that mends the flag."""
        event.stop()
        if event.option_index < len(self._findings):
            self.post_message(self.Follow(self._findings[event.option_index]))

    def action_leave(self) -> None:
        """Esc: ask for the sheet."""
        self.post_message(self.Leave())


class FlagLine(Static):
    """How many flags there are, and the worst of them, in one line."""

    def __init__(self) -> None:
        """Empty until `show`."""
        super().__init__(id="flag-line", markup=False)

    def show(self, findings: tuple[Finding, ...]) -> None:
        """Count the flags and show the first, which is the worst."""
        if not findings:
            self.update(Content.styled("No flags.", "$success"), layout=False)
            return
        more = f"{tally(counts(findings))} | "
        self.update(
            Content.assemble(Content(more), flag_text(findings[0], whole=False)), layout=False
        )
