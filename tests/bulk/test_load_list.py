"""The load list at the desk: ticked and counted with keys, kept by cell on two laptops, printed."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from crew import Crew, at_the_truck
from two_books import two_books

from fieldbook.actions.cells import enter
from fieldbook.actions.job_files import import_file
from fieldbook.actions.loading import load_typed, tick_loaded
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import demo_files
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.materials.load_lines import LoadLine, load_lines
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.contents.load_list import load_list
from fieldbook.papers.printing.html_page import html_page
from fieldbook.records.ids import load_item_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.values import Value
from fieldbook.screens.sheets import BUILDERS
from fieldbook.store.book import Book

PIPE = "pipe 1-1/4 pvc sch 40"
NOW = datetime(2026, 5, 20, 12, 0, tzinfo=UTC)


@pytest.fixture
def alder(book: Book) -> OpenJob:
    """14 Alder Lane of the demo; its mainline is 75 ft of 1-1/4 pipe."""
    path = next(file for file in demo_files() if file.stem == "alder_lane")
    import_file(book, path, "RO")
    return OpenJob(book, book.jobs()[0].id, "RO")


def line_of(job: LoadedJob, what: str = PIPE) -> LoadLine:
    return next(line for line in load_lines(job) if line.what == what)


def test_space_loads_what_is_needed_and_takes_it_back(alder: OpenJob) -> None:
    row_id = line_of(alder.job).row_id
    assert tick_loaded(alder, row_id)
    assert (line_of(alder.job).loaded, line_of(alder.job).to_load) == (75.0, 0.0)
    assert not tick_loaded(alder, row_id)
    assert line_of(alder.job).loaded is None
    assert alder.undo() == f"loaded {PIPE}: cleared"
    assert line_of(alder.job).loaded == 75.0


def test_a_number_counts_and_a_changed_need_is_settled_by_space(alder: OpenJob) -> None:
    row_id = line_of(alder.job).row_id
    load_typed(alder, row_id, "20 m")
    assert line_of(alder.job).loaded == pytest.approx(65.617, abs=0.001)
    run = next(run for run in alder.job.pipe_runs if run.zone_id is None)
    enter(alder, CellRef("pipe_run", run.id, "length_ft"), (run.length_ft or 0.0) + 10)
    assert line_of(alder.job).need_changed
    assert "! need was 75 ft" in tails(alder)
    assert tick_loaded(alder, row_id)
    assert (line_of(alder.job).loaded, line_of(alder.job).need_changed) == (85.0, False)


@pytest.mark.parametrize("typed", ["many", "-1", "1e9"])
def test_what_is_no_amount_is_refused_and_changes_nothing(alder: OpenJob, typed: str) -> None:
    with pytest.raises(RefusedError):
        load_typed(alder, line_of(alder.job).row_id, typed)
    assert not alder.job.load_items


def test_an_item_of_which_nobody_says_the_need_is_counted_by_number(alder: OpenJob) -> None:
    row_id = alder.add("load_item", {"item": "tarpaulin"}, "item added")
    with pytest.raises(RefusedError, match="type how much is loaded"):
        tick_loaded(alder, row_id)
    load_typed(alder, row_id, "2")
    assert line_of(alder.job, "tarpaulin").loaded == 2
    with pytest.raises(RefusedError, match="no longer"):
        load_typed(alder, "gone", "2")


def test_loading_changes_no_signature(alder: OpenJob) -> None:
    before = alder.verdicts.flags
    tick_loaded(alder, line_of(alder.job).row_id)
    assert alder.verdicts.flags == before == ()


def test_two_laptops_tick_the_same_list(tmp_path: Path) -> None:
    with two_books(tmp_path / "here.sqlite", tmp_path / "there.sqlite") as pair:
        zone_id = pair.here.add("zone", {"number": 1}, "zone")
        for number, size in ((1, "1"), (2, "3/4")):
            values: dict[str, Value] = {"zone_id": zone_id, "number": number, "size": size}
            more: dict[str, Value] = {"pipe_class": "pvc sdr 21", "length_ft": 40.0 * number}
            pair.here.add("pipe_run", values | more, "run")
        pair.exchange()
        one = load_item_id(pair.here.job_id, "pipe 1 pvc sdr 21")
        two = load_item_id(pair.here.job_id, "pipe 3/4 pvc sdr 21")
        tick_loaded(pair.here, one)
        tick_loaded(pair.there, one)
        load_typed(pair.there, two, "50")
        pair.exchange()
        for laptop in (pair.here, pair.there):
            found = {line.row_id: line.loaded for line in load_lines(laptop.job)}
            assert (found[one], found[two]) == (40.0, 50.0)
            assert not laptop.job.conflicts
        load_typed(pair.here, one, "30")
        load_typed(pair.there, one, "35")
        pair.exchange()
        assert any(conflict.row_id == one for conflict in pair.here.job.conflicts)


def test_the_paper_says_what_is_to_load_and_what_is_left(alder: OpenJob) -> None:
    row_id = line_of(alder.job).row_id
    load_typed(alder, row_id, "60")
    alder.add("load_item", {"item": "<b>rags</b>", "needed": 3.0}, "item added")
    printed = html_page(load_list(PaperSource(alder.job, alder.verdicts, NOW)))
    for words in ("75 ft", "60 ft", "15 ft", "own items", "&lt;b&gt;rags", "Left on the truck"):
        assert words in printed
    assert "<b>rags" not in printed


def tails(open_job: OpenJob) -> str:
    """What the desk says after its cells."""
    sections = BUILDERS["desk"](open_job.job, "us").sections
    return " ".join(row.tail for section in sections for row in section.rows)


async def stand_on_pipe(crew: Crew) -> None:
    """Put the cursor on how much of the mainline's pipe is loaded."""
    await crew.open("14 Alder Lane", "desk")
    await crew.stand_on("load_item", "loaded_ft", load_item_id(crew.open_job.job_id, PIPE))


@pytest.mark.parametrize("size", [(80, 24), (60, 18), (120, 40)])
async def test_space_ticks_and_goes_down_and_a_number_is_typed(size: tuple[int, int]) -> None:
    async with at_the_truck(None, size) as crew:
        await stand_on_pipe(crew)
        assert "Space all of it" in crew.screen()
        await crew.press("space")
        assert line_of(crew.open_job.job).loaded == 75.0
        assert "75 ft pipe 1-1/4 pvc sch" in crew.screen()
        assert crew.at == ("load_item", "loaded_ft")
        await crew.enter("12")
        assert crew.at == ("load_item", "used_ft")
        shown = " ".join(crew.screen().split())
        assert "110 ft to load" in shown
        await crew.press("left", "f5")
        assert "12 ft" in await crew.read_page()
