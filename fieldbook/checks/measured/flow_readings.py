"""The flow of a zone as it was measured, with how far it may be off."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from fieldbook.audit import Figure, gallons, timed_gpm
from fieldbook.audit.meter_timing import METER_ERROR, READ_TO
from fieldbook.checks.common.naming import zone_word
from fieldbook.checks.finding import CellRef, Missing
from fieldbook.records.column_values import amount
from fieldbook.records.days import order_of
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.measured.commissioning import ZoneMeasurement
from fieldbook.trade.rules.design_limits import TESTED_FLOW_ERROR

_DIAL = ("dial", "dial_start", "dial_stop", "dial_s")
_WORDS = {
    "dial": "the unit of the dial",
    "dial_start": "the dial at the start",
    "dial_stop": "the dial at the end",
    "dial_s": "how long the dial was timed",
}


@dataclass(frozen=True)
class FlowReading:
    """A measured flow: `gpm` within `error_gpm`, read `by` such as "the meter's dial".

    `on` is the day in ISO 8601, "" where it is not entered.
    """

    row: ZoneMeasurement
    gpm: float
    error_gpm: float
    by: str

    @property
    def on(self) -> str:
        """The day of the measurement."""
        return self.row.measured_on or ""

    @property
    def figure(self) -> Figure:
        """The flow and its error."""
        return Figure(self.gpm, self.error_gpm, self.error_gpm)


def flow_reading(row: ZoneMeasurement) -> FlowReading | None:
    """The flow of one measurement: what an instrument showed, else the dial's; None if neither."""
    shown = amount(row, "flow_gpm")
    if shown is not None:
        part = (amount(row, "flow_off_pct") or TESTED_FLOW_ERROR.value * 100.0) / 100.0
        return FlowReading(row, shown, shown * part, f"a {row.read_by or 'flow gauge'}")
    start, stop, seconds = (amount(row, column) for column in _DIAL[1:])
    if row.dial not in READ_TO or start is None or stop is None or seconds is None:
        return None
    if stop <= start:
        return None
    read_to, off = amount(row, "dial_read_to"), amount(row, "meter_off_pct")
    volume = gallons(stop - start, row.dial)
    found = timed_gpm(
        volume,
        seconds,
        gallons(READ_TO[row.dial].value if read_to is None else read_to, row.dial),
        meter_error_part=(METER_ERROR.value if off is None else off) / 100.0,
    )
    return FlowReading(row, found.value, found.error, "the meter's dial")


def flow_lacks(job: LoadedJob, row: ZoneMeasurement) -> tuple[Missing, ...]:
    """What a measurement lacks before there is a flow, each with its cell."""
    if flow_reading(row) is not None:
        return ()
    who = zone_word(job.zone(row.zone_id))
    blank = [column for column in _DIAL if getattr(row, column) is None]
    if len(blank) == len(_DIAL):
        at = CellRef("zone_measurement", row.id, "dial")
        return (Missing(f"the measured flow of {who}", at),)
    # A dial that ends where it began, or before, is as good as one that was not read.
    blank = blank or ["dial_stop"]
    return tuple(
        Missing(f"{_WORDS[column]} for {who}", CellRef("zone_measurement", row.id, column))
        for column in blank
    )


def in_order(job: LoadedJob) -> list[ZoneMeasurement]:
    """Every measurement, day by day, of one day by the number of the zone."""

    def key(row: ZoneMeasurement) -> tuple[str, int, str]:
        zone = job.zone(row.zone_id)
        return row.measured_on or "", (zone.number if zone is not None else None) or 0, row.id

    return sorted(job.zone_measurements, key=key)


def newest_first(job: LoadedJob, zone_id: str) -> list[ZoneMeasurement]:
    """The measurements of a zone, the newest first; those without a day last."""
    found = [row for row in job.zone_measurements if row.zone_id == zone_id]

    def key(row: ZoneMeasurement) -> tuple[str, datetime, str]:
        return row.measured_on or "", order_of(row.entered_at), row.id

    return sorted(found, key=key, reverse=True)
