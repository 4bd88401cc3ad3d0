"""The log of what is buried: flush, pressure test and backfill of each stretch, with its cover."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import sentence, stretch_name
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.photo_blocks import photos_of
from fieldbook.papers.blocks.record_blocks import cautions, rows_table
from fieldbook.papers.blocks.signature_blocks import signatures_table
from fieldbook.papers.blocks.verdict_blocks import answers_table
from fieldbook.papers.paper import Block, Heading, Paper
from fieldbook.records.tables.flush_backfill import Backfill, Flush
from fieldbook.records.tables.tests import PressureTest

_FLUSH = ("let_on_by", "came_out_at", "ran_clear", "clear_min", "bleed_closed", "tops_back")
_TEST = ("cemented_at", "began_at", "start_psi", "ended_at", "end_psi", "water_only")
_BACKFILL = ("cover_in", "rock_free", "bedding", "heads_plumb", "heads_at_grade")


def work_log(source: PaperSource) -> Paper:
    """The flush and backfill log, the mainline first, then by zone."""
    return source.paper("work-log", source.say("Flush and backfill log"), list(_blocks(source)))


def _blocks(source: PaperSource) -> Iterator[Block]:
    say, job = source.say, source.job
    stretches = [None, *(zone.id for zone in job.zones)]
    names = [sentence(stretch_name(job, zone_id)) for zone_id in stretches]
    first = (say("Stretch"), names)
    yield Heading(say("Flush"))
    yield rows_table(source, first, [job.flush_of(one) for one in stretches], Flush, _FLUSH)
    yield Heading(say("Pressure test"))
    tests = [job.pressure_test_of(one) for one in stretches]
    yield rows_table(source, first, tests, PressureTest, _TEST)
    yield Heading(say("Backfill"))
    buried = {row.zone_id: row for row in job.backfills}
    yield rows_table(source, first, [buried.get(one) for one in stretches], Backfill, _BACKFILL)
    yield Heading(say("What the checks say"))
    yield answers_table(source, ("flush", "pressure test", "backfill"))
    yield Heading(say("Signatures"))
    yield signatures_table(source, ("backfill", "wire backfill", "in service"))
    yield from photos_of(source, ("flush", "backfill", "pressure_test", "pipe_run"))
    yield from cautions(source, ("flush", "pressure test", "backfill"))
