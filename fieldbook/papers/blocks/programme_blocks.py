"""The programmes on paper: what is typed into the controller, a table for each."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.watering.controller.job_programmes import controllers_of, programmes_on
from fieldbook.checks.watering.controller.programme_words import programme_words
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.paper import Block, Facts, Heading, Table


def programme_blocks(source: PaperSource) -> Iterator[Block]:
    """A heading, then each programme's days and starts and its minutes; nothing without any."""
    say, job = source.say, source.job
    if not job.programmes:
        return
    yield Heading(say("Watering programmes"))
    for controller_id, _name in controllers_of(job):
        for one in programmes_on(job, controller_id):
            words = programme_words(job, one)
            facts = ((say(label), value) for label, value in words.facts)
            yield Facts(((say("Programme"), one.programme.name), *facts))
            yield Table(
                (say("Terminal"), say("Minutes")),
                words.terminals,
                frozenset({1}),
                say("Nothing is recorded."),
            )
