"""What nothing proves the maker of shows as such: in verify, in a cell's history, in a dispute."""

from __future__ import annotations

from pathlib import Path

import pytest
from sealed_trucks import THIEF, forged, laptops, put, states, through
from trucks import Truck, static

from fieldbook.actions.cell_history import cell_history
from fieldbook.actions.disputes.claim_entries import claim_of
from fieldbook.store.mending.in_place import rebuild_in_place
from fieldbook.store.mending.verify import verify
from fieldbook.store.paths import STATE_VARIABLE
from fieldbook.store.seals.seal import sealed
from fieldbook.store.sqlite.book_connection import Connection


@pytest.fixture
def lied_to(trucks: tuple[Truck, Truck], stick: Path) -> tuple[Truck, str]:
    """A truck that received signed entries, one without a seal, and one that a thief sealed."""
    one, other = trucks
    job = one.begin("12 Elm Street")
    for truck in (one, other):
        through(truck, stick)
    put(stick, [forged(one)])
    lie = forged(one, value="98.0")
    of = (lie.origin, lie.job_id, [(lie.seq, lie.id)], lie.wall)
    put(stick, [lie], [sealed(THIEF, "truck AB", *of)])
    through(other, stick)
    return other, job


def test_verify_counts_what_is_signed(lied_to: tuple[Truck, str]) -> None:
    truck, _ = lied_to
    found = verify(truck.path)
    assert (found.wrong, found.signed) == ((), "Signed: 4; unsigned: 1; wrongly signed: 1.")


def test_verify_finds_a_spoilt_seal_and_a_rebuild_leaves_it_out(
    trucks: tuple[Truck, Truck], stick: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, other = trucks
    one.begin("12 Elm Street")
    other.begin("3 Alder Lane")
    for truck in (one, other, one):
        through(truck, stick)
    name = "truck CD"
    with one.open() as book:
        book.laptops.mark_compared(book.laptops.named(name).key, "AB")
    connection = Connection(str(one.path))
    connection.run("UPDATE seal SET name = 'another' WHERE name = ?", (name,))
    connection.close()
    assert "A laptop's signature in the book is spoilt" in verify(one.path).wrong[0]
    monkeypatch.setenv(STATE_VARIABLE, str(one.state))
    rebuild_in_place(one.path)
    assert verify(one.path).wrong == ()
    assert states(one, of=one) == {"signed"}
    # The backups hold it as it was signed.
    assert states(one, of=other) <= {"signed", "unsigned"}
    through(one, stick)
    assert states(one) == {"signed"}
    assert laptops(one)[name].key == laptops(other)[name].key


def test_a_cells_history_says_what_is_not_proven(lied_to: tuple[Truck, str]) -> None:
    truck, job = lied_to
    with truck.open_job(job) as open_job:
        turns = cell_history(open_job, static(job))
    said = {turn.became: turn.laptop.partition(", ")[2] for turn in turns}
    assert said == {"60 psi": "", "99 psi": "unsigned", "98 psi": "wrongly signed"}


def test_a_dispute_says_what_is_not_proven(lied_to: tuple[Truck, str]) -> None:
    truck, job = lied_to
    with truck.open() as book:
        claim = claim_of(book, book.load(job), "The pressure was 60", ["supply"])
    doubts = [entry.laptop.partition(", ")[2] for entry in claim.entries if entry.who == "XY"]
    assert sorted(doubts) == ["unsigned", "wrongly signed"]
    assert not any("signed" in entry.laptop for entry in claim.entries if entry.who == "AB")
