"""A fault inside a screen: the entries stay, a sentence says so, and the board is back."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import NoReturn

import pytest
from crew import Crew, at_a_new_property, at_the_truck

from fieldbook.screens.app import FieldbookApp
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.faults import FAULT_LOG, MOST_IN_A_ROW
from fieldbook.screens.job import commands
from fieldbook.screens.job.cursor import Cursor
from fieldbook.screens.job.flags import FlagList
from fieldbook.screens.job.job_screen import JobScreen
from fieldbook.screens.job.sheet_canvas import SheetCanvas
from fieldbook.screens.open_book import OpenBook
from fieldbook.screens.widgets.dialogs import Read


def breaks(*_args: object, **_words: object) -> NoReturn:
    raise ZeroDivisionError("a fault")


async def in_a_key(crew: Crew, patch: pytest.MonkeyPatch) -> None:
    patch.setattr(Cursor, "move", breaks)
    await crew.pilot.press("down")


async def in_a_command_of_a_key(crew: Crew, patch: pytest.MonkeyPatch) -> None:
    patch.setitem(dict_of_commands(), "wire_map", breaks)
    await crew.pilot.press("f2")


async def in_drawing(crew: Crew, patch: pytest.MonkeyPatch) -> None:
    patch.setattr(SheetCanvas, "render_line", breaks)
    crew.place.sheet.refresh()


async def in_a_list(crew: Crew, patch: pytest.MonkeyPatch) -> None:
    patch.setattr(FlagList, "action_cursor_down", breaks)
    await crew.pilot.press("ctrl+f")
    await crew.pilot.press("down")


async def in_a_timer(crew: Crew, _patch: pytest.MonkeyPatch) -> None:
    crew.place.set_timer(0.001, breaks)


async def in_a_worker(crew: Crew, _patch: pytest.MonkeyPatch) -> None:
    crew.place.run_worker(breaks, thread=True)


async def in_a_later_call(crew: Crew, _patch: pytest.MonkeyPatch) -> None:
    crew.place.call_after_refresh(breaks)


async def in_a_command_of_the_board(crew: Crew, patch: pytest.MonkeyPatch) -> None:
    patch.setattr(OpenBook, "do", breaks)
    await crew.pilot.press("ctrl+b")
    await crew.pilot.press("f7")


def dict_of_commands() -> dict[str, commands.Command]:
    assert isinstance(commands.COMMANDS, dict)
    return commands.COMMANDS


FAULTS = (
    in_a_key,
    in_a_command_of_a_key,
    in_drawing,
    in_a_list,
    in_a_timer,
    in_a_worker,
    in_a_later_call,
    in_a_command_of_the_board,
)


@pytest.mark.parametrize("inject", FAULTS, ids=lambda inject: str(inject.__name__))
async def test_a_fault_goes_back_to_the_board_and_every_entry_is_kept(
    book_file: Path, inject: Callable[..., object]
) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.enter("62")
        crew.app.stops_on_fault = False
        with pytest.MonkeyPatch.context() as patch:
            found = inject(crew, patch)
            assert hasattr(found, "__await__")
            await found
            await crew.wait_until(lambda: isinstance(crew.app.screen, Read))
        told = " ".join(crew.screen().replace("│", " ").split())
        assert "A fault of fieldbook's own stopped this (ZeroDivisionError)" in told
        assert "every entry is kept" in told
        assert "Traceback" not in told
        report = (book_file.parent / FAULT_LOG).read_text("utf-8")
        assert "ZeroDivisionError: a fault" in report
        await crew.press("escape")
        assert isinstance(crew.app.screen, BoardScreen)
        assert "12 Elm Street" in crew.screen()
        await crew.press("enter")
        assert isinstance(crew.app.screen, JobScreen)
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.static_psi == 62
        await crew.go("street")
        await crew.stand_on("supply", "static_psi")
        await crew.enter("63")
        assert crew.open_job.job.supply.static_psi == 63
        assert crew.app.return_code is None


async def test_what_is_being_typed_is_kept_too(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.type("62")
        crew.app.stops_on_fault = False
        crew.place.set_timer(0.001, breaks)
        await crew.wait_until(lambda: isinstance(crew.app.screen, Read))
        await crew.press("escape", "enter")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.static_psi == 62


async def test_a_board_that_fails_again_and_again_ends_with_a_sentence(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        crew.app.stops_on_fault = False
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(BoardScreen, "show", breaks)
            await crew.pilot.press("ctrl+b")
            await crew.wait_until(lambda: crew.app.return_code is not None)
    assert crew.app.return_code == 3
    report = (book_file.parent / FAULT_LOG).read_text("utf-8")
    assert report.count("ZeroDivisionError: a fault") >= MOST_IN_A_ROW


async def test_the_report_of_the_demo_lies_in_the_state_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shell, state = tmp_path / "shell", tmp_path / "state"
    shell.mkdir()
    monkeypatch.chdir(shell)
    async with at_the_truck(None) as crew:
        monkeypatch.setenv("FIELDBOOK_STATE", str(state))
        crew.app.stops_on_fault = False
        crew.app.set_timer(0.001, breaks)
        await crew.wait_until(lambda: isinstance(crew.app.screen, Read))
    assert "ZeroDivisionError: a fault" in (state / FAULT_LOG).read_text("utf-8")
    assert list(shell.iterdir()) == []


def test_a_fault_before_the_book_is_open_ends_with_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("FIELDBOOK_STATE", str(tmp_path))
    app = FieldbookApp(None)
    app._handle_exception(ValueError("a fault"))
    assert app.return_code == 3
