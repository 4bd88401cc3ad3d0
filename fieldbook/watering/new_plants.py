"""How new plants are watered until they are established, by days counted from planting."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from fieldbook.trade.plants_and_soils import PhaseRow, plants_and_soils


@dataclass(frozen=True)
class NewPlanting:
    """What was planted, a kind of `plants_and_soils.toml`, and on which day: that day is day 1."""

    kind: str
    planted_on: date

    def day_number(self, day: date) -> int:
        """The number of a day: 1 on the day of planting, less before it."""
        return (day - self.planted_on).days + 1

    @property
    def phases(self) -> tuple[PhaseRow, ...]:
        """The phases in order; none for a kind that is not listed."""
        return plants_and_soils().establishment.get(self.kind, ())

    def phase_on(self, day: date) -> PhaseRow | None:
        """The phase of a day; None before planting and once the plants are established."""
        number = self.day_number(day)
        if number < 1:
            return None
        return next((phase for phase in self.phases if number <= phase.last_day), None)

    @property
    def established_on(self) -> date:
        """The first day on which it is watered like any other planting."""
        last = max((phase.last_day for phase in self.phases), default=0)
        return self.planted_on + timedelta(days=last)

    def spans(self) -> list[tuple[date, date, PhaseRow]]:
        """The first and the last day of each phase, in order."""
        found, first = [], self.planted_on
        for phase in self.phases:
            last = self.planted_on + timedelta(days=phase.last_day - 1)
            found.append((first, last, phase))
            first = last + timedelta(days=1)
        return found

    def waters_on(self, day: date) -> int:
        """How many times it is watered on a day; 0 on a day between, or of no phase."""
        phase = self.phase_on(day)
        if phase is None:
            return 0
        # Days between are counted from planting, so that a phase begins where the last one ended.
        return phase.times_a_day if (self.day_number(day) - 1) % phase.every_days == 0 else 0
