"""Flags on water that runs too fast, and on what a closing valve does to the pipe before it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldbook.checks.common.naming import quantity, run_name, speed, zone_name, zone_word
from fieldbook.checks.finding import CellRef, Finding, Number
from fieldbook.checks.water.zone_flow import over_supply
from fieldbook.checks.water.zone_solutions import Speed, Water, speeds
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.pipes import PIPE_CLASSES
from fieldbook.units import PRESSURE
from fieldbook.water import surge_psi

_SURGE = "Joukowsky: rho a dv, wave speed from the dimension ratio (modulus of PVC from memory)."


def check_velocities(job: LoadedJob, found: Sequence[Water]) -> Iterator[Finding]:
    """The worst lateral run of each zone, and the worst zone for each shared pipe."""
    shared: dict[str, tuple[Zone, Speed]] = {}
    for water in found:
        fast = [one for one in speeds(job, water) if one.ft_s > one.limit_ft_s * (1 + 1e-9)]
        for zone in water.zones:
            lateral = [one for one in fast if one.run is not None and one.run.zone_id == zone.id]
            if lateral:
                yield _too_fast(job, zone, max(lateral, key=_excess))
        for one in fast:
            # The service line over its limit is what governs the flow: one mistake, one flag.
            if one.run is None and over_supply(job, water.zones):
                continue
            if one.run is not None and one.run.zone_id is not None:
                continue
            key = one.run.id if one.run is not None else ""
            if key not in shared or _excess(one) > _excess(shared[key][1]):
                shared[key] = (water.zones[0], one)
    mainline = [one for key, one in shared.items() if key]
    if mainline:
        yield _too_fast(job, *max(mainline, key=lambda one: _excess(one[1])))
    if "" in shared:
        yield _too_fast(job, *shared[""])


def check_surge(job: LoadedJob, found: Sequence[Water]) -> Iterator[Finding]:
    """PVC mainline that a valve closing at once would take over its rating."""
    static_psi = amount(job.supply, "static_psi")
    if static_psi is None:
        return
    worst: tuple[float, float, float, Speed] | None = None
    for water in found:
        for one in speeds(job, water):
            if one.run is None or one.run.zone_id is not None:
                continue
            rating = _rating(one.run)
            if rating is None:
                continue
            added = surge_psi(one.ft_s, rating[1])
            over = static_psi + added - rating[0]
            if over > 0 and (worst is None or over > worst[0]):
                worst = (over, added, rating[0], one)
    if worst is not None:
        yield _surge(job, static_psi, *worst)


def _rating(run: PipeRun) -> tuple[float, float] | None:
    """Pressure rating in psi and dimension ratio of PVC pipe; None for other pipe."""
    found, size = PIPE_CLASSES.get(run.pipe_class or ""), run.size or ""
    if found is None or not (run.pipe_class or "").startswith("pvc"):
        return None
    if size not in found.rating_psi or size not in found.walls_in:
        return None
    return found.rating_psi[size], found.ods_in[size] / found.walls_in[size]


def _surge(
    job: LoadedJob, static_psi: float, over: float, added: float, rating: float, one: Speed
) -> Finding:
    assert one.run is not None
    total = static_psi + added
    return Finding(
        "surge over rating",
        "fix",
        f"A valve closing at once adds {quantity(job, added, PRESSURE)} in "
        f"{run_name(job, one.run)}: with static that is {quantity(job, total, PRESSURE)}, and the "
        f"pipe is rated {quantity(job, rating, PRESSURE)}.",
        "Lay larger or stronger pipe there, or regulate the pressure, and correct the size or "
        "class at the ground.",
        CellRef("pipe_run", one.run.id, "pipe_class"),
        source=_SURGE,
        numbers=(
            Number("static and surge", total, "psi"),
            Number("rating", rating, "psi"),
            Number("margin", -over, "psi"),
        ),
    )


def _excess(one: Speed) -> float:
    return one.ft_s / one.limit_ft_s


def _too_fast(job: LoadedJob, zone: Zone, one: Speed) -> Finding:
    at = _pipe_cell(job, one.run)
    where = run_name(job, one.run) if one.run is not None else "the service line"
    own = one.run is not None and one.run.zone_id == zone.id
    when = "" if own else f" with {zone_name(zone)} on"
    return Finding(
        "water too fast",
        "fix",
        f"Water runs {speed(job, one.ft_s)} in {where}{when}; the limit is "
        f"{speed(job, one.limit_ft_s)}.",
        f"Lay larger pipe for {where}, or draw less in {zone_word(zone)}, and "
        f"correct the size at the {at.place}.",
        at,
        source=one.source,
        numbers=(
            Number("velocity", one.ft_s, "ft/s"),
            Number("limit", one.limit_ft_s, "ft/s"),
            Number("flow", one.flow_gpm, "gpm"),
        ),
    )


def _pipe_cell(job: LoadedJob, run: PipeRun | None) -> CellRef:
    """The size cell of a run, or of the service line (None)."""
    if run is not None:
        return CellRef("pipe_run", run.id, "size")
    supply = job.supply
    return CellRef("supply", supply.id if supply is not None else "", "service_size")
