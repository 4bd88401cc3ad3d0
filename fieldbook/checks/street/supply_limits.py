"""The supply at the street: static pressure that is too high, and flow tests that show little."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.job_rules import static_maximum
from fieldbook.checks.common.naming import quantity
from fieldbook.checks.finding import CellRef, Finding, Number
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.trade.rules.design_limits import FLOW_TEST_DROP
from fieldbook.units import PRESSURE
from fieldbook.water import drops_enough


def check_supply(job: LoadedJob) -> Iterator[Finding]:
    """Flags on the static pressure and on each reading of the flow test."""
    static_psi = amount(job.supply, "static_psi")
    if static_psi is None or job.supply is None:
        return
    rule = static_maximum(job)
    if static_psi > rule.value:
        limit = quantity(job, rule.value, PRESSURE)
        yield Finding(
            "static too high",
            "fix",
            f"Static pressure is {quantity(job, static_psi, PRESSURE)}, over {limit}.",
            f"Fit a pressure regulator at the point of connection, set it under {limit}, and enter "
            "the pressure behind it as static at the street.",
            CellRef("supply", job.supply.id, "static_psi"),
            source=rule.source,
            numbers=(Number("static", static_psi, "psi"), Number("limit", rule.value, "psi")),
        )
    yield from _flow_tests(job, static_psi)


def _flow_tests(job: LoadedJob, static_psi: float) -> Iterator[Finding]:
    """Readings whose residual pressure is not below static, or below it by too little."""
    for count, point in enumerate(job.flow_test_points, start=1):
        residual_psi = amount(point, "residual_psi")
        if residual_psi is None:
            continue
        residual = quantity(job, residual_psi, PRESSURE)
        static = quantity(job, static_psi, PRESSURE)
        at = CellRef("flow_test_point", point.id, "residual_psi")
        numbers = (Number("static", static_psi, "psi"), Number("residual", residual_psi, "psi"))
        if residual_psi >= static_psi:
            yield Finding(
                "residual not below static",
                "fix",
                f"Flow test reading {count} has a residual of {residual}, not below the static "
                f"pressure of {static}.",
                "Read both again, static with everything off, and correct the wrong one at the "
                "street.",
                at,
                source=at.source,
                numbers=numbers,
            )
        elif not drops_enough(static_psi, residual_psi):
            drop = quantity(job, static_psi - residual_psi, PRESSURE)
            least = quantity(job, FLOW_TEST_DROP.value * static_psi, PRESSURE)
            yield Finding(
                "small drop",
                "note",
                f"Flow test reading {count} drops the pressure by only {drop}; under {least} "
                "(10 % of static) it tells too little.",
                "Open more taps and enter a reading with more flow at the street.",
                at,
                source=at.source,
                numbers=numbers,
            )
