"""Closing the system before winter and opening it in spring, as a list with its cautions."""

from __future__ import annotations

from fieldbook.checks.common.naming import quantity, sentence, zone_name
from fieldbook.checks.ground.pressure_test import lowest_rating
from fieldbook.papers.contents.paper_source import PaperSource
from fieldbook.papers.paper import Block, Caution, Checklist, Heading, Paper, Paragraph
from fieldbook.units import PRESSURE

MOST_AIR_PSI = 50.0
"""The most air pressure in psi for blowing out any plastic pipe; AIR_SOURCE says who says so."""
AIR_SOURCE = "About 50 psi for any plastic pipe: three public extension texts; local practice."


def season_guide(source: PaperSource) -> Paper:
    """What is done each autumn and spring, zone by zone."""
    say, job = source.say, source.job
    zones = [sentence(zone_name(zone)) for zone in job.zones]
    ratings = [found for zone in job.zones if (found := lowest_rating(job, zone.id)) is not None]
    lowest = min((found[0] for found in ratings), default=None)
    most = MOST_AIR_PSI if lowest is None else min(MOST_AIR_PSI, lowest)
    air = say(
        "Compressed air can blind and kill. Wear eye protection, stand clear of pipes and heads, "
        "put a regulator on the compressor, and never go over {psi}. Never blow through the "
        "backflow assembly or a pump. A person trained for it does this."
    ).format(psi=quantity(job, most, PRESSURE))
    blocks: list[Block] = [
        Heading(say("Before the first hard frost")),
        Caution(air, AIR_SOURCE),
        Checklist(
            tuple(
                map(
                    say,
                    (
                        "Shut the irrigation's shut-off valve; the house keeps its water.",
                        "Drain the backflow assembly as its sheet says and leave its test cocks "
                        "half open.",
                        "Connect the air after the backflow assembly, with the main drained.",
                        "Blow out the zone that is farthest away first, until mist comes, then "
                        "stop: dry heads overheat.",
                    ),
                )
            )
        ),
        Checklist(tuple(say("Blown out: {zone}").format(zone=zone) for zone in zones)),
        Checklist(
            (
                say("Set the controller to off or rain, and leave its power on."),
                say("Write the date and who did it beside this list."),
            )
        ),
        Heading(say("In spring")),
        Checklist(
            tuple(
                map(
                    say,
                    (
                        "Close the drains and test cocks.",
                        "Open the shut-off valve slowly, a quarter turn at a time: a fast filling "
                        "breaks pipe.",
                        "Have the backflow assembly tested by a licensed tester where that is due.",
                        "Run each zone and look at every head.",
                    ),
                )
            )
        ),
        Checklist(tuple(say("Ran well: {zone}").format(zone=zone) for zone in zones)),
        Paragraph(say("Common practice, no source, where none is named."), "source"),
    ]
    return source.paper("season-guide", say("Closing and opening the season"), blocks)
