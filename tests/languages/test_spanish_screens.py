"""The app in Spanish: one key changes every word, the record stays English, nothing is cut."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from crew import at_a_new_property, at_the_truck
from our_texts import demo_jobs
from rich.cells import cell_len

from fieldbook.languages import in_use
from fieldbook.records.entered_texts import entered_texts
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.screens.job.sheet_words import in_language
from fieldbook.screens.sheets import BUILDERS
from fieldbook.screens.sheets.table_layout import GAP, layout_of
from fieldbook.screens.widgets.dialogs import Choose

ROOMS = {78: "80x24", 58: "60x18"}
"""How many terminal cells a sheet has on a screen."""


@pytest.fixture(autouse=True)
def _english_again() -> Iterator[None]:
    """The language is a setting of the whole program: no other test is to find it changed."""
    yield
    in_use.use_language("en")


async def test_one_key_shows_the_board_and_a_property_in_spanish_and_back() -> None:
    async with at_the_truck(None) as crew:
        await crew.press("alt+l")
        assert "Propiedad" in crew.screen()
        assert "Sigue: Entregue." in crew.screen()
        assert "propiedad nueva" in crew.screen()
        await crew.open("31 Mill Street", "street")
        assert "Calle" in crew.screen()
        assert "Presión estática" in crew.screen()
        assert "Dirección: Da nombre a la propiedad" in crew.said
        await crew.press("alt+l")
        assert "Static pressure" in crew.screen()
        assert "Address: Names the property" in crew.said


async def test_this_laptop_remembers_the_language(book_file: Path) -> None:
    async with at_the_truck(book_file) as crew:
        await crew.enter("ab")
        await crew.press("alt+l")
        assert crew.book.book.laptop.language() == "es"
    async with at_the_truck(book_file) as crew:
        assert "Aún no hay propiedades." in crew.screen()
        crew.book.set_initials("cd")
        assert crew.book.book.laptop.language() == "es"


async def test_what_is_chosen_in_spanish_is_stored_in_english(book_file: Path) -> None:
    async with at_a_new_property(book_file) as crew:
        await crew.press("alt+l")
        await crew.stand_on("supply", "source")
        await crew.type("po")
        assert isinstance(crew.app.screen, Choose)
        assert "pozo" in crew.screen()
        await crew.press("enter")
        assert crew.open_job.job.supply is not None
        assert crew.open_job.job.supply.source == "well"
        await crew.stand_on("supply", "behind_regulator")
        await crew.press("s")
        assert crew.open_job.job.supply.behind_regulator is True
        assert "sí" in crew.screen()


async def test_a_flag_and_a_refusal_are_said_in_spanish() -> None:
    async with at_the_truck(None) as crew:
        await crew.press("alt+l")
        await crew.open("31 Mill Street", "controller")
        assert "ALTO" in crew.screen()
        assert "se usa dos veces" in crew.screen()
        await crew.press("ctrl+p")
        await crew.type("firma de contra")
        await crew.press("escape", "escape")
        await crew.press("ctrl+z")
        assert "Nada más que deshacer en esta propiedad." in crew.said


async def test_help_names_cautions_and_keys_in_spanish() -> None:
    async with at_the_truck(None) as crew:
        await crew.press("alt+l")
        await crew.open("31 Mill Street", "boxes")
        await crew.press("f1")
        page = await crew.read_page()
        assert "Tapas: levántelas con herramienta, espalda recta" in page
        assert "Deshacer lo último" in page


@pytest.mark.parametrize("room", ROOMS, ids=ROOMS.values())
def test_no_label_that_is_whole_in_english_is_cut_in_spanish(room: int) -> None:
    cut: list[str] = []
    for job in demo_jobs():
        english = set(_cut(job, room))
        in_use.use_language("es")
        in_use.keep_as_entered(entered_texts(job))
        cut += [words for at, words in _cut(job, room).items() if at not in english]
        in_use.use_language("en")
    assert sorted(set(cut)) == []


def _cut(job: LoadedJob, room: int) -> dict[tuple[str, int, int], str]:
    """Labels, titles and cautions without room, by where they stand: place, section, row."""
    found: dict[tuple[str, int, int], str] = {}
    for place, build in BUILDERS.items():
        for no, section in enumerate(in_language(build(job, "us")).sections):
            width = layout_of(section, room).label
            for line, row in enumerate(section.rows):
                if row.label and not row.beside and cell_len(row.label) + GAP > width:
                    found[place, no, line] = row.label
            for line, words in enumerate((section.title, *(one.line for one in section.cautions))):
                if cell_len(words) + 1 > room:
                    found[place, no, -1 - line] = words
    return found
