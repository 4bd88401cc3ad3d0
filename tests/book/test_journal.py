"""The journal, its text, backups, verifying and rebuilding; kill -9 at any moment."""

from __future__ import annotations

import random
import signal
import sqlite3
import subprocess
import time
from pathlib import Path

import pytest
from child_programs import command, write_customers
from click.testing import CliRunner
from examples import few_or_many
from exported_jobs import exported

from fieldbook.actions import cells as entering
from fieldbook.actions import log_wires, rows
from fieldbook.actions import signing as proofs
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.properties import fill_demo, new_property
from fieldbook.checks.finding import CellRef
from fieldbook.cli.main import main
from fieldbook.records.ids import once_id, valve_id
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.journal.text_journal import (
    append_lines,
    journal_path,
    last_complete,
    valid_entries,
)
from fieldbook.store.mending.rebuild import rebuild
from fieldbook.store.mending.verify import verify
from fieldbook.store.sqlite.backup import backup_folder


def busy(path: Path) -> str:
    """Make a book with all kinds of entries and close it; return the job's id."""
    with Book(path) as book:
        book.laptop.set_initials("AB")
        open_job = OpenJob(book, new_property(book, "12 Elm Street", "AB"), "AB")
        zone = rows.add_zone(open_job)
        rows.repeat_run(open_job, zone)
        log_wires.set_conductors(open_job, rows.add_cable(open_job), "white, red, blue")
        at = CellRef("valve", valve_id(zone), "colour")
        log_wires.log_wire(open_job, at, "red", "", {"zone_id": zone, "kind": "zone"})
        proofs.tick_flush(open_job, zone)
        static = CellRef("supply", once_id(open_job.job_id, "supply"), "static_psi")
        entering.enter_text(open_job, static, "62")
        entering.enter_text(open_job, static, "64")
        open_job.undo()
        proofs.sign_off(open_job, "price", proofs.Override("A. Foreman", "a test"))
        rows.remove_row(open_job, "pipe_run", open_job.job.pipe_runs[0].id)
        return open_job.job_id


def text_of(path: Path) -> Path:
    (file,) = path.with_name(f"{path.name}.journal").glob("*.jsonl")
    return file


def test_a_book_with_all_kinds_of_entries_passes_verify(book_file: Path) -> None:
    busy(book_file)
    found = verify(book_file)
    assert found.wrong == ()
    assert found.entries > 9
    assert len(list(valid_entries(text_of(book_file)))) == found.entries
    assert text_of(book_file).stat().st_mode & 0o777 == 0o600


def test_the_record_is_rebuilt_from_the_text_journal_alone(book_file: Path, tmp_path: Path) -> None:
    with Book(book_file) as book:
        fill_demo(book)
    busy(book_file)
    before = exported(book_file)
    book_file.write_bytes(b"no longer a book")
    new = tmp_path / "new.sqlite"
    assert rebuild(book_file, new) > 100
    assert exported(new) == before
    assert verify(new).wrong == ()
    with pytest.raises(BookError, match="is there already"):
        rebuild(book_file, new)
    with pytest.raises(BookError, match="nothing to rebuild from"):
        rebuild(tmp_path / "none.sqlite", tmp_path / "other.sqlite")


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("UPDATE journal SET value = '63.0' WHERE value = '62.0'", "is not what was sealed"),
        ("DELETE FROM journal WHERE seq = 5", "does not follow"),
        ("DELETE FROM outbox; UPDATE journal SET who = 'XX' WHERE seq = 9", "not what was sealed"),
    ],
)
def test_verify_finds_a_journal_that_was_tampered_with(
    book_file: Path, line: str, words: str
) -> None:
    busy(book_file)
    with sqlite3.connect(book_file) as raw:
        raw.executescript("DROP TRIGGER journal_no_update; DROP TRIGGER journal_no_delete")
        raw.executescript(line)
    raw.close()
    assert any(words in sentence for sentence in verify(book_file).wrong)


def test_verify_finds_rows_that_were_changed_past_the_triggers(book_file: Path) -> None:
    busy(book_file)
    with sqlite3.connect(book_file) as raw:
        raw.execute("DROP TRIGGER caught_supply_update")
        raw.execute("UPDATE supply SET static_psi = 99")
    raw.close()
    assert any("A row of supply" in sentence for sentence in verify(book_file).wrong)


def test_a_change_of_another_program_gets_an_entry(book_file: Path) -> None:
    job_id = busy(book_file)
    with sqlite3.connect(book_file) as raw:
        raw.execute("UPDATE supply SET static_psi = 71")
    raw.close()
    assert any("not sealed yet" in sentence for sentence in verify(book_file).wrong)
    with Book(book_file) as book:
        supply = book.load(job_id).supply
        assert supply is not None
        assert supply.static_psi == 71
    assert verify(book_file).wrong == ()


def test_a_cut_line_is_dropped_and_written_again(book_file: Path) -> None:
    busy(book_file)
    text = text_of(book_file)
    whole = text.read_bytes()
    text.write_bytes(whole[:-40])
    assert any("text journal" in sentence for sentence in verify(book_file).wrong)
    Book(book_file).close()
    assert text.read_bytes() == whole
    text.unlink()
    Book(book_file).close()
    assert text.read_bytes() == whole


def test_verify_finds_a_changed_line_of_the_text_journal(book_file: Path) -> None:
    busy(book_file)
    text = text_of(book_file)
    lines = text.read_text("utf-8").splitlines(keepends=True)
    text.write_text("".join([*lines[:6], lines[6].replace("AB", "XX", 1), *lines[7:]]), "utf-8")
    assert len(list(valid_entries(text))) == len(lines) - 2
    (said,) = verify(book_file).wrong
    assert "move it away" in said
    text.rename(text.with_suffix(".away"))
    Book(book_file).close()
    assert verify(book_file).wrong == ()


@pytest.mark.parametrize(
    "line",
    [
        "UPDATE journal SET who = 'XX'",
        "DELETE FROM journal",
        "INSERT OR REPLACE INTO journal SELECT * FROM journal WHERE n = 1",
    ],
)
def test_no_program_can_change_the_journal(book_file: Path, line: str) -> None:
    busy(book_file)
    with sqlite3.connect(book_file) as raw:
        raw.execute("PRAGMA recursive_triggers = ON")
        with pytest.raises(sqlite3.IntegrityError, match="stays as it was sealed"):
            raw.execute(line)
    raw.close()


@pytest.mark.parametrize("seed", range(12))
def test_verify_finds_a_flipped_byte_or_nothing_entered_is_harmed(
    book_file: Path, tmp_path: Path, seed: int
) -> None:
    busy(book_file)
    before, sealed = exported(book_file), verify(book_file).entries
    held = bytearray(book_file.read_bytes())
    pick = random.Random(seed)
    where = pick.randrange(len(held))
    held[where] ^= 1 << pick.randrange(8)
    book_file.write_bytes(held)
    found = verify(book_file).wrong
    assert rebuild(book_file, tmp_path / "new.sqlite") == sealed
    assert exported(tmp_path / "new.sqlite") == before
    if not found:
        # Unused space, or a count that SQLite keeps for itself: what was entered is whole.
        assert exported(book_file) == before


def test_a_rebuild_joins_the_newest_backup_and_the_text_journal(
    book_file: Path, tmp_path: Path
) -> None:
    job_id = busy(book_file)
    with Book(book_file) as book:
        open_job = OpenJob(book, job_id, "AB")
        entering.enter_text(open_job, CellRef("job", job_id, "customer"), "Told to the text alone")
    for newer in backup_folder(book_file).glob("*.later.jsonl"):
        newer.unlink()
    before, sealed = exported(book_file), verify(book_file).entries
    text = text_of(book_file)
    lines = text.read_text("utf-8").splitlines(keepends=True)
    text.write_text("".join(["not a line\n", *lines[7:-1], lines[-1]]), "utf-8")
    book_file.write_bytes(b"gone")
    assert rebuild(book_file, tmp_path / "new.sqlite") == sealed
    assert exported(tmp_path / "new.sqlite") == before
    with Book(tmp_path / "new.sqlite") as book:
        assert book.undo(job_id, by="AB") == "customer Told to the text alone"


@pytest.mark.parametrize("spoil", ["header", "page", "cut"])
def test_a_damaged_book_is_found_and_rebuilt(book_file: Path, tmp_path: Path, spoil: str) -> None:
    busy(book_file)
    before = exported(book_file)
    held = bytearray(book_file.read_bytes())
    if spoil == "header":
        held[:16] = b"x" * 16
    elif spoil == "page":
        for start in range(4096, len(held), 8192):
            held[start : start + 64] = b"\xff" * 64
    else:
        del held[len(held) // 2 :]
    book_file.write_bytes(held)
    assert verify(book_file).wrong
    rebuild(book_file, tmp_path / "new.sqlite")
    assert exported(tmp_path / "new.sqlite") == before


def test_nothing_is_lost_while_the_text_journal_can_not_be_written(
    book_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    with Book(book_file) as book:
        monkeypatch.setattr("fieldbook.store.journal.text_journal.append_lines", full)
        job_id = new_property(book, "12 Elm Street", "AB")
        monkeypatch.setattr("fieldbook.store.journal.text_journal.append_lines", append_lines)
        open_job = OpenJob(book, job_id, "AB")
        entering.enter_text(open_job, CellRef("job", job_id, "customer"), "B. Customer")
    assert verify(book_file).wrong == ()
    assert last_complete(text_of(book_file)) == verify(book_file).entries
    assert journal_path(book_file, text_of(book_file).stem) == text_of(book_file)


def test_the_commands_verify_and_rebuild(book_file: Path, tmp_path: Path) -> None:
    busy(book_file)
    sound = CliRunner().invoke(main, ["--book", str(book_file), "verify"])
    assert (sound.exit_code, sound.output.startswith("The book is sound: ")) == (0, True)
    new = tmp_path / "new.sqlite"
    assert CliRunner().invoke(main, ["--book", str(book_file), "rebuild", str(new)]).exit_code == 0
    book_file.write_bytes(b"gone")
    broken = CliRunner().invoke(main, ["--book", str(book_file), "verify"])
    assert broken.exit_code == 1
    assert "Traceback" not in broken.output


@few_or_many("rounds", 2, 60)
def test_every_acknowledged_entry_survives_kill_9(book_file: Path, rounds: int) -> None:
    with Book(book_file) as book:
        book.laptop.set_initials("AB")
        job_id = new_property(book, "12 Elm Street", "AB")
    pick, last = random.Random(7), 0
    for _ in range(rounds):
        writing = command(write_customers, book_file, job_id, last)
        with subprocess.Popen(writing, stdout=subprocess.PIPE, text=True) as writer:
            assert writer.stdout is not None
            writer.stdout.readline()
            time.sleep(pick.uniform(0.0, 0.08))
            writer.send_signal(signal.SIGKILL)
            said = writer.stdout.read().split()
        acknowledged = int(said[-1]) if said else last + 1
        with Book(book_file) as book:
            kept = int(book.load(job_id).job.customer.split()[-1])
        assert kept in (acknowledged, acknowledged + 1)
        assert verify(book_file).wrong == ()
        last = kept
