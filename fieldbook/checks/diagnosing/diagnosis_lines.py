"""A diagnosis of a zone of the record, in lines that the command prints and the page shows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from fieldbook.checks.common.naming import quantity, zone_name
from fieldbook.checks.diagnosing.running_zone import parts_of, short_place
from fieldbook.checks.diagnosing.still_zone import dead_readings
from fieldbook.checks.diagnosing.typed_readings import TypedReadings
from fieldbook.checks.water.network_draft import MissingError
from fieldbook.diagnosis.dead_zone import DeadZone, why_dead
from fieldbook.diagnosis.fault_words import (
    CHANCES_NOTE,
    FaultLines,
    Shown,
    fault_lines,
    headline,
    next_words,
    odds_words,
)
from fieldbook.diagnosis.ranking import Diagnosis, diagnose
from fieldbook.diagnosis.zone_parts import ZoneParts
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.cautions import CAUTIONS
from fieldbook.trade.dead_zone_faults import dead_zone_faults
from fieldbook.units import FLOW, PRESSURE
from fieldbook.water import NetworkError

Role = Literal["title", "strong", "text", "faint", "caution"]
NOTHING_READ = (
    "Nothing is read yet of this zone. Read the static pressure, the zone's flow and the pressure "
    "at two heads, and note how the heads look."
)
_MOST_NEXT, _LEAST_DEAD = 3, 0.03


@dataclass(frozen=True)
class ZoneDiagnosis:
    """What could be wrong with a zone: `running` or `dead` is the answer, `refused` why none.

    shown: how its figures and places are written.
    """

    zone: Zone
    typed: TypedReadings
    running: Diagnosis | None = None
    dead: DeadZone | None = None
    refused: str = ""
    shown: Shown = field(default_factory=Shown)


def zone_parts(job: LoadedJob, zone: Zone) -> ZoneParts | str:
    """The zone as a diagnosis takes it, or a sentence that says what is missing."""
    try:
        return parts_of(job, zone)
    except MissingError as figure:
        return f"It can't be simulated: enter {str(figure).rstrip(',')} first."
    except NetworkError as error:
        return str(error)


def diagnosis_of(job: LoadedJob, zone: Zone, typed: TypedReadings) -> ZoneDiagnosis:
    """Rank what could be wrong; it solves the zone some hundred times."""
    shown = Shown(
        lambda psi: quantity(job, psi, PRESSURE),
        lambda gpm: quantity(job, gpm, FLOW),
        lambda place: short_place(zone, place),
    )
    if typed.dead:
        found = why_dead(dead_readings(job, zone, typed.shown))
        return ZoneDiagnosis(zone, typed, dead=found, shown=shown)
    parts = zone_parts(job, zone)
    if isinstance(parts, str):
        return ZoneDiagnosis(zone, typed, refused=parts)
    if typed.running.empty:
        return ZoneDiagnosis(zone, typed, refused=NOTHING_READ)
    try:
        return ZoneDiagnosis(zone, typed, diagnose(parts, typed.running), shown=shown)
    except NetworkError as error:
        return ZoneDiagnosis(zone, typed, refused=str(error))


def diagnosis_lines(found: ZoneDiagnosis) -> Iterator[tuple[Role, str]]:
    """The diagnosis line by line, each with the part it plays."""
    yield "title", f"What is wrong with {zone_name(found.zone)}"
    if found.dead is not None:
        yield from _dead_lines(found.dead)
    elif found.running is not None:
        yield from _running_lines(found, found.running)
    else:
        yield "text", found.refused


def _running_lines(found: ZoneDiagnosis, ranked: Diagnosis) -> Iterator[tuple[Role, str]]:
    yield "strong", headline(ranked, found.shown)
    # What to do stands before why: the list of causes is often longer than a screen.
    for number, one in enumerate(ranked.nexts[:_MOST_NEXT]):
        before = "Next: " if number == 0 else "Or: "
        yield "strong" if number == 0 else "text", before + next_words(one, ranked, found.shown)
    cautions: list[str] = []
    for lines in fault_lines(ranked, found.typed.running, found.shown):
        yield from _fault(lines)
        cautions += lines.cautions
    yield from _cautions(cautions)
    yield "faint", CHANCES_NOTE


def _fault(lines: FaultLines) -> Iterator[tuple[Role, str]]:
    yield "text", f"{lines.number}. {lines.title}."
    for before, words in (
        ("It may be: ", lines.causes),
        ("How bad: ", lines.severity),
        ("Also shows: ", lines.also),
        ("To see which: ", lines.look),
    ):
        if words:
            end = "" if words.endswith(("?", ".")) else "."
            yield "faint", f"   {before}{words}{end}"


def _dead_lines(found: DeadZone) -> Iterator[tuple[Role, str]]:
    table = dead_zone_faults()
    first, chance = found.ranked[0]
    words = table.words[first].words
    told = f"{odds_words(chance).partition(',')[0]}: {words}." if found.found else ""
    yield "strong", f"It does not run. {told or 'No cause stands out yet.'}"
    cautions = []
    for number, one in enumerate(found.nexts[:_MOST_NEXT]):
        before = "Next" if number == 0 else "Or"
        cautions.append(one.test.caution)
        role: Role = "strong" if number == 0 else "text"
        yield role, f"{before}: {one.test.words} ({one.test.minutes:.0f} minutes)."
    listed = [one for one in found.ranked if one[1] >= _LEAST_DEAD]
    for number, (cause, chance) in enumerate(listed, start=1):
        yield "text", f"{number}. {odds_words(chance)}: {table.words[cause].words}."
        look = table.words[cause].look
        yield "faint", f"   To see it: {look}{'' if look.endswith('?') else '.'}"
        cautions.append(table.words[cause].caution)
    yield from _cautions(cautions)
    yield "faint", CHANCES_NOTE


def _cautions(names: list[str]) -> Iterator[tuple[Role, str]]:
    """The dangers of what is proposed, each once, in the order of the list of cautions."""
    for caution in CAUTIONS:
        if caution.danger in names:
            yield "caution", f"Caution: {caution.text}"
