"""The key of a laptop: kept, spoilt, lost, compared by its words, distrusted."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from sealed_trucks import THIEF, forged, laptops, put, states, through
from trucks import Truck
from two_books import all_entries

from fieldbook.store.errors import BookError
from fieldbook.store.paths import STATE_VARIABLE
from fieldbook.store.seals.laptop_key import key_path, name_laptop, public_key
from fieldbook.store.seals.seal import public_of, sealed


def test_a_spoilt_key_is_said_and_loses_nothing(trucks: tuple[Truck, Truck], stick: Path) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    with one.open():
        name_laptop("truck AB")
        content = key_path().read_text("utf-8")
        key_path().write_text(content.replace(content[40], "g", 1), "utf-8")
        spoilt = key_path().read_text("utf-8")
    report = through(one, stick)
    assert "key" in report.notes[0]
    assert "can't be read" in report.notes[0]
    received = through(other, stick)
    assert received.received == received.unsigned == report.sent
    assert (one.state / key_path().name).read_text("utf-8") == spoilt
    # A copy of the file mends it, and what went unsigned is signed afterwards.
    (one.state / key_path().name).write_text(content, "utf-8")
    one.enter_static(job, "63")
    for truck in (one, other):
        assert through(truck, stick).notes == ()
    assert states(other) == {"signed"}


def test_a_lost_key_starts_a_new_origin(trucks: tuple[Truck, Truck], stick: Path) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    through(one, stick)
    (one.state / "laptop-key.json").unlink()
    one.enter_static(job, "63")
    through(one, stick)
    one.enter_static(job, "65")
    for truck in (one, other):
        assert through(truck, stick).notes == ()
    assert states(other) == {"signed", "unsigned"}
    assert one.exported() == other.exported()


def test_a_compared_key_is_the_one_that_signs(trucks: tuple[Truck, Truck], stick: Path) -> None:
    one, other = trucks
    one.begin("12 Elm Street")
    with one.open() as book:
        entries = all_entries(book)
    of = (entries[0].origin, entries[0].job_id, [(e.seq, e.id) for e in entries], entries[0].wall)
    put(stick, entries, [sealed(THIEF, "a thief", *of)])
    through(other, stick)
    assert laptops(other)["a thief"].trust == "not compared"
    through(one, stick)
    assert "another key" in through(other, stick).notes[0]
    assert laptops(other)["truck AB"].another_key
    with other.open() as book:
        book.laptops.mark_compared(book.laptops.named("truck AB").key, "CD")
    known = laptops(other)
    assert (known["truck AB"].trust, known["truck AB"].marked_by) == ("compared", "CD")
    assert not known["truck AB"].another_key
    assert known["a thief"].another_key
    assert states(other) == {"signed"}
    assert laptops(one)["truck AB"].trust == "this laptop"


def test_a_distrusted_laptops_later_entries_are_refused(
    trucks: tuple[Truck, Truck], stick: Path
) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    for truck in (one, other):
        through(truck, stick)
    before = other.exported()
    with other.open() as book:
        book.laptops.distrust(book.laptops.named("truck AB").key, "CD")
        with pytest.raises(BookError, match="own key"):
            book.laptops.distrust(public_key(), "CD")
    one.enter_static(job, "20")
    through(one, stick)
    report = through(other, stick)
    assert (report.received, report.notes) == (
        0,
        ("Entries that the distrusted laptop truck AB made since it was distrusted: 1 refused.",),
    )
    assert other.exported() == before
    assert laptops(other)["truck AB"].trust == "distrusted"
    assert states(other, of=one) == {"signed"}
    # Under a new origin of the same key as well.
    lie = forged(one, origin="9" * 36, seq=1, prev="")
    with one.open():
        private = bytes.fromhex(json.loads(key_path().read_text("utf-8"))["private"])
    assert public_of(private) == laptops(one)["truck AB"].key
    put(stick, [lie], [sealed(private, "x", lie.origin, lie.job_id, [(1, lie.id)], lie.wall)])
    assert through(other, stick).received == 0
    with other.open() as book:
        book.laptops.trust_again(book.laptops.named("truck AB").key)
    through(other, stick)
    assert "20" in str(other.exported())


def test_the_key_is_the_owners_alone_and_in_no_book(
    trucks: tuple[Truck, Truck], stick: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, _ = trucks
    one.begin("12 Elm Street")
    through(one, stick)
    monkeypatch.setenv(STATE_VARIABLE, str(one.state))
    assert key_path().stat().st_mode & 0o777 == 0o600
    private = json.loads(key_path().read_text("utf-8"))["private"]
    for file in [one.path, *stick.rglob("*.gz")]:
        content = file.read_bytes()
        assert private.encode() not in content
        assert bytes.fromhex(private) not in content


def test_copies_of_a_laptop_that_had_no_key_meet_once_their_words_are_compared(
    trucks: tuple[Truck, Truck], stick: Path
) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    other_key = (other.state / "laptop-key.json").read_text("utf-8")
    shutil.rmtree(other.folder)
    shutil.copytree(one.folder, other.folder)
    (other.state / "laptop-key.json").write_text(other_key, "utf-8")
    one.enter_static(job, "62")
    other.enter_static(job, "64")
    for truck in (one, other):
        through(truck, stick)
    notes = through(one, stick).notes
    assert "signs with another key" in notes[0]
    assert "compare words" in notes[1]
    for truck, name in ((one, "truck CD"), (other, "truck AB")):
        with truck.open() as book:
            book.laptops.mark_compared(book.laptops.named(name).key, truck.who)
    for truck in (one, other, one, other, one):
        assert through(truck, stick).notes == ()
    assert one.exported() == other.exported()
    assert states(one) == states(other) == {"signed"}
