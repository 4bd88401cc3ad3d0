"""What stands on each paper, and what never does."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from any_jobs import any_job
from builders import all_signed, bare_job, checked, put, ruled, sound_job, without
from examples import examples
from hypothesis import given
from job_parts import row, wired_job

from fieldbook.checks.finding import CellRef, Missing
from fieldbook.checks.verdicts import Answer, Verdicts
from fieldbook.papers.blocks.paper_source import Firm, PaperSource
from fieldbook.papers.blocks.wire_blocks import wire_codes, wire_lines
from fieldbook.papers.contents.catalogue import PAPERS
from fieldbook.papers.paper import Paper, Photo, Swatch
from fieldbook.papers.printing.codes import MOST_BYTES
from fieldbook.papers.printing.html_page import html_page
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.tables.job import Note

NOW = datetime(2026, 5, 20, 12, 0, tzinfo=UTC)
NOTHING = Verdicts((), ())


def source_of(job: LoadedJob, verdicts: Verdicts | None = None) -> PaperSource:
    return PaperSource(job, verdicts or NOTHING, NOW, Firm("Nadir and Holt", phone="555-0199"))


def words_on(paper: Paper) -> str:
    return html_page(paper)


@pytest.mark.parametrize("name", PAPERS)
def test_each_paper_names_the_property_the_day_and_the_firm(name: str) -> None:
    job = replace(sound_job(), job=sound_job().job.with_values(**{"address": "14 Alder Lane"}))
    paper = PAPERS[name](source_of(job))
    assert paper.name == name
    assert paper.lines == (
        "14 Alder Lane",
        "Nadir and Holt, 555-0199",
        "As recorded on 2026-05-20",
    )


@pytest.mark.parametrize("name", PAPERS)
def test_how_to_get_in_and_private_notes_are_on_no_paper(name: str) -> None:
    private = {
        "access": "gate code 4417",
        "phone": "555-0123",
        "email": "owner@example.org",
        "billing_address": "PO box 9",
    }
    job = sound_job()
    job = replace(
        all_signed(job),
        job=job.job.with_values(**private),
        notes=(row(Note, "note", place="street", text="owner argues"),),
    )
    printed = words_on(PAPERS[name](source_of(job, checked(job))))
    for secret in (*private.values(), "owner argues"):
        assert secret not in printed


@examples(8)
@given(any_job())
def test_no_record_is_too_odd_for_a_paper(job: LoadedJob) -> None:
    source = source_of(job, checked(job))
    for make in PAPERS.values():
        assert make(source).blocks


@pytest.mark.parametrize("name", PAPERS)
def test_a_bare_job_has_every_paper(name: str) -> None:
    assert words_on(PAPERS[name](source_of(bare_job())))


def test_the_door_card_has_each_terminal_with_its_swatch_and_its_zone() -> None:
    job = sound_job(4)
    paper = PAPERS["door-card"](source_of(job))
    table = next(block for block in paper.blocks if type(block).__name__ == "Table")
    rows = table.rows  # type: ignore[union-attr]
    zones = [terminal for terminal in job.terminals if terminal.role == "zone"]
    assert [cells[0] for cells in rows] == ["Common", *(str(one.number) for one in zones)]
    for terminal, cells in zip(zones, rows[1:], strict=True):
        assert isinstance(cells[1], Swatch)
        assert cells[1].word.startswith(str(terminal.colour))
        assert cells[2] == f"zone {terminal.number}"


def test_a_wire_that_is_in_doubt_is_not_shown_as_known() -> None:
    job = sound_job()
    one, two = (put(job, "terminal", job.terminals[1].id, colour="blue"), job)
    assert "in doubt" in words_on(PAPERS["door-card"](source_of(one)))
    assert "in doubt" not in words_on(PAPERS["door-card"](source_of(two)))


def test_the_codes_hold_every_line_of_the_wire_map() -> None:
    colours = tuple(f"unmarked {number}" for number in range(1, 49))
    job = wired_job(colours, colours)
    codes = wire_codes(source_of(job))
    assert len(codes) > 1
    held = [line for code in codes for line in code.text.split("\n")[1:]]
    assert tuple(held) == wire_lines(job)
    assert all(len(code.text.encode()) <= MOST_BYTES for code in codes)
    terminals = [line for line in held if line.startswith("Terminal")]
    assert len(terminals) == 48


def test_each_box_has_a_tag_with_its_valves() -> None:
    job = sound_job(3)
    printed = words_on(PAPERS["box-tags"](source_of(job)))
    for valve in job.valves:
        zone = job.zone(valve.zone_id)
        assert zone is not None
        assert f"{zone.number} {zone.name}: {valve.colour}" in printed


def test_what_was_not_checked_is_listed_on_the_first_page_and_for_the_inspector() -> None:
    lacks = (Missing("the flow test", CellRef("supply", "", "static_psi")),)
    verdicts = Verdicts((Answer("supply", "the supply", "not checked", (), lacks),), ())
    for name in ("property", "handover-packet", "inspector-sheet"):
        printed = words_on(PAPERS[name](source_of(sound_job(), verdicts)))
        assert "not checked" in printed
        assert "the flow test" in printed


def test_an_overridden_hold_is_on_the_log_with_who_and_why() -> None:
    job = all_signed(sound_job(), "in service")
    signed = next(one for one in job.sign_offs if one.kind == "in service")
    job = put(
        job,
        "sign_off",
        signed.id,
        overridden="hold 9",
        override_by="R. Okonjo",
        override_reason="tester comes Monday",
    )
    for name in ("work-log", "inspector-sheet", "handover-packet"):
        printed = words_on(PAPERS[name](source_of(job)))
        hold = "No service before the certified backflow test"
        assert f"{hold} (R. Okonjo: tester comes Monday)" in printed


def test_a_photo_is_printed_and_a_missing_one_is_named() -> None:
    job = replace(
        sound_job(),
        attachments=(
            row(Attachment, "p1", of_table="flush", of_row="x", name="a.jpg", note="clear water"),
            row(Attachment, "p2", of_table="flush", of_row="x", name="lost.jpg"),
        ),
    )
    source = replace(source_of(job), photos={"p1": b"jpeg"})
    paper = PAPERS["work-log"](source)
    assert [block.alt for block in paper.blocks if isinstance(block, Photo)] == ["clear water"]
    assert "Attached file lost.jpg is not printed here." in words_on(paper)


def test_a_job_without_boxes_says_so() -> None:
    assert "No box is recorded." in words_on(
        PAPERS["box-tags"](source_of(without(sound_job(), "valve_box")))
    )


def test_a_signature_that_the_record_does_not_bear_out_says_so() -> None:
    sound = all_signed(sound_job(), "in service")
    unproven = without(sound, "backflow_test")
    printed = words_on(PAPERS["inspector-sheet"](source_of(unproven)))
    assert "no: the certified test of the PVB (left of the garage) is missing" in printed
    assert "no: " not in words_on(PAPERS["inspector-sheet"](source_of(sound)))


def test_an_overridden_hold_that_is_still_not_met_is_not_borne_out() -> None:
    job = all_signed(without(sound_job(), "backflow_test"), "in service")
    signed = next(one for one in job.sign_offs if one.kind == "in service")
    why = {"override_by": "R. Okonjo", "override_reason": "tester comes Monday"}
    job = put(job, "sign_off", signed.id, overridden="hold 9", **why)
    job = ruled(job, "override_service", True)
    printed = words_on(PAPERS["inspector-sheet"](source_of(job)))
    assert "not yet: signed without the certified test of the PVB" in printed


def test_a_hold_of_a_job_without_entries_is_not_called_met() -> None:
    assert ">met<" not in words_on(PAPERS["inspector-sheet"](source_of(bare_job())))


def test_what_was_changed_after_a_signature_is_said_beside_it() -> None:
    job = all_signed(sound_job(), "in service")
    job = put(job, "backfill", job.backfills[1].id, cover_in=7.0)
    assert "changed since: " in words_on(PAPERS["work-log"](source_of(job)))


def test_a_job_of_which_nothing_is_checked_is_not_called_sound() -> None:
    printed = words_on(PAPERS["property"](source_of(bare_job())))
    assert "Nothing is checked yet." in printed
    assert "sound" not in printed.split("</style>")[1]


def test_a_splice_that_was_seen_to_be_wet_is_not_shown_as_a_blank() -> None:
    job = sound_job()
    job = put(job, "valve", job.valves[0].id, splice_waterproof=False)
    assert "NOT waterproof" in words_on(PAPERS["handover-packet"](source_of(job)))


def test_a_hold_says_what_it_waits_for() -> None:
    job = all_signed(sound_job())
    met = words_on(PAPERS["inspector-sheet"](source_of(job)))
    lacks = words_on(PAPERS["inspector-sheet"](source_of(without(job, "flush"))))
    assert "mainline&#39;s flush, run clear" not in met
    assert "mainline&#39;s flush, run clear" in lacks


@pytest.mark.parametrize(
    ("name", "check"),
    [("door-card", "wire map"), ("work-log", "flush"), ("backflow-record", "backflow tests")],
)
def test_a_paper_of_one_work_says_what_its_checks_say(name: str, check: str) -> None:
    lacks = (Missing("a reading", CellRef("supply", "", "static_psi")),)
    verdicts = Verdicts((Answer(check, "the thing", "not checked", (), lacks),), ())
    printed = words_on(PAPERS[name](source_of(sound_job(), verdicts)))
    assert "not checked" in printed
    assert "a reading" in printed


def test_air_on_pipe_of_no_known_rating_is_not_left_unsaid() -> None:
    job = sound_job(1)
    runs = tuple(run.with_values(pipe_class="pe sidr") for run in job.runs_of("zone-1"))
    words = "is not recorded: read it off the pipe first"
    assert words in words_on(PAPERS["season-guide"](source_of(replace(job, pipe_runs=runs))))
    assert words not in words_on(PAPERS["season-guide"](source_of(job)))
