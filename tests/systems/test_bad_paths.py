"""A path that can't be used is one sentence, whatever command it is given to; nothing is harmed."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest
from builders import sound_job
from click.testing import CliRunner
from crew import at_the_truck

from fieldbook.actions.files.paper_run import typed_folder
from fieldbook.actions.files.svg_files import save_svg
from fieldbook.actions.refused import RefusedError
from fieldbook.cli.main import main

_JOB = "Alder Lane"
_WRITES = {
    "export": ["export", _JOB, "PATH", "--over"],
    "calendar": ["export", _JOB, "PATH.ics", "--over"],
    "plan": ["plan", _JOB, "PATH", "--over"],
    "bundle": ["bundle", _JOB, "PATH", "--over"],
    "materials": ["materials", _JOB, "PATH", "--over"],
    "dispute": ["dispute", _JOB, "Never flushed", "PATH.html", "--about", "stretch:2"],
    "picture": ["picture", _JOB, "2", "PATH", "--only", "tree", "--over"],
    "papers": ["papers", _JOB, "PATH", "--only", "door-card"],
    "tables": ["tables", _JOB, "PATH"],
    "rebuild": ["rebuild", "PATH"],
}
_READS = {
    "import": ["import", "PATH"],
    "solve": ["solve", "PATH"],
    "exchange": ["exchange", "PATH"],
    "take": ["take", "PATH"],
    "prices": ["materials", _JOB, "--prices", "PATH"],
    "book": ["--book", "PATH", "jobs"],
}
_NEVER = ("\0.json", "x" * 300, "book.sqlite/below")
"""Names that no file can have here."""


@pytest.fixture(scope="module")
def truck(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a book of one property."""
    folder = tmp_path_factory.mktemp("truck")
    job = Path(__file__).parents[2] / "demo_jobs/alder_lane.json"
    refused_or_done(folder, ["import", str(job)], 0)
    return folder


def refused_or_done(folder: Path, command: list[str], code: int = 2) -> str:
    """Run a command on the folder's book, expect this exit code; returns the last line it says."""
    environ = {"FIELDBOOK_BOOK": str(folder / "book.sqlite"), "FIELDBOOK_OFFICE": ""}
    result = CliRunner().invoke(main, command, env=environ)
    assert isinstance(result.exception, SystemExit | None), result.exception
    assert result.exit_code == code, result.output
    return (result.output.strip().splitlines() or [""])[-1]


def with_path(command: list[str], path: object) -> list[str]:
    return [word.replace("PATH", str(path)) for word in command]


@pytest.mark.parametrize("name", [*_WRITES, *_READS])
def test_a_name_that_no_file_can_have_is_one_sentence(truck: Path, name: str) -> None:
    for bad in _NEVER:
        said = refused_or_done(truck, with_path((_WRITES | _READS)[name], truck / bad))
        assert said.startswith("Error: ")
        assert said.endswith(".")
        assert "x" * 110 not in said


def test_a_book_whose_journal_would_have_too_long_a_name_is_one_sentence(truck: Path) -> None:
    long = truck / ("y" * 251)
    for command in (
        ["jobs"],
        ["verify"],
        ["rebuild", str(truck / "new")],
        ["exchange", str(truck)],
    ):
        said = refused_or_done(truck, ["--book", str(long), *command])
        assert "File name too long" in said
    assert not long.exists()


@pytest.mark.parametrize("name", [*_WRITES, *(one for one in _READS if one != "book")])
def test_an_empty_path_is_never_the_folder_one_happens_to_be_in(truck: Path, name: str) -> None:
    command = [word for word in (_WRITES | _READS)[name] if word != "--over"]
    said = refused_or_done(truck, [word if "PATH" not in word else "" for word in command])
    assert said == "Error: An empty path was given: name a file or a folder."


@pytest.mark.parametrize("name", ["export", "plan", "bundle", "materials", "picture", "rebuild"])
@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no devices among its files")
def test_a_folder_or_a_device_is_never_replaced(truck: Path, name: str, tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    before = os.stat("/dev/null")
    for there in (Path("/dev/null"), tmp_path, pipe):
        refused_or_done(truck, with_path(_WRITES[name], there))
    assert os.path.samestat(before, os.stat("/dev/null"))
    assert pipe.is_fifo()
    assert list(tmp_path.iterdir()) == [pipe]


@pytest.mark.parametrize("name", [*_WRITES, *_READS])
def test_a_folder_that_the_system_keeps_closed_is_one_sentence(
    truck: Path, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Imitated, since tests may run as the administrator, who may search any folder."""
    really = Path.lstat

    def lstat(self: Path) -> os.stat_result:
        if "closed" in self.parts:
            raise PermissionError(13, "Permission denied")
        return really(self)

    monkeypatch.setattr(Path, "lstat", lstat)
    said = refused_or_done(truck, with_path((_WRITES | _READS)[name], truck / "closed" / "a"))
    assert "can't be used (Permission denied): name another." in said


@pytest.mark.skipif(sys.platform == "win32", reason="Windows keeps no such modes")
@pytest.mark.parametrize(
    "name", [one for one in _WRITES if one not in ("papers", "tables", "rebuild", "dispute")]
)
def test_what_holds_the_record_is_readable_for_its_owner_alone(
    truck: Path, name: str, tmp_path: Path
) -> None:
    older = os.umask(0o022)
    try:
        refused_or_done(truck, with_path(_WRITES[name], tmp_path / "out"), 0)
        # One that others may read is written over with one that they may not.
        for file in tmp_path.iterdir():
            file.chmod(0o644)
        refused_or_done(truck, with_path(_WRITES[name], tmp_path / "out"), 0)
    finally:
        os.umask(older)
    assert [oct(file.stat().st_mode & 0o777) for file in tmp_path.iterdir()] == ["0o600"]


@pytest.mark.skipif(sys.platform == "win32", reason="Windows keeps no such modes")
def test_papers_tables_and_stick_files_are_readable_for_their_owner_alone(
    truck: Path, tmp_path: Path
) -> None:
    for name in ("papers", "tables", "dispute", "exchange", "rebuild"):
        (tmp_path / name).mkdir()
    older = os.umask(0o022)
    try:
        for name in ("papers", "tables", "exchange"):
            refused_or_done(truck, with_path((_WRITES | _READS)[name], tmp_path / name), 0)
        for name in ("dispute", "rebuild"):
            refused_or_done(truck, with_path(_WRITES[name], tmp_path / name / "out"), 0)
    finally:
        os.umask(older)
    files = [file for file in tmp_path.rglob("*") if file.is_file()]
    assert len(files) > 20
    assert [str(file) for file in files if file.stat().st_mode & 0o077] == []


_TYPED = ("~nobody-of-this-name/a", "a\0b", "x" * 300)


@pytest.mark.parametrize("typed", _TYPED)
def test_a_path_typed_in_the_app_is_one_sentence(typed: str) -> None:
    with pytest.raises(RefusedError, match="type another path") as refused:
        typed_folder(typed)
    assert len(str(refused.value)) <= 200
    with pytest.raises(RefusedError, match="type another path"):
        save_svg(sound_job(1), "plan", typed, lambda: "<svg/>")


async def test_a_path_typed_for_an_exchange_is_one_sentence(book_file: Path) -> None:
    async with at_the_truck(book_file) as crew:
        await crew.enter("AB")
        await crew.press("ctrl+e")
        for typed in ("~nobody-of-this-name/a", "x" * 300):
            await crew.enter(typed)
            assert "type another path" in " ".join(crew.screen().split())
            await crew.press("ctrl+u")
