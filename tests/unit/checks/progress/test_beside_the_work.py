"""What may change after a handover, such as a warranty or the weather, changes no signature."""

from __future__ import annotations

import pytest
from builders import JOB, all_signed, put, sound_job

from fieldbook.checks.progress.digests import changed, covered
from fieldbook.records.base import natural_id
from fieldbook.records.loaded_job import TABLES, LoadedJob

AFTER_HANDOVER: dict[str, dict[str, object]] = {
    "change_order": {"number": 1, "changed": "a drip zone", "price": 640.5},
    "punch_item": {"what": "raise a head", "done_on": "2026-06-01"},
    "walk_through": {"owner": "O. Wner"},
    "zone_shown": {"zone_id": "zone-1", "shown_min": 6.0},
    "warranty": {"kind": "controller", "from_on": "2026-05-10", "months": 24},
    "watering_site": {"latitude_deg": 33.5},
    "weather_month": {"month": 7, "et_in": 7.75},
    "zone_watering": {"zone_id": "zone-1", "area_ft2": 900.0},
    "sensor": {"kind": "rain", "tested_on": "2026-05-10"},
    "rebate_paper": {"paper": "itemised invoice", "in_hand": True},
}


def with_row(job: LoadedJob, table: str) -> LoadedJob:
    values = AFTER_HANDOVER[table]
    row_id = natural_id(JOB, table) if TABLES[table].once else f"{table}-1"
    return put(job, table, row_id, **values)


@pytest.mark.parametrize("table", AFTER_HANDOVER)
def test_a_row_beside_the_work_is_in_no_digest_of_it(table: str) -> None:
    job = all_signed(sound_job())
    later = with_row(job, table)
    of_the_work = [row for row in later.sign_offs if row.kind != "walk-through"]
    assert len(of_the_work) == len(later.sign_offs) - 1
    for sign_off in of_the_work:
        assert changed(later, sign_off) == []
        kind, zone_id = sign_off.kind, sign_off.zone_id
        assert covered(later, kind, zone_id) == covered(job, kind, zone_id)


def test_a_row_of_the_work_still_changes_what_a_handover_covers() -> None:
    job = put(all_signed(sound_job()), "head", "head-x", run_id="run-x")
    handover = job.signed("handover")
    assert handover is not None
    assert changed(job, handover) == ["head"]
