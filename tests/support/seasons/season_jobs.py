"""Jobs of a property that is closed before winter and opened in spring."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from builders import JOB, all_signed, put, row, sound_job

from fieldbook.records.ids import once_id, season_work_id, season_zone_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun

CLOSING, OPENING = "closing-1", "opening-1"
BLOWN: dict[str, Any] = {
    "supply_shut": True,
    "air_enters": "after the assembly",
    "regulator_psi": 45.0,
    "eyes_covered": True,
    "breaker_off": True,
}
OPENED: dict[str, Any] = {"filled_slowly": True, "meter_still": True, "battery_good": True}


def handed_over() -> LoadedJob:
    """A sound job of one zone that is handed over and closed."""
    return all_signed(sound_job(1))


def planned(job: LoadedJob, **values: object) -> LoadedJob:
    """The job with a plan for the season."""
    return put(job, "season_plan", once_id(JOB, "season_plan"), **{"way": "blown out", **values})


def closed(job: LoadedJob | None = None, held_on: str = "2026-11-02", **work: object) -> LoadedJob:
    """A job that was blown out in order, but for what is given of that work."""
    job = put(
        planned(job or handed_over()), "visit", CLOSING, reason="winterising", held_on=held_on
    )
    job = put(job, "season_work", season_work_id(CLOSING), visit_id=CLOSING, **{**BLOWN, **work})
    for zone_id in (None, *(zone.id for zone in job.zones)):
        row_id = season_zone_id(CLOSING, zone_id)
        job = put(job, "season_zone", row_id, visit_id=CLOSING, zone_id=zone_id, emptied=True)
    return job


def opened(job: LoadedJob | None = None, held_on: str = "2027-04-20", **work: object) -> LoadedJob:
    """A job that was opened in spring in order, but for what is given of that work."""
    job = put(job or handed_over(), "visit", OPENING, reason="start-up", held_on=held_on)
    job = put(job, "season_work", season_work_id(OPENING), visit_id=OPENING, **{**OPENED, **work})
    for zone in job.zones:
        row_id = season_zone_id(OPENING, zone.id)
        job = put(job, "season_zone", row_id, visit_id=OPENING, zone_id=zone.id, ran_well=True)
    return job


def piped(*runs: tuple[str | None, str, str, float]) -> LoadedJob:
    """The sound job of two zones with these runs alone: zone (None: mainline), class, size, ft."""
    made = []
    for zone_id in dict.fromkeys(run[0] for run in runs):
        own = [run for run in runs if run[0] == zone_id]
        for number, (_, pipe_class, size, length_ft) in enumerate(own, start=1):
            values: dict[str, Any] = {
                "zone_id": zone_id,
                "number": number,
                "after": number - 1 or None,
                "size": size,
                "pipe_class": pipe_class,
                "length_ft": length_ft,
            }
            made.append(row(PipeRun, f"run-{zone_id}-{number}", **values))
    return replace(sound_job(2), pipe_runs=tuple(made), heads=())
