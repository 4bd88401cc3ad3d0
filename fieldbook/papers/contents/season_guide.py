"""Closing the system before winter and opening it in spring, as a list with its cautions."""

from __future__ import annotations

from fieldbook.checks.common.naming import listed, quantity, sentence, zone_name
from fieldbook.checks.ground.pressure_test import lowest_rating
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.paper import Block, Caution, Checklist, Heading, Paper, Paragraph
from fieldbook.records.column_values import amount
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.trade.pipes import rated_psi
from fieldbook.units import PRESSURE

MOST_AIR_PSI = 50.0
"""The most air pressure in psi for blowing out any plastic pipe; AIR_SOURCE says who says so."""
AIR_SOURCE = "About 50 psi for any plastic pipe: three public extension texts; local practice."
_AIR = (
    "Compressed air can blind and kill. Wear eye protection, stand clear of pipes and heads, put a "
    "regulator on the compressor, and never go over {psi}. Never blow through the backflow "
    "assembly or a pump. A person trained for it does this."
)
_BEFORE_AIR = (
    "Shut the irrigation's shut-off valve; the house keeps its water.",
    "Drain the backflow assembly as its sheet says and leave its test cocks half open.",
    "Connect the air after the backflow assembly, with the main drained.",
    "Blow out the zone that is farthest away first, until mist comes, then stop: dry heads "
    "overheat.",
)
_AFTER_AIR = (
    "Set the controller to off or rain, and leave its power on.",
    "Write the date and who did it beside this list.",
)
_SPRING = (
    "Close the drains and test cocks.",
    "Open the shut-off valve slowly, a quarter turn at a time: a fast filling breaks pipe.",
    "Have the backflow assembly tested by a licensed tester where that is due.",
    "Run each zone and look at every head.",
)


def season_guide(source: PaperSource) -> Paper:
    """What is done each autumn and spring, zone by zone."""
    say = source.say
    zones = [sentence(zone_name(zone)) for zone in source.job.zones]
    air = say(_AIR).format(psi=quantity(source.job, most_air_psi(source), PRESSURE))
    blown = (say("Blown out: {zone}").format(zone=zone) for zone in zones)
    ran = (say("Ran well: {zone}").format(zone=zone) for zone in zones)
    blocks: list[Block] = [
        Heading(say("Before the first hard frost")),
        Caution(air, AIR_SOURCE),
        *_unrated(source),
        Checklist((*map(say, _BEFORE_AIR), *blown, *map(say, _AFTER_AIR))),
        Heading(say("In spring")),
        Checklist((*map(say, _SPRING), *ran)),
        Paragraph(say("Common practice, no source, where none is named."), "source"),
    ]
    return source.paper("season-guide", say("Closing and opening the season"), blocks)


def _unrated(source: PaperSource) -> list[Block]:
    """Says that the pressure above counts only pipe whose rating is known, where some is not."""
    job, say = source.job, source.say
    zones = [zone_name(zone) for zone in job.zones if not _is_rated(job, zone.id)]
    if not zones:
        return []
    words = say("The rating of pipe in {zones} is not recorded: read it off the pipe first.")
    return [Paragraph(words.format(zones=listed(zones)))]


def _is_rated(job: LoadedJob, zone_id: str) -> bool:
    """Whether a zone has pipe, and a rating is known of every run."""
    runs = job.runs_of(zone_id)
    return bool(runs) and all(
        rated_psi(run.pipe_class, run.size) is not None or amount(run, "rating_psi") is not None
        for run in runs
    )


def most_air_psi(source: PaperSource) -> float:
    """The most air in psi: never over the lowest known rating of a zone's pipe, nor over 50 psi."""
    ratings = (lowest_rating(source.job, zone.id) for zone in source.job.zones)
    return min([MOST_AIR_PSI, *(rating[0] for rating in ratings if rating is not None)])
