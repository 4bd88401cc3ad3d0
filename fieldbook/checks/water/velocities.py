"""Flags on water that runs too fast, and on the surge that a closing valve sends up the pipe."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldbook.checks.common.naming import quantity, run_name, speed, zone_name, zone_word
from fieldbook.checks.finding import CellRef, Finding, Number
from fieldbook.checks.water.zone_limits import supplied
from fieldbook.checks.water.zone_solutions import Speed, ZoneGroup, speeds
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.pipes import PIPE_CLASSES
from fieldbook.units import PRESSURE
from fieldbook.water import surge_psi

_SURGE = "Joukowsky: rho a dv, wave speed from the dimension ratio (modulus of PVC from memory)."


def check_velocities(job: LoadedJob, groups: Sequence[ZoneGroup]) -> Iterator[Finding]:
    """The worst lateral run of each zone, the worst mainline run, and the service line."""
    mainline: list[tuple[Speed, Zone]] = []
    service: list[tuple[Speed, Zone]] = []
    for group in groups:
        too_fast = _fast(job, group)
        yield from _laterals(job, group, too_fast)
        # What is shared counts with the group's first zone on.
        first = group.zones[0]
        mainline += [(pipe, first) for pipe in too_fast if pipe.run and pipe.run.zone_id is None]
        # The service line's limit already governs the flow: one mistake gives one flag.
        if not supplied(job, group).over:
            service += [(pipe, first) for pipe in too_fast if pipe.run is None]
    for shared in (mainline, service):
        if shared:
            worst, zone = max(shared, key=lambda pair: pair[0].excess)
            yield _too_fast(job, zone, worst)


def too_fast_in(job: LoadedJob, group: ZoneGroup, zone: Zone) -> Iterator[Finding]:
    """The worst of the pipes that a zone's water runs through, if it runs too fast there."""
    over = supplied(job, group).over
    found = [
        pipe
        for pipe in _fast(job, group)
        if (not over if pipe.run is None else pipe.run.zone_id in (None, zone.id))
    ]
    if found:
        yield _too_fast(job, zone, max(found, key=lambda pipe: pipe.excess))


def _fast(job: LoadedJob, group: ZoneGroup) -> list[Speed]:
    return [pipe for pipe in speeds(job, group) if pipe.excess > 1 + 1e-9]


def _laterals(job: LoadedJob, group: ZoneGroup, too_fast: Sequence[Speed]) -> Iterator[Finding]:
    for zone in group.zones:
        own = [pipe for pipe in too_fast if pipe.run and pipe.run.zone_id == zone.id]
        if own:
            yield _too_fast(job, zone, max(own, key=lambda pipe: pipe.excess))


def _too_fast(job: LoadedJob, zone: Zone, fast: Speed) -> Finding:
    at = _size_cell(job, fast.run)
    where = run_name(job, fast.run) if fast.run is not None else "the service line"
    own = fast.run is not None and fast.run.zone_id == zone.id
    when = "" if own else f" with {zone_name(zone)} on"
    return Finding(
        "water too fast",
        "fix",
        f"Water runs {speed(job, fast.ft_s)} in {where}{when}; the limit is "
        f"{speed(job, fast.limit_ft_s)}.",
        f"Lay larger pipe for {where}, or draw less in {zone_word(zone)}, and "
        f"correct the size at the {at.place}.",
        at,
        source=fast.source,
        numbers=(
            Number("velocity", fast.ft_s, "ft/s"),
            Number("limit", fast.limit_ft_s, "ft/s"),
            Number("flow", fast.flow_gpm, "gpm"),
        ),
    )


def _size_cell(job: LoadedJob, run: PipeRun | None) -> CellRef:
    """The size cell of a run, or of the service line (None)."""
    if run is not None:
        return CellRef("pipe_run", run.id, "size")
    supply = job.supply
    return CellRef("supply", supply.id if supply is not None else "", "service_size")


def surge_of(job: LoadedJob, group: ZoneGroup) -> Iterator[Finding]:
    """The mainline run that a valve of this group would take furthest over its rating."""
    return check_surge(job, [group])


def check_surge(job: LoadedJob, groups: Sequence[ZoneGroup]) -> Iterator[Finding]:
    """The PVC mainline run that a valve closing at once would take furthest over its rating."""
    static_psi = amount(job.supply, "static_psi")
    if static_psi is None:
        return
    over = [
        (static_psi + added_psi - rating_psi, added_psi, rating_psi, run)
        for run, added_psi, rating_psi in _surges(job, groups)
    ]
    worst = max(over, key=lambda surge: surge[0], default=None)
    if worst is not None and worst[0] > 0:
        over_psi, added_psi, rating_psi, run = worst
        total = static_psi + added_psi
        yield Finding(
            "surge over rating",
            "fix",
            f"A valve closing at once adds {quantity(job, added_psi, PRESSURE)} in "
            f"{run_name(job, run)}: with static that is {quantity(job, total, PRESSURE)}, and the "
            f"pipe is rated {quantity(job, rating_psi, PRESSURE)}.",
            "Lay larger or stronger pipe there, or regulate the pressure, and correct the size or "
            "class at the ground.",
            CellRef("pipe_run", run.id, "pipe_class"),
            source=_SURGE,
            numbers=(
                Number("static and surge", total, "psi"),
                Number("rating", rating_psi, "psi"),
                Number("margin", -over_psi, "psi"),
            ),
        )


def _surges(job: LoadedJob, groups: Sequence[ZoneGroup]) -> Iterator[tuple[PipeRun, float, float]]:
    """Each PVC mainline run, the psi that a closing valve adds in it, and its rating in psi."""
    for group in groups:
        for moving in speeds(job, group):
            if moving.run is None or moving.run.zone_id is not None:
                continue
            name, size = moving.run.pipe_class or "", moving.run.size or ""
            pipe = PIPE_CLASSES.get(name)
            # The wave's speed is worked out with the elasticity of PVC.
            if pipe is not None and name.startswith("pvc") and size in pipe.rating_psi:
                ratio = pipe.ods_in[size] / pipe.walls_in[size]
                yield moving.run, surge_psi(moving.ft_s, ratio), pipe.rating_psi[size]
