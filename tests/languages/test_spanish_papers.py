"""Papers in Spanish, as the command writes them."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from fieldbook.actions.job_files import import_file
from fieldbook.actions.properties import demo_files
from fieldbook.cli.main import main
from fieldbook.store.book import Book


@pytest.fixture
def alder_book(book_file: Path) -> Path:
    """A closed book that holds 14 Alder Lane of the demo."""
    with Book(book_file) as book:
        import_file(book, next(file for file in demo_files() if file.stem == "alder_lane"), "RO")
    return book_file


def written(book: Path, out: Path, *options: str, **variables: str) -> Result:
    words = ["--book", str(book), "papers", "14 Alder Lane", str(out), "--only", "door-card"]
    return CliRunner().invoke(main, [*words, *options], env=variables)


def test_a_paper_is_written_in_spanish(alder_book: Path, tmp_path: Path) -> None:
    result = written(alder_book, tmp_path, "--language", "es")
    assert result.exit_code == 0, result.output
    page = (tmp_path / "14-alder-lane-door-card.html").read_text("utf-8")
    assert '<html lang="es">' in page
    assert "Tarjeta de la puerta" in page
    assert "Precaución" in page
    assert "Red eléctrica" in page or "La red eléctrica es trabajo de un electricista" in page


@pytest.mark.parametrize(
    ("options", "variables", "language"),
    [
        ((), {}, "en"),
        ((), {"FIELDBOOK_LANGUAGE": "es_MX.UTF-8"}, "es"),
        (("--language", "en"), {"FIELDBOOK_LANGUAGE": "es"}, "en"),
    ],
)
def test_the_option_comes_before_the_environment(
    alder_book: Path,
    tmp_path: Path,
    options: tuple[str, ...],
    variables: dict[str, str],
    language: str,
) -> None:
    written(alder_book, tmp_path, *options, **variables)
    page = (tmp_path / "14-alder-lane-door-card.html").read_text("utf-8")
    assert f'<html lang="{language}">' in page


def test_a_language_that_is_not_there_is_one_sentence(alder_book: Path, tmp_path: Path) -> None:
    result = written(alder_book, tmp_path, "--language", "tlh")
    assert result.exit_code == 2
    assert result.output == "Error: There is no language tlh: choose en or es.\n"
