"""What is wrong with a zone, by keys: from the Service place, from the palette's action, typed."""

from __future__ import annotations

import re

import pytest
from crew import Crew, at_the_truck

from fieldbook.checks.diagnosing.typed_readings import ReadingParser
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.screens.pages.service.diagnosis_help import DIAGNOSIS_HELP
from fieldbook.screens.pages.service.diagnosis_page import DiagnosisPage
from fieldbook.screens.widgets.dialogs import AskLine, Choose, Read

SIZES = ((80, 24), (120, 40), (60, 18))


async def open_from_service(
    crew: Crew, number: int = 1, address: str = "14 Alder Lane"
) -> DiagnosisPage:
    """Open the page from the row of a zone in the Service place."""
    if not isinstance(crew.app.screen, JobScreen):
        await crew.open(address, "service")
    zone = next(zone for zone in crew.open_job.job.zones if zone.number == number)
    await crew.stand_on("zone", "diagnosis", zone.id)
    await crew.press("enter")
    page = crew.app.screen
    assert isinstance(page, DiagnosisPage)
    await settled(crew)
    return page


async def settled(crew: Crew) -> None:
    """Until the diagnosis is worked out and shown."""
    await crew.app.workers.wait_for_complete()
    await crew.pilot.pause()


@pytest.mark.parametrize("size", SIZES)
async def test_a_zone_without_readings_asks_for_some(size: tuple[int, int]) -> None:
    async with at_the_truck(None, size) as crew:
        await open_from_service(crew, address="208 Quarry Road")
        read = " ".join((await crew.read_page()).split())
        assert "What is wrong with zone 1" in read
        assert "Nothing is read yet of this zone." in read
        assert "Press r to type readings" in read
        assert "r readings" in crew.screen()


async def test_typed_readings_are_ranked_and_the_next_reading_stands_first() -> None:
    async with at_the_truck(None, (80, 24)) as crew:
        await open_from_service(crew)
        await crew.press("r")
        assert isinstance(crew.app.screen, AskLine)
        await crew.type("static 64, flow 5, head 5 12")
        await crew.press("enter")
        await settled(crew)
        lines = [line.strip(" │▂") for line in crew.screen().splitlines()]
        told = next(no for no, line in enumerate(lines) if line.startswith("Can't tell yet"))
        following = next(no for no, line in enumerate(lines) if line.startswith("Next: "))
        ranked = next(no for no, line in enumerate(lines) if line.startswith("1. "))
        assert told < following < ranked
        read = " ".join((await crew.read_page()).split())
        assert "Caution: Marks: find buried lines before opening" in read
        assert "Typed: static 64, flow 5, head 5 12" in read
        assert "common practice, no source" in read


async def test_a_reading_that_can_not_be_is_refused_where_it_is_typed() -> None:
    async with at_the_truck(None, (80, 24)) as crew:
        await open_from_service(crew)
        await crew.press("r")
        await crew.type("head 99 20")
        await crew.press("enter")
        assert isinstance(crew.app.screen, AskLine)
        assert "has no head at a run 99" in " ".join(crew.screen().split())
        await crew.press("escape")
        assert isinstance(crew.app.screen, DiagnosisPage)


async def test_a_zone_that_does_not_run_gets_its_next_test() -> None:
    async with at_the_truck(None, (80, 24)) as crew:
        await open_from_service(crew)
        await crew.press("r")
        await crew.type("dead, ohms 2000, coil 28.6")
        await crew.press("enter")
        await settled(crew)
        read = " ".join((await crew.read_page()).split())
        assert "It does not run." in read
        assert "a splice at its valve is open or wet" in read
        assert "Caution: Lids" in read


async def test_the_page_explains_every_word_that_can_be_typed() -> None:
    async with at_the_truck(None, (60, 18)) as crew:
        await crew.open("14 Alder Lane", "service")
        job = crew.open_job.job
        await open_from_service(crew)
        for word in ReadingParser(job, job.zones[0], None).words():
            assert re.search(rf"\b{word}[ :;]", DIAGNOSIS_HELP), word
        await crew.press("question_mark")
        assert isinstance(crew.app.screen, Read)
        assert "What can be typed" in crew.screen()
        await crew.press("escape")
        assert isinstance(crew.app.screen, DiagnosisPage)


async def test_the_action_asks_which_zone_and_opens_its_page() -> None:
    async with at_the_truck(None, (80, 24)) as crew:
        await crew.open("14 Alder Lane", "street")
        await crew.press("alt+w")
        assert isinstance(crew.app.screen, Choose)
        await crew.press("enter")
        assert isinstance(crew.app.screen, DiagnosisPage)
        await settled(crew)
        await crew.press("escape")


async def test_a_measurement_of_the_record_is_where_the_page_begins() -> None:
    async with at_the_truck(None, (80, 24)) as crew:
        await open_from_service(crew)
        read = " ".join((await crew.read_page()).split())
        assert "From the record: the measurement of " in read
        assert "Nothing wrong is shown" in read
        await crew.press("r")
        await crew.type("static 40")
        await crew.press("enter")
        read = " ".join((await crew.read_page()).split())
        assert "the street gives less pressure than the record says" in read
        assert "From the record" not in read
