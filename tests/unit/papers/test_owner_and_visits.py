"""Changes, punch list, warranties, walk-through and visits on paper; what is on none of them."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

import pytest
from any_jobs import any_job
from builders import bare_job, checked, sound_job
from examples import examples
from hypothesis import given
from job_parts import row, zone

from fieldbook.checks.verdicts import Verdicts
from fieldbook.materials.agreed_changes import agreed_changes, other_changes, sum_of
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.contents.catalogue import NAMES, PAPERS, SEVERAL, papers_named
from fieldbook.papers.contents.handover_packet import handover_packet
from fieldbook.papers.contents.materials_list import materials_list
from fieldbook.papers.contents.property_page import property_page
from fieldbook.papers.contents.visit_report import visit_reports
from fieldbook.papers.printing.html_page import html_page
from fieldbook.records.base import Record, facts_of
from fieldbook.records.loaded_job import FIELD_OF, LoadedJob
from fieldbook.records.tables.attachments import Attachment
from fieldbook.records.tables.job import Note
from fieldbook.records.tables.load_items import LoadItem
from fieldbook.records.tables.owner.change_orders import ChangeOrder
from fieldbook.records.tables.owner.punch_list import PunchItem
from fieldbook.records.tables.owner.walk_through import WalkThrough, ZoneShown
from fieldbook.records.tables.owner.warranties import Warranty
from fieldbook.records.tables.visits import Visit, VisitChange, VisitStep

NOW = datetime(2026, 5, 20, 12, 0, tzinfo=UTC)
AGREED = {"agreed_by": "R. Okonjo", "agreed_at": "2026-05-03T18:20", "agreed_how": "by e-mail"}


def source_of(job: LoadedJob) -> PaperSource:
    return PaperSource(job, Verdicts((), ()), NOW)


def order(number: int, **values: object) -> ChangeOrder:
    return row(ChangeOrder, f"order-{number}", number=number, changed=f"change {number}", **values)


ORDERS = (
    order(1, price=340.0, **AGREED),
    order(2, price=190.0, **AGREED, refused=True),
    order(3, price=-120.0),
    order(4, price=-40.5, **AGREED),
    order(5, price=10.0, agreed_by="R. Okonjo"),
)


def test_a_change_counts_once_somebody_agreed_with_name_and_time() -> None:
    job = bare_job(change_orders=ORDERS)
    assert [one.number for one in agreed_changes(job)] == [1, 4]
    assert [one.number for one in other_changes(job)] == [2, 3, 5]
    assert sum_of(agreed_changes(job)) == Decimal("299.50")


def test_the_quote_has_prices_and_the_packet_has_none() -> None:
    source = source_of(bare_job(change_orders=ORDERS))
    quote = html_page(materials_list(source))
    packet = html_page(handover_packet(source))
    for words in ("Agreed changes", "agreed by R. Okonjo, by e-mail", "2026-05-03 18:20"):
        assert words in quote
        assert words in packet
    assert "The agreed changes come to 299.50." in quote
    assert "refused by R. Okonjo" in quote
    assert "not answered yet" in quote
    for price in ("340.00", "-40.50", "299.50"):
        assert price in quote
        assert price not in packet


def test_a_job_without_changes_has_no_such_section() -> None:
    source = source_of(bare_job())
    assert "Agreed changes" not in html_page(materials_list(source))
    assert "Changes from the first plan" not in html_page(handover_packet(source))


def test_warranties_and_the_punch_list_are_in_the_packet() -> None:
    job = bare_job(
        warranties=(
            row(Warranty, "w", kind="controller", serial="C-1182", from_on="2026-05-08", months=36),
            row(Warranty, "v", kind="pump"),
        ),
        punch_items=(
            row(PunchItem, "p", what="rake", done_on="2026-05-09", done_by="MO"),
            row(PunchItem, "q", what="head sits low", found_on="2026-05-08", found_by="owner"),
        ),
    )
    packet = html_page(handover_packet(source_of(job)))
    # Three years after the first day.
    for words in ("C-1182", "2029-05-08", "head sits low", "2026-05-08, owner", "2026-05-09, MO"):
        assert words in packet
    assert packet.index("head sits low") < packet.index("rake")
    assert "not recorded" in packet[packet.index("<td>pump") :][:400]


def test_the_walk_through_says_who_when_and_what_or_the_refusal_with_its_time() -> None:
    held = row(WalkThrough, "w", owner="R. Okonjo", held_at="2026-05-08T16:30", manual=True)
    shown = (row(ZoneShown, "s", zone_id="zone-1", shown_min=5.0),)
    job = bare_job(zones=(zone(1), zone(2)), walk_through=held, zones_shown=shown)
    packet = html_page(handover_packet(source_of(job)))
    walk = packet[packet.index("Walk-through with the owner") :]
    for words in ("R. Okonjo", "2026-05-08 16:30", "5 min", "not recorded", "344.63", "Installer"):
        assert words in walk
    assert walk.count("☑") == 1
    refused = replace(
        job, walk_through=held.with_values(refused=True, refused_at="2026-05-08T17:00")
    )
    packet = html_page(handover_packet(source_of(refused)))
    assert "The owner did not sign. The refusal is of: 2026-05-08 17:00." in packet
    without = replace(job, walk_through=held.with_values(refused=True))
    packet = html_page(handover_packet(source_of(without)))
    assert "The refusal is of: not recorded." in packet


VISITS = (
    row(Visit, "v-2", held_on="2026-10-28", reason="winterising", found="nothing", note="key 12"),
    row(Visit, "v-1", held_on="2026-05-19", reason="repair", found="clogged", entered_by="MO"),
    row(Visit, "v-3", held_on="2026-05-19", reason="repair"),
)


def with_visits() -> LoadedJob:
    return bare_job(
        visits=VISITS,
        visit_steps=(
            row(VisitStep, "s-2", visit_id="v-1", number=2, step="Drain the assembly"),
            row(VisitStep, "s-1", visit_id="v-1", number=1, step="Shut the valve", done=True),
            row(VisitStep, "s-3", visit_id="v-2", number=1, step="Other", note="dog bites"),
        ),
        visit_changes=(
            row(VisitChange, "c", visit_id="v-1", thing="head 3", what="replaced", before="1 gpm"),
        ),
        attachments=(
            row(Attachment, "a", of_table="visit", of_row="v-1", name="a.jpg", note="clogged one"),
            row(Attachment, "b", of_table="visit", of_row="v-2", name="b.jpg", note="other photo"),
        ),
    )


def test_there_is_a_report_of_each_visit_with_a_name_of_its_own() -> None:
    reports = visit_reports(source_of(with_visits()))
    assert [paper.name for paper in reports] == [
        "visit-report-2026-05-19-repair",
        "visit-report-2026-05-19-repair-2",
        "visit-report-2026-10-28-winterising",
    ]
    assert visit_reports(source_of(bare_job())) == ()


def test_a_report_has_what_is_of_its_visit_and_says_what_was_not_looked_at() -> None:
    first = html_page(visit_reports(source_of(with_visits()))[0])
    for words in (
        "clogged",
        "MO",
        "head 3",
        "1 gpm",
        "not looked at",
        "clogged one",
        "Technician",
    ):
        assert words in first
    assert first.index("Shut the valve") < first.index("Drain the assembly")
    for words in ("Other", "other photo", "winterising"):
        assert words not in first


def test_a_change_of_a_cell_is_told_with_what_was_there_and_what_is_private_is_not() -> None:
    cell = row(
        VisitChange,
        "d",
        visit_id="v-1",
        of_table="supply",
        of_row="supply",
        of_column="static_psi",
        thing="the supply",
        was="62.0",
        became="58.0",
    )
    gate = {"of_table": "job", "of_row": "job-1", "of_column": "access"}
    private = row(VisitChange, "e", visit_id="v-1", **gate, was='"code 1"', became='"code 2"')
    job = replace(with_visits(), visit_changes=(cell, private))
    first = html_page(visit_reports(source_of(job))[0])
    for words in ("the supply, Static pressure", "62 psi", "58 psi"):
        assert words in first
    assert "code 1" not in first
    assert "code 2" not in first


def test_the_property_page_lists_the_visits() -> None:
    page = html_page(property_page(source_of(with_visits())))
    assert page.index("2026-05-19") < page.index("2026-10-28")
    assert "<h2>Visits</h2>" not in html_page(property_page(source_of(bare_job())))


@examples(8)
@given(any_job())
def test_no_record_is_too_odd_for_a_report(job: LoadedJob) -> None:
    source = PaperSource(job, checked(job), NOW)
    for name in SEVERAL:
        for paper in papers_named(source, name):
            assert paper.blocks


PRIVATE = {
    *(("job", column) for column in ("access", "phone", "email", "billing_address")),
    *(("note", "text"), ("visit", "note"), ("visit_step", "note")),
}


def marked(job: LoadedJob) -> LoadedJob:
    """The job with every text of every row as markup that names its table and column."""

    def mark(one: Record) -> Record:
        table = type(one).table_name
        texts = [name for name, fact in facts_of(type(one)).items() if fact.kind == "text"]
        return one.with_values(**{name: f"<i>{table}.{name}.</i>" for name in texts})

    held: dict[str, Any] = {}
    for table, rows in job.tables().items():
        field = FIELD_OF[table]
        several = isinstance(getattr(job, field), tuple)
        new = tuple(map(mark, rows))
        held[field] = new if several else new[0] if new else None
    texts = [name for name, fact in facts_of(type(job.job)).items() if fact.kind == "text"]
    own = job.job.with_values(**{name: f"<i>job.{name}.</i>" for name in texts})
    return replace(job, job=own, **held)


@pytest.mark.parametrize("name", NAMES)
def test_every_text_is_inert_and_private_ones_are_on_no_paper(name: str) -> None:
    extra = with_visits()
    job = replace(
        sound_job(),
        visits=extra.visits,
        visit_steps=extra.visit_steps,
        visit_changes=extra.visit_changes,
        change_orders=ORDERS,
        warranties=(row(Warranty, "w", kind="other"),),
        punch_items=(row(PunchItem, "p", what="rake"),),
        walk_through=row(WalkThrough, "t", refused=False),
        load_items=(row(LoadItem, "l", item="rags", needed=2.0),),
        notes=(row(Note, "n", text="owner argues"),),
    )
    job = marked(job)
    source = PaperSource(job, checked(job), NOW)
    papers = papers_named(source, name)
    assert papers
    for paper in papers:
        page = html_page(paper)
        assert "<i>" not in page
        told = {(table, column) for table, column in PRIVATE if f"{table}.{column}." in page}
        assert told == set()


def test_every_name_is_that_of_a_paper() -> None:
    assert (*PAPERS, *SEVERAL) == NAMES
    assert len(set(NAMES)) == len(NAMES)
