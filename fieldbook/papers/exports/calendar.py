"""The dates of a property as iCalendar (RFC 5545): what runs out, and what is due."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

from icalendar import Alarm, Calendar, Event

from fieldbook.checks.common.naming import sentence
from fieldbook.checks.progress.deadlines import dates_of
from fieldbook.records.base import natural_id
from fieldbook.records.loaded_job import LoadedJob

_REMIND = timedelta(days=7)


def as_calendar(job: LoadedJob, today: date) -> bytes:
    """An all-day event a date, each with a reminder a week before.

    The identifier of an event is made from what it is, so that a calendar that reads the file again
    moves the event instead of adding another.
    """
    calendar = Calendar()
    calendar.add("prodid", "-//fieldbook//EN")
    calendar.add("version", "2.0")
    for due in dates_of(job, today):
        event = Event()
        event.add("uid", natural_id(job.job.id, due.kind, due.group, due.thing))
        event.add("dtstamp", datetime.combine(today, time(), UTC))
        event.add("dtstart", due.on)
        event.add("summary", f"{sentence(due.thing)}: {job.job.address}")
        event.add("transp", "TRANSPARENT")
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", sentence(due.thing))
        alarm.add("trigger", -_REMIND)
        event.add_component(alarm)
        calendar.add_component(event)
    return bytes(calendar.to_ical())
