"""Visits by keys: started in three, changed on where the thing is, noted, read, ended."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
import time_machine
from builders import all_signed, sound_job
from crew import Crew, at_the_truck

from fieldbook.actions.job_files import import_bytes
from fieldbook.actions.properties import set_initials
from fieldbook.jobfile.write import write_job
from fieldbook.store.book import Book


@pytest.fixture
def handed_over(book_file: Path) -> Iterator[Path]:
    """A book with the builders' property, handed over in May; it is July."""
    with time_machine.travel(datetime(2026, 7, 6, 9, 30)):
        with Book(book_file) as book:
            set_initials(book, "AB")
            text = write_job(all_signed(sound_job()))
            import_bytes(book, text.encode("utf-8"), "AB")
        yield book_file


async def start(crew: Crew, reason: str) -> None:
    """Start a visit at the service."""
    await crew.open("12 Elm Street", "service")
    await crew.press("enter")
    await crew.type(reason)
    await crew.press("enter")


def page(crew: Crew) -> str:
    return " ".join(crew.screen().replace("│", " ").split())


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (120, 40)])
async def test_a_visit_from_its_start_to_its_end(handed_over: Path, size: tuple[int, int]) -> None:
    async with at_the_truck(handed_over, size) as crew:
        await start(crew, "rep")
        assert crew.at == ("visit", "asked_by")
        await crew.enter("Owner: a head leaks")
        assert "On a visit: repair" in crew.screen()
        await crew.go("ground")
        await crew.stand_on("head", "nozzle_gpm", crew.open_job.job.heads[0].id)
        await crew.enter("3")
        await crew.go("boxes")
        await crew.stand_on("valve", "coil_ohm", crew.open_job.job.valves[0].id)
        await crew.press("alt+n")
        assert "What was done to the valve of zone" in page(crew)
        await crew.type("clea")
        await crew.press("enter")
        assert "Noted on the visit: the valve of zone" in crew.said
        await crew.go("service")
        await crew.stand_on("visit_step", "done", crew.open_job.job.visit_steps[0].id)
        await crew.press("space")
        await crew.stand_on("visit_step", "add step")
        await crew.enter("Gate shut")
        assert [one.step for one in crew.open_job.job.visit_steps][-1] == "Gate shut"
        await crew.press("alt+v")
        read = page(crew)
        for words in ("2026-07-06, repair", "Asked by, why: Owner: a head leaks", "1 of 7 done"):
            assert words in read
        await crew.press("escape")
        await crew.stand_on("visit", "ended")
        await crew.press("space")
        assert "On a visit" not in crew.screen()
        assert [one.ended for one in crew.open_job.job.visits] == [True]
        assert crew.open_job.verdicts.headline
        assert not [one for one in crew.open_job.findings if one.severity != "note"]


async def test_where_nothing_can_be_noted_or_read_a_sentence_says_why(handed_over: Path) -> None:
    async with at_the_truck(handed_over) as crew:
        await crew.open("12 Elm Street", "boxes")
        await crew.press("alt+v")
        assert "No visit is on record yet" in crew.said
        await crew.press("alt+n")
        assert "No visit is under way" in crew.said
        await crew.go("service")
        await crew.stand_on("visit", "add visit")
        await crew.press("enter", "escape")
        assert crew.open_job.job.visits == ()


async def test_undo_takes_a_started_visit_back_with_its_steps(handed_over: Path) -> None:
    async with at_the_truck(handed_over) as crew:
        await start(crew, "mid")
        assert crew.open_job.job.visit_steps
        await crew.press("ctrl+z")
        assert (crew.open_job.job.visits, crew.open_job.job.visit_steps) == ((), ())
        await crew.press("ctrl+y")
        assert len(crew.open_job.job.visits) == 1
