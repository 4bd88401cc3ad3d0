"""The backfill of each stretch: cover, soil, heads, signatures too early; and valve box bases."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.cell_refs import flush_cell
from fieldbook.checks.common.job_rules import cover_minimum
from fieldbook.checks.common.naming import box_name, listed, quantity, sentence, zone_name
from fieldbook.checks.finding import CellRef, Finding, Number, Severity
from fieldbook.checks.ground.flush import STEP_WORDS, missing_steps
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.flush_backfill import Backfill
from fieldbook.records.tables.zones import Zone
from fieldbook.units import SHORT_LENGTH


def check_backfill(job: LoadedJob) -> Iterator[Finding]:
    """Flags on each stretch whose backfill was begun, then on the valve boxes."""
    for stretch in job.backfills:
        zone = job.zone(stretch.zone_id)
        if zone is None and stretch.zone_id is not None:
            continue
        where = zone_name(zone) if zone is not None else "the mainline"
        if zone is not None:
            yield from _signed_before_flush(job, zone, stretch)
        yield from _cover(job, stretch, where)
        yield from _soil(stretch, where)
        yield from _signed_unseen(stretch, where)
        if zone is not None:
            yield from _heads(stretch, where)
    yield from _boxes(job)


def _signed_before_flush(job: LoadedJob, zone: Zone, stretch: Backfill) -> Iterator[Finding]:
    """A zone that is signed for backfill before every step of its flush is ticked."""
    missing = missing_steps(job.flush_of(zone.id))
    if not stretch.signed_by or not missing:
        return
    state = "nothing of its flush is entered"
    if len(missing) < len(STEP_WORDS):
        state = f"its flush still lacks: {listed([STEP_WORDS[step] for step in missing])}"
    yield Finding(
        "buried before flush",
        "stop",
        f"The backfill of {zone_name(zone)} is signed, but {state}.",
        "Finish the flush at the ground and tick every step, or take the signature back with "
        "Space.",
        flush_cell(job, zone.id, missing[0]),
    )


def _cover(job: LoadedJob, stretch: Backfill, where: str) -> Iterator[Finding]:
    """Cover that is less than the local minimum."""
    rule = cover_minimum(job, mainline=stretch.zone_id is None)
    cover_in = amount(stretch, "cover_in")
    if cover_in is None or cover_in >= rule.value:
        return
    seen, least = (quantity(job, inches, SHORT_LENGTH) for inches in (cover_in, rule.value))
    yield Finding(
        "cover too low",
        _worse_when_signed(stretch),
        f"The pipe of {where} has {seen} of cover; the minimum here is {least}.",
        f"Dig {where} deeper or add soil, then enter the new cover at the ground; the local "
        "minimum is set at the desk.",
        CellRef("backfill", stretch.id, "cover_in"),
        source=rule.source,
        numbers=(Number("cover", cover_in, "in"), Number("minimum cover", rule.value, "in")),
    )


def _soil(stretch: Backfill, where: str) -> Iterator[Finding]:
    """Soil with stones against the pipe."""
    if stretch.rock_free is False:
        at = CellRef("backfill", stretch.id, "rock_free")
        yield Finding(
            "soil not rock-free",
            _worse_when_signed(stretch),
            f"The soil around the pipe of {where} is not free of rock.",
            f"Lay the pipe of {where} in sand or fine soil, then tick Rock-free at the ground.",
            at,
            source=at.source,
        )


def _signed_unseen(stretch: Backfill, where: str) -> Iterator[Finding]:
    """A signed stretch without entries of what can't be seen once it is buried."""
    unseen = [
        (column, words)
        for column, words in (("cover_in", "its cover"), ("rock_free", "whether the soil is clean"))
        if getattr(stretch, column) is None
    ]
    if stretch.signed_by and unseen:
        yield Finding(
            "signed unseen",
            "fix",
            f"The backfill of {where} is signed, but "
            f"{listed([words for _, words in unseen])} is not entered.",
            f"Enter it for {where} at the ground while somebody still knows, or dig a test hole.",
            CellRef("backfill", stretch.id, unseen[0][0]),
        )


def _heads(stretch: Backfill, where: str) -> Iterator[Finding]:
    """Heads that lean, or stand above or below the grade."""
    if stretch.heads_plumb is False:
        yield Finding(
            "heads not plumb",
            "fix",
            f"Heads of {where} are not plumb.",
            f"Set the heads of {where} plumb, then tick Plumb at the ground.",
            CellRef("backfill", stretch.id, "heads_plumb"),
        )
    if stretch.heads_at_grade is False:
        yield Finding(
            "heads not at grade",
            "fix",
            f"Heads of {where} are not flush with finished grade.",
            f"Raise or lower the heads of {where}, then tick At grade at the ground.",
            CellRef("backfill", stretch.id, "heads_at_grade"),
        )


def _boxes(job: LoadedJob) -> Iterator[Finding]:
    """Valve boxes that have no base."""
    for box in job.valve_boxes:
        if box.on_base is False:
            yield Finding(
                "box without a base",
                "fix",
                f"{sentence(box_name(box))} has no base.",
                "Set it on bricks or gravel, clear of the pipes, then tick On a base at the valve "
                "boxes.",
                CellRef("valve_box", box.id, "on_base"),
            )


def _worse_when_signed(stretch: Backfill) -> Severity:
    """A stop where the stretch is signed to be buried, else a fix."""
    return "stop" if stretch.signed_by else "fix"
