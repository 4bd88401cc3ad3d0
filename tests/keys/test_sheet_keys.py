"""Keys on a sheet: typing, ticking, choosing, clearing, removing, following a flag."""

from __future__ import annotations

from pathlib import Path

import pytest
from crew import at_a_new_property
from textual._xterm_parser import XTermParser
from textual.events import Key
from textual.keys import key_to_character

from fieldbook.actions.keymap import ACTIONS, action_for, offered
from fieldbook.records.base import PLACES
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.job.commands import COMMANDS
from fieldbook.screens.open_book import BOARD_COMMANDS
from fieldbook.screens.widgets.dialogs import Choose, Read


def test_every_action_of_the_keymap_has_a_command_where_it_is_offered() -> None:
    assert {action.name for action in offered("place")} == set(COMMANDS)
    assert {action.name for action in offered("board")} == set(BOARD_COMMANDS)


@pytest.mark.parametrize("where", ["board", "place"])
def test_no_key_is_bound_twice(where: str) -> None:
    keys = [key for action in ACTIONS if where in action.where for key in action.keys]
    assert len(keys) == len(set(keys))


def test_no_letter_digit_or_sign_is_a_command_at_a_place_but_the_question_mark() -> None:
    keys = {key for action in offered("place") for key in action.keys}
    characters = {key: key_to_character(key) for key in keys}
    typed = {key for key in keys if len(key) == 1 or (characters[key] or "\n").isprintable()}
    assert typed == {"question_mark"}
    undo = action_for("ctrl+z", "place")
    assert undo is not None
    assert undo.name == "undo"


async def test_alt_and_a_digit_goes_to_a_place_however_the_terminal_sends_it(
    book_file: Path,
) -> None:
    async with at_a_new_property(book_file) as crew:
        for number, place in enumerate(PLACES, start=1):
            # Textual's own table of what terminals send: Esc and the digit.
            (sent,) = XTermParser().feed(f"\x1b{number}")
            assert isinstance(sent, Key)
            await crew.press(sent.key)
            assert crew.place.place == place
        await crew.go("street")
        await crew.stand_on("job", "access")
        await crew.type("gate code")
        # A pilot knows no character for it; a terminal sends the sign with the key.
        crew.place.sheet.post_message(Key("pound_sign", "£"))
        await crew.press("enter")
        assert crew.place.place == "street"
        assert crew.open_job.job.job.access == "gate code£"


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("1-5", "a number without its unit"),
        ("400", "goes from 0 psi to 300 psi"),
        ("62 gpm", "no unit of pressure"),
    ],
)
async def test_a_wrong_value_is_refused_in_place_and_the_old_one_stays(
    book_file: Path, typed: str, why: str
) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.enter("62")
        await crew.stand_on("supply", "static_psi")
        assert crew.at == ("supply", "static_psi")
        await crew.enter(typed)
        assert why in crew.said.replace("\n", " ")
        assert crew.said.count("\n") <= 1
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.static_psi == 62
        assert typed in crew.screen()
        await crew.press("escape")
        assert "62 psi" in crew.screen()
        assert typed not in crew.screen()


async def test_a_cell_takes_any_unit_and_shows_that_of_the_job(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.enter("3.1 bar")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.static_psi == pytest.approx(44.96, abs=0.01)
        await crew.stand_on("job", "units")
        await crew.enter("metric")
        assert "310 kPa" in crew.screen() or "3.1 bar" in crew.screen()


async def test_enter_twice_over_a_value_keeps_it_to_the_digit(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.enter("3.1 bar")
        exact = crew.open_job.job.supply
        acts = crew.book.book.count_undoable(crew.open_job.job_id)
        await crew.stand_on("supply", "static_psi")
        await crew.press("enter", "enter")
        assert crew.open_job.job.supply == exact
        assert crew.book.book.count_undoable(crew.open_job.job_id) == acts


async def test_the_next_cell_that_wants_a_value_is_one_key_away(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        assert crew.at == ("supply", "static_psi")
        await crew.type("62")
        await crew.press("ctrl+n")
        assert crew.at == ("supply", "behind_regulator")
        await crew.press("space", "ctrl+n")
        assert crew.at == ("supply", "meter_size")
        await crew.press("enter")
        assert isinstance(crew.app.screen, Choose)
        await crew.press("enter")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.meter_size
        assert crew.at == ("supply", "meter_number")


async def test_space_turns_a_tick_and_delete_clears_a_cell(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("controller")
        await crew.stand_on("controller", "rain_sensor")
        states = []
        for _ in range(3):
            await crew.press("space")
            states.append(crew.open_job.job.controller and crew.open_job.job.controller.rain_sensor)
        assert states == [True, False, None]
        await crew.press("space", "delete")
        assert crew.open_job.job.controller is not None
        assert crew.open_job.job.controller.rain_sensor is None
        await crew.press("ctrl+z")
        assert crew.open_job.job.controller.rain_sensor is True


async def test_a_row_is_added_removed_and_brought_back(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("ground")
        await crew.press("enter")
        assert len(crew.open_job.job.zones) == 1
        await crew.press("ctrl+d")
        assert not crew.open_job.job.zones
        await crew.press("ctrl+z")
        assert len(crew.open_job.job.zones) == 1
        await crew.go("street")
        await crew.press("ctrl+d")
        assert "can't be removed" in crew.said


async def test_pipe_runs_are_typed_as_rows_and_enter_repeats(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.go("ground")
        await crew.press("enter", "escape")
        await crew.go("ground")
        zone = crew.open_job.job.zones[0]
        await crew.stand_on("pipe_run", "add run", zone.id)
        await crew.press("enter")
        await crew.enter("3/4", "pvc sch 40", "12")
        await crew.stand_on("head", "nozzle_gpm")
        await crew.enter("1.5")
        await crew.stand_on("head", "rated_psi")
        await crew.enter("30")
        for _ in range(3):
            await crew.stand_on("pipe_run", "add run", zone.id)
            await crew.press("enter")
        runs = crew.open_job.job.runs_of(zone.id)
        assert [(run.number, run.after, run.size, run.length_ft) for run in runs] == [
            (1, None, "3/4", 12.0),
            (2, 1, "3/4", 12.0),
            (3, 2, "3/4", 12.0),
            (4, 3, "3/4", 12.0),
        ]
        assert [head.nozzle_gpm for head in crew.open_job.job.heads_of(zone.id)] == [1.5] * 4


async def test_enter_on_a_flag_goes_to_the_cell_that_mends_it(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.press("ctrl+f")
        assert "NOT CHECKED the static pressure" in crew.screen()
        await crew.press("escape")
        await crew.enter("95")
        assert crew.flags == ["static too high"]
        assert "STOP" in crew.screen() or "FIX" in crew.screen() or "NOTE" in crew.screen()
        await crew.go("desk")
        await crew.press("ctrl+f")
        assert "95 psi" in crew.screen()
        await crew.press("enter")
        assert crew.place.place == "street"
        assert crew.at == ("supply", "static_psi")
        await crew.enter("62")
        assert crew.flags == []
        assert "STOP" not in crew.screen()
        assert "checks are open" in crew.screen() or "check is open" in crew.screen()


async def test_help_says_what_a_cell_is_why_it_is_asked_and_its_source(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.enter("62")
        await crew.stand_on("supply", "meter_size")
        await crew.press("question_mark")
        assert isinstance(crew.app.screen, Read)
        shown = " ".join(crew.screen().split())
        assert "Meter size" in shown
        assert "COMAR 20.70.06.03" in shown
        await crew.press("escape")
        await crew.stand_on("supply", "static_psi")
        await crew.press("question_mark")
        assert "AB" in crew.screen()


async def test_places_are_reached_in_turn_by_number_and_left_by_escape(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        seen = []
        for keys in (*[["ctrl+pagedown"]] * 6, ["ctrl+pageup"], ["escape", "3"]):
            await crew.press(*keys)
            seen.append(crew.place.place)
        assert seen == [
            "boxes",
            "ground",
            "controller",
            "desk",
            "service",
            "street",
            "service",
            "ground",
        ]
        await crew.press("escape", "escape")
        assert isinstance(crew.app.screen, BoardScreen)


async def test_a_long_paste_becomes_one_bounded_line(book_file: Path) -> None:
    from textual import events

    async with at_a_new_property(book_file) as crew:
        await crew.stand_on("supply", "static_where")
        await crew.press("a")
        crew.place.sheet.post_message(events.Paste("tap\x1b[2J at the\nback [/] " + "x" * 30))
        await crew.pilot.pause()
        await crew.press("enter")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.static_where.startswith("atap[2J at the back [/] xxx")


async def test_a_click_moves_the_cursor_to_a_cell(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        lines = crew.screen().splitlines()
        y = next(no for no, line in enumerate(lines) if "Gauge behind a regulator" in line)
        await crew.pilot.click(offset=(30, y))
        assert crew.at == ("supply", "behind_regulator")
