"""The command that prints how the water of each zone of a property stands, and what mends it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fieldbook.cli.common import plain, read_book

if TYPE_CHECKING:
    from fieldbook.checks.water.advice.zone_report import ZoneReport
    from fieldbook.records.loaded_job import LoadedJob

# The command imports what it uses: the app's first frame comes before the record is loaded.
# ruff: noqa: PLC0415

_WIDTH = 78


@click.command()
@click.argument("job")
@click.option("--json", "as_json", is_flag=True, help="Print all figures as JSON, in psi and gpm.")
@click.pass_obj
def zones(path: Path, job: str, *, as_json: bool) -> None:
    """Print how each zone's water stands: its draw, its worst head, how surely, what mends it."""
    from fieldbook.actions.properties import one_property
    from fieldbook.checks.water.advice.zone_report import report_of
    from fieldbook.checks.water.zone_status import zone_statuses

    with read_book(path) as book:
        loaded = book.load(one_property(book, job).id)
    reports = [report_of(loaded, status) for status in zone_statuses(loaded)]
    if as_json:
        document = {
            "job": loaded.job.id,
            "address": loaded.job.address,
            "zones": [_document(report) for report in reports],
        }
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
        return
    click.echo(plain(loaded.job.address))
    for report in reports:
        click.echo()
        for line in _lines(loaded, report):
            click.echo(plain(line).rstrip())
    if not reports:
        click.echo("No zone yet: enter it at the ground.")


def _lines(job: LoadedJob, report: ZoneReport) -> Iterator[str]:
    """What the zone's page says, but for its curves and its tree."""
    from fieldbook.checks.water.advice.zone_report import certainty_words
    from fieldbook.papers.canvas import Canvas
    from fieldbook.papers.zone_water.zone_sheet import zone_sheet

    yield from _texts(zone_sheet(job, report.status, _WIDTH, ("pressure",)))
    said = Canvas()
    if report.certainty is not None:
        for words in certainty_words(job, report.certainty):
            said.say_wrapped(said.rows, words, _WIDTH)
    words_of = report.words
    if words_of is not None:
        said.say_wrapped(said.rows, words_of.now, _WIDTH)
        for number, change in enumerate(words_of.changes, start=1):
            said.say_wrapped(said.rows, f"{number}. {change.what} {change.result}", _WIDTH)
        for note in words_of.notes:
            said.say_wrapped(said.rows, note, _WIDTH)
    yield from _texts(said)


def _texts(canvas: object) -> Iterator[str]:
    from fieldbook.papers.canvas import Canvas

    assert isinstance(canvas, Canvas)
    for line in canvas.lines():
        yield "".join(piece.text for piece in line)


def _document(report: ZoneReport) -> dict[str, object]:
    status, held = report.status, report.status.held
    found: dict[str, object] = {
        "zone": status.zone.number,
        "name": status.zone.name,
        "runs_with": [one.number for one in status.group.zones if one is not status.zone],
        "word": status.word,
        "draw_gpm": held.draw_gpm,
        "own_gpm": status.own_gpm,
        "drawn_by": held.drawn_by,
        "allowed_gpm": held.available.flow_gpm if held.available is not None else None,
        "governed_by": held.available.rule if held.available is not None else None,
        "margin_gpm": held.margin_gpm,
        "flags": [flag.code for flag in status.flags],
        "not_checked": [lack.words for lack in status.missing],
        "worst_head": None,
        "ledger": [],
    }
    worst = status.worst
    if worst is not None:
        found["worst_head"] = {
            "run": worst.rows.run.number,
            "psi": worst.result.psi,
            "held_to_psi": worst.held_to_psi,
            "margin_psi": worst.margin_psi,
        }
        found["ledger"] = _ledger(report, worst.result.name)
    return {**found, **_certainty(report), **_advice(report)}


def _ledger(report: ZoneReport, head: str) -> list[dict[str, object]]:
    from fieldbook.water import ledger

    group = report.status.group
    if group.job_network is None or group.solution is None:
        return []
    entries = ledger(group.job_network.network, group.solution, head)
    rows = [("static pressure", entries.static_psi)]
    rows += [(item.name, -item.psi) for item in entries.items]
    rows.append(("left at the head", entries.left_psi))
    return [{"part": name, "psi": psi} for name, psi in rows]


def _certainty(report: ZoneReport) -> dict[str, object]:
    found = report.certainty
    if found is None:
        return {}
    return {
        "holds_down_to_psi": found.holds_to_psi,
        "band_psi": [found.low_psi, found.high_psi],
        "band_crosses": found.crosses,
        "doubts": [asdict(doubt) for doubt in found.band.doubts],
        "better_test_gpm": found.better_test_gpm,
        "uniformity": found.uniformity,
        "longer_run": found.longer,
    }


def _advice(report: ZoneReport) -> dict[str, object]:
    found, words = report.advice, report.words
    if found is None or words is None:
        return {"advice": []}
    listed = []
    for one, change in zip(found.suggestions, words.changes, strict=True):
        listed.append({**asdict(one), "what": change.what, "how_it_stands": change.result})
    return {
        "now": words.now,
        "today": asdict(found.today),
        "advice": listed,
        "pipe_search_complete": found.pipe_complete,
        "heads_fed": found.feeds,
        "more_heads": found.more,
        "notes": list(words.notes),
    }
