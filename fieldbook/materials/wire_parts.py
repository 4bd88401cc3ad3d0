"""Cable in feet and waterproof splices, counted from the valves and the splices on the way."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import cable_name
from fieldbook.materials.item import Allowances, Item
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.wires import Cable


def wire_items(job: LoadedJob, allowances: Allowances) -> Iterator[Item]:
    """Each cable by its gauge and conductors, then the splices: two a valve, one a joint."""
    for cable in job.cables:
        feet = _longest_ft(job, cable)
        if feet is not None:
            more = round(feet * (1 + allowances.waste_pct / 100), 1)
            how = f"{cable_name(cable)}: the longest way to a valve on it, as entered"
            yield Item("wire", _words(job, cable), more, "ft", how)
    joints = 2 * len(job.valves) + len(job.splices)
    if joints:
        how = "two a valve, its lead and its common; one a joint on the way"
        yield Item("wire", "waterproof splice", joints, "each", how)


def uncounted_wire(job: LoadedJob) -> list[str]:
    """The cables of which no valve has a length of wire, in words."""
    return [
        f"the length of {cable_name(cable)}"
        for cable in job.cables
        if _longest_ft(job, cable) is None
    ]


def _longest_ft(job: LoadedJob, cable: Cable) -> float | None:
    lengths = (amount(valve, "wire_ft") for valve in job.valves if job.cable_of(valve) is cable)
    return max((feet for feet in lengths if feet is not None), default=None)


def _words(job: LoadedJob, cable: Cable) -> str:
    count = len(job.conductors_of(cable.id))
    gauge = f"AWG {cable.gauge_awg}" if cable.gauge_awg else "gauge not recorded"
    return f"cable {gauge}, {count} conductors" if count else f"cable {gauge}"
