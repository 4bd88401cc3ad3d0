"""Flags on the controller on the wall: weather, supply, conduit, rain sensor."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.job_rules import rain_shutoff
from fieldbook.checks.finding import CellRef, Finding, Missing
from fieldbook.checks.looked import Looked
from fieldbook.records.ids import once_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.controller import Controller

_CONDUIT = "Common practice, no source, for Class 2 wire; local electrical code governs."


_ASKED = (
    ("outdoors", "whether the controller hangs outdoors"),
    ("supply_near", "whether there is a power supply near the controller"),
    ("wire_in_conduit", "whether the wire is in conduit"),
)


def check_controller(job: LoadedJob) -> Iterator[Finding | Looked]:
    """The controller itself, and its rain sensor; `wire_colours` looks at its terminals."""
    row_id = job.controller.id if job.controller else once_id(job.job.id, "controller")
    missing = [
        Missing(words, CellRef("controller", row_id, column))
        for column, words in _ASKED
        if job.controller is None or getattr(job.controller, column) is None
    ]
    if job.controller is not None and job.controller.powered_by == "battery":
        missing = [one for one in missing if one.at.column != "supply_near"]
    yield Looked("controller", frozenset({row_id}), tuple(missing))
    if rain_shutoff(job) is not None:
        fitted = job.controller.rain_sensor if job.controller is not None else None
        at = CellRef("controller", row_id, "rain_sensor")
        lacks = () if fitted is not None else (Missing("whether a rain sensor is fitted", at),)
        yield Looked("rain sensor", frozenset({row_id}), lacks, "handover")
    if job.controller is not None:
        yield from _mounting(job.controller)
    yield from _rain_sensor(job)


def _mounting(controller: Controller) -> Iterator[Finding]:
    """Where it hangs, and what feeds it."""
    if controller.outdoors is True and controller.outdoor_model is not True:
        model = "is not made for outdoors"
        if controller.outdoor_model is None:
            model = "is not entered as made for outdoors"
        yield Finding(
            "controller in the weather",
            "stop",
            f"The controller hangs outdoors but {model}.",
            "Hang it indoors or fit an outdoor model, then correct Mounted outdoors or "
            "Made for outdoors at the controller.",
            CellRef("controller", controller.id, "outdoor_model"),
        )
    if controller.supply_near is False:
        yield Finding(
            "no supply near",
            "fix",
            "There is no power supply near the controller.",
            "Have a licensed electrician set a socket or circuit there, not switched, or move "
            "the controller; then tick Supply near at the controller.",
            CellRef("controller", controller.id, "supply_near"),
        )
    if controller.wire_in_conduit is False:
        yield Finding(
            "wire not in conduit",
            "fix",
            "The wire up to the controller is not in conduit.",
            "Run it in conduit from below the ground to the controller, then tick Wire in "
            "conduit at the controller.",
            CellRef("controller", controller.id, "wire_in_conduit"),
            source=_CONDUIT,
        )


def _rain_sensor(job: LoadedJob) -> Iterator[Finding]:
    """No sensor where the local rule asks for one; while it is not entered it is not checked."""
    source = rain_shutoff(job)
    if source is None:
        return
    fitted = job.controller.rain_sensor if job.controller is not None else None
    if fitted is not False:
        return
    row_id = job.controller.id if job.controller else once_id(job.job.id, "controller")
    yield Finding(
        "no rain sensor",
        "fix",
        "The local rule asks for a rain sensor and none is fitted.",
        "Fit one in open sky, connect it, and tick Rain sensor at the controller.",
        CellRef("controller", row_id, "rain_sensor"),
        source=source,
    )
