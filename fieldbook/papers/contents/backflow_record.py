"""The backflow record: each assembly, its tests and when the next is due."""

from __future__ import annotations

from collections.abc import Iterator

from fieldbook.checks.common.naming import assembly_name, sentence
from fieldbook.checks.street.backflow_tests import retest_on
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.blocks.photo_blocks import photos_of
from fieldbook.papers.blocks.record_blocks import (
    NOT_RECORDED,
    cautions,
    facts_block,
    rows_table,
)
from fieldbook.papers.blocks.verdict_blocks import answers_table
from fieldbook.papers.paper import Block, Facts, Heading, Paper, Paragraph, Signatures
from fieldbook.records.tables.backflow_assembly import BackflowAssembly
from fieldbook.records.tables.tests import BackflowTest
from fieldbook.trade.backflow import AVB_KINDS

_ASSEMBLY = (
    "kind",
    "make",
    "model",
    "size",
    "serial",
    "installed_on",
    "moved_on",
    "repaired_on",
    "critical_level_ft",
    "above_grade_in",
)
_TEST = ("tester", "tester_no", "why", "check_1_psi", "check_2_psi", "relief_psi", "inlet_psi")
_SEEN = ("check_1_tight", "check_2_tight", "opened_fully", "certified")


def backflow_record(source: PaperSource) -> Paper:
    """The record of every assembly; only the licensed tester's own report certifies it."""
    say = source.say
    blocks = [block for one in source.job.backflow_assemblies for block in _assembly(source, one)]
    if not blocks:
        blocks = [Paragraph(say("No backflow assembly is recorded."))]
    words = "This sheet records what the tester read. Only the licensed tester's report certifies."
    return source.paper(
        "backflow-record",
        say("Backflow test record"),
        [
            *blocks,
            Paragraph(say(words)),
            Heading(say("What the checks say")),
            answers_table(source, ("backflow kind", "backflow height", "backflow tests")),
            *photos_of(source, ("backflow_assembly", "backflow_test")),
            *cautions(source, ("backflow",)),
            Signatures((say("Tester"), say("Owner"))),
        ],
    )


def _assembly(source: PaperSource, assembly: BackflowAssembly) -> Iterator[Block]:
    say = source.say
    yield Heading(sentence(assembly_name(assembly)))
    yield facts_block(source, assembly, BackflowAssembly, _ASSEMBLY)
    due = retest_on(source.job, assembly)
    yield Facts(((say("Next test due"), due.isoformat() if due else say(NOT_RECORDED)),))
    if assembly.kind in AVB_KINDS:
        yield facts_block(source, assembly, BackflowAssembly, ("inspected_on", "inspected_by"))
        return
    only = len(source.job.backflow_assemblies) == 1
    tests = [
        test
        for test in source.job.backflow_tests
        if test.assembly_id == assembly.id or (only and not test.assembly_id)
    ]
    days = [test.tested_on or say("no day") for test in tests]
    yield rows_table(source, (say("Tested"), days), tests, BackflowTest, _TEST)
    yield rows_table(source, (say("Tested"), days), tests, BackflowTest, _SEEN)
