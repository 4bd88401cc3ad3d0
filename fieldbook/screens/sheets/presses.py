"""What Enter, Space or typing does on a cell that is not simply the value of one column.

`Cell.press` is None for a plain column; every other cell carries an object of one of the classes
below. A class says which keys the foot of the screen names, and does what its key asks for.

A new press is a class here. One that opens a page is in `OpensPage` and in `job/open_pages.py`.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import ClassVar, Literal

from fieldbook.actions import log_tests, log_wires, rows, signing, usual
from fieldbook.actions.bulk.draft import DraftJob
from fieldbook.actions.cells import enter, enter_text
from fieldbook.actions.keymap import KeyWords
from fieldbook.actions.open_job import OpenJob
from fieldbook.checks.common.naming import stretch_name
from fieldbook.checks.finding import CellRef
from fieldbook.checks.progress.holds import BACKFILL, SIGN_OFFS
from fieldbook.records.base import facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.loaded_job import TABLES
from fieldbook.records.values import Value
from fieldbook.screens.sheets.programmes.programme_presses import ProgrammePress
from fieldbook.screens.sheets.service.audit_press import OpenAudit
from fieldbook.screens.sheets.service.diagnosis_press import OpenDiagnosis

Step = Literal["next", "left", "right", "up", "down", "stay"]
"""Where the cursor goes after an entry: on, a cell back or on, a row up or down, or nowhere."""


class Add(ABC):
    """Enter adds a row; the cursor then goes to the cell of it that is filled in first.

    Typing fills in that cell at once: the row is made when the text is kept, as one act.
    """

    keys: ClassVar[KeyWords] = (("Enter", "add"), ("type", "to add and fill in"))

    @property
    @abstractmethod
    def at(self) -> CellRef:
        """The address of the line on which Enter adds the row."""

    @abstractmethod
    def add(self, open_job: OpenJob) -> CellRef:
        """Add the row; returns the cell to fill in first."""

    @property
    def first_fact(self) -> Fact:
        """What the first cell of the row holds."""
        return Fact("hidden", "Row")

    @property
    def empty(self) -> bool:
        """Whether there would be nothing in the row: it is then made with its first value."""
        return False

    def add_typed(self, open_job: OpenJob, text: str) -> CellRef:
        """Add the row with a text in its first cell, as one act; returns that cell.

        Raises RefusedError where the text is no value of the cell; there is no row then.
        """
        draft = DraftJob(open_job)
        at = self.add(draft)
        self.fill_first(draft, at, text)
        draft.keep(f"{TABLES[self.at.table].title} added")
        return at

    def fill_first(self, open_job: OpenJob, at: CellRef, text: str) -> None:
        """Enter a text in the first cell of the row that was added."""
        enter_text(open_job, at, text)


@dataclass(frozen=True)
class AddRow(Add):
    """Adds a row to a table of the job, with nothing in it or by a function that fills it.

    `name` is what the crew calls such a row, `first` the column that is filled in first.
    """

    table: str
    name: str
    first: str
    fill: Callable[[OpenJob], str] | None = None

    @property
    def at(self) -> CellRef:
        """The line's own address: it belongs to no row."""
        return CellRef(self.table, "", f"add {self.name}")

    def add(self, open_job: OpenJob) -> CellRef:
        """Add the row."""
        row_id = self.fill(open_job) if self.fill else rows.add_row(open_job, self.table)
        return CellRef(self.table, row_id, self.first)

    @property
    def first_fact(self) -> Fact:
        """What the first column holds."""
        return facts_of(TABLES[self.table]).get(self.first, super().first_fact)

    @property
    def empty(self) -> bool:
        """Whether no function fills it."""
        return self.fill is None


@dataclass(frozen=True)
class AddCable(AddRow):
    """Adds a cable, whose colours are typed in a row."""

    table: str = "cable"
    name: str = "cable"
    first: str = "conductors"
    fill: Callable[[OpenJob], str] | None = rows.add_cable

    @property
    def first_fact(self) -> Fact:
        """The colours in a row."""
        return Fact("colours", "Colours", "All conductors of the cable, commas between them.")

    def fill_first(self, open_job: OpenJob, at: CellRef, text: str) -> None:
        """Make the cable's conductors those that were typed."""
        log_wires.set_conductors(open_job, at.row_id, text)


@dataclass(frozen=True)
class AddRun(Add):
    """Adds a pipe run that repeats the row above; to the mainline where `zone_id` is None."""

    zone_id: str | None

    @property
    def at(self) -> CellRef:
        """The line's own address: each zone has one."""
        return CellRef("pipe_run", self.zone_id or "", "add run")

    def add(self, open_job: OpenJob) -> CellRef:
        """Add the run: its size is asked for first, of a repeated one its length."""
        first = "length_ft" if open_job.job.runs_of(self.zone_id) else "size"
        return CellRef("pipe_run", rows.repeat_run(open_job, self.zone_id), first)


@dataclass(frozen=True)
class AddMasterValve(Add):
    """Adds the master valve, of which a job has one."""

    valve_id: str

    @property
    def at(self) -> CellRef:
        """The line's own address."""
        return CellRef("valve", self.valve_id, "add master")

    def add(self, open_job: OpenJob) -> CellRef:
        """Add the valve."""
        enter(open_job, replace(self.at, column="kind"), "master")
        return replace(self.at, column="colour")


@dataclass(frozen=True)
class TickFlush:
    """Space ticks every step of a flush as it is usually done, or clears them; None: mainline."""

    zone_id: str | None
    keys: ClassVar[KeyWords] = (("Space", "the usual way"),)

    def tick(self, open_job: OpenJob) -> bool:
        """Tick or clear; returns whether the stretch is flushed now."""
        return signing.tick_flush(open_job, self.zone_id)


@dataclass(frozen=True)
class TickBackfill:
    """Space ticks what is not answered yet of a stretch's backfill; None: of the mainline's."""

    zone_id: str | None
    keys: ClassVar[KeyWords] = (("Space", "the usual way"),)

    def tick(self, open_job: OpenJob) -> bool:
        """Tick; returns whether it is answered now."""
        return usual.tick_backfill(open_job, self.zone_id)


@dataclass(frozen=True)
class AnswerAll:
    """Space answers at once, by one act, each of several ticks that is not answered yet."""

    keys: KeyWords
    act: Callable[[OpenJob], bool]

    def tick(self, open_job: OpenJob) -> bool:
        """Answer them; returns whether each is answered now."""
        return self.act(open_job)


class Signature(ABC):
    """Space asks to sign, or to take the signature back; Ctrl+O signs though a hold is not met."""

    keys: ClassVar[KeyWords] = (
        ("Space", "sign"),
        ("Ctrl+O", "override a hold"),
        ("Ctrl+K", "countersign"),
    )

    @abstractmethod
    def sign(self, open_job: OpenJob, override: signing.Override | None = None) -> bool:
        """Sign or take back; returns whether it is signed now. Raises RefusedError."""

    @property
    @abstractmethod
    def signs(self) -> tuple[str, str | None]:
        """The kind of the sign-off, and the zone of a stretch."""

    def is_signed(self, open_job: OpenJob) -> bool:
        """Whether it is signed: Space then takes the signature back."""
        return signing.is_signed(open_job.job, *self.signs)

    def unchecked(self, open_job: OpenJob) -> str:
        """What the signature relies on and nobody has entered, in words; "" for nothing."""
        return signing.unchecked(open_job, *self.signs)

    def still_to_do(self, open_job: OpenJob) -> str:
        """The punch items that stay open though it is signed, in words; "" for none."""
        return signing.still_to_do(open_job.job, self.signs[0])

    def name(self, open_job: OpenJob) -> str:
        """What is signed, in words."""
        kind, zone_id = self.signs
        if kind == BACKFILL:
            return f"Backfill of {stretch_name(open_job.job, zone_id)}"
        return SIGN_OFFS[kind]

    def refuse_signing(self, open_job: OpenJob) -> None:
        """Raise RefusedError where it may not be signed."""
        signing.refuse_signing(open_job, *self.signs)

    def refuse_override(self, open_job: OpenJob) -> None:
        """Raise RefusedError where there is no hold that may be overridden."""
        signing.refuse_override(open_job, *self.signs)

    def reasons(self, open_job: OpenJob) -> list[str]:
        """Every hold and stop that keeps it back, in whole sentences."""
        return signing.reasons(open_job, *self.signs)


@dataclass(frozen=True)
class SignBackfill(Signature):
    """Signs that a stretch may be buried: a zone's lateral, or the mainline (None)."""

    zone_id: str | None

    @property
    def signs(self) -> tuple[str, str | None]:
        """The backfill of the stretch."""
        return BACKFILL, self.zone_id

    def sign(self, open_job: OpenJob, override: signing.Override | None = None) -> bool:
        """Sign the stretch."""
        return signing.sign_backfill(open_job, self.zone_id, override)


@dataclass(frozen=True)
class SignJob(Signature):
    """Signs one of `SIGN_OFFS` for the whole job."""

    kind: str

    @property
    def signs(self) -> tuple[str, str | None]:
        """The sign-off of the whole job."""
        return self.kind, None

    def sign(self, open_job: OpenJob, override: signing.Override | None = None) -> bool:
        """Sign the job."""
        return signing.sign_off(open_job, self.kind, override)


@dataclass(frozen=True)
class OpenZone:
    """Enter opens the page of a zone's water."""

    zone_id: str
    keys: ClassVar[KeyWords] = (("Enter", "open it"),)


@dataclass(frozen=True)
class OpenFile:
    """Enter shows an attached file."""

    attachment_id: str
    keys: ClassVar[KeyWords] = (("Enter", "show"),)


@dataclass(frozen=True)
class ChooseRuleSet:
    """Enter chooses the rule set that the job is held to."""

    keys: ClassVar[KeyWords] = (("Enter", "choose"),)


@dataclass(frozen=True)
class ShowSteps:
    """Enter shows how a figure came about, a step on each line."""

    title: str
    text: str
    keys: ClassVar[KeyWords] = (("Enter", "how so"),)


class TypedPress(ABC):
    """The cell is typed into, but what is typed is not the value of one column."""

    keys: ClassVar[KeyWords] = (("type", "to fill in"), ("Enter", "edit"))

    @abstractmethod
    def keep(self, open_job: OpenJob, text: str) -> None:
        """Keep what was typed; raises RefusedError."""

    @property
    def history_at(self) -> CellRef | None:
        """The column whose history stands for the cell's; None where there is none."""
        return None


@dataclass(frozen=True)
class TypeConductors(TypedPress):
    """All colours of a cable, typed in a row."""

    cable_id: str

    def keep(self, open_job: OpenJob, text: str) -> None:
        """Make the cable's conductors those that were typed."""
        log_wires.set_conductors(open_job, self.cable_id, text)


@dataclass(frozen=True)
class TypeWhatRan(TypedPress):
    """The zones that ran while a terminal was energised. `seed` makes a terminal not known yet."""

    at: CellRef
    seed: Mapping[str, Value]
    keys: ClassVar[KeyWords] = (("zone number, Enter", "what ran"),)

    def keep(self, open_job: OpenJob, text: str) -> None:
        """Keep the zones that ran."""
        log_tests.set_ran(open_job, self.at, text, self.seed)

    @property
    def history_at(self) -> CellRef | None:
        """The first zone that ran."""
        return replace(self.at, column="ran_zone_id")


@dataclass(frozen=True)
class TypeOhms(TypedPress):
    """The ohms read at a terminal, kept as a test. `seed` makes a terminal not known yet."""

    at: CellRef
    seed: Mapping[str, Value]

    def keep(self, open_job: OpenJob, text: str) -> None:
        """Keep the reading."""
        log_tests.set_ohm(open_job, self.at, text, self.seed)

    @property
    def history_at(self) -> CellRef | None:
        """The column of the reading."""
        return self.at


class CountedPress(TypedPress):
    """A number is typed, or Space counts all of it and takes that back."""

    keys: ClassVar[KeyWords] = (("Space", "all of it"), ("number", "so many"), ("Enter", "edit"))

    @abstractmethod
    def tick(self, open_job: OpenJob) -> bool:
        """Count all of it, or clear it; returns whether it is counted now."""


OpensPage = (
    OpenZone | OpenFile | OpenAudit | OpenDiagnosis | ChooseRuleSet | ShowSteps | ProgrammePress
)
Tick = TickFlush | TickBackfill | AnswerAll | CountedPress
"""Presses that Space ticks, and takes back where they were ticked."""
KeyPress = Add | Tick | Signature | OpensPage
"""Presses that a key carries out; Enter and Space do the same on them."""
Press = KeyPress | TypedPress
