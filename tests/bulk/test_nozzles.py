"""15H on a cell of a sprinkler head: radius and arc in one act, through a real book."""

from __future__ import annotations

import pytest

from fieldbook.actions import cells, rows
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import head_id
from fieldbook.screens.sheets import BUILDERS
from fieldbook.screens.sheets.explain import explain_cell
from fieldbook.store.book import Book


@pytest.fixture
def open_job(book: Book) -> OpenJob:
    return OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")


@pytest.mark.parametrize("column", ["nozzle_gpm", "arc_deg", "radius_ft"])
def test_15h_enters_radius_and_arc_as_one_act(open_job: OpenJob, column: str) -> None:
    run_id = rows.repeat_run(open_job, rows.add_zone(open_job))
    acts = open_job.book.count_undoable(open_job.job_id)
    at = CellRef("head", head_id(run_id), column)
    cells.enter_text(open_job, at, "15H", {"run_id": run_id})
    (head,) = open_job.job.heads
    assert (head.radius_ft, head.arc_deg, head.nozzle_gpm) == (15, 180, None)
    assert open_job.book.count_undoable(open_job.job_id) == acts + 1
    assert open_job.undo() == "nozzle 15H"
    assert not open_job.job.heads


def test_a_nozzle_that_is_none_is_refused_with_an_example(open_job: OpenJob) -> None:
    run_id = rows.repeat_run(open_job, rows.add_zone(open_job))
    at = CellRef("head", head_id(run_id), "nozzle_gpm")
    with pytest.raises(RefusedError, match=r"“15X” is no nozzle: .* such as 15H"):
        cells.enter_text(open_job, at, "15X", {"run_id": run_id})
    cells.enter_text(open_job, at, "1.5 gpm", {"run_id": run_id})
    assert open_job.job.heads[0].nozzle_gpm == 1.5


def test_the_help_on_a_cell_says_what_may_be_written_for_short(open_job: OpenJob) -> None:
    rows.repeat_run(open_job, rows.add_zone(open_job))
    helps = {
        (cell.at.table, cell.at.column): explain_cell(open_job, cell)
        for cell in BUILDERS["ground"](open_job.job, "us").cells()
    }
    assert "A nozzle also as 15H" in helps["head", "nozzle_gpm"]
    assert "Also 12'6" in helps["pipe_run", "length_ft"]
    assert "A size also as 1 1/4" in helps["pipe_run", "size"]
    assert "Also 12'6" not in helps["head", "rated_psi"]


def test_a_nozzle_of_the_firm_s_list_enters_all_that_stands_there(open_job: OpenJob) -> None:
    """Invented figures."""
    folder = open_job.book.path.parent
    (folder / "nozzles.csv").write_text("name,kind,gpm,psi,arc\n15H,spray,1.8,30,180\n", "utf-8")
    run_id = rows.repeat_run(open_job, rows.add_zone(open_job))
    at = CellRef("head", head_id(run_id), "nozzle_gpm")
    cells.enter_text(open_job, at, "15 h", {"run_id": run_id})
    (head,) = open_job.job.heads
    assert (head.nozzle_gpm, head.rated_psi, head.arc_deg, head.kind) == (1.8, 30, 180, "spray")
    assert head.radius_ft is None
    assert open_job.undo() == "nozzle 15H"
    # A name that is not on the list is read as the shorthand, a figure as a figure.
    cells.enter_text(open_job, at, "12Q", {"run_id": run_id})
    assert open_job.job.heads[0].radius_ft == 12
    cells.enter_text(open_job, at, "2.5", {"run_id": run_id})
    assert open_job.job.heads[0].nozzle_gpm == 2.5


def test_a_faulty_list_is_one_sentence_and_figures_are_still_entered(open_job: OpenJob) -> None:
    (open_job.book.path.parent / "nozzles.toml").write_text("[[nozzle]]\nname = 3\n", "utf-8")
    run_id = rows.repeat_run(open_job, rows.add_zone(open_job))
    at = CellRef("head", head_id(run_id), "nozzle_gpm")
    with pytest.raises(RefusedError, match=r"nozzles\.toml: Nozzle 1: .*letter"):
        cells.enter_text(open_job, at, "15H", {"run_id": run_id})
    cells.enter_text(open_job, at, "1.5", {"run_id": run_id})
    assert open_job.job.heads[0].nozzle_gpm == 1.5
