"""F11 at the desk: papers are chosen, written while entries go on, stopped, and opened outside."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import AsyncIterator, Iterator, Sequence
from contextlib import asynccontextmanager
from pathlib import Path
from threading import Event

import pytest
from crew import Crew, at_a_new_property

from fieldbook.actions.files import paper_run
from fieldbook.actions.files.paper_run import PAPER_WORDS
from fieldbook.actions.files.write_papers import Kind, write_papers
from fieldbook.papers.blocks.paper_source import PaperSource
from fieldbook.papers.contents.catalogue import NAMES, PAPERS
from fieldbook.papers.paper import Paper
from fieldbook.screens.job.job_screen import JobScreen

SIZES = ((80, 24), (120, 40), (60, 18))
FOLDER = "12-elm-street-papers"


class HeldUp:
    """Writes each paper only once it is let go, as a slow stick would."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.go = Event()
        monkeypatch.setattr(paper_run, "write_papers", self)

    def __call__(
        self, source: PaperSource, folder: Path, names: Sequence[str], kinds: Sequence[Kind]
    ) -> Iterator[Path]:
        assert self.go.wait(60)
        yield from write_papers(source, folder, names, kinds)


@asynccontextmanager
async def held_up(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> AsyncIterator[tuple[Crew, HeldUp]]:
    """A property whose first paper is being written and held up."""
    slow = HeldUp(monkeypatch)
    async with at_a_new_property(book) as crew:
        try:
            await crew.press("f11", "enter")
            await crew.wait_until(lambda: "Handover packet ..." in crew.screen())
            yield crew, slow
        finally:
            # The app waits for its threads when it is left.
            slow.go.set()


def words(crew: Crew) -> str:
    """The screen as one line."""
    return " ".join(crew.screen().replace("│", " ").split())


async def written(crew: Crew) -> str:
    """What the page says once the run is over."""
    await crew.wait_until(lambda: "Enter open" in words(crew))
    return words(crew)


@pytest.mark.parametrize("size", SIZES)
async def test_two_keys_write_every_paper_beside_the_book(
    book_file: Path, size: tuple[int, int]
) -> None:
    async with at_a_new_property(book_file, size) as crew:
        await crew.press("f11")
        shown = words(crew)
        assert "[x] Handover packet" in shown
        assert "Esc close" in shown
        await crew.press("enter")
        told = await written(crew)
        assert f"{len(PAPERS)} files written to" in told
        assert "> 12-elm-street-handover-packet.html" in told
        assert "Esc close" in told
        await crew.press("escape")
        assert isinstance(crew.app.screen, JobScreen)
    files = {path.name for path in (book_file.parent / FOLDER).iterdir()}
    assert files == {f"12-elm-street-{name}.html" for name in PAPERS}


async def test_papers_are_chosen_by_ticks_and_the_folder_by_its_path(
    book_file: Path, tmp_path: Path
) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.press("f11", "a")
        assert "[x]" not in crew.screen()
        await crew.press("enter")
        assert "No paper is ticked" in words(crew)
        door_card = list(PAPERS).index("door-card")
        await crew.press(*["down"] * door_card, "space", "p", "f", "ctrl+u")
        await crew.enter(str(book_file))
        assert "is a file: type the path of a folder" in words(crew)
        await crew.press("ctrl+u")
        await crew.enter(str(tmp_path / "stick"))
        assert "[x] Door card" in words(crew)
        await crew.press("enter")
        assert "2 files written to" in await written(crew)
        await crew.press("w")
        assert "which?" in words(crew)
    assert {path.name for path in (tmp_path / "stick").iterdir()} == {
        "12-elm-street-door-card.html",
        "12-elm-street-door-card.pdf",
    }


async def test_without_the_extra_pdf_is_refused_with_what_to_install(
    book_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(paper_run, "find_spec", lambda _name: None)
    async with at_a_new_property(book_file) as crew:
        await crew.press("f11")
        assert "PDF" not in words(crew)
        await crew.press("p")
        assert "pip install 'fieldbook[pdf]'" in words(crew)


async def test_entries_go_on_while_papers_are_written(
    book_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with held_up(book_file, monkeypatch) as (crew, slow):
        await crew.press("enter")
        await crew.enter("62")
        supply = crew.open_job.job.supply
        assert supply is not None
        assert supply.static_psi == 62
        await crew.press("f11")
        assert "0 of" in words(crew)
        await crew.press("enter")
        slow.go.set()
        await crew.wait_until(lambda: "files written to" in crew.said)
        await crew.press("f11")
        assert "Enter open" in words(crew)


async def test_a_run_goes_on_on_the_board(book_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    async with held_up(book_file, monkeypatch) as (crew, slow):
        await crew.press("f11", "ctrl+b")
        slow.go.set()
        await crew.wait_until(lambda: "files written to" in words(crew))


async def test_esc_stops_after_the_paper_that_is_being_written(
    book_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with held_up(book_file, monkeypatch) as (crew, slow):
        await crew.press("escape")
        assert "Stopping after this paper" in words(crew)
        slow.go.set()
        assert f"Stopped after 1 of {len(NAMES)} papers" in await written(crew)
    assert len(list((book_file.parent / FOLDER).iterdir())) == 1


async def test_who_leaves_the_app_waits_for_one_paper_alone(
    book_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with held_up(book_file, monkeypatch) as (crew, _):
        await crew.press("enter", "ctrl+q")
    assert len(list((book_file.parent / FOLDER).iterdir())) <= 1


async def test_a_fault_is_one_sentence_and_says_what_was_written(
    book_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(_source: PaperSource) -> Paper:
        raise ZeroDivisionError("a fault of the program's own")

    monkeypatch.setitem(PAPERS, "trench-map", broken)
    async with at_a_new_property(book_file) as crew:
        await crew.press("f11", "enter")
        told = await written(crew)
        assert "Trench map can't be made (ZeroDivisionError" in told
        assert "2 files written before it." in told


async def test_a_fault_of_the_firm_file_leaves_nothing_to_open(book_file: Path) -> None:
    (book_file.parent).mkdir(parents=True, exist_ok=True)
    (book_file.parent / "firm.toml").write_text("[firm", "utf-8")
    async with at_a_new_property(book_file) as crew:
        await crew.press("f11", "enter")
        await crew.wait_until(lambda: "is not TOML" in words(crew))
        assert "Enter open" not in words(crew)
        await crew.press("enter", "o", "escape")
        assert isinstance(crew.app.screen, JobScreen)


async def test_a_paper_is_opened_by_the_systems_viewer_without_a_shell(
    book_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    started: list[list[str]] = []

    def popen(command: list[str], **options: object) -> None:
        assert not options.get("shell")
        started.append(command)

    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(shutil, "which", lambda name: f"/usr/bin/{name}")
    monkeypatch.setattr(subprocess, "Popen", popen)
    async with at_a_new_property(book_file) as crew:
        await crew.press("f11", "enter")
        await written(crew)
        await crew.press("enter", "f")
        folder = book_file.parent / FOLDER
        packet = folder / "12-elm-street-handover-packet.html"
        assert started == [["/usr/bin/xdg-open", str(packet)], ["/usr/bin/xdg-open", str(folder)]]
        assert "handed to the system's viewer" in words(crew)
        packet.unlink()
        await crew.press("enter")
        assert "is not there any more" in words(crew)
        monkeypatch.setattr(shutil, "which", lambda _name: None)
        await crew.press("down", "enter")
        assert "This system has no viewer (xdg-open)" in words(crew)


def test_every_paper_has_words_for_the_list() -> None:
    assert list(PAPER_WORDS) == list(NAMES)
    assert len(set(PAPER_WORDS.values())) == len(NAMES)
