"""Which checks a sign-off relies on, as data, and the stops that stand against it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from fieldbook.checks.finding import Finding, Missing
from fieldbook.checks.looked import zone_of
from fieldbook.checks.progress.holds import BACKFILL
from fieldbook.checks.verdicts import Answer
from fieldbook.records.loaded_job import LoadedJob

_STREET = ("supply", "hydraulics", "backflow height", "backflow kind", "backflow tests")
_WIRE = ("wire map", "electrics", "controller")
_GROUND = ("flush", "backfill", "pressure test")
_ALL = (*_STREET, *_WIRE, *_GROUND, "permits and tickets", "positions", "conflicts")

RELIES_ON: Mapping[str, tuple[str, ...]] = {
    "price": ("supply", "hydraulics"),
    "dig": ("permits and tickets",),
    "pressurise": ("pressure test",),
    BACKFILL: ("hydraulics", *_GROUND),
    "wire backfill": ("wire map", "electrics"),
    "energise": (*_WIRE, "pressure test"),
    "in service": (*_STREET, *_WIRE, *_GROUND),
    "walk-through": (),
    "handover": _ALL,
    "close": _ALL,
}
"""By sign-off, the names of the checks whose stops hold it back."""


def stops_against(
    job: LoadedJob, answers: Iterable[Answer], kind: str, zone_id: str | None
) -> list[Finding]:
    """The stops on what a sign-off covers: of the whole job, or of one stretch for a backfill.

    A zone's backfill is held back by stops on that zone's rows, the mainline's (None) by stops at
    the ground that belong to no zone.
    """
    relied_on = RELIES_ON.get(kind, ())
    flags = (flag for one in answers if one.check in relied_on for flag in one.flags)
    stops = dict.fromkeys(flag for flag in flags if flag.severity == "stop")
    if kind != BACKFILL:
        return list(stops)
    return [stop for stop in stops if _on_stretch(job, stop, zone_id)]


def open_before(
    job: LoadedJob, answers: Iterable[Answer], kind: str, zone_id: str | None
) -> list[Missing]:
    """What the checks lack that a sign-off relies on; for a backfill what that stretch lacks."""
    # Heights are compared for service, but a buried head is not measured again.
    relied_on = {*held, "backflow height"} if (held := RELIES_ON.get(kind, ())) else set()
    not_checked = (one for one in answers if one.check in relied_on and one.word == "not checked")
    missing = dict.fromkeys(missing for one in not_checked for missing in one.missing)
    if kind != BACKFILL:
        return list(missing)
    return [one for one in missing if _on_stretch(job, one, zone_id)]


def _on_stretch(job: LoadedJob, found: Finding | Missing, zone_id: str | None) -> bool:
    zone = zone_of(job, found.at)
    if zone is not None and found.at.column == "runs_with":
        # What zones do together is found at the first of them, and it concerns each.
        together = next((held for held in job.running_together() if zone in held), (zone,))
        return zone_id in [one.id for one in together]
    if zone is not None:
        return zone.id == zone_id
    return zone_id is None and found.at.place == "ground"
