"""Books of every earlier format open with all they held, and take the facts added since."""

from __future__ import annotations

import json
import shutil
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Iterable, Mapping
from dataclasses import asdict
from datetime import date
from pathlib import Path
from typing import cast

import pytest
from child_programs import command, open_each_until
from examples import few_or_many
from old_books import FOLDER, FORMAT_6, OLD_BOOKS, rebuilt

from fieldbook.actions.job_files import export_text, import_file
from fieldbook.checks.finding import Finding
from fieldbook.checks.registry import check
from fieldbook.jobfile.write import write_job
from fieldbook.store.book import Book
from fieldbook.store.changes import Add, Put
from fieldbook.store.journal.entry import FORMAT
from fieldbook.store.journal.text_journal import journal_folder
from fieldbook.store.lifecycle.layout import difference
from fieldbook.store.mending.rebuild import rebuild
from fieldbook.store.mending.verify import verify

EXPORTED = sorted(FOLDER.glob("*.job.json"))
DAY = date(2026, 8, 20)
"""The day on which tests/write_old_book.py checks."""


def test_every_format_before_this_one_has_a_book_here() -> None:
    formats = {int(path.stem.split("_")[1]) for path in OLD_BOOKS}
    assert formats >= set(range(1, FORMAT)), "write it with python tests/write_old_book.py"


def test_the_book_of_the_format_being_left_can_be_written(tmp_path: Path) -> None:
    script = FOLDER.parents[1] / "write_old_book.py"
    program = [sys.executable, str(script), "format_now", str(tmp_path)]
    ran = subprocess.run(program, capture_output=True, text=True, check=False)
    assert ran.returncode == 0, ran.stderr
    read_as_then(tmp_path / "format_now.job.json", tmp_path / "now")


@pytest.mark.parametrize("exported", EXPORTED, ids=lambda path: path.stem)
def test_a_job_and_its_flags_are_as_the_code_of_its_time_had_them(
    exported: Path, tmp_path: Path
) -> None:
    read_as_then(exported, tmp_path)


def read_as_then(exported: Path, folder: Path) -> None:
    """Compare a job in its old book, and in its job file, with what the old code said of it.

    Its rows are the same. The checks ask for more than they did then, so there may be more flags;
    a flag of then is still there, in other words perhaps, but at its cell and with its numbers.
    """
    book_file = folder / "truck" / "book.sqlite"
    held = rebuilt(exported.with_name(exported.name.replace("job.json", "sql")), book_file)
    checked = exported.with_name(exported.name.replace("job", "check"))
    in_book, from_file = json.loads(checked.read_text("utf-8"))
    with Book(book_file) as book:
        job = book.load(in_book["job"])
        now, then = json.loads(export_text(book, job.job.id)), json.loads(exported.read_text())
        # Another program changed the phone number, which got its entry when the book was opened.
        now["job"].pop("entered_at"), then["job"].pop("entered_at")
        assert now == then
        assert gone_since(in_book["flags"], check(job, DAY)) == []
        assert {name: len(rows) for name, rows in job.tables().items()} == {
            name: held.get(name, 0) for name in job.tables()
        }
    assert verify(book_file).wrong == ()
    with Book(folder / "empty.sqlite") as book:
        job = book.load(import_file(book, exported, "AB").job_id)
        assert gone_since(from_file["flags"], check(job, DAY)) == []


def gone_since(then: list[dict[str, object]], now: Iterable[Finding]) -> list[dict[str, object]]:
    """The flags of then that are not there now."""
    held = without_words(map(asdict, now))
    return [flag for flag in without_words(then) if flag not in held]


def without_words(flags: Iterable[Mapping[str, object]]) -> list[dict[str, object]]:
    """What of flags may not change, as JSON has it."""
    kept = ("code", "severity", "place", "at", "numbers")
    told = [{key: flag[key] for key in kept} for flag in flags]
    return cast("list[dict[str, object]]", json.loads(json.dumps(told)))


@pytest.mark.parametrize("dump", OLD_BOOKS, ids=lambda path: path.stem)
def test_an_old_book_opens_with_all_it_held(dump: Path, book_file: Path) -> None:
    held = rebuilt(dump, book_file)
    with Book(book_file) as book:
        (job,) = book.jobs()
        loaded = book.load(job.id)
        for table, rows in loaded.tables().items():
            assert len(rows) == held.get(table, 0), table
        assert {flag.severity for flag in check(loaded)} <= {"stop", "fix", "note"}
        zone = loaded.zones[0]
        assert all(one.who for one in book.past_values(job.id, zone.id, "number"))
        other = loaded.zones[1].id
        # A flush of the mainline names no zone, which the first three formats asked for.
        book.commit(job.id, [Add("flush", "mainline", {})], by="AB", what="flush")
        book.commit(job.id, [Put("zone", zone.id, "runs_with", other)], by="AB", what="zone")
    with Book(book_file) as book:
        again = book.load(job.id)
        assert again.zones[0].runs_with == again.zones[1].id
        assert book.undo(job.id, by="AB") == "zone"
    with sqlite3.connect(book_file) as raw:
        assert raw.execute("PRAGMA user_version").fetchone()[0] == FORMAT
        assert raw.execute("PRAGMA quick_check").fetchone()[0] == "ok"
        assert {part.kind for part in difference(raw).unknown} == {"INDEX"}
        assert not difference(raw).missing
    raw.close()


def test_the_log_of_an_old_book_is_its_history_and_can_be_undone(book_file: Path) -> None:
    rebuilt(FORMAT_6, book_file)
    with Book(book_file) as book:
        (job,) = book.jobs()
        supply = book.load(job.id).supply
        assert supply is not None
        held = book.past_values(job.id, supply.id, "static_psi")
        assert [round(float(one.value or 0) / 14.5038, 1) for one in held][-3:] == [3.1, 3.3, 3.1]
        assert {one.who for one in held} == {"MO"}
        assert book.load(job.id).job.phone == "555 0142"
        undone = [book.undo(job.id, by="AB") for _ in range(2)]
        assert undone == ["signed: the design may be priced", "static pressure 3.1 bar"]
    assert verify(book_file).wrong == ()


def test_a_text_journal_of_the_first_kind_is_enough_to_rebuild(
    book_file: Path, tmp_path: Path
) -> None:
    rebuilt(FORMAT_6, book_file)
    with sqlite3.connect(book_file) as raw:
        raw.row_factory = sqlite3.Row
        told = [dict(row) for row in raw.execute("SELECT * FROM journal ORDER BY seq")]
        caught = raw.execute("SELECT count(*) FROM outbox").fetchone()[0]
    raw.close()
    assert caught
    folder = journal_folder(book_file)
    folder.mkdir()
    lines = [json.dumps(one) for one in ({"fieldbook journal": 1}, *told)]
    (folder / f"{told[0]['origin']}.jsonl").write_text("\n".join(lines) + "\n", "utf-8")
    book_file.unlink()
    assert rebuild(book_file, tmp_path / "new.sqlite")
    rebuilt(FORMAT_6, tmp_path / "again" / "old.sqlite")
    with Book(tmp_path / "new.sqlite") as new, Book(tmp_path / "again" / "old.sqlite") as old:
        (job,) = old.jobs()
        assert rows_of(write_job(new.load(job.id))) == rows_of(write_job(old.load(job.id)))
    assert verify(tmp_path / "new.sqlite").wrong == ()


def rows_of(exported: str) -> list[str]:
    """The lines of a job file that entries give: not who and when, blanks, and the phone number."""
    left = [line.strip().rstrip(",") for line in exported.splitlines()]
    left = [line for line in left if not line.startswith(('"entered_', '"phone'))]
    return [line for line in left if not line.endswith(': ""')]


@few_or_many("strikes", 2, 10**6)
@pytest.mark.parametrize("dump", OLD_BOOKS, ids=lambda path: path.stem)
def test_a_book_killed_while_it_is_migrated_opens_with_all_it_held(
    dump: Path, tmp_path: Path, strikes: int
) -> None:
    held = rebuilt(dump, tmp_path / "0" / "book.sqlite")
    shutil.copyfile(dump, tmp_path / "dump.sql")
    killed = output(command(open_each_until, tmp_path, strikes))
    assert set(killed[1::2]) == {signal.SIGKILL}
    assert len(killed) // 2 >= min(strikes, 2)
    for step in killed[::2]:
        book_file = tmp_path / str(step) / "book.sqlite"
        with Book(book_file) as book:
            (job,) = book.jobs()
            for table, rows in book.load(job.id).tables().items():
                assert len(rows) == held.get(table, 0), (step, table)
        assert verify(book_file).wrong == ()


def output(program: list[str]) -> list[int]:
    """The numbers that a program prints."""
    ran = subprocess.run(program, capture_output=True, text=True, check=True)
    return [int(word) for word in ran.stdout.split()]
