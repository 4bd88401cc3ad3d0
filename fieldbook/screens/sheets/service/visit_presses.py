"""The lines of the service on which a visit is started, and a step or other work is added."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fieldbook.actions.cells import enter_text
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.rows import add_row
from fieldbook.actions.visits.visiting import start_visit
from fieldbook.checks.finding import CellRef
from fieldbook.records.base import facts_of
from fieldbook.records.fact import Fact
from fieldbook.records.tables.visits import VISIT_REASONS, Visit, VisitStep
from fieldbook.screens.sheets.presses import Add


@dataclass(frozen=True)
class StartVisit(Add):
    """Starts today's visit for the reason that is chosen, with the usual steps."""

    @property
    def at(self) -> CellRef:
        """The line's own address."""
        return CellRef("visit", "", "add visit")

    def add(self, open_job: OpenJob) -> CellRef:
        """Never without a reason."""
        raise RefusedError("Choose why the visit is made: it says which steps are usual.")

    def add_typed(self, open_job: OpenJob, text: str) -> CellRef:
        """Start the visit; the cursor goes on from the first cell of its row."""
        word = text.strip().casefold()
        if word not in VISIT_REASONS:
            raise RefusedError(f"A visit is one of {', '.join(VISIT_REASONS)}.")
        return CellRef("visit", start_visit(open_job, word), "ended")

    @property
    def first_fact(self) -> Fact:
        """The reason."""
        return facts_of(Visit)["reason"]

    @property
    def empty(self) -> bool:
        """It is made with its reason."""
        return True


@dataclass(frozen=True)
class AddToVisit(Add):
    """Adds a step to a visit, or work on a thing that changes no cell of it.

    `columns` are the one that is typed on the line, which names the row, and the one after it.
    """

    visit_id: str
    table: str
    columns: tuple[str, str]
    name: str

    @property
    def at(self) -> CellRef:
        """The line's own address: each visit has one."""
        return CellRef(self.table, self.visit_id, f"add {self.name}")

    def add(self, open_job: OpenJob) -> CellRef:
        """Add the row; a step stands after the others."""
        values: dict[str, str | int] = {"visit_id": self.visit_id}
        if self.table == VisitStep.table_name:
            steps = [one for one in open_job.job.visit_steps if one.visit_id == self.visit_id]
            values["number"] = max((one.number or 0 for one in steps), default=0) + 1
        return CellRef(self.table, add_row(open_job, self.table, **values), self.columns[1])

    def fill_first(self, open_job: OpenJob, at: CellRef, text: str) -> None:
        """Enter what was typed as the name of the row."""
        enter_text(open_job, replace(at, column=self.columns[0]), text)

    @property
    def first_fact(self) -> Fact:
        """The step, or the thing."""
        return Fact("text", self.name.capitalize())

    @property
    def empty(self) -> bool:
        """There is no row before a text is kept."""
        return True
