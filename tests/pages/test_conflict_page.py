"""The conflict page (F6) asks one question at a time; it is answered by key, typed or undone."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from crew import Crew, at_the_truck, click_on
from legible import legible, painted
from two_books import TwoBooks, two_books

from fieldbook.actions import cells as entering
from fieldbook.actions import rows
from fieldbook.checks.finding import CellRef
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.screens.pages.conflict_page import ConflictPage
from fieldbook.screens.widgets.dialogs import AskLine
from fieldbook.screens.widgets.theme import THEMES

SIZES = ((80, 24), (120, 40), (60, 18))
HOSTILE = ("[/] [b]gate[/b] $error {0}%s 日本", "[@click=app.quit]q[/] \\[ '\"`;--")


def book_with(tmp_path: Path, *differences: Callable[[TwoBooks], None]) -> Path:
    """The path of a closed book that has exchanged with another, with these differences."""
    here = tmp_path / "here.sqlite"
    with two_books(here, tmp_path / "there.sqlite") as pair:
        for differ in differences:
            differ(pair)
        pair.exchange()
    return here


def static(pair: TwoBooks) -> None:
    pair.enter_apart(pair.static, "62", "64")


def access(pair: TwoBooks) -> None:
    pair.enter_apart(CellRef("job", pair.here.job_id, "access"), *(text * 4 for text in HOSTILE))


def removed(pair: TwoBooks) -> None:
    at = pair.zone(2)
    rows.remove_row(pair.here, "zone", at.row_id)
    entering.enter_text(pair.there, at, "orchard")


def left_over(pair: TwoBooks) -> None:
    zone_id = pair.here.job.zones[-1].id
    rows.remove_row(pair.here, "zone", zone_id)
    rows.repeat_run(pair.there, zone_id)


def twice(pair: TwoBooks) -> None:
    for open_job in (pair.here, pair.there):
        rows.add_box(open_job)


EVERYTHING = (static, access, removed, left_over, twice)


async def open_page(crew: Crew) -> ConflictPage:
    await crew.press("enter", "f6")
    return page(crew)


def page(crew: Crew) -> ConflictPage:
    found = crew.app.screen
    assert isinstance(found, ConflictPage), found
    return found


def words(crew: Crew) -> str:
    return " ".join(crew.screen().replace("│", " ").split())


async def test_the_page_is_refused_where_nothing_differs(book_file: Path) -> None:
    book = book_with(book_file.parent)
    async with at_the_truck(book) as crew:
        await crew.press("enter", "f6")
        assert isinstance(crew.app.screen, JobScreen)
        assert "Nothing differs" in crew.said
        assert "F6" not in crew.screen().splitlines()[-1]


@pytest.mark.parametrize("number", [1, 2])
async def test_a_click_on_a_version_takes_it(book_file: Path, number: int) -> None:
    async with at_the_truck(book_with(book_file.parent, static)) as crew:
        option = (await open_page(crew)).question.options[number - 1]
        await click_on(crew, option.by[0])
        assert crew.cell.text == option.words


@pytest.mark.parametrize("size", SIZES)
async def test_a_key_takes_a_version_and_the_sheet_shows_its_cell(
    book_file: Path, size: tuple[int, int]
) -> None:
    async with at_the_truck(book_with(book_file.parent, static), size) as crew:
        await crew.press("enter")
        assert "F6 settle" in crew.screen().splitlines()[-1]
        await crew.press("f6")
        for told in ("1 of 1", "Static pressure of the supply", "62 psi", "64 psi", "AB, ", "CD, "):
            assert told in words(crew), told
        await crew.press("7")
        assert "There is no 7" in words(crew)
        taken = page(crew).question.options[1].words
        await crew.press("2")
        assert crew.at == ("supply", "static_psi")
        assert crew.cell.text == taken
        assert f"Kept {taken} as static pressure. Ctrl+Z takes it back." in " ".join(
            crew.said.split()
        )
        await crew.press("ctrl+z")
        assert "two versions" in crew.flags
        await crew.press("f6")
        assert "62 psi" in words(crew)
        assert "64 psi" in words(crew)


async def test_another_value_can_be_typed_and_a_bad_one_is_refused(book_file: Path) -> None:
    async with at_the_truck(book_with(book_file.parent, static)) as crew:
        await open_page(crew)
        await crew.press("t")
        await crew.enter("1-5")
        assert isinstance(crew.app.screen, AskLine)
        assert "Static pressure" in words(crew)
        await crew.press("ctrl+u")
        await crew.enter("4.5 bar")
        assert crew.cell.text == "65.3 psi"
        assert "two versions" not in crew.flags


async def test_esc_and_f6_leave_every_question_open(book_file: Path) -> None:
    async with at_the_truck(book_with(book_file.parent, static)) as crew:
        for key in ("escape", "f6", "f1"):
            await crew.press("f6") if key != "escape" else await open_page(crew)
            await crew.press("t", "escape", key)
            assert "two versions" in crew.flags


@pytest.mark.parametrize("size", SIZES)
async def test_every_question_is_shown_whole_and_answered(
    book_file: Path, size: tuple[int, int]
) -> None:
    book = book_with(book_file.parent, *EVERYTHING)
    async with at_the_truck(book, size) as crew:
        await crew.press("enter")
        await crew.stand_on("supply", "static_psi")
        await crew.press("f6")
        seen = ""
        count = len(page(crew)._questions)
        assert count == 5
        # It begins at the question about the cell under the cursor, the second.
        for number in (2, 3, 4, 5, 1):
            assert f"{number} of {count}" in words(crew)
            for line in crew.screen().splitlines():
                assert len(line) <= size[0]
            assert "Esc back" in crew.screen()
            for _ in range(8):
                seen += words(crew)
                await crew.press("down")
            await crew.press("right")
        for told in ("[/] [b]gate[/b] $error {0}%s 日本", "[@click=app.quit]q[/]", "remove it"):
            assert told in seen, told
        assert "What is left of zone 3" in seen
        assert "keep A for valve box A of AB" in seen
        for left in range(count - 1, 0, -1):
            await crew.press("1")
            assert f"of {left}" in words(crew)
            assert "Ctrl+Z takes it back" in words(crew)
        await crew.press("1")
        assert crew.place
        assert {zone.name for zone in crew.open_job.job.zones} == {"lawn", "orchard", "roses"}
        assert [box.name for box in crew.open_job.job.valve_boxes] == ["A", "B"]


async def test_u_on_the_page_opens_the_last_question_again(book_file: Path) -> None:
    async with at_the_truck(book_with(book_file.parent, static, removed, twice)) as crew:
        await open_page(crew)
        await crew.press("ctrl+z")
        assert "Nothing was chosen here yet." in words(crew)
        await crew.press("left", "2")
        assert "2 of 2" in words(crew) or "1 of 2" in words(crew)
        await crew.press("ctrl+z")
        assert "It is open again." in words(crew)
        assert "given twice" in words(crew)
        await crew.press("t")
        assert "choose by number" in words(crew)


async def test_the_page_opens_at_the_question_about_the_cursor_s_cell(
    book_file: Path,
) -> None:
    async with at_the_truck(book_with(book_file.parent, access, static)) as crew:
        await crew.press("enter")
        await crew.go("street")
        await crew.stand_on("supply", "static_psi")
        await crew.press("f6")
        assert "Static pressure of the supply" in words(crew)
        await crew.press("escape")
        await crew.stand_on("job", "access")
        await crew.press("f6", "1")
        assert "Static pressure of the supply" in words(crew)


async def test_the_hint_on_a_text_cell_names_the_key_that_undoes_there(book_file: Path) -> None:
    async with at_the_truck(book_with(book_file.parent, access)) as crew:
        await open_page(crew)
        await crew.press("2")
        assert crew.at == ("job", "access")
        assert "Ctrl+Z takes it back." in crew.said


async def test_a_colour_a_tick_and_a_link_can_be_typed(book_file: Path) -> None:
    def wires(pair: TwoBooks) -> None:
        pair.enter_apart(pair.wire(1), "red", "blue")
        pair.enter_apart(CellRef("valve", pair.wire(1).row_id, "splice_waterproof"), "yes", "no")

    async with at_the_truck(book_with(book_file.parent, wires)) as crew:
        await open_page(crew)
        for _ in range(2):
            await crew.press("t")
            tick = "One of: yes, no." in words(crew)
            await crew.enter("no" if tick else "orange")
        valve = crew.open_job.job.valves[0]
        assert (valve.colour, valve.splice_waterproof) == ("orange", False)


@pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
async def test_the_page_is_legible_in_both_themes(book_file: Path, theme: str) -> None:
    async with at_the_truck(book_with(book_file.parent, *EVERYTHING)) as crew:
        if crew.app.theme != theme:
            await crew.press("ctrl+l")
        await open_page(crew)
        for key in ("right", "right", "7", "1", "ctrl+z", "right"):
            await crew.press(key)
            assert all(legible(segment) for segment in painted(crew)), key


@pytest.mark.parametrize("size", SIZES)
async def test_two_boxes_that_are_one_are_joined_by_a_key(
    book_file: Path, size: tuple[int, int]
) -> None:
    async with at_the_truck(book_with(book_file.parent, twice), size) as crew:
        await crew.press("enter")
        assert "valve box twice" in crew.flags
        await crew.press("f6")
        assert "the same thing: join valve box A of" in words(crew)
        await crew.press("3")
        assert [box.name for box in crew.open_job.job.valve_boxes] == ["A"]
        assert "Joined valve box A of" in " ".join(crew.said.split())
        await crew.press("ctrl+z")
        assert [box.name for box in crew.open_job.job.valve_boxes] == ["A", "A"]
