"""The backfill: cover, soil, heads, and signatures that came too early; boxes on their base."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.job_rules import cover_minimum, figure
from fieldbook.checks.common.naming import (
    box_name,
    cable_name,
    listed,
    quantity,
    sentence,
    stretch_name,
)
from fieldbook.checks.finding import CellRef, Finding, Missing, Number
from fieldbook.checks.ground.flush import STEP_WORDS, flush_steps, missing_steps
from fieldbook.checks.looked import Looked, stretch_rows
from fieldbook.records.column_values import amount
from fieldbook.records.ids import backfill_id, flush_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.flush_backfill import Backfill
from fieldbook.units import SHORT_LENGTH

_SOIL = "Common practice; ASTM D2774 is the governing practice."
_UNDER_DRIVEWAY = "cover_in.wire_driveway"
_UNSEEN = (("cover_in", "the cover"), ("rock_free", "whether the soil is free of rock"))
"""The columns that can't be looked at again once a stretch is buried, each with its words."""


def check_backfill(job: LoadedJob) -> Iterator[Finding | Looked]:
    """Each stretch that will be buried, then the valve boxes."""
    for zone_id in [*([None] if job.runs_of(None) else []), *(zone.id for zone in job.zones)]:
        stretch = job.backfill_of(zone_id)
        yield Looked(
            f"backfill of {stretch_name(job, zone_id)}",
            stretch_rows(job, zone_id),
            tuple(_lacks(job, stretch, zone_id)),
            "survey" if stretch is not None and stretch.signed_by else None,
        )
    for stretch in job.backfills:
        if job.zone(stretch.zone_id) is None and stretch.zone_id is not None:
            continue
        where = stretch_name(job, stretch.zone_id)
        yield from _signed_before_flush(job, stretch, where)
        yield from _cover(job, stretch, where)
        yield from _soil(stretch, where)
        yield from _signed_unseen(stretch, where)
        if stretch.zone_id is not None:
            yield _heads_looked_at(stretch, where)
            yield from _heads(stretch, where)
    yield from _boxes(job)
    yield from _wire_cover(job)


def _lacks(job: LoadedJob, stretch: Backfill | None, zone_id: str | None) -> Iterator[Missing]:
    """What can't be looked at again once a stretch is buried."""
    row_id = stretch.id if stretch is not None else backfill_id(job.job.id, zone_id)
    where = stretch_name(job, zone_id)
    for column, words in _UNSEEN:
        if stretch is None or not_seen(stretch, column):
            yield Missing(f"{words} of {where}", CellRef("backfill", row_id, column))


def not_seen(stretch: Backfill, column: str) -> bool:
    """Whether a column of what can't be looked at again holds nothing that can be used."""
    if column == "cover_in":
        return amount(stretch, column) is None
    return getattr(stretch, column) is None


def _signed_before_flush(job: LoadedJob, stretch: Backfill, where: str) -> Iterator[Finding]:
    """A signature over a flush that is not complete."""
    flush = job.flush_of(stretch.zone_id)
    missing = missing_steps(flush, stretch.zone_id)
    if not stretch.signed_by or not missing or stretch.zone_id is None:
        return
    lacks = "nothing of its flush is entered"
    if flush is not None and len(missing) < len(flush_steps(stretch.zone_id)):
        lacks = f"its flush lacks {listed([STEP_WORDS[step] for step in missing])}"
    row_id = flush.id if flush is not None else flush_id(stretch.zone_id)
    yield Finding(
        "buried before flush",
        "stop",
        f"The backfill of {where} is signed, but {lacks}.",
        f"Finish the flush of {where} and tick its steps, or take the signature back with Space.",
        CellRef("flush", row_id, missing[0]),
    )


def _cover(job: LoadedJob, stretch: Backfill, where: str) -> Iterator[Finding]:
    """Cover under the local minimum."""
    rule = cover_minimum(job, mainline=stretch.zone_id is None)
    cover_in = amount(stretch, "cover_in")
    if cover_in is None or cover_in >= rule.value:
        return
    seen = quantity(job, cover_in, SHORT_LENGTH)
    asked = quantity(job, rule.value, SHORT_LENGTH)
    yield Finding(
        "cover too low",
        "stop",
        f"The pipe of {where} has {seen} of cover; the minimum here is {asked}.",
        f"Dig {where} deeper or add soil, then enter the new cover at the ground; the local "
        "minimum is set at the desk.",
        CellRef("backfill", stretch.id, "cover_in"),
        source=rule.source,
        numbers=(
            Number("cover", cover_in, "in"),
            Number("minimum cover", rule.value, "in"),
        ),
    )


def _soil(stretch: Backfill, where: str) -> Iterator[Finding]:
    """Stone against the pipe."""
    if stretch.rock_free is False:
        yield Finding(
            "soil not rock-free",
            "stop",
            f"The soil around the pipe of {where} is not free of rock.",
            f"Lay the pipe of {where} in sand or fine soil, then tick Rock-free at the ground.",
            CellRef("backfill", stretch.id, "rock_free"),
            source=_SOIL,
        )


def _signed_unseen(stretch: Backfill, where: str) -> Iterator[Finding]:
    """Signed without what can't be looked at again."""
    unseen = [(column, words) for column, words in _UNSEEN if not_seen(stretch, column)]
    if stretch.signed_by and unseen:
        yield Finding(
            "signed unseen",
            "fix",
            f"The backfill of {where} is signed, but "
            f"{listed([words for _, words in unseen])} is not entered.",
            f"Enter it for {where} at the ground while somebody still knows, or dig a test hole.",
            CellRef("backfill", stretch.id, unseen[0][0]),
        )


def _heads_looked_at(stretch: Backfill, where: str) -> Looked:
    """The heads of a zone; the backfill's signature covers them, so they come before it."""
    asked = (("heads_plumb", "plumb"), ("heads_at_grade", "at grade"))
    lacks = tuple(
        Missing(f"whether the heads of {where} are {word}", CellRef("backfill", stretch.id, column))
        for column, word in asked
        if getattr(stretch, column) is None
    )
    return Looked(f"heads of {where}", frozenset({stretch.id}), lacks)


def _heads(stretch: Backfill, where: str) -> Iterator[Finding]:
    """Heads that lean, or stand proud of or under the grade."""
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


def _boxes(job: LoadedJob) -> Iterator[Finding | Looked]:
    """Valve boxes set on bare soil."""
    for box in job.valve_boxes:
        at = CellRef("valve_box", box.id, "on_base")
        lacks = (Missing(f"whether {box_name(box)} stands on a base", at),)
        looked = lacks if box.on_base is None else ()
        yield Looked(f"base of {box_name(box)}", frozenset({box.id}), looked, "handover")
        if box.on_base is False:
            yield Finding(
                "box without a base",
                "fix",
                f"{sentence(box_name(box))} has no base.",
                "Set it on bricks or gravel, clear of the pipes, then tick On a base at the valve "
                "boxes.",
                at,
            )


def _wire_cover(job: LoadedJob) -> Iterator[Finding | Looked]:
    """Cable that lies shallower than the rule asks, deeper under a driveway."""
    for cable in job.cables:
        cover_in = amount(cable, "cover_in")
        words = f"the cover of {cable_name(cable)}"
        lacks: tuple[Missing, ...] = ()
        if cover_in is None:
            lacks = (Missing(words, CellRef("cable", cable.id, "cover_in")),)
        elif cable.under_driveway is None and cover_in < figure(job, _UNDER_DRIVEWAY).value:
            at = CellRef("cable", cable.id, "under_driveway")
            lacks = (Missing(f"whether {cable_name(cable)} lies under a driveway", at),)
        yield Looked(words.removeprefix("the "), frozenset({cable.id}), lacks)
        under = cable.under_driveway is True
        rule = figure(job, _UNDER_DRIVEWAY if under else "cover_in.wire")
        if cover_in is None or cover_in >= rule.value:
            continue
        seen, asked = (quantity(job, one, SHORT_LENGTH) for one in (cover_in, rule.value))
        place = " under a driveway" if under else ""
        yield Finding(
            "wire too shallow",
            "fix",
            f"{sentence(cable_name(cable))} has {seen} of cover{place}; the minimum is {asked}.",
            "Lay it deeper or in conduit as the local code allows, and enter the new cover.",
            CellRef("cable", cable.id, "cover_in"),
            source=rule.source,
            numbers=(Number("cover", cover_in, "in"), Number("minimum cover", rule.value, "in")),
        )
