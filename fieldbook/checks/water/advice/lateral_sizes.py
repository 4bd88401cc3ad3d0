"""Sizes for every lateral run of a zone at the least pipe cost that passes all checks.

It is meant for the time before the trench is closed; what is signed as buried stays as it is.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fieldbook.checks.water.advice.advice_search import Seeker, kinds_of
from fieldbook.checks.water.advice.zone_asked import (
    Changes,
    changed,
    is_buried,
    only_group,
    rank_of,
    runs_to_lay,
    size_changes,
)
from fieldbook.checks.water.advice.zone_result import Result, result_of
from fieldbook.checks.water.zone_solutions import ZoneGroup
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.zones import Zone
from fieldbook.water import NetworkError
from fieldbook.water.advice import NOT_SOLVED, Choice, Outcome, Run, judge, least_cost


@dataclass(frozen=True)
class LateralSizes:
    """New sizes for the lateral runs of a zone, and how it stands today and with them.

    sizes: by the id of each run, those that stay as they are too. feet: by size, feet of pipe
    today and with the new sizes. proven: no cheaper sizes are enough.
    """

    sizes: Mapping[str, str]
    changes: Changes
    feet: Mapping[str, tuple[float, float]]
    today: Result
    result: Result
    proven: bool


def size_laterals(job: LoadedJob, group: ZoneGroup, zone: Zone) -> LateralSizes | str:
    """The sizes for a zone's laterals; a sentence where none can be worked out.

    No run is larger than the pipe that feeds it, and the class of each stays as it is.
    """
    if group.job_network is None or not group.solved:
        return f"It can't be sized yet: {group.missing or 'it is not solved'}."
    if is_buried(job, zone.id):
        return "Its trenches are signed as buried: its sizes stay as they are."
    alone = only_group(job, group)
    seeker = Seeker(alone)
    network = seeker.network
    rows = {name: run for name, run in network.runs.items() if run.zone_id == zone.id}
    runs = _laterals(runs_to_lay(alone, network, any_size=True), rows)

    def tried(sizes: Mapping[str, Choice]) -> Outcome:
        try:
            return judge(seeker.whatif.solve(kinds=kinds_of(network, sizes)), seeker.asked)
        except NetworkError:
            return NOT_SOLVED

    def held(sizes: Mapping[str, Choice]) -> bool:
        return result_of(changed(alone, size_changes(network, sizes))).met

    found = least_cost(runs, tried, held)
    if found is None:
        return "No sizes of its laterals were found that pass all checks: see what mends it."
    sizes, proven = found
    changes = {
        at: values
        for at, values in size_changes(network, sizes).items()
        if values["size"] != _size_now(rows, at[1])
    }
    return LateralSizes(
        {rows[name].id: choice.size for name, choice in sizes.items()},
        changes,
        _feet(rows, sizes),
        result_of(alone),
        result_of(changed(alone, changes)),
        proven,
    )


def _laterals(runs: list[Run], rows: Mapping[str, PipeRun]) -> list[Run]:
    """The lateral runs alone; what feeds the first of them is a pipe that stays as it is."""
    ranks = {run.name: run.rank for run in runs}
    return [
        run
        if run.feeder in rows or run.feeder is None
        else Run(run.name, None, run.rank, run.length_ft, 0.0, run.larger, ranks[run.feeder])
        for run in runs
        if run.name in rows
    ]


def _size_now(rows: Mapping[str, PipeRun], run_id: str) -> str | None:
    return next((run.size for run in rows.values() if run.id == run_id), None)


def _feet(
    rows: Mapping[str, PipeRun], sizes: Mapping[str, Choice]
) -> Mapping[str, tuple[float, float]]:
    found: dict[str, tuple[float, float]] = {}
    for name, run in rows.items():
        length_ft = amount(run, "length_ft") or 0.0
        for size, today, new in (
            (run.size or "", length_ft, 0.0),
            (sizes[name].size, 0.0, length_ft),
        ):
            had, will = found.get(size, (0.0, 0.0))
            found[size] = (had + today, will + new)
    return dict(sorted(found.items(), key=lambda item: rank_of(item[0]) or 0))
