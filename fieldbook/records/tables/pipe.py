"""Pipe in the ground: the runs of the mainline and of the laterals."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, choice, hidden, whole
from fieldbook.trade.pipes import PIPE_CLASSES, PIPE_SIZES
from fieldbook.trade.rules.design_limits import COMMON_PRACTICE
from fieldbook.units import LENGTH, PRESSURE, RATIO


class PipeRun(Record, table="pipe_run"):
    """A straight length of pipe of one size; a run without a zone is mainline.

    Runs are numbered within the mainline, or within one lateral. `after` is the number of the run
    that feeds this one, None at the start (the point of connection, or the zone's valve).
    """

    title: ClassVar[str] = "pipe run"
    sheet: ClassVar[Place] = "ground"

    zone_id: Annotated[str | None, hidden("Zone", "zone")] = None
    number: Annotated[int | None, whole("Run", 1, 2000)] = None
    after: Annotated[
        int | None,
        whole("After", 1, 2000, "The number of the run that feeds this one; blank at the start."),
    ] = None
    size: Annotated[str | None, choice("Size", PIPE_SIZES, "Nominal size.", wanted=True)] = None
    pipe_class: Annotated[
        str | None,
        choice("Class", tuple(PIPE_CLASSES), "As printed along the pipe.", wanted=True),
    ] = None
    rating_psi: Annotated[
        float | None,
        amount(
            "Rating",
            PRESSURE,
            (10, 2000),
            "As printed along the pipe, or on its sheet. Asked where no standard publishes one.",
        ),
    ] = None
    length_ft: Annotated[
        float | None, amount("Length", LENGTH, (0, 5000), "As laid.", wanted=True)
    ] = None
    rise_ft: Annotated[
        float | None,
        amount("Rise", LENGTH, (-500, 500), "Uphill is positive; blank is level."),
    ] = None
    fittings_ft: Annotated[
        float | None,
        amount(
            "Fittings",
            LENGTH,
            (0, 1000),
            "As feet of the same pipe; blank counts 10 % of the pipe's loss.",
            source=COMMON_PRACTICE,
        ),
    ] = None
    fittings_k: Annotated[
        float | None,
        amount("Loss K", RATIO, (0, 100), "Or the sum of their K, times the velocity head."),
    ] = None
