"""A property from its address to its closing by a crew that does the next step and nothing else."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from pathlib import Path

from crew import Crew, at_a_new_property

from fieldbook.checks.next_step import next_step
from fieldbook.checks.progress.holds import unmet
from fieldbook.checks.progress.standing import proven
from fieldbook.checks.registry import instant, verdicts
from fieldbook.checks.walk import NextStep
from fieldbook.jobfile.write import write_job
from fieldbook.screens.sheets.presses import AddRow, Signature, TickFlush
from fieldbook.store.book import Book

TODAY = date.today()
MOST_STEPS = 200


def ago(days: int) -> str:
    """A day so many days before today, as it is typed."""
    return (TODAY - timedelta(days=days)).isoformat()


ANSWERS: Mapping[str, str] = {
    "supply.static_psi": "62",
    "supply.behind_regulator": "no",
    "supply.meter_size": "3/4",
    "supply.service_class": "copper L",
    "supply.service_size": "1",
    "supply.service_length_ft": "40",
    "supply.elevation_ft": "0",
    "supply.chemicals": "no",
    "supply.septic": "no",
    "supply.second_source": "no",
    "supply.pump": "no",
    "flow_test_point.residual_psi": "50",
    "flow_test_point.flow_gpm": "12",
    "permit.number": "26-118",
    "locate_ticket.number": "2604-118",
    "locate_ticket.clear_on": ago(9),
    "locate_ticket.private_lines": "yes",
    "locate_ticket.dug_from": ago(9),
    "utility_answer.answer": "clear",
    "backflow_assembly.kind": "PVB",
    "backflow_assembly.name": "by the front tap",
    "valve_box.location": "by the drive",
    "backflow_assembly.critical_level_ft": "2",
    "backflow_assembly.elevation_ft": "0",
    "backflow_assembly.installed_on": ago(8),
    "backflow_assembly.exposed_pvc": "no",
    "cable.conductors": "white, red, blue, green, black",
    "cable.common_colour": "white",
    "cable.cover_in": "8",
    "cable.under_driveway": "no",
    "backfill.cover_in": "12",
    "backflow_test.tested_on": ago(1),
    "backflow_test.inlet_psi": "1.4",
    "backflow_test.check_1_psi": "1.6",
    "zone.design_flow_gpm": "6",
    "backflow_test.tester": "T. Ester",
    "backflow_test.licence": "0815",
    "backflow_test.gauge": "G 1",
    "pipe_run.size": "1",
    "pipe_run.pipe_class": "pvc sdr 21",
    "pipe_run.length_ft": "12",
    "head.nozzle_gpm": "2",
    "head.rated_psi": "30",
    "head.elevation_ft": "0",
    "valve.elevation_ft": "0",
    "pipe_run.rise_ft": "0",
    "valve.coil_ohm": "30",
    "terminal.day_1_ohm": "30",
    "controller.outdoors": "no",
    "controller.location": "garage wall",
    "tie.tape_1_ft": "12",
    "tie.tape_2_ft": "14",
    "fixed_point.name": "house corner {}",
    "fixed_point.along_ft": "20",
    "job.customer": "A. Customer",
}
"""What the crew finds out, by the cell it is entered in."""


async def press(crew: Crew) -> None:
    """Sign, tick, or add a row with its first value."""
    at_hand = crew.cell.press
    if isinstance(at_hand, Signature):
        await crew.sign()
    elif isinstance(at_hand, AddRow) and at_hand.empty:
        any_choice = "" if at_hand.first_fact.kind == "choice" else "any"
        text = ANSWERS.get(f"{at_hand.table}.{at_hand.first}", any_choice)
        await crew.press("enter")
        await crew.enter(text)
    else:
        await crew.press("space" if isinstance(at_hand, TickFlush) else "enter")


async def answer(crew: Crew, step: NextStep) -> None:
    """Stand on the cell of the step and enter what is asked for."""
    assert step.at is not None
    crew.place.open_place(step.place, step.at)
    await crew.pilot.pause()
    assert crew.cell.at == step.at, step
    table, column = crew.at
    text = ANSWERS.get(f"{table}.{column}")
    if text is not None:
        text = text.format(len(crew.open_job.job.fixed_points))
    if crew.cell.fact.kind == "tick" and crew.cell.press is None:
        await crew.press(*["space"] * (2 if text == "no" else 1), "enter")
    elif text is not None:
        await crew.enter(text)
    elif crew.cell.fact.kind == "link":
        # The newest of them, so that two tapes are from different points.
        await crew.enter(crew.cell.words[-1])
    elif crew.cell.options:
        await crew.press(crew.cell.options[0].key)
    else:
        assert crew.cell.press is not None, step
        await press(crew)
    assert not crew.place.hint.has_class("bad"), (step, crew.said)


async def test_the_next_step_leads_from_the_address_to_the_closing(book_file: Path) -> None:
    seen: list[str] = []
    async with at_a_new_property(book_file) as crew:
        for _ in range(MOST_STEPS):
            job = crew.open_job.job
            step = next_step(job, crew.open_job.verdicts)
            if step.at is None:
                break
            if step.sentence == "Hand over.":
                assert unmet(job, "handover", None, datetime.now()) == []
                assert crew.open_job.verdicts.not_checked == ()
                # Two tapes fit on either side of their line, and nobody is asked for the side.
                assert crew.flags == ["tie has two sides"]
            seen.append(step.sentence)
            await answer(crew, step)
            assert crew.open_job.job != job, (step, crew.screen())
        assert seen[-2:] == ["Hand over.", "Close the job."]
        assert seen.count("Hand over.") == 1
        assert seen.index("Flush zone 1.") < seen.index("Sign the backfill of zone 1.")
        assert proven(crew.open_job.job, "close", None, instant(None))
        assert step.sentence == "Nothing more: the job is closed."
        job_id, written = crew.open_job.job_id, write_job(crew.open_job.job)
        await crew.press("ctrl+q")
    with Book(book_file) as book:
        job = book.load(job_id)
        assert write_job(job) == written
        assert [flag.code for flag in verdicts(job).flags] == ["tie has two sides"]
        assert verdicts(job).open_count == 0
