"""Fill a column down and copy a zone: one act each, and nothing observed is repeated."""

from __future__ import annotations

import pytest

from fieldbook.actions import cells, log_wires, rows
from fieldbook.actions.bulk.copy_zone import copy_zone
from fieldbook.actions.bulk.fill_down import Target, fill
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import new_property
from fieldbook.actions.refused import RefusedError
from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import head_id, terminal_id, valve_id
from fieldbook.store.book import Book


@pytest.fixture
def open_job(book: Book) -> OpenJob:
    return OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")


def type_in(open_job: OpenJob, table: str, row_id: str, **texts: str) -> None:
    for column, text in texts.items():
        seed = {"run_id": ""} if table == "head" else {}
        cells.enter_text(open_job, CellRef(table, row_id, column), text, seed)


def laid_zone(open_job: OpenJob) -> str:
    """A zone with two runs, a head at each, and everything that can be seen at its valve."""
    zone_id = rows.add_zone(open_job)
    type_in(open_job, "zone", zone_id, name="front", head_kind="spray", no_higher="yes")
    run_id = rows.repeat_run(open_job, zone_id)
    type_in(open_job, "pipe_run", run_id, size="1", pipe_class="pvc sdr 21", length_ft="12'6")
    head = CellRef("head", head_id(run_id), "nozzle_gpm")
    cells.enter_text(open_job, head, "1.5", {"run_id": run_id})
    type_in(open_job, "head", head.row_id, rated_psi="30", arc_deg="15H", elevation_ft="2")
    rows.repeat_run(open_job, zone_id)
    rows.add_box(open_job)
    log_wires.set_conductors(open_job, rows.add_cable(open_job), "white, red, blue")
    valve = CellRef("valve", valve_id(zone_id), "colour")
    seed = {"zone_id": zone_id, "kind": "zone", "box_id": open_job.job.valve_boxes[0].id}
    log_wires.log_wire(open_job, valve, "red", "", seed)
    type_in(
        open_job,
        "valve",
        valve.row_id,
        splice_waterproof="yes",
        coil_ohm="32",
        wire_ft="80",
        loss_psi="3",
        splice_kind="gel tube",
    )
    return zone_id


def test_a_copied_zone_has_the_laterals_and_heads_of_the_first(open_job: OpenJob) -> None:
    first = laid_zone(open_job)
    acts = open_job.book.count_undoable(open_job.job_id)
    copies = copy_zone(open_job, first, 5)
    job = open_job.job
    assert open_job.book.count_undoable(open_job.job_id) == acts + 1
    assert [zone.number for zone in job.zones] == [1, 2, 3, 4, 5, 6]
    assert [job.zone(copy).name for copy in copies] == [""] * 5  # type: ignore[union-attr]
    for copy in copies:
        runs = job.runs_of(copy)
        assert [(run.number, run.after, run.size, run.length_ft) for run in runs] == [
            (1, None, "1", 12.5),
            (2, 1, "1", 12.5),
        ]
        heads = [job.head_at(run.id) for run in runs]
        assert [(head.nozzle_gpm, head.radius_ft, head.arc_deg) for head in heads if head] == [
            (1.5, 15, 180)
        ] * 2
    open_job.undo()
    assert len(open_job.job.zones) == 1
    assert len(open_job.job.pipe_runs) == 2


def test_nothing_observed_is_copied_with_a_zone(open_job: OpenJob) -> None:
    first = laid_zone(open_job)
    (copy_id,) = copy_zone(open_job, first)
    job = open_job.job
    copy, valve = job.zone(copy_id), job.valve_of(copy_id)
    assert copy is not None
    assert copy.no_higher is None
    assert copy.head_kind == "spray"
    assert valve is not None
    assert (valve.loss_psi, valve.splice_kind) == (3, "gel tube")
    assert valve.box_id == job.valve_boxes[0].id
    seen = (valve.colour, valve.coil_ohm, valve.splice_waterproof, valve.wire_ft)
    assert seen == (None, None, None, None)
    assert all(head.elevation_ft is None for head in job.heads_of(copy_id))
    assert not job.flushes + job.backfills + job.pressure_tests


def test_a_zone_is_copied_only_while_numbers_are_free(open_job: OpenJob) -> None:
    first = laid_zone(open_job)
    for count in (0, 51):
        with pytest.raises(RefusedError, match="1 to 50 times"):
            copy_zone(open_job, first, count)
    for _ in range(3):
        copy_zone(open_job, first, 50)
    with pytest.raises(RefusedError, match="No zone number up to 200"):
        copy_zone(open_job, first, 50)
    with pytest.raises(RefusedError, match="Move to a zone first"):
        copy_zone(open_job, "")


def test_a_value_is_filled_into_the_rows_below_as_one_act(open_job: OpenJob) -> None:
    zones = [rows.add_zone(open_job) for _ in range(4)]
    type_in(open_job, "zone", zones[0], waters="lawn")
    acts = open_job.book.count_undoable(open_job.job_id)
    source = CellRef("zone", zones[0], "waters")
    targets = [Target(CellRef("zone", zone_id, "waters")) for zone_id in zones[1:]]
    assert fill(open_job, source, targets) == "lawn"
    assert [zone.waters for zone in open_job.job.zones] == ["lawn"] * 4
    assert open_job.book.count_undoable(open_job.job_id) == acts + 1
    assert open_job.undo() == "waters lawn in 3 rows"
    assert [zone.waters for zone in open_job.job.zones] == ["lawn", "", "", ""]


def test_a_row_that_does_not_exist_yet_is_made_by_filling(open_job: OpenJob) -> None:
    first = laid_zone(open_job)
    second = rows.add_zone(open_job)
    seed = {"zone_id": second, "kind": "zone"}
    target = Target(CellRef("valve", valve_id(second), "loss_psi"), seed)
    fill(open_job, CellRef("valve", valve_id(first), "loss_psi"), [target])
    valve = open_job.job.valve_of(second)
    assert valve is not None
    assert valve.loss_psi == 3


@pytest.mark.parametrize("column", ["colour", "coil_ohm"])
def test_what_is_seen_or_read_at_each_is_not_filled_down(open_job: OpenJob, column: str) -> None:
    first = laid_zone(open_job)
    with pytest.raises(RefusedError, match="is seen or read at each one"):
        fill(open_job, CellRef("valve", valve_id(first), column), [])


def test_numbers_blanks_and_missing_rows_are_refused(open_job: OpenJob) -> None:
    zone_id = laid_zone(open_job)
    with pytest.raises(RefusedError, match="names this row alone"):
        fill(open_job, CellRef("zone", zone_id, "number"), [])
    with pytest.raises(RefusedError, match="is blank there"):
        fill(open_job, CellRef("zone", zone_id, "waters"), [])
    with pytest.raises(RefusedError, match="no row below"):
        fill(open_job, CellRef("zone", zone_id, "head_kind"), [])
    ohms = CellRef("terminal", terminal_id(open_job.job_id, "zone", 1), "day_1_ohm")
    with pytest.raises(RefusedError, match="is seen or read at each one"):
        fill(open_job, ohms, [])
