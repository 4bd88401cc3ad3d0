"""Seeded job records of one zone as crews lay them: some well, some short, fast or over supply."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Any

from builders import bare_job, row, street, valve, zone

from fieldbook.records.ids import head_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.flush_backfill import Backfill
from fieldbook.records.tables.pipe import PipeRun
from fieldbook.records.tables.supply import FlowTestPoint
from fieldbook.records.tables.zones import Head
from fieldbook.trade.pipes import PIPE_CLASSES

_LATERALS = ("pvc sch 40", "pvc sdr 21", "pe sidr")
_SERVICES = ("copper L", "pvc sch 40", "pex sdr 9")


def random_job(seed: int) -> LoadedJob:
    """A job with one zone of 3 to 10 heads; every figure of its water is entered."""
    pick = Random(seed)
    static = pick.uniform(38, 78)
    known = street(
        static_psi=static,
        meter_size=pick.choice(("5/8", "3/4", "1")),
        service_class=pick.choice(_SERVICES),
        service_size=pick.choice(("3/4", "1", "1-1/4")),
        service_length_ft=pick.uniform(20, 110),
        pipe_bores=pick.choice((None, "minimum wall")),
    )
    known["flow_test_points"] = ()
    if pick.random() < 0.5:
        residual = static * pick.uniform(0.65, 0.88)
        flow = pick.uniform(8, 24)
        known["flow_test_points"] = (
            row(FlowTestPoint, "test-1", residual_psi=residual, flow_gpm=flow),
        )
    runs, heads = _lateral(pick)
    main = row(
        PipeRun,
        "main-1",
        number=1,
        size=pick.choice(("3/4", "1", "1")),
        pipe_class="pvc sch 40",
        length_ft=pick.uniform(10, 120),
        rise_ft=pick.uniform(-5, 6),
    )
    # A loss that rises: EPANET does not settle on one that is the same at every flow.
    curve = pick.choice(("0 3, 10 3.5, 20 5, 40 9", "0 2, 15 4, 40 8"))
    assembly = row(BackflowAssembly, "backflow-1", kind="PVB", loss_curve=curve)
    tables: dict[str, Any] = {
        **known,
        "backflow_assemblies": (assembly,),
        "zones": (zone(1),),
        "valves": (valve(1, None, cv=pick.choice((6.0, 9.0))),),
        "pipe_runs": (main, *runs),
        "heads": heads,
    }
    job = bare_job(**tables)
    if pick.random() < 0.4:
        signed = row(Backfill, "backfill-1", zone_id="zone-1", signed_at="2026-05-01T10:00:00Z")
        job = replace(job, backfills=(signed,))
    return job


def _lateral(pick: Random) -> tuple[tuple[PipeRun, ...], tuple[Head, ...]]:
    """Runs that are fed by one of the two before them, each with a head at its end."""
    pipe_class = pick.choice(_LATERALS)
    sizes = [size for size in ("1/2", "3/4", "1") if size in PIPE_CLASSES[pipe_class].bores_in]
    size, psi = pick.choice(sizes), pick.choice((25.0, 30.0, 40.0))
    regulated = pick.choice((None, None, psi))
    runs, heads = [], []
    for number in range(1, pick.randint(3, 10) + 1):
        run = row(
            PipeRun,
            f"run-1-{number}",
            zone_id="zone-1",
            number=number,
            after=pick.choice((number - 1, max(number - 2, 0))) or None if number > 1 else None,
            size=size,
            pipe_class=pipe_class,
            length_ft=pick.uniform(5, 28),
            rise_ft=pick.uniform(-1.5, 1.5),
        )
        runs.append(run)
        heads.append(
            row(
                Head,
                head_id(run.id),
                run_id=run.id,
                nozzle_gpm=round(pick.uniform(0.8, 3.0), 2),
                rated_psi=psi,
                regulated_psi=regulated,
                min_psi=pick.choice((None, psi - 8.0)),
            )
        )
    return tuple(runs), tuple(heads)
