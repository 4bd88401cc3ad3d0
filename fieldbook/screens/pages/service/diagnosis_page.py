"""The page that ranks what could be wrong with a zone, and takes readings as they are typed."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from datetime import date
from typing import ClassVar

from textual import work
from textual.binding import BindingType
from textual.content import Content
from textual.message import Message
from textual.worker import Worker, get_current_worker

from fieldbook.actions.keymap import KeyWords
from fieldbook.checks.common.naming import zone_name
from fieldbook.checks.diagnosing.diagnosis_lines import (
    NOTHING_READ,
    Role,
    ZoneDiagnosis,
    diagnosis_lines,
    diagnosis_of,
    zone_parts,
)
from fieldbook.checks.diagnosing.recorded_readings import recorded, with_record
from fieldbook.checks.diagnosing.typed_readings import ReadingError, ReadingParser, TypedReadings
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone
from fieldbook.screens.pages.page import CAUTION, FAINT, TITLE, Page, title
from fieldbook.screens.pages.service.diagnosis_help import DIAGNOSIS_HELP
from fieldbook.screens.widgets.dialogs import CLOSE_KEYS, AskLine, Read

HOW_TO_TYPE = "static 55, flow 12.1, head 3 28, saw 5 dry, looked; or: dead, ohms 900, volts 25"
_ASKED = "What was read or seen? Commas between."
_STYLES: dict[Role, str] = {
    "title": TITLE,
    "strong": "$foreground bold",
    "text": "",
    "faint": FAINT,
    "caution": CAUTION,
}


class DiagnosisPage(Page):
    """Shows what could be wrong with one zone; `r` takes readings, which are kept by the page."""

    BINDINGS: ClassVar[list[BindingType]] = [
        ("r", "read", "Readings"),
        ("question_mark", "explain", "Explain"),
    ]

    class Found(Message):
        """A diagnosis is worked out."""

        def __init__(self, found: ZoneDiagnosis) -> None:
            """`found` is for the readings that the page had when it was begun."""
            super().__init__()
            self.found = found

    def __init__(self, job: LoadedJob, zone: Zone) -> None:
        """The page begins with the newest measurement of the record, if there is one."""
        super().__init__(self._lines)
        self._job, self._zone = job, zone
        parts = zone_parts(job, zone)
        self._parts = None if isinstance(parts, str) else parts
        self._recorded, self._day = recorded(job, zone, self._parts)
        self._typed, self._line = self._recorded, ""
        self._found: ZoneDiagnosis | None = None

    def keys(self) -> KeyWords:
        """Two keys more than a page has."""
        return (("r", "readings"), ("?", "explain"), *CLOSE_KEYS)

    # Textual calls this and the on_mount of Page, so there is no call of super().
    def on_mount(self) -> None:
        """Begin to work out the diagnosis."""
        self._diagnose(self._typed)

    @work(thread=True, exclusive=True)
    def _diagnose(self, typed: TypedReadings) -> None:
        """Simulate every fault, in a thread: it solves the zone some hundred times."""
        worker: Worker[None] = get_current_worker()
        found = diagnosis_of(self._job, self._zone, typed)
        if not worker.is_cancelled:
            self.post_message(self.Found(found))

    def on_diagnosis_page_found(self, event: Found) -> None:
        """Show it, unless other readings were typed meanwhile."""
        if event.found.typed == self._typed:
            self._found = event.found
            self.on_resize()

    def action_explain(self) -> None:
        """Say what can be typed, and how the answer comes about."""
        self.app.push_screen(Read("What is wrong with a zone", DIAGNOSIS_HELP))

    def action_read(self) -> None:
        """Ask for readings; a measurement of the record counts beside them if it is of today."""

        def refuse(text: str) -> str | None:
            parser = ReadingParser(self._job, self._zone, self._parts)
            try:
                parser.line(text)
            except ReadingError as error:
                return str(error)
            return None

        def closed(text: str | None) -> None:
            if text is None:
                return
            typed = ReadingParser(self._job, self._zone, self._parts).line(text)
            same_day = self._day == date.today().isoformat()
            self._typed = with_record(typed, self._recorded, same_day=same_day)
            self._line = text.strip()
            self._found = None
            self.on_resize()
            self._diagnose(self._typed)

        self.app.push_screen(AskLine(_ASKED, HOW_TO_TYPE, refuse, self._line), closed)

    def _lines(self, width: int) -> Iterator[Content]:
        found = self._found
        if found is None:
            yield title(f"What is wrong with {zone_name(self._zone)}")
            yield Content.styled("Each fault is being simulated.", FAINT)
            return
        yield from _wrapped(list(diagnosis_lines(found)), width)
        yield Content("")
        flow = self._recorded.running.flow
        if flow is not None and found.typed.running.flow == flow:
            when = f"of {self._day}" if self._day else "without a day"
            yield Content.styled(f"From the record: the measurement {when}.", FAINT)
        if self._line:
            yield Content.styled(f"Typed: {self._line}", FAINT)
        if found.refused == NOTHING_READ or not self._line:
            yield Content.styled(f"Press r to type readings, such as {HOW_TO_TYPE}.", FAINT)


def _wrapped(lines: list[tuple[Role, str]], width: int) -> Iterator[Content]:
    """The lines at a width, what goes on indented as it began."""
    for role, words in lines:
        begun = 3 if words[:1].isdigit() else len(words) - len(words.lstrip())
        for line in textwrap.wrap(words, max(width, 20), subsequent_indent=" " * begun):
            yield Content.styled(line, _STYLES[role]) if _STYLES[role] else Content(line)
