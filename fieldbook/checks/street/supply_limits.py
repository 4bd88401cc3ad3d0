"""The supply: static pressure too high, what limits a zone, flow tests that tell too little."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.job_rules import static_maximum
from fieldbook.checks.common.naming import quantity
from fieldbook.checks.common.water_source import flow_test_cell, source_columns, supply_cell
from fieldbook.checks.finding import CellRef, Finding, Missing, Number
from fieldbook.checks.looked import Looked
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.trade.rules.design_limits import FLOW_TEST_DROP
from fieldbook.units import PRESSURE
from fieldbook.water import drops_enough


def check_supply(job: LoadedJob) -> Iterator[Finding | Looked]:
    """The static pressure, what feeds the property, and each reading of the flow test."""
    yield Looked("static pressure", frozenset({supply_cell(job, "").row_id}), tuple(_static(job)))
    missing = [
        Missing(words, supply_cell(job, column))
        for column, words in source_columns(job)
        if job.supply is None or getattr(job.supply, column) is None
    ]
    yield Looked("what feeds the property", frozenset({""}), tuple(missing), "design")
    points = frozenset(point.id for point in job.flow_test_points)
    lacks = () if flow_tested(job) else (Missing("a flow test", flow_test_cell(job)),)
    yield Looked("flow test", points or frozenset({""}), lacks, "design")
    static_psi = amount(job.supply, "static_psi")
    if static_psi is not None:
        yield from _static_flags(job, static_psi)
        yield from _flow_tests(job, static_psi)


def _static(job: LoadedJob) -> Iterator[Missing]:
    if amount(job.supply, "static_psi") is None:
        yield Missing("the static pressure", supply_cell(job, "static_psi"))
    if job.supply is None or job.supply.behind_regulator is None:
        words = "whether the gauge was behind a regulator"
        yield Missing(words, supply_cell(job, "behind_regulator"))


def flow_tested(job: LoadedJob) -> bool:
    """Whether any reading of the flow test has its flow and its residual pressure."""
    return any(
        amount(point, "residual_psi") is not None
        and (
            amount(point, "flow_gpm") is not None
            or None not in (amount(point, "bucket_gal"), amount(point, "bucket_s"))
        )
        for point in job.flow_test_points
    )


def _static_flags(job: LoadedJob, static_psi: float) -> Iterator[Finding]:
    """Static over the limit, and static that isn't the street's."""
    rule = static_maximum(job)
    if static_psi > rule.value:
        limit = quantity(job, rule.value, PRESSURE)
        yield Finding(
            "static too high",
            "fix",
            f"Static pressure is {quantity(job, static_psi, PRESSURE)}, over {limit}.",
            f"Fit a regulator at the point of connection, set it under {limit}, and enter the "
            "pressure behind it as static at the street.",
            supply_cell(job, "static_psi"),
            source=rule.source,
            numbers=(Number("static", static_psi, "psi"), Number("limit", rule.value, "psi")),
        )
    if job.supply is not None and job.supply.behind_regulator is True:
        yield Finding(
            "gauge behind a regulator",
            "note",
            "Static was read behind the house regulator: it shows the regulator, not the street.",
            "Take it as static only if the sprinklers are fed behind that regulator; else read it "
            "before the regulator.",
            supply_cell(job, "behind_regulator"),
        )


def _flow_tests(job: LoadedJob, static_psi: float) -> Iterator[Finding]:
    """Readings whose residual pressure is not below static, or only just."""
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
