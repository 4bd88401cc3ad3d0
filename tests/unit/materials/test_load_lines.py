"""The load list against what the takeoff asks for; all amounts are worked out by hand."""

from __future__ import annotations

from dataclasses import replace

from any_jobs import any_job
from builders import bare_job
from examples import examples
from hypothesis import given
from job_parts import JOB, row, zone

from fieldbook.materials.load_lines import OWN, LoadLine, load_lines
from fieldbook.materials.takeoff import takeoff
from fieldbook.records.ids import load_item_id, natural_row_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.load_items import LoadItem
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.wires import Cable, Valve

PIPE = "pipe 1 pvc sdr 21"


def with_pipe(length_ft: float, *items: LoadItem) -> LoadedJob:
    """A zone with one run of 1 in pipe, and these lines of the load list."""
    run = row(
        PipeRun,
        "run-1",
        zone_id="zone-1",
        number=1,
        size="1",
        pipe_class="pvc sdr 21",
        length_ft=length_ft,
    )
    return bare_job(zones=(zone(1),), pipe_runs=(run,), load_items=items)


def loaded(**values: object) -> LoadItem:
    """The line of the pipe."""
    return row(LoadItem, load_item_id(JOB, PIPE), key=PIPE, **values)


def line_of(job: LoadedJob, what: str = PIPE) -> LoadLine:
    return next(line for line in load_lines(job) if line.what == what)


def test_what_is_not_loaded_is_all_to_load() -> None:
    line = line_of(with_pipe(45.0))
    assert (line.needed, line.loaded, line.to_load, line.on_truck) == (45.0, None, 45.0, 0.0)
    assert line.unit == "ft"
    assert not line.need_changed


def test_needed_minus_loaded_minus_used() -> None:
    line = line_of(with_pipe(45.0, loaded(loaded_ft=60.0, needed_ft=45.0, used_ft=38.0)))
    assert (line.to_load, line.on_truck) == (0.0, 22.0)
    short = line_of(with_pipe(45.0, loaded(loaded_ft=20.0, needed_ft=45.0, used_ft=25.0)))
    assert (short.to_load, short.on_truck) == (25.0, -5.0)


def test_a_need_that_changed_since_loading_shows() -> None:
    assert line_of(with_pipe(65.0, loaded(loaded_ft=45.0, needed_ft=45.0))).need_changed
    assert not line_of(with_pipe(45.04, loaded(loaded_ft=45.0, needed_ft=45.0))).need_changed
    taken_back = line_of(with_pipe(65.0, loaded(needed_ft=45.0)))
    assert not taken_back.need_changed


def test_what_is_asked_for_no_longer_stays_on_the_list() -> None:
    job = replace(with_pipe(45.0, loaded(loaded_ft=45.0, needed_ft=45.0)), pipe_runs=())
    line = line_of(job)
    assert (line.group, line.needed, line.on_truck) == ("no longer needed", 0.0, 45.0)
    assert line.need_changed


def test_items_of_the_crews_own_follow_and_two_cables_alike_are_one_line() -> None:
    own = row(LoadItem, "own", item="tarpaulin", needed=2.0, loaded=1.0)
    cables = tuple(row(Cable, f"c-{name}", name=name, gauge_awg="18") for name in "12")
    valves = tuple(
        row(Valve, f"v-{name}", zone_id=f"zone-{name}", cable_id=f"c-{name}", wire_ft=100.0)
        for name in "12"
    )
    job = bare_job(zones=(zone(1), zone(2)), cables=cables, valves=valves, load_items=(own,))
    lines = list(load_lines(job))
    assert (lines[-1].what, lines[-1].group, lines[-1].to_load) == ("tarpaulin", OWN, 1.0)
    assert line_of(job, "cable AWG 18").needed == 200.0
    assert {line.group for line in lines}.isdisjoint({"work"})


def test_an_item_has_one_id_on_every_laptop_and_own_ones_have_none() -> None:
    assert natural_row_id(JOB, "load_item", {"key": PIPE}) == load_item_id(JOB, PIPE)
    assert natural_row_id(JOB, "load_item", {"item": "tarpaulin"}) is None


@examples(8)
@given(any_job())
def test_every_item_but_work_is_on_the_list_once(job: LoadedJob) -> None:
    lines = list(load_lines(job))
    assert len({line.row_id for line in lines}) == len(lines)
    asked = {item.what for item in takeoff(job).items if item.group != "work"}
    assert asked <= {line.what for line in lines}
