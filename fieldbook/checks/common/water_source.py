"""What feeds a property: a street meter with its service line, or a well, pump or tank."""

from __future__ import annotations

from fieldbook.checks.finding import CellRef
from fieldbook.records.ids import once_id
from fieldbook.records.loaded_job import LoadedJob

STREET = "street meter"


def supply_cell(job: LoadedJob, column: str) -> CellRef:
    """A cell of the supply, whether or not its row exists yet."""
    row_id = job.supply.id if job.supply is not None else once_id(job.job.id, "supply")
    return CellRef("supply", row_id, column)


def flow_test_cell(job: LoadedJob) -> CellRef:
    """Where a flow test is entered: what its last reading lacks, else a new reading."""
    points = job.flow_test_points
    if not points:
        return CellRef("flow_test_point", "", "add flow test")
    last = points[-1]
    column = "residual_psi"
    if last.residual_psi is not None and last.flow_gpm is None:
        column = "bucket_s" if last.bucket_gal is not None else "flow_gpm"
    return CellRef("flow_test_point", last.id, column)


def source_of(job: LoadedJob) -> str:
    """What feeds the property, in words; a blank is a street meter."""
    return (job.supply.source if job.supply is not None else None) or STREET


def has_meter(job: LoadedJob) -> bool:
    """Whether the water comes through a street meter."""
    return source_of(job) == STREET


def source_columns(job: LoadedJob) -> tuple[tuple[str, str], ...]:
    """The columns of what feeds the property, each with its words: a well has no meter."""
    if not has_meter(job):
        return (("source_gpm", f"what the {source_of(job)} gives"),)
    return (
        ("meter_size", "the meter's size"),
        ("service_class", "what the service line is made of"),
        ("service_size", "the service line's size"),
        ("service_length_ft", "the service line's length"),
    )
