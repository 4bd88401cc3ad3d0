"""All flags on the water of one zone, and those on the flow of the group that it runs in."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.job_rules import static_maximum
from fieldbook.checks.common.naming import (
    fitting,
    listed,
    quantity,
    run_name,
    sentence,
    valve_name,
    zone_name,
    zone_word,
)
from fieldbook.checks.finding import CellRef, Finding, Number
from fieldbook.checks.water.head_pressures import STARVED, check_heads, judge_head, law_source
from fieldbook.checks.water.networks import regulator_of
from fieldbook.checks.water.pipe_rows import check_rows_of
from fieldbook.checks.water.velocities import surge_of, too_fast_in
from fieldbook.checks.water.zone_certainty import band_crosses
from fieldbook.checks.water.zone_flow import flow_test
from fieldbook.checks.water.zone_limits import Available, supplied
from fieldbook.checks.water.zone_solutions import ZoneGroup
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.zones import Zone
from fieldbook.trade.rules.design_limits import GAUGE_ERROR, REGULATOR_HEADROOM
from fieldbook.units import FLOW, PRESSURE
from fieldbook.water import drops_enough


def zone_flags(job: LoadedJob, group: ZoneGroup, zone: Zone) -> list[Finding]:
    """Every flag on a zone: its heads and pipes, what it shares, and the flow of its group."""
    return [
        *flow_flags(job, group),
        *head_flags(job, group, zone),
        *doubt_flags(job, group),
        *too_fast_in(job, group, zone),
        *surge_of(job, group),
        *check_rows_of(job, zone),
    ]


def head_flags(job: LoadedJob, group: ZoneGroup, zone: Zone) -> Iterator[Finding]:
    """Flags on the pressure at a zone's heads and at its regulator.

    Where the zone draws too much its regulation starves for that: one mistake gives one flag.
    """
    over = supplied(job, group).over
    for flag in check_heads(job, zone, group.heads_of(zone)):
        if not (over and flag.code == STARVED):
            yield flag
    yield from band_flags(job, group, zone)
    if not over:
        yield from regulator_flags(job, group, zone)


def street_doubted(job: LoadedJob) -> bool:
    """Whether the street's own figures carry a flag, so that no zone behind it is simply good."""
    static_psi, test = amount(job.supply, "static_psi"), flow_test(job)
    if job.supply is None or static_psi is None:
        return False
    small = test is not None and not drops_enough(static_psi, test[0])
    return small or job.supply.behind_regulator is True or static_psi > static_maximum(job).value


def flow_flags(job: LoadedJob, group: ZoneGroup) -> Iterator[Finding]:
    """A draw over what the governing rule allows."""
    held = supplied(job, group)
    limit, draw_gpm, margin = held.available, held.draw_gpm, held.margin_gpm
    if not held.over or limit is None or draw_gpm is None or margin is None:
        return
    zone = group.zones[0]
    yield Finding(
        "flow over supply",
        "stop",
        _over_sentence(job, group, draw_gpm, limit, -margin),
        f"Split {zone_word(zone)} or fit smaller nozzles, and correct its design flow or nozzles "
        "at the ground; or correct the meter, service line or flow test at the street.",
        _flow_cell(job, group),
        source=limit.source,
        numbers=(
            Number("draw", draw_gpm, "gpm"),
            Number("available flow", limit.flow_gpm, "gpm"),
            Number("margin", margin, "gpm"),
        ),
    )


def _over_sentence(
    job: LoadedJob, group: ZoneGroup, draw_gpm: float, limit: Available, over_gpm: float
) -> str:
    who = sentence(listed([zone_name(each) for each in group.zones]))
    draws = "draws" if len(group.zones) == 1 else "draw together"
    rest = (
        f"but {limit.rule} allows {quantity(job, limit.flow_gpm, FLOW)}: "
        f"{quantity(job, over_gpm, FLOW)} too much."
    )
    drawn = f"{who} {draws} {quantity(job, draw_gpm, FLOW)}"
    nozzles = sum(
        amount(head, "nozzle_gpm") or 0.0 for zone in group.zones for head in job.heads_of(zone.id)
    )
    plain = f"{drawn}, {rest}"
    if supplied(job, group).drawn_by != "solved" or draw_gpm < 1.02 * nozzles:
        return plain
    # The pressure is over what the nozzles are rated at, so they give more than is printed on them.
    return fitting(f"{drawn} (its nozzles are rated {quantity(job, nozzles, FLOW)}), {rest}", plain)


def _flow_cell(job: LoadedJob, group: ZoneGroup) -> CellRef:
    """The cell that mends a draw: the link of zones that run together, the flow, or a nozzle."""
    zone = group.zones[0]
    if len(group.zones) > 1:
        return CellRef("zone", zone.id, "runs_with")
    heads = job.heads_of(zone.id)
    if supplied(job, group).drawn_by == "solved" and heads:
        return CellRef("head", heads[0].id, "nozzle_gpm")
    return CellRef("zone", zone.id, "design_flow_gpm")


def band_flags(job: LoadedJob, group: ZoneGroup, zone: Zone) -> Iterator[Finding]:
    """A zone whose worst head has enough, but not for certain, and is not flagged by its margin."""
    heads = group.heads_of(zone)
    verdicts = [verdict for head in heads if (verdict := judge_head(*head)) is not None]
    if any(verdict.severity is not None for verdict in verdicts):
        return
    if not band_crosses(job, group, zone):
        return
    worst = min(verdicts, key=lambda verdict: verdict.margin_psi)
    psi, margin = worst.result.psi, worst.margin_psi
    yield Finding(
        "little pressure to spare",
        "note",
        f"The head at {run_name(job, worst.rows.run)} gets {quantity(job, psi, PRESSURE)}; "
        f"{worst.words} {quantity(job, worst.held_to_psi, PRESSURE)}: what gauge, flow test, hour "
        "and friction may be off is more than the difference.",
        "Test the flow again with more water running and read static at several hours; the desk "
        "shows what the doubt comes from and which change is enough.",
        CellRef("pipe_run", worst.rows.run.id, "size"),
        source=f"{GAUGE_ERROR.source} {law_source(job)}",
        numbers=(
            Number("pressure at the head", psi, "psi"),
            Number("needed", worst.held_to_psi, "psi"),
            Number("margin", margin, "psi"),
        ),
    )


def regulator_flags(job: LoadedJob, group: ZoneGroup, zone: Zone) -> Iterator[Finding]:
    """A zone's regulator that gets too little over its setting to hold it."""
    found = regulator_of(group.job_network, zone)
    valve = job.valve_of(zone.id)
    if found is None or valve is None or group.solution is None or not group.solved:
        return
    link, set_psi = found
    psi = group.solution.node_psi[link.start]
    wanted = set_psi + REGULATOR_HEADROOM.value
    if psi >= wanted - 1e-6:
        return
    yield Finding(
        "regulator short of pressure",
        "note",
        f"The regulator at {valve_name(job, valve)} gets {quantity(job, psi, PRESSURE)}; to hold "
        f"the {quantity(job, set_psi, PRESSURE)} it is set to it needs "
        f"{quantity(job, wanted, PRESSURE)}.",
        f"Set it lower, or lay larger pipe on the way to {zone_word(zone)}, and correct it at the "
        "valve boxes.",
        CellRef("valve", valve.id, "regulator_psi"),
        source=REGULATOR_HEADROOM.source,
        numbers=(
            Number("pressure at the regulator", psi, "psi"),
            Number("needed", wanted, "psi"),
            Number("margin", psi - wanted, "psi"),
        ),
    )


def doubt_flags(job: LoadedJob, group: ZoneGroup) -> Iterator[Finding]:
    """A zone that can't be solved, or whose figures reach beyond what was entered."""
    zone = group.zones[0]
    at, who = CellRef("zone", zone.id, "design_flow_gpm"), sentence(zone_name(zone))
    if group.failed:
        yield Finding(
            "zone not solved",
            "fix",
            f"{who} can't be worked out: "
            f"{group.refusal or 'no flows and pressures were found that agree.'}",
            "Look at the pipe rows, loss curves and flow test that feed it, and correct the one "
            "that is wrong.",
            at,
            source=law_source(job),
        )
        return
    if group.solution is None:
        return
    outside = [link for link in group.solution.links.values() if link.outside]
    if outside:
        gpm = quantity(job, abs(outside[0].gpm), FLOW)
        yield Finding(
            "outside the loss curve",
            "note",
            f"{who} draws {gpm} through the {outside[0].name}, outside its loss curve.",
            "Enter more points of the curve at the street or valve boxes.",
            at,
            source=law_source(job),
        )
    test = flow_test(job)
    if test is not None and group.solution.supply_gpm > test[1] * (1 + 1e-9):
        drawn = quantity(job, group.solution.supply_gpm, FLOW)
        yield Finding(
            "beyond the flow test",
            "note",
            f"{who} draws {drawn}, more than the {quantity(job, test[1], FLOW)} that was tested: "
            "the pressures are extrapolated.",
            "Test the flow again with more water running, and enter it at the street.",
            at,
            source=law_source(job),
        )
