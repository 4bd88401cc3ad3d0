"""The record drawing: each kind of thing that the local rule lists, as far as the record holds it.

Some things a record only holds once somebody ties them: that there is none can't be told from
nobody having looked. They are named as not entered, and nobody is asked for them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from fieldbook.checks.common.job_rules import rule_value
from fieldbook.checks.common.naming import assembly_name, listed, zone_name
from fieldbook.checks.common.water_source import source_columns, supply_cell
from fieldbook.checks.finding import CellRef, Missing
from fieldbook.checks.looked import Looked
from fieldbook.records.ids import once_id, valve_id
from fieldbook.records.loaded_job import LoadedJob

_TIED: Mapping[str, str] = {
    "shut-offs": "shut-off",
    "grounding": "ground rod",
    "quick couplers": "quick coupler",
}
"""Items that the record holds as tied things alone, with what such a thing is called."""


def drawing_lacks(job: LoadedJob) -> Looked:
    """The record drawing as a thing looked at, with what it still lacks."""
    listed_items = rule_value(job, "record_drawing")
    items = listed_items if isinstance(listed_items, tuple) else ()
    things = {tie.thing for tie in job.ties}
    unseen = [item for item in items if item in _TIED and _TIED[item] not in things]
    missing = [one for item in items if item in _ASKED for one in _ASKED[item](job)]
    name = "record drawing"
    if unseen:
        name += f" (nothing entered of {listed(unseen)})"
    return Looked(name, frozenset({""}), tuple(dict.fromkeys(missing)))


def _source(job: LoadedJob) -> Iterator[Missing]:
    for column, words in source_columns(job):
        if job.supply is None or getattr(job.supply, column) is None:
            yield Missing(words, supply_cell(job, column))


def _backflow(job: LoadedJob) -> Iterator[Missing]:
    tied = any(tie.thing == "backflow" for tie in job.ties)
    for assembly in job.backflow_assemblies:
        if not assembly.name.strip() and not tied:
            at = CellRef("backflow_assembly", assembly.id, "name")
            yield Missing(f"where the {assembly_name(assembly)} stands", at)


def _valves(job: LoadedJob) -> Iterator[Missing]:
    """The box of each valve. That each box is tied is asked for by hold 11."""
    for zone in job.zones:
        valve = job.valve_of(zone.id)
        if valve is None or job.row(valve.box_id) is None:
            row_id = valve.id if valve is not None else valve_id(zone.id)
            yield Missing(f"the box of {zone_name(zone)}", CellRef("valve", row_id, "box_id"))


def _splices(job: LoadedJob) -> Iterator[Missing]:
    for splice in job.splices:
        if job.row(splice.box_id) is None:
            yield Missing("the box of a splice", CellRef("splice", splice.id, "box_id"))


def _controller(job: LoadedJob) -> Iterator[Missing]:
    if job.controller is None or not job.controller.location.strip():
        row_id = job.controller.id if job.controller else once_id(job.job.id, "controller")
        yield Missing("where the controller hangs", CellRef("controller", row_id, "location"))


def _sensors(job: LoadedJob) -> Iterator[Missing]:
    if job.controller is None or job.controller.rain_sensor is None:
        row_id = job.controller.id if job.controller else once_id(job.job.id, "controller")
        at = CellRef("controller", row_id, "rain_sensor")
        yield Missing("whether a rain sensor is fitted", at)


def _main(job: LoadedJob) -> Iterator[Missing]:
    for run in job.runs_of(None):
        if run.length_ft is None:
            at = CellRef("pipe_run", run.id, "length_ft")
            yield Missing("the length of each mainline run", at)
            return


def _pumps(job: LoadedJob) -> Iterator[Missing]:
    there = job.supply is not None and job.supply.pump is True
    if there and not any(tie.thing == "pump" for tie in job.ties):
        yield Missing("where the pump stands", CellRef("tie", "", "add tie"))


def _filters(job: LoadedJob) -> Iterator[Missing]:
    """A filter stands at its valve, so that the valve's box tells where."""
    for valve in job.valves:
        if valve.filter_curve and job.row(valve.box_id) is None:
            yield Missing("the box of a filter", CellRef("valve", valve.id, "box_id"))


_ASKED: Mapping[str, Callable[[LoadedJob], Iterator[Missing]]] = {
    "source": _source,
    "backflow": _backflow,
    "valves": _valves,
    "splices and wire paths": _splices,
    "controller": _controller,
    "sensors": _sensors,
    "main": _main,
    "pumps": _pumps,
    "filters": _filters,
}
"""What is asked of each item that the record holds."""
