"""What all checks ask of zones that run together, and the pipe that could be laid for them.

Both are read off the job record, in the words of `fieldbook.water.advice`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from fieldbook.checks.common.job_rules import velocity_maximum
from fieldbook.checks.water.head_pressures import MOST_SPREAD
from fieldbook.checks.water.networks import SERVICE, JobNetwork
from fieldbook.checks.water.zone_flow import bore_of, bores_of, needed_psi, street_of
from fieldbook.checks.water.zone_limits import supplied
from fieldbook.checks.water.zone_solutions import ZoneGroup
from fieldbook.records.base import Record
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import FIELD_OF, TABLES, LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.values import Value
from fieldbook.trade.pipes import PIPE_SIZES
from fieldbook.water import available_flow
from fieldbook.water.advice import Asked, Choice, Run

Changes = Mapping[tuple[str, str], Mapping[str, Value]]
"""New values of columns, by the table and id of their row."""


def asked_of(job: LoadedJob, group: ZoneGroup, job_network: JobNetwork) -> Asked:
    """Everything that the checks ask of a group of zones, but for surge and pipe rows."""
    needed, most, regulated = {}, {}, {}
    alike = []
    for zone in group.zones:
        names = job_network.order(zone)
        designs = []
        for name in names:
            head = job_network.heads[name].head
            design, least = needed_psi(head, zone), amount(head, "min_psi")
            asked = max((psi for psi in (design, least) if psi is not None), default=None)
            if asked is not None:
                needed[name] = asked
            if design is not None:
                designs.append(design)
            top, own = amount(head, "max_psi"), amount(head, "regulated_psi")
            if own is not None:
                regulated[name] = own
            elif top is not None:
                most[name] = top
        if designs:
            alike.append((frozenset(names), MOST_SPREAD * max(designs)))
    held = supplied(job, group)
    designed = held.drawn_by == "design" and held.draw_gpm is not None
    limit = held.available if designed else available_flow(street_of(job))
    return Asked(
        needed,
        most,
        regulated,
        tuple(alike),
        most_ft_s_of(job, job_network),
        limit.flow_gpm if limit is not None else None,
        held.draw_gpm or 0.0 if designed else 0.0,
    )


def most_ft_s_of(job: LoadedJob, job_network: JobNetwork) -> dict[str, float]:
    """The velocity limit of each pipe by its link, for what it is made of."""
    service = job.supply.service_class if job.supply is not None else None
    return {
        name: velocity_maximum(job, run.pipe_class if run is not None else service).value
        for name, run in job_network.pipes().items()
    }


def rank_of(size: str | None) -> int | None:
    """Where a nominal size stands among all sizes; None for one that is not listed."""
    return PIPE_SIZES.index(size) if size in PIPE_SIZES else None


def sold_sizes(job: LoadedJob, pipe_class: str | None) -> tuple[Choice, ...]:
    """The sizes in which a class is sold, smallest first."""
    found = []
    for rank, size in enumerate(PIPE_SIZES):
        bore = bore_of(pipe_class, size, bores_of(job))
        if bore is not None:
            found.append(Choice(size, rank, bore.bore_in, bore.pipe.c))
    return tuple(found)


def is_buried(job: LoadedJob, zone_id: str | None) -> bool:
    """Whether a stretch is signed as buried: to change its pipe is to dig."""
    backfill = job.backfill_of(zone_id)
    signed = backfill is not None and bool(backfill.signed_at)
    return signed or job.signed("backfill", zone_id) is not None


def runs_to_lay(job: LoadedJob, job_network: JobNetwork, *, any_size: bool = False) -> list[Run]:
    """The pipe runs of a group with the sizes that each could have, feeders first.

    The sizes are those larger than it is; `any_size`: all that are sold.
    """
    by_end = {link.end: link for link in job_network.network.links}
    service = job.supply.service_size if job.supply is not None else None
    found = []
    for link in job_network.network.links:
        run = job_network.runs.get(link.name)
        rank = rank_of(run.size) if run is not None else None
        if run is None or rank is None:
            continue
        before = by_end.get(link.start)
        while before is not None and before.name not in job_network.runs:
            before = by_end.get(before.start)
        length_ft = amount(run, "length_ft") or 0.0
        sizes = sold_sizes(job, run.pipe_class)
        found.append(
            Run(
                link.name,
                before.name if before is not None else None,
                rank,
                length_ft,
                length_ft if is_buried(job, run.zone_id) else 0.0,
                sizes if any_size else tuple(size for size in sizes if size.rank > rank),
                rank_of(service),
            )
        )
    return found


def only_group(job: LoadedJob, group: ZoneGroup) -> LoadedJob:
    """The job with no zone but those of a group, so that changes to it are soon checked."""
    ids = {zone.id for zone in group.zones}
    runs = tuple(run for run in job.pipe_runs if run.zone_id is None or run.zone_id in ids)
    kept = {run.id for run in runs}
    return _with(
        job,
        zones=group.zones,
        pipe_runs=runs,
        heads=tuple(head for head in job.heads if head.run_id in kept),
    )


def only_heads_of(job: LoadedJob, group: ZoneGroup, names: Iterable[str]) -> LoadedJob:
    """The job in which of a group's heads only these stand, and no design flow is entered."""
    assert group.job_network is not None
    kept = {group.job_network.heads[name].head.id for name in names}
    runs = {run.id for zone in group.zones for run in job.runs_of(zone.id)}
    changes: Changes = {("zone", zone.id): {"design_flow_gpm": None} for zone in group.zones}
    return _with(
        changed(job, changes),
        heads=tuple(head for head in job.heads if head.id in kept or head.run_id not in runs),
    )


def changed(job: LoadedJob, changes: Changes) -> LoadedJob:
    """The job with other values in columns of rows that it has."""
    tables: dict[str, object] = {}
    for table in {table for table, _ in changes}:
        rows = tuple(_row(row, changes.get((table, row.id), {})) for row in job.tables()[table])
        once = TABLES[table].once
        tables[FIELD_OF[table]] = (rows[0] if rows else None) if once else rows
    return _with(job, **tables)


def _row(row: Record, values: Mapping[str, Value]) -> Record:
    return row.with_values(**values) if values else row


def _with(job: LoadedJob, **tables: object) -> LoadedJob:
    return replace(job, **tables)  # type: ignore[arg-type]


def size_changes(job_network: JobNetwork, plan: Mapping[str, Choice]) -> Changes:
    """The sizes of a plan as changes of the rows of its runs."""
    rows: Mapping[str, PipeRun] = job_network.runs
    return {("pipe_run", rows[name].id): {"size": choice.size} for name, choice in plan.items()}


def has_service_link(job_network: JobNetwork) -> bool:
    """Whether the service line is a link of its own, not part of a flow test."""
    return any(link.name == SERVICE for link in job_network.network.links)
