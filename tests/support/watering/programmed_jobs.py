"""Properties with programmes and a published watering rule, to spoil one thing of."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from builders import JOB, put, ruled, sound_job

from fieldbook.records.ids import once_id, programme_minutes_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.values import Value
from fieldbook.trade.rules.keys import WATERING
from fieldbook.trade.watering.place_laws import places

TODAY = date(2027, 6, 1)
MELBOURNE = places()["Melbourne, Florida"]


def programmed(
    job: LoadedJob, minutes: Mapping[int, float], name: str = "A", **columns: Value
) -> LoadedJob:
    """The job with a programme of these minutes by terminal."""
    job = put(job, "programme", name, name=name, **columns)
    for number, held in minutes.items():
        row_id = programme_minutes_id(name, number)
        job = put(
            job, "programme_minutes", row_id, programme_id=name, terminal=number, run_min=held
        )
    return job


def odd_home(zones: int = 2, **facts: str) -> LoadedJob:
    """A sound property at 12 Elm Street, with 17 as its number, under the rule of Melbourne."""
    job = ruled(sound_job(zones), WATERING, MELBOURNE)
    held: dict[str, Value] = {
        "house_number": 17,
        "property_kind": "home",
        "water": "public",
        **facts,
    }
    return put(job, "watering_facts", once_id(JOB, "watering_facts"), **held)
