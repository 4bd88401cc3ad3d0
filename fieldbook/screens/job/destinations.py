"""Where the palette can go on a property: zones, boxes, terminals, flags, and every section."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from fieldbook.checks.finding import CellRef
from fieldbook.records.base import PLACE_WORDS, PLACES, Place
from fieldbook.screens.job.command_host import CommandHost
from fieldbook.screens.palette.entries import Entry
from fieldbook.screens.sheets import BUILDERS
from fieldbook.screens.sheets.options import zone_label
from fieldbook.screens.sheets.sheet import Row, Section

_FLAG_LONGEST = 60


def destinations(host: CommandHost) -> list[Entry]:
    """An entry for everything on the open property that has a place on a sheet."""
    return [*_things(host), *_flags(host), *_sections(host)]


def _things(host: CommandHost) -> Iterator[Entry]:
    job = host.open_job.job
    for zone in job.zones:
        at = CellRef("zone", zone.id, "name")
        yield _entry(host, f"Zone {zone_label(zone)}", "Its row at the ground.", at)
    for box in job.valve_boxes:
        at = CellRef("valve_box", box.id, "location")
        label = f"Valve box {box.name} {box.location}".strip()
        yield _entry(host, label, "Its row at the valve boxes.", at)


def _flags(host: CommandHost) -> Iterator[Entry]:
    for flag in host.open_job.findings:
        sentence = flag.sentence
        if len(sentence) > _FLAG_LONGEST:
            sentence = f"{sentence[: _FLAG_LONGEST - 3]}..."
        yield _entry(host, f"Flag, {flag.severity}: {sentence}", flag.mend, flag.at)


def _sections(host: CommandHost) -> Iterator[Entry]:
    """Every section with a title, place by place; and each terminal, which only a sheet lists."""
    for place in PLACES:
        sheet = BUILDERS[place](host.open_job.job, host.open_job.system)
        for section in sheet.sections:
            yield from _section(host, place, section)


def _section(host: CommandHost, place: Place, section: Section) -> Iterator[Entry]:
    rows = [row for row in section.rows if row.cells]
    if not rows:
        return
    if section.title:
        about = f"A section at the {PLACE_WORDS[place]}."
        yield _entry(host, section.title, about, rows[0].cells[0].at, place)
    for row in rows:
        at = row.cells[0].at
        if at.table == "terminal" and at.column in ("colour", "address", "zone_id"):
            about = "What is under it at the controller."
            yield _entry(host, _terminal(row), about, row.cells[0].at)


def _terminal(row: Row) -> str:
    zone = next((cell.text for cell in row.cells if cell.at.column == "zone_id"), "")
    return f"{row.label}, zone {zone}" if zone else row.label


def _entry(
    host: CommandHost, label: str, about: str, at: CellRef, place: Place | None = None
) -> Entry:
    return Entry(label, about, partial(host.open_place, place or at.place, at))
