"""Exchange from the board: it asks for the folder, shows its progress and says what it received."""

from __future__ import annotations

from pathlib import Path

from crew import Crew, at_a_new_property, at_the_truck
from trucks import Truck, static

from fieldbook.actions import cells as entering
from fieldbook.actions.exchange.folder_exchange import exchange_through_folder
from fieldbook.screens.board.board_screen import BoardScreen
from fieldbook.screens.pages.exchange_page import ExchangePage
from fieldbook.store.exchange.folder import NAME


def told(_done: int, _total: int) -> None:
    """Progress that nobody sees."""


async def test_the_page_asks_for_the_folder_and_what_is_received_is_on_the_board(
    book_file: Path, tmp_path: Path
) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    other = Truck(tmp_path, "CD")
    other.begin("3 Alder Lane")
    with other.open() as book:
        exchange_through_folder(book, stick, told)
    async with at_a_new_property(book_file) as crew:
        await crew.press("ctrl+b", "ctrl+e")
        await crew.enter(str(tmp_path / "none"))
        assert "put the stick in" in " ".join(crew.screen().split())
        await crew.press("ctrl+u")
        await crew.enter(str(stick))
        shown = await finished(crew)
        assert "4 entries came" in shown
        await crew.press("escape")
        assert isinstance(crew.app.screen, BoardScreen)
        assert "3 Alder Lane" in crew.screen()
        await crew.press("ctrl+e")
        assert "Enter alone takes" in crew.screen()
        await crew.press("enter")
        assert "0 entries came, 0 went" in await finished(crew)


async def test_the_page_names_properties_in_conflict_and_refused_files(
    book_file: Path, tmp_path: Path
) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    other = Truck(tmp_path, "CD")
    job = other.begin("3 Alder Lane")
    with other.open() as book:
        exchange_through_folder(book, stick, told)
    async with at_the_truck(book_file) as crew:
        await crew.enter("AB")
        await crew.press("ctrl+e")
        await crew.enter(str(stick))
        await finished(crew)
        await crew.press("escape", "enter")
        entering.enter_text(crew.open_job, static(job), "70")
        await crew.press("ctrl+b")
        other.enter_static(job, "72")
        with other.open() as book:
            exchange_through_folder(book, stick, told)
        name = "01a21574-0d8a-7974-8809-4d3118edf00b-0000000001-" + "0" * 64 + ".jsonl.gz"
        (stick / NAME / name).write_bytes(b"no entries")
        await crew.press("ctrl+e", "enter")
        shown = await finished(crew)
        assert "Laptops differ on 3 Alder Lane: F6 there settles it." in shown
        assert "is refused" in shown
        await crew.press("escape")
        assert "fix" in crew.screen()


async def finished(crew: Crew) -> str:
    """What the page says once the exchange is over."""
    assert isinstance(crew.app.screen, ExchangePage)
    await crew.wait_until(lambda: "Esc close" in " ".join(crew.screen().split()))
    return " ".join(crew.screen().replace("│", " ").split())
