"""A job's watering law held against its site and its zones."""

from __future__ import annotations

from datetime import date

from fieldbook.checks.common.job_rules import rule_value
from fieldbook.checks.finding import CellRef, Missing
from fieldbook.records.column_values import amount
from fieldbook.records.ids import once_id
from fieldbook.records.loaded_job import LoadedJob, once_per_job
from fieldbook.records.tables.watering.programmes import WateringFacts
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.rules.keys import WATERING
from fieldbook.trade.watering.day_pattern import DayPattern, read_days
from fieldbook.trade.watering.law_reading import law_from_text
from fieldbook.trade.watering.season_text import is_time_zone
from fieldbook.trade.watering.watering_law import WateringLaw
from fieldbook.watering.permitted.site_facts import Site, Watered, house_number_of
from fieldbook.watering.permitted.zone_permits import Permit, permit_for

_FT2_AN_ACRE = 43_560.0
_CELLS = {
    "house number": "house_number",
    "watering group": "watering_group",
    "side of the street": "street_side",
    "kind of property": "property_kind",
    "water source": "water",
    "size of the lot": "lot_ft2",
    "the days that the utility assigned": "assigned_days",
}
"""The column that answers what a permit misses. The rule itself is chosen with the rule set."""
_METHODS = {
    "drip": frozenset({"automatic", "drip"}),
    "bubbler": frozenset({"automatic", "bubbler"}),
}
_SPRINKLER = frozenset({"automatic", "sprinkler"})


@once_per_job
def law_of_job(job: LoadedJob) -> WateringLaw:
    """The watering rule of the job's rule set, with all that nobody has looked up in it."""
    return law_from_text(str(rule_value(job, WATERING)))


@once_per_job
def site_of(job: LoadedJob) -> Site:
    """What the rule goes by. The house number is that of the address unless another is entered."""
    row = job.watering_facts
    if row is None:
        return Site(house_number=house_number_of(job.job.address))
    lot = amount(row, "lot_ft2")
    return Site(
        house_number=row.house_number or house_number_of(job.job.address),
        no_number=row.no_number is True,
        group=(row.watering_group or "").strip(),
        side="odd" if row.street_side == "odd" else "even" if row.street_side == "even" else None,
        property="home" if row.property_kind == "home" else "other" if row.property_kind else None,
        acres=None if lot is None else lot / _FT2_AN_ACRE,
        water=row.water or None,
        assigned=_days(row.assigned_days),
        time_zone=time_zone_of(row),
    )


def time_zone_of(row: WateringFacts | None) -> str:
    """The time zone entered; an empty text where none is, or where nobody knows its name."""
    name = (row.time_zone or "").strip() if row is not None else ""
    return name if name and is_time_zone(name) else ""


def _days(text: str) -> DayPattern | None:
    try:
        return read_days(text) if text else None
    except ValueError:
        return None


def permit_of(job: LoadedJob, zone: Zone) -> Permit:
    """The permit of a zone. Zones that are watered alike share one, which keeps its answers."""
    row, facts = job.watering_of(zone.id), job.watering_facts
    new_part = amount(facts, "new_part_pct")
    watered = Watered(
        _METHODS.get(zone.head_kind or "", _SPRINKLER),
        planted_on=_planted(row.planted_on) if row is not None and row.new_plants else None,
        new_part=None if new_part is None else new_part / 100,
        has_paper=facts.new_paper if facts is not None else None,
    )
    return permit_for(law_of_job(job), site_of(job), watered)


def _planted(text: str | None) -> date | None:
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        return None


def lacks_of(job: LoadedJob, words: tuple[str, ...]) -> tuple[Missing, ...]:
    """What a permit misses, each with the cell that answers it."""
    row_id = once_id(job.job.id, "watering_facts")
    rule_set = CellRef("local_rules", once_id(job.job.id, "local_rules"), "rule set")
    found = []
    for word in words:
        column = _CELLS.get(word)
        at = CellRef("watering_facts", row_id, column) if column else rule_set
        the = word if word.startswith("the ") else f"the {word}"
        found.append(Missing(the, at))
    return tuple(found)
