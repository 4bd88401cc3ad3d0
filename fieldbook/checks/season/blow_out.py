"""Air for the pipe of a job: the volume of each zone, the most pressure, the order of the zones.

Volumes are of the bore at the minimum wall, the larger one, so that the times are on the safe side;
fittings, valves and heads are not in them. Times are those of the water pushed out once by free air
at sea level; in the field one goes on until mist comes.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from fieldbook.checks.common.naming import run_name
from fieldbook.checks.finding import CellRef, Missing
from fieldbook.checks.ground.pressure_test import lowest_rating
from fieldbook.checks.water.heights import head_heights
from fieldbook.checks.water.pipe_tree import mainline_to, tree
from fieldbook.checks.water.zone_flow import bore_of, zone_flow_gpm
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.zones import Zone
from fieldbook.season.air_and_fill import (
    PipeLength,
    free_air_ft3,
    pushing_cfm,
    seconds_of_air,
    volume_ft3,
)
from fieldbook.trade.pipes import rated_psi
from fieldbook.trade.winter import (
    BLOW_ORDERS,
    METAL_AIR_PSI,
    METAL_AIR_SOURCE,
    PLASTIC_AIR_PSI,
    PLASTIC_AIR_SOURCE,
    is_metal,
)


@dataclass(frozen=True)
class AirLimit:
    """The most air in psi, what says so, and the runs whose rating is not known."""

    psi: float
    source: str
    unrated: tuple[PipeRun, ...] = ()


@dataclass(frozen=True)
class ZoneAir:
    """The air of a zone, or of the mainline (None).

    `volume_ft3` is of its own pipe, `free_ft3` that volume of free air at the limit's pressure, and
    `pushing_cfm` what pushes water out at the zone's own flow, None where no flow is known.
    `distance_ft` goes along the pipe from the connection to the far end, `top_ft` is its highest
    head above the datum. `missing` is what the volume lacks.
    """

    zone: Zone | None
    volume_ft3: float
    free_ft3: float
    pushing_cfm: float | None
    distance_ft: float
    top_ft: float | None
    missing: tuple[Missing, ...]

    def seconds(self, cfm: float | None) -> float | None:
        """How long a compressor takes for the pipe once; None where either is not known."""
        if cfm is None or self.missing or self.volume_ft3 <= 0.0:
            return None
        return seconds_of_air(self.free_ft3, cfm)


def air_limit(job: LoadedJob, deg_f: float | None = None) -> AirLimit:
    """The most air for the whole system: the least of what any pipe on the way may bear.

    `deg_f` is the temperature of the air where it is known: hot PVC bears less.
    """
    stretches = [None, *(zone.id for zone in job.zones)]
    metal = bool(job.pipe_runs) and all(is_metal(run.pipe_class) for run in job.pipe_runs)
    limits = [(METAL_AIR_PSI, METAL_AIR_SOURCE) if metal else (PLASTIC_AIR_PSI, PLASTIC_AIR_SOURCE)]
    limits += [
        rating for one in stretches if (rating := lowest_rating(job, one, deg_f)) is not None
    ]
    psi, source = min(limits, key=lambda limit: limit[0])
    return AirLimit(psi, source, tuple(run for run in job.pipe_runs if not _is_rated(run)))


def zone_air(job: LoadedJob, zone: Zone | None, psi: float) -> ZoneAir:
    """The air of a zone's lateral, or of the mainline (None), at a gauge pressure."""
    runs = job.runs_of(zone.id if zone is not None else None)
    pipes, missing = pipe_lengths(job, runs)
    volume = volume_ft3(pipes)
    flow = zone_flow_gpm(job, zone) if zone is not None else None
    heights = head_heights(job, zone) if zone is not None else ()
    return ZoneAir(
        zone,
        volume,
        free_air_ft3(volume, psi),
        pushing_cfm(flow, psi) if flow is not None else None,
        _distance_ft(job, zone),
        max((head.elevation_ft for head in heights if head.measured), default=None),
        missing,
    )


def in_order(job: LoadedJob, order: str | None) -> tuple[Zone, ...]:
    """The zones in the order of air: as chosen, else as they are numbered.

    Farthest and highest first goes by the distance; of two as far away the higher one is first.
    """
    if order not in BLOW_ORDERS:
        return job.zones
    airs = [zone_air(job, zone, PLASTIC_AIR_PSI) for zone in job.zones]
    if order == BLOW_ORDERS[0]:
        airs.sort(key=lambda air: air.distance_ft)
    else:
        airs.sort(key=lambda air: (-air.distance_ft, -(air.top_ft or 0.0)))
    return tuple(air.zone for air in airs if air.zone is not None)


def pipe_lengths(
    job: LoadedJob, runs: Sequence[PipeRun]
) -> tuple[tuple[PipeLength, ...], tuple[Missing, ...]]:
    """The lengths of runs with their bores, and what some of them lack for it."""
    pipes, missing = [], []
    for run in runs:
        bore, length_ft = bore_of(run.pipe_class, run.size, "minimum wall"), _length_ft(run)
        if bore is None:
            column = "size" if run.pipe_class else "pipe_class"
            words = f"the {'size' if run.pipe_class else 'class'} of {run_name(job, run)}"
            missing.append(Missing(words, CellRef("pipe_run", run.id, column)))
        elif length_ft is None:
            at = CellRef("pipe_run", run.id, "length_ft")
            missing.append(Missing(f"the length of {run_name(job, run)}", at))
        else:
            pipes.append(PipeLength(bore.bore_in, length_ft))
    return tuple(pipes), tuple(missing)


def _distance_ft(job: LoadedJob, zone: Zone | None) -> float:
    """Along the pipe from the connection to the far end of a zone, or of the mainline."""
    paths = tree(job.runs_of(zone.id if zone is not None else None)).paths()
    before_ft = _along_ft(mainline_to(job, zone)) if zone is not None else 0.0
    return before_ft + max(map(_along_ft, paths), default=0.0)


def _along_ft(runs: Iterable[PipeRun]) -> float:
    return sum(_length_ft(run) or 0.0 for run in runs)


def _length_ft(run: PipeRun) -> float | None:
    return amount(run, "length_ft")


def _is_rated(run: PipeRun) -> bool:
    """Whether a rating is known of a run; metal pipe has none printed, and bears more than air."""
    known = rated_psi(run.pipe_class, run.size) is not None
    return known or amount(run, "rating_psi") is not None or is_metal(run.pipe_class)
