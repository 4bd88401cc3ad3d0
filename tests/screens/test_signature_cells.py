"""Beside a signature the sheets say that it is unproven, or that it overrides a hold."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from builders import ASSEMBLY, JOB, all_signed, put, signed, sound_job

from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import backfill_id, flush_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.sheets import BUILDERS
from fieldbook.screens.sheets.sheet import Cell

ZONE = "zone-1"
STRETCH = CellRef("backfill", backfill_id(JOB, ZONE), "sign")
SERVICE = CellRef("sign_off", "in service", "sign off")


def cells(job: LoadedJob) -> Iterator[Cell]:
    """Every cell of every sheet."""
    for builder in BUILDERS.values():
        for section in builder(job, "us").sections:
            for row in section.rows:
                yield from row.cells


def text(job: LoadedJob, at: CellRef) -> str:
    """What the cell at an address shows, all of which fits its width."""
    (cell,) = [cell for cell in cells(job) if cell.at == at]
    assert len(cell.text) <= cell.width
    return cell.text


def test_a_proven_signature_shows_its_name_and_day() -> None:
    job = all_signed(sound_job())
    assert text(job, STRETCH) == "AB 2026-05-01"
    assert text(job, SERVICE) == "AB 2026-05-03"
    assert text(sound_job(), SERVICE) == "-"


def test_an_unproven_signature_says_so_beside_its_name_and_day() -> None:
    job = put(all_signed(sound_job()), "flush", flush_id(ZONE), ran_clear=None)
    assert text(job, STRETCH) == "AB 2026-05-01 unproven"
    assert text(job, SERVICE) == "AB 2026-05-03"
    untested = put(job, "backflow_assembly", ASSEMBLY, installed_on=None)
    assert text(untested, SERVICE) == "AB 2026-05-03 unproven"


def test_a_stretch_without_a_sign_off_on_record_is_unproven() -> None:
    assert text(sound_job(), STRETCH) == "AB 2026-05-01 unproven"
    blank = put(sound_job(), "backfill", STRETCH.row_id, signed_by="", signed_at="")
    assert text(blank, STRETCH) == "-"


@pytest.mark.parametrize("by", ["ABC", "ABCDEFGH", "Alexander of the crew"])
def test_the_word_fits_beside_a_long_name(by: str) -> None:
    job = signed(sound_job(), "in service", "2026-04-30T08:00:00-05:00", by=by)
    shown = text(job, SERVICE)
    assert shown.startswith(by[:3])
    assert shown.endswith("04-30 unproven")


def overriding(job: LoadedJob, by: str) -> LoadedJob:
    """The job with a price signed over an overridden hold 1, by a name."""
    job = signed(job, "price", "2026-04-13T08:00:00-05:00")
    values = {"overridden": "hold 1, missing a flow test", "override_by": by}
    return put(job, "sign_off", job.sign_offs[-1].id, override_reason="no gauge at hand", **values)


def test_an_override_shows_and_one_nobody_can_read_is_unproven() -> None:
    at = CellRef("sign_off", "price", "sign off")
    unmeasured = replace(sound_job(), flow_test_points=())
    assert text(overriding(unmeasured, "A. Foreman"), at) == "AB 2026-04-13 override"
    assert text(overriding(unmeasured, "--"), at) == "AB 2026-04-13 unproven"
