"""Closing the system before winter and opening it in spring: steps, cautions, air, last time."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.job_rules import required, rule_source
from fieldbook.checks.common.naming import (
    assembly_name,
    listed,
    quantity,
    run_name,
    sentence,
    stretch_name,
    zone_name,
)
from fieldbook.checks.season.blow_out import air_limit, in_order
from fieldbook.checks.season.season_rows import order_of_zones, season_visits
from fieldbook.checks.street.backflow_tests import retest_on
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.record_blocks import cautions
from fieldbook.papers.blocks.season_blocks import (
    air_blocks,
    filling_words,
    last_time_blocks,
    plan_blocks,
)
from fieldbook.papers.paper import Block, Caution, Checklist, Heading, Paper, Paragraph
from fieldbook.trade.winter import BREAKERS, NO_FROST, UPKEEP_SOURCE
from fieldbook.units import PRESSURE

_AIR = (
    "Compressed air can blind and kill. Wear eye protection, stand clear of pipes and heads, put a "
    "regulator on the compressor, and never go over {psi}. Never blow through the backflow "
    "assembly or a pump. A person trained for it does this."
)
_BEFORE_AIR = (
    "Shut the irrigation's shut-off valve; the house keeps its water.",
    "Drain the backflow assembly as its sheet says and leave its test cocks half open.",
    "Open every drain point; where that empties the pipe no air is needed.",
    "Connect the air after the backflow assembly, with the main drained.",
    "Set the regulator with the hose shut, and write down what it is set to.",
    "Open a zone, then let the air in; until mist comes, then stop: dry heads overheat.",
)
_AFTER_AIR = (
    "Set the controller to off or rain, and leave its power on.",
    "Write the date and who did it beside this list.",
)
_SPRING = (
    "Wait until the soil is thawed a foot down.",
    "Close the drains and test cocks; put a vacuum breaker that was taken off back on.",
    "Open the farthest valve, so that the air leaves.",
    "Open the shut-off valve slowly, a quarter turn at a time: a fast filling breaks pipe.",
    "Shut all valves: the meter stands still where nothing leaks.",
    "Have the backflow assembly tested by a licensed tester where that is due.",
    "Clean the filters; set the controller's date and time, and look at its battery.",
    "Run each zone and look at every head.",
)


def season_guide(source: PaperSource) -> Paper:
    """What is done each autumn and spring, zone by zone."""
    say, job = source.say, source.job
    blocks: list[Block] = [*plan_blocks(source)]
    if job.season_plan is not None and job.season_plan.way == NO_FROST:
        blocks.append(Paragraph(say("No frost comes here: the system is not emptied.")))
    else:
        blocks += _autumn(source)
    blocks += _spring(source)
    blocks.append(Paragraph(say("Common practice, no source, where none is named."), "source"))
    return source.paper("season-guide", say("Closing and opening the season"), blocks)


def _autumn(source: PaperSource) -> Iterator[Block]:
    say, job = source.say, source.job
    limit = air_limit(job)
    yield Heading(say("Before the first hard frost"))
    air = say(_AIR).format(psi=quantity(job, limit.psi, PRESSURE))
    yield Caution(air, limit.source)
    yield from cautions(source, ("closing",))
    if limit.unrated:
        words = say("The rating of {runs} is not recorded: read it off the pipe first.")
        yield Paragraph(words.format(runs=listed([run_name(job, run) for run in limit.unrated])))
    yield from _breakers(source)
    zones = in_order(job, order_of_zones(job, next(iter(season_visits(job)), None)))
    main = [stretch_name(job, None)] if job.runs_of(None) else []
    pipes = [*main, *(zone_name(zone) for zone in zones)]
    emptied = (say("Emptied: {zone}").format(zone=pipe) for pipe in pipes)
    yield Checklist((*map(say, _BEFORE_AIR), *emptied, *map(say, _AFTER_AIR)))
    yield from air_blocks(source, limit)
    yield from last_time_blocks(source, closing=True)


def _breakers(source: PaperSource) -> Iterator[Block]:
    """Each vacuum breaker, which is taken off before air goes in where the rules say so."""
    say, job = source.say, source.job
    if not required(job, "breaker_removed_for_air"):
        return
    for assembly in job.backflow_assemblies:
        if assembly.kind in BREAKERS:
            words = say("Remove the {assembly} first: air from either side harms it.")
            said = words.format(assembly=assembly_name(assembly))
            yield Caution(said, rule_source(job, "breaker_removed_for_air"))


def _spring(source: PaperSource) -> Iterator[Block]:
    say, job = source.say, source.job
    ran = (say("Ran well: {zone}").format(zone=sentence(zone_name(zone))) for zone in job.zones)
    yield Heading(say("In spring"))
    yield from cautions(source, ("opening",))
    yield Checklist((*map(say, _SPRING), *ran))
    if filling := filling_words(source):
        yield Paragraph(filling)
        yield Paragraph(say("1 ft/s is from memory, no source was read."), "source")
    for assembly in job.backflow_assemblies:
        due = retest_on(job, assembly)
        if due is not None:
            words = say("The {assembly} is tested again by {day}.")
            yield Paragraph(words.format(assembly=assembly_name(assembly), day=due.isoformat()))
    yield Paragraph(UPKEEP_SOURCE, "source")
    yield from last_time_blocks(source, closing=False)
