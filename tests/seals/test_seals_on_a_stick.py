"""Laptops with keys exchange over a stick: what is signed, what is refused, what is only shown."""

from __future__ import annotations

import gzip
import hashlib
import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from sealed_trucks import THIEF, forged, laptops, put, states, through
from trucks import Truck, static
from two_books import all_entries

from fieldbook.actions import cells as entering
from fieldbook.store.exchange.bundle_reader import read_bundle
from fieldbook.store.exchange.folder import NAME
from fieldbook.store.mending.verify import verify
from fieldbook.store.seals.seal import sealed


def test_what_laptops_made_is_signed_on_both(trucks: tuple[Truck, Truck], stick: Path) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    for truck in (one, other):
        assert through(truck, stick).notes == ()
    other.enter_static(job, "62")
    assert states(other) == {"signed", "made here"}
    for truck in (other, one, other):
        report = through(truck, stick)
        assert (report.unsigned, report.wrongly_signed, report.notes) == (0, 0, ())
    assert states(one) == states(other) == {"signed"}
    assert one.exported() == other.exported()
    known = laptops(one)
    assert known["truck AB"].trust == "this laptop"
    assert known["truck CD"].trust == "not compared"
    assert known["truck CD"].words == laptops(other)["truck CD"].words
    assert known["truck CD"].entries == known["truck CD"].sealed_upto == 1


def test_a_relayed_entry_is_signed_by_its_maker(
    trucks: tuple[Truck, Truck], stick: Path, tmp_path: Path
) -> None:
    one, other = trucks
    one.begin("12 Elm Street")
    for truck in (one, other):
        through(truck, stick)
    second = tmp_path / "second"
    second.mkdir()
    through(other, second)
    third = Truck(tmp_path, "EF")
    assert through(third, second).unsigned == 0
    assert states(third, of=one) == {"signed"}


def test_an_entry_under_anothers_origin_shows_as_unsigned(
    trucks: tuple[Truck, Truck], stick: Path
) -> None:
    one, other = trucks
    one.begin("12 Elm Street")
    for truck in (one, other):
        through(truck, stick)
    lie = forged(one)
    put(stick, [lie])
    report = through(other, stick)
    assert (report.received, report.unsigned) == (1, 1)
    assert "Unsigned: 1 entry of these." in report.sentences()
    with other.open() as book:
        assert book.proofs([lie])[lie.id].state == "unsigned"


@pytest.mark.parametrize("how", ["another key", "no signature of the key"])
def test_an_entry_under_anothers_origin_with_a_seal_shows_as_wrongly_signed(
    trucks: tuple[Truck, Truck], stick: Path, how: str
) -> None:
    one, other = trucks
    one.begin("12 Elm Street")
    for truck in (one, other):
        through(truck, stick)
    lie = forged(one)
    seal = sealed(THIEF, "truck AB", lie.origin, lie.job_id, [(lie.seq, lie.id)], lie.wall)
    if how != "another key":
        seal = replace(seal, key=laptops(one)["truck AB"].key)
    put(stick, [lie], [seal])
    report = through(other, stick)
    assert (report.unsigned, report.wrongly_signed) == (0, 1)
    expected = "signs with another key" if how == "another key" else "Wrongly signed: 1 seals"
    assert expected in report.notes[0]
    assert states(other, of=one) == {"signed", "wrongly signed"}
    assert through(other, stick).notes == ()


@pytest.mark.parametrize("private", [None, THIEF])
def test_an_own_entry_that_this_laptop_did_not_sign_is_refused(
    trucks: tuple[Truck, Truck], stick: Path, private: bytes | None
) -> None:
    one, _other = trucks
    job = one.begin("12 Elm Street")
    through(one, stick)
    before, lie = one.exported(), forged(one)
    of = (lie.origin, lie.job_id, [(lie.seq, lie.id)], lie.wall)
    put(stick, [lie], [] if private is None else [sealed(private, "truck AB", *of)])
    report = through(one, stick)
    assert report.received == 0
    assert "claim to be this laptop's own" in report.notes[-1]
    assert one.exported() == before
    one.enter_static(job, "64")
    through(one, stick)
    assert verify(one.path).wrong == ()


def test_a_restored_book_gets_its_own_newer_entries_back(
    trucks: tuple[Truck, Truck], stick: Path
) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    through(one, stick)
    backup = one.path.with_name("backup")
    shutil.copy(one.path, backup)
    one.enter_static(job, "62")
    one.enter_static(job, "64")
    for truck in (one, other):
        through(truck, stick)
    shutil.copy(backup, one.path)
    one.enter_static(job, "66")
    report = through(one, stick)
    assert (report.received, report.unsigned, report.notes) == (2, 0, ())
    for truck in (other, one):
        through(truck, stick)
    assert one.exported() == other.exported()
    assert states(one) == {"signed"}


def test_a_book_without_seals_gets_its_unsigned_entries_back(
    trucks: tuple[Truck, Truck], stick: Path
) -> None:
    one, _ = trucks
    job = one.begin("12 Elm Street")
    backup = one.path.with_name("backup")
    shutil.copy(one.path, backup)
    one.enter_static(job, "62")
    with one.open() as book:
        put(stick, all_entries(book))
    shutil.copy(backup, one.path)
    report = through(one, stick)
    assert (report.received, report.unsigned, report.notes) == (1, 1, ())


def test_a_cloned_disk_keeps_both_branches(trucks: tuple[Truck, Truck], stick: Path) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    through(one, stick)
    shutil.rmtree(other.folder)
    shutil.copytree(one.folder, other.folder)
    one.enter_static(job, "62")
    other.enter_static(job, "64")
    for truck in (one, other, one, other, one):
        assert through(truck, stick).notes == ()
    assert one.exported() == other.exported()
    assert states(one) == states(other) == {"signed"}


def test_a_copied_book_signs_with_the_key_of_its_own_laptop(
    trucks: tuple[Truck, Truck], stick: Path
) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    one.enter_static(job, "61")
    shutil.copy(one.path, other.path)
    one.enter_static(job, "62")
    other.enter_static(job, "64")
    for truck in (other, one, other, one):
        assert through(truck, stick).notes == ()
    assert one.exported() == other.exported()
    assert states(one) == states(other) == {"signed"}
    assert laptops(one)["truck CD"].entries == 1


def test_entries_of_an_older_fieldbook_are_signed_later(
    trucks: tuple[Truck, Truck], stick: Path
) -> None:
    one, other = trucks
    one.begin("12 Elm Street")
    with one.open() as book:
        put(stick, all_entries(book))
        entries = len(all_entries(book))
    received = through(other, stick)
    assert received.received == received.unsigned == entries
    through(one, stick)
    through(other, stick)
    assert states(other) == {"signed"}


def test_an_older_fieldbook_passes_seals_over(trucks: tuple[Truck, Truck], stick: Path) -> None:
    one, _ = trucks
    one.begin("12 Elm Street")
    through(one, stick)
    (path,) = (stick / NAME).glob("*.gz")
    lines = gzip.decompress(path.read_bytes()).splitlines(keepends=True)
    first = json.loads(lines[0])
    # What an older fieldbook asks of the file: these keys, a line an entry, the hash at the end.
    assert first["fieldbook entries"] == 1
    assert first["entries"] == len(lines) - 2
    assert json.loads(lines[-1])["end"] == hashlib.sha256(b"".join(lines[:-1])).hexdigest()
    assert len(first["seals"]) == 1
    assert max(map(len, lines)) < 1 << 20


def test_an_exchange_of_one_property_carries_its_seals(
    trucks: tuple[Truck, Truck], tmp_path: Path
) -> None:
    from fieldbook.actions.exchange.bundles import receive_bundle, write_job_bundle

    one, other = trucks
    one.begin("3 Alder Lane")
    job = one.begin("12 Elm Street")
    one.enter_static(job, "60")
    file = tmp_path / "elm.gz"
    with one.open() as book:
        write_job_bundle(book, job, file, over=False, files=True)
    assert {seal.job_id for seal in read_bundle(file).seals} == {job}
    with other.open() as book:
        report = receive_bundle(book, file)
    assert (report.unsigned, report.notes) == (0, ())
    assert states(other) == {"signed"}


def test_undo_and_entry_work_with_a_key(trucks: tuple[Truck, Truck], stick: Path) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    for truck in (one, other):
        through(truck, stick)
    with one.open_job(job) as open_job:
        entering.enter_text(open_job, static(job), "70")
        open_job.book.undo(job, by="AB")
    for truck in (one, other):
        through(truck, stick)
    assert one.exported() == other.exported()
    assert states(other) == {"signed"}
