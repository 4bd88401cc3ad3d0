"""The takeoff of a property: all that its record says goes into the ground or on the wall."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from fieldbook.materials.item import Allowances, Group, Item, Takeoff
from fieldbook.materials.pipe_parts import pipe_items, uncounted_pipe
from fieldbook.materials.wire_parts import uncounted_wire, wire_items
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Head


def takeoff(job: LoadedJob, allowances: Allowances | None = None) -> Takeoff:
    """Count the materials of a job, and what its record doesn't say."""
    added = allowances or Allowances()
    found = (
        *pipe_items(job, added),
        *_heads(job),
        *_counted("valves", _valves(job), "each recorded"),
        *wire_items(job, added),
        *_counted("controller", _at_the_wall(job), "each recorded"),
        *_work(job),
    )
    # A typed name may have blanks of its own; a price list's words have single ones.
    items = (replace(item, what=" ".join(item.what.split())) for item in found if item.count > 0)
    return Takeoff(tuple(items), (*uncounted_pipe(job), *uncounted_wire(job)))


def _counted(group: Group, things: Iterable[str], how: str) -> Iterator[Item]:
    for what, count in Counter(things).items():
        yield Item(group, what, count, "each", how)


def _heads(job: LoadedJob) -> Iterator[Item]:
    yield from _counted("heads", map(_head_words, job.heads), "one at the end of each run")
    nozzles = (_nozzle_words(head) for head in job.heads if amount(head, "nozzle_gpm") is not None)
    yield from _counted("heads", nozzles, "one a head")


def _head_words(head: Head) -> str:
    parts = ["head", head.kind or "kind not recorded", head.make, head.model]
    pop_up_in = amount(head, "pop_up_in")
    if pop_up_in:
        parts.append(f"{pop_up_in:g} in")
    return " ".join(part for part in parts if part)


def _nozzle_words(head: Head) -> str:
    parts = [f"nozzle {amount(head, 'nozzle_gpm'):g} gpm"]
    if arc_deg := amount(head, "arc_deg"):
        parts.append(f"{arc_deg:g} deg")
    if radius_ft := amount(head, "radius_ft"):
        parts.append(f"{radius_ft:g} ft")
    return " ".join(parts)


def _valves(job: LoadedJob) -> Iterator[str]:
    for valve in job.valves:
        runs = job.runs_of(valve.zone_id) if valve.zone_id else ()
        size = next((run.size for run in runs if run.size), None)
        parts = [f"{valve.kind} valve", size or "", valve.make, valve.model]
        yield " ".join(part for part in parts if part)
    yield from ("valve box" for _ in job.valve_boxes)
    for shut_off in job.isolation_valves:
        yield f"{shut_off.kind or 'isolation'} valve, shut-off"
    for assembly in job.backflow_assemblies:
        yield " ".join(filter(None, ("backflow assembly", assembly.kind, assembly.size)))


def _at_the_wall(job: LoadedJob) -> Iterator[str]:
    if job.controller is not None:
        made = (job.controller.make, job.controller.model)
        yield " ".join(filter(None, ("controller", *made)))
        if job.controller.rain_sensor:
            yield "rain sensor"


def _work(job: LoadedJob) -> Iterator[Item]:
    """What a price list may price by the piece of work rather than of material."""
    feet = sum(amount(run, "length_ft") or 0.0 for run in job.pipe_runs)
    if feet:
        yield Item("work", "trench", round(feet, 1), "ft", "as long as the pipe in it")
    if job.zones:
        yield Item("work", "zone", len(job.zones), "each", "each recorded")
