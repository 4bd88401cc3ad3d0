"""What Windows, a stick or a scanner may do to a file: each is waited for, avoided or a sentence.

What Windows does is from its documentation ("Naming Files", `CreateFile`, `open` with O_TEXT); it
is imitated here where the tests run on another system.
"""

from __future__ import annotations

import ast
import os
import time
import tomllib
from datetime import UTC, datetime, timedelta, tzinfo
from pathlib import Path, PureWindowsPath
from typing import Self

import pytest
from packaging.requirements import Requirement

import fieldbook
from fieldbook.actions.files.attached_files import copy_checked
from fieldbook.actions.files.file_names import file_stem
from fieldbook.actions.refused import RefusedError, write_new
from fieldbook.records import days
from fieldbook.store import disk
from fieldbook.store.attached import attached_path, hash_of
from fieldbook.store.book import Book
from fieldbook.store.mending.verify import verify
from fieldbook.store.sqlite.lock import WriterLock

_LONGEST_ON_WINDOWS = 259
"""Characters of a path where long paths are not switched on (Microsoft, "Maximum Path Length")."""


@pytest.fixture
def windows(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """Names and replacing as on Windows; the waits, which take no time here."""
    waits: list[float] = []
    monkeypatch.setattr(disk, "ON_WINDOWS", True)
    monkeypatch.setattr(time, "sleep", waits.append)
    return waits


def refuse_replacing(monkeypatch: pytest.MonkeyPatch, times: int) -> None:
    """Let a file be replaced only after so many tries, as while a scanner reads it."""
    really, left = Path.replace, [times]

    def replace(self: Path, target: Path) -> Path:
        if left[0]:
            left[0] -= 1
            raise PermissionError(13, "Access is denied")
        return really(self, target)

    monkeypatch.setattr(Path, "replace", replace)


def test_a_file_that_a_scanner_reads_is_replaced_once_it_lets_go(
    tmp_path: Path, windows: list[float], monkeypatch: pytest.MonkeyPatch
) -> None:
    refuse_replacing(monkeypatch, 3)
    write_new(tmp_path / "a.json", "{}\n")
    assert (tmp_path / "a.json").read_bytes() == b"{}\n"
    assert len(windows) == 3


def test_a_file_that_stays_open_elsewhere_is_a_sentence_and_leaves_no_part(
    tmp_path: Path, windows: list[float], monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "a.json"
    file.write_text("old", "utf-8")
    refuse_replacing(monkeypatch, 100)
    with pytest.raises(RefusedError, match="another program has it open"):
        write_new(file, "new", over=True)
    assert file.read_text("utf-8") == "old"
    assert list(tmp_path.iterdir()) == [file]
    assert 0 < sum(windows) < 2


def test_elsewhere_a_refused_file_is_tried_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    refuse_replacing(monkeypatch, 1)
    with pytest.raises(RefusedError, match="Access is denied"):
        write_new(tmp_path / "a.json", "{}")


@pytest.mark.parametrize(
    "name",
    ["con", "NUL.json", "LPT9", "con .txt", "com².svg", "a:b.json", "a?.csv", "a.", "a ", "a\t.x"],
)
@pytest.mark.usefixtures("windows")
def test_a_name_that_windows_refuses_is_a_sentence(tmp_path: Path, name: str) -> None:
    with pytest.raises(RefusedError, match="has a name that Windows"):
        write_new(tmp_path / name, "{}")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["console.json", "com10", "nul-plan.svg", ".hidden", "a b.c d"])
@pytest.mark.usefixtures("windows")
def test_a_name_that_windows_takes_is_written(tmp_path: Path, name: str) -> None:
    write_new(tmp_path / name, "{}")
    assert [file.name for file in tmp_path.iterdir()] == [name]


@pytest.mark.parametrize(
    "address",
    ["CON", "Com¹", '12: Elm/Oak \\ "Street" <b>?*|', "Elm. ", "..", "", "\0", "x" * 90, "東京"],
)
@pytest.mark.usefixtures("windows")
def test_the_name_made_of_any_address_is_one_that_every_system_takes(address: str) -> None:
    for what in ("", "zone-2", "service report"):
        stem = file_stem(address, what)
        assert stem
        assert len(stem) <= 70
        assert not disk.unusable_name(Path(f"{stem}.html"))


@pytest.mark.usefixtures("windows")
def test_what_a_book_makes_beside_itself_has_names_that_windows_takes(book_file: Path) -> None:
    with Book(book_file) as book:
        book.laptop.set_initials("AB")
        made = [*book_file.parent.rglob("*")]
    made += [*book_file.parent.rglob("*")]
    assert len(made) > 4
    assert [str(file) for file in made if disk.unusable_name(file)] == []


def test_the_longest_path_beside_a_book_fits_a_windows_laptop() -> None:
    home = PureWindowsPath(r"C:\Users\a-long-name-of-twenty\AppData\Local\fieldbook\fieldbook")
    book = home / "fieldbook.sqlite"
    below = attached_path(Path(book.name), "a" * 64)
    longest = [str(home / below) + ".4194304.part", str(home / below) + ".office.part"]
    bundle = f"{'0' * 36}-{0:010}-{'a' * 64}.jsonl.gz.spoilt"
    longest.append(str(home / "stick" / "fieldbook-exchange" / bundle))
    assert max(map(len, longest)) < _LONGEST_ON_WINDOWS


def test_every_descriptor_is_opened_binary_in_one_module() -> None:
    """Otherwise Windows would write other line ends than those a seal was made over."""
    package = Path(fieldbook.__file__).parent
    found = {
        file.relative_to(package).as_posix()
        for file in package.rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text("utf-8")))
        if isinstance(node, ast.Attribute)
        and isinstance(node.value, ast.Name)
        and (node.value.id, node.attr) == ("os", "open")
    }
    assert found == {"store/disk.py"}


def test_a_descriptor_asks_for_binary_where_the_system_has_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[int] = []
    really = os.open

    def spy(path: Path, flags: int, mode: int = 0o777) -> int:
        asked.append(flags)
        return really(path, flags & ~(1 << 30), mode)

    monkeypatch.setattr(disk, "_BINARY", 1 << 30)
    monkeypatch.setattr(os, "open", spy)
    os.close(disk.open_private(tmp_path / "a", os.O_WRONLY))
    disk.new_private(tmp_path / "b").close()
    assert len(asked) == 2
    assert all(flags & 1 << 30 for flags in asked)


def test_text_is_opened_with_an_encoding_everywhere() -> None:
    """Windows would take the code page of its language."""
    package = Path(fieldbook.__file__).parent
    wrong = [
        f"{file.name}:{node.lineno}"
        for file in package.rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text("utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr in ("read_text", "write_text")
        and not (len(node.args) > (node.func.attr == "write_text"))
        and not any(word.arg == "encoding" for word in node.keywords)
    ]
    assert wrong == []


def test_a_folder_that_cant_be_synced_stops_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refuse)
    disk.sync_folder(tmp_path)


def test_a_holder_file_that_cant_be_deleted_frees_the_lock_all_the_same(
    book_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book_file.parent.mkdir()
    lock = WriterLock(book_file)

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "The process cannot access the file")

    with monkeypatch.context() as patched:
        patched.setattr(Path, "unlink", refuse)
        lock.release()
    WriterLock(book_file).release()


def test_a_book_in_a_folder_with_signs_of_an_address_opens_and_verifies(tmp_path: Path) -> None:
    """`file:` addresses of SQLite: % # ? and spaces in a path are part of the path."""
    file = tmp_path / "a%20b #1 50% é" / "my book.sqlite"
    with Book(file) as book:
        book.laptop.set_initials("AB")
    assert not verify(file).wrong


def test_a_windows_path_is_a_file_address_as_sqlite_reads_it() -> None:
    """From SQLite's "Uniform Resource Identifiers": file:///C:/Documents%20and%20Settings/..."""
    path = PureWindowsPath(r"C:\Trucks and vans\book.sqlite")
    assert path.as_uri() == "file:///C:/Trucks%20and%20vans/book.sqlite"


def test_a_time_before_the_clock_of_windows_begins_keeps_its_order(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class OnWindows(datetime):
        def astimezone(self, tz: tzinfo | None = None) -> Self:
            if self.year < 1970:
                raise OSError(22, "Invalid argument")
            return self.replace(tzinfo=UTC)

    monkeypatch.setattr(days, "datetime", OnWindows)
    old, new = days.instant_of("1950-05-01T10:00"), days.instant_of("1951-05-01T10:00")
    assert old is not None
    assert new is not None
    assert new - old == timedelta(days=365)


def test_a_laptop_without_time_zones_of_its_own_gets_them_with_fieldbook() -> None:
    """Windows has none that Python reads (PEP 615), and the seasons need them."""
    text = (Path(__file__).parents[2] / "pyproject.toml").read_text("utf-8")
    needed = [Requirement(one) for one in tomllib.loads(text)["project"]["dependencies"]]
    (zones,) = [one.marker for one in needed if one.name == "tzdata"]
    assert zones is not None
    assert zones.evaluate({"sys_platform": "win32"})


def test_a_part_that_was_left_readable_is_made_anew(tmp_path: Path) -> None:
    source, target = tmp_path / "photo.jpg", tmp_path / "kept"
    source.write_bytes(b"photo")
    part = tmp_path / f"kept.{os.getpid()}.part"
    part.write_bytes(b"left by a program that was killed")
    part.chmod(0o644)
    copy_checked(source, target, hash_of(source))
    assert target.read_bytes() == b"photo"
    assert disk.ON_WINDOWS or target.stat().st_mode & 0o777 == 0o600
