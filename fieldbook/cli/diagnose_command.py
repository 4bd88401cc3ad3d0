"""The command that ranks what could be wrong with a zone, from readings typed as options."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from fieldbook.cli.common import CommandError, plain, read_book

if TYPE_CHECKING:
    from fieldbook.checks.diagnosing.diagnosis_lines import ZoneDiagnosis
    from fieldbook.checks.diagnosing.typed_readings import TypedReadings
    from fieldbook.diagnosis.ranking import Diagnosis
    from fieldbook.records.loaded_job import LoadedJob
    from fieldbook.records.tables.zones import Zone

# The command imports what it uses: the app's first frame comes before the record is loaded.
# ruff: noqa: PLC0415

_WIDTH = 78
_ONCE = (
    ("static", "Static pressure at the tap, everything off."),
    ("running", "Pressure at the same tap while the zone runs."),
    ("flow", "The zone's flow, timed at the meter."),
    ("others", "How other zones run: fine or weak."),
    ("meter", "The meter with everything off: still or moves."),
    ("weeps", "The lowest head after the zone shut: stops or never stops."),
    ("ohms", "Of a zone that does not run: ohms at the controller, common lifted."),
    ("coil", "Ohms of its coil alone, at the valve."),
    ("volts", "Volts at its terminal while it is on."),
    ("box-volts", "Volts at the valve box while it is on."),
    ("other-zones", "Whether other zones run: run or none."),
    ("ran", "What ran at its terminal: nothing or another."),
    ("by-hand", "Opened by its bleed screw: runs or dry."),
    ("moved", "Its wire on an output that works: runs or nothing."),
)
_OFTEN = (
    ("head", "Pressure at a head, by its run: 3=28."),
    ("saw", "How a head looks: 3=fine, misting, weak, dry, low, short or gush."),
    ("wet", "The run at whose end the ground is wet."),
)
_FLAGS = (
    ("looked", "All heads and the ground were looked at: the rest is fine."),
    ("dead", "The zone does not run."),
)
_F = TypeVar("_F", bound=Callable[..., object])


def _reading_options(command: _F) -> _F:
    """An option for every word that `typed_readings` knows."""
    for name, words in reversed(_ONCE):
        command = click.option(f"--{name}", metavar="READING", help=words)(command)
    for name, words in reversed(_OFTEN):
        command = click.option(f"--{name}", metavar="READING", multiple=True, help=words)(command)
    for name, words in reversed(_FLAGS):
        command = click.option(f"--{name}", is_flag=True, help=words)(command)
    return command


@click.command()
@click.argument("job")
@click.argument("zone", type=int)
@_reading_options
@click.option("--json", "as_json", is_flag=True, help="Print everything as JSON, in psi and gpm.")
@click.pass_obj
def diagnose(path: Path, /, job: str, zone: int, *, as_json: bool, **typed: object) -> None:
    """Rank what could be wrong with a ZONE, and say what to measure next.

    The zone is simulated with every fault, one and two at a time, and held against the
    readings given as options; without any, against its newest measurement in the record. Pressures
    and flows may carry a unit. It proves nothing: it says what to look at.
    """
    from fieldbook.actions.properties import one_property, zone_numbered
    from fieldbook.checks.diagnosing.diagnosis_lines import diagnosis_lines, diagnosis_of

    with read_book(path) as book:
        loaded = book.load(one_property(book, job).id)
        row = zone_numbered(loaded, zone)
    found = diagnosis_of(loaded, row, _typed(loaded, row, typed))
    if as_json:
        click.echo(json.dumps(_document(loaded, found), ensure_ascii=False, indent=2))
        return
    click.echo(plain(loaded.job.address))
    for _, words in diagnosis_lines(found):
        indent = " " * (3 if words[:1].isdigit() else len(words) - len(words.lstrip()))
        for line in textwrap.wrap(plain(words), _WIDTH, subsequent_indent=indent):
            click.echo(line)


def _typed(loaded: LoadedJob, row: Zone, typed: dict[str, object]) -> TypedReadings:
    """The readings given as options, else the newest measurement of the record."""
    from fieldbook.checks.diagnosing.diagnosis_lines import zone_parts
    from fieldbook.checks.diagnosing.recorded_readings import recorded, with_record
    from fieldbook.checks.diagnosing.typed_readings import ReadingError, ReadingParser

    found = zone_parts(loaded, row)
    parts = None if isinstance(found, str) else found
    parser = ReadingParser(loaded, row, parts)
    try:
        for name, _ in (*_ONCE, *_OFTEN, *_FLAGS):
            given = typed[name.replace("-", "_")]
            values = given if isinstance(given, tuple) else (given,)
            for value in values:
                if value is not None and value is not False:
                    parser.put(name, "" if value is True else str(value))
    except ReadingError as error:
        raise CommandError(plain(str(error))) from error
    measured, day = recorded(loaded, row, parts)
    same_day = day == date.today().isoformat()
    return with_record(parser.typed, measured, same_day=same_day)


def _document(loaded: LoadedJob, found: ZoneDiagnosis) -> dict[str, object]:
    from fieldbook.diagnosis.fault_words import CHANCES_NOTE

    document: dict[str, object] = {
        "job": loaded.job.id,
        "address": loaded.job.address,
        "zone": found.zone.number,
        "refused": found.refused or None,
        "note": CHANCES_NOTE,
    }
    if found.dead is not None:
        document["runs"] = False
        document["causes"] = [
            {"cause": cause, "chance": chance} for cause, chance in found.dead.ranked
        ]
        document["next"] = [
            {"test": one.name, "minutes": one.test.minutes, "bits": one.bits}
            for one in found.dead.nexts
        ]
    if found.running is not None:
        document["runs"] = True
        document |= _running(found, found.running)
    return document


def _running(found: ZoneDiagnosis, ranked: Diagnosis) -> dict[str, object]:
    from fieldbook.diagnosis.fault_words import group_words

    names = ("static", "running", "flow", *ranked.heads)
    return {
        "verdict": ranked.verdict,
        "ranked": [
            {
                "chance": one.chance,
                "words": group_words(one, found.shown),
                "changes": [{"what": axis.change, "at": axis.place} for axis in one.axes],
                "severities": list(one.severities),
                "causes": [
                    {
                        "kinds": [{"kind": cause.kind, "at": cause.place} for cause in causes],
                        "share": share,
                    }
                    for causes, share in one.causes
                ],
                "expected": dict(zip(names, one.mean, strict=True)),
            }
            for one in ranked.ranked
        ],
        "as_recorded": dict(zip(names, ranked.base, strict=True)),
        "next": [
            {"reading": one.kind, "at": one.place, "minutes": one.minutes, "bits": one.bits}
            for one in ranked.nexts
        ],
        "solves": ranked.solves,
    }
