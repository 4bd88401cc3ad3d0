"""Laptops exchange through the office: all come to hold all entries, in whatever order."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import psycopg
import pytest
from an_office import Office
from made_entries import entry
from office_trucks import OfficeTruck

from fieldbook.store.mending.rebuild import rebuild
from fieldbook.store.mending.verify import verify
from fieldbook.store.office.connection import OfficeConnection
from fieldbook.store.office.setup import let_send
from fieldbook.store.sharing import OwnEntries, Shared


@pytest.fixture
def office(server: str) -> Iterator[Office]:
    """A hub for one test."""
    made = Office(server)
    yield made
    made.drop()


def ids_at(office: Office) -> set[object]:
    """The ids of the entries that the office holds."""
    return {row[0] for row in office.ask("SELECT id FROM fieldbook.entry")}


def test_two_laptops_come_to_hold_the_same(office: Office, tmp_path: Path) -> None:
    one, two = OfficeTruck(office, tmp_path, "AB"), OfficeTruck(office, tmp_path, "CD")
    elm, oak = one.add("12 Elm Street", 3), two.add("9 Oak Street", 2)
    first = one.exchange()
    assert (first.sent, first.received, first.waiting) == (len(one.ids()), 0, 0)
    assert two.exchange().received == first.sent
    one.exchange()
    assert one.jobs() == two.jobs()
    for truck in (one, two):
        again = truck.exchange()
        assert (again.sent, again.received, again.notes) == (0, 0, ())
        assert verify(truck.path).wrong == ()
    one.enter(elm, "A")
    two.enter(elm, "B")
    two.enter(oak, "C")
    for truck in (one, two, one):
        truck.exchange()
    assert one.ids() == two.ids() == ids_at(office)
    with one.open_job(elm) as here, two.open_job(elm) as there:
        assert [len(conflict.versions) for conflict in here.job.conflicts] == [2]
        assert here.job.conflicts == there.job.conflicts


def test_an_entry_waits_until_another_laptop_sends_its_parents(
    office: Office, tmp_path: Path
) -> None:
    one, two, three = (OfficeTruck(office, tmp_path, by) for by in ("AB", "CD", "EF"))
    job_id = one.add("12 Elm Street", 2)
    with two.open() as book:
        book.receive(one.entries(), "a folder")
    two.enter(job_id, "X")
    assert (two.exchange().sent, three.exchange().waiting, three.jobs()) == (1, 1, [])
    one.exchange()
    last = three.exchange()
    assert (last.received, last.waiting) == (len(one.ids()) - 1, 0)
    assert three.jobs() == two.jobs()


@pytest.mark.parametrize("same_name", [True, False])
def test_a_copied_laptop_and_its_original_exchange(
    office: Office, tmp_path: Path, same_name: bool
) -> None:
    one = OfficeTruck(office, tmp_path, "AB")
    job_id = one.add("12 Elm Street", 2)
    one.exchange()
    two = OfficeTruck(office, tmp_path, "CD", one.url if same_name else "")
    one.copy_to(two)
    for number in range(3):
        one.enter(job_id, f"one {number}")
        two.enter(job_id, f"two {number}")
    one.exchange()
    found = two.exchange()
    if not same_name:
        (note,) = found.notes
        assert note.startswith("3 entries have an origin that the laptop truck-")
        origin = note.split("let-send URL ")[1].split()[0]
        let_send(office.url, origin, two.url.split("//")[1].split(":")[0])
        two.exchange()
    for truck in (one, two, one, two):
        truck.enter(job_id, f"{truck.who} afterwards")
        truck.exchange()
    assert one.exchange().sent == 0
    assert two.exchange().notes == ()
    assert one.ids() == two.ids() == ids_at(office)
    assert one.jobs() == two.jobs()


@pytest.mark.parametrize("lost", ["n > 4", "n % 3 = 1", "n > 0"])
def test_a_restored_office_receives_again_what_it_lost(
    office: Office, tmp_path: Path, lost: str
) -> None:
    one, two = OfficeTruck(office, tmp_path, "AB"), OfficeTruck(office, tmp_path, "CD")
    elm = one.add("12 Elm Street", 3)
    two.add("9 Oak Street", 3)
    for truck in (one, two, one):
        truck.exchange()
    all_ids = ids_at(office)
    office.ask("SET session_replication_role = replica; DELETE FROM fieldbook.entry WHERE " + lost)
    assert ids_at(office) < all_ids
    two.enter(elm, "meanwhile")
    for truck in (two, one):
        truck.exchange()
    assert ids_at(office) == all_ids | two.ids()
    assert one.exchange().sent == 0
    three = OfficeTruck(office, tmp_path, "EF")
    three.exchange()
    assert three.jobs() == one.jobs() == two.jobs()
    shown = office.ask("SELECT customer FROM office.job ORDER BY customer")
    assert shown == [("CD 2",), ("meanwhile",)]


def test_a_restored_book_receives_again_what_it_lost(office: Office, tmp_path: Path) -> None:
    one = OfficeTruck(office, tmp_path, "AB")
    job_id = one.add("12 Elm Street", 2)
    one.exchange()
    old = tmp_path / "old.sqlite"
    shutil.copy(one.path, old)
    one.enter(job_id, "later")
    one.exchange()
    before, ids = one.jobs(), one.ids()
    shutil.copy(old, one.path)
    assert one.exchange().received == 1
    assert (one.jobs(), one.ids()) == (before, ids)
    again = OfficeTruck(office, tmp_path, "GH", one.url)
    rebuild(one.path, again.path)
    assert (again.exchange().sent, again.ids()) == (0, ids)
    empty = OfficeTruck(office, tmp_path, "IJ", one.url)
    assert empty.exchange().received == len(ids)
    assert empty.jobs() == before


def test_an_altered_entry_is_refused_with_all_of_its_batch(office: Office, tmp_path: Path) -> None:
    one, two = OfficeTruck(office, tmp_path, "AB"), OfficeTruck(office, tmp_path, "CD")
    one.add("12 Elm Street", 2)
    one.exchange()
    two.exchange()
    one.add("14 Elm Street", 2)
    one.exchange()
    office.ask(
        "SET session_replication_role = replica;"
        "ALTER TABLE fieldbook.entry DROP CONSTRAINT as_it_was_sealed;"
        "UPDATE fieldbook.entry SET who = 'ZZ' WHERE n = (SELECT max(n) - 1 FROM fieldbook.entry)"
    )
    before = two.ids()
    with pytest.raises(Exception, match=r"Entry \d+ of the office is not valid"):
        two.exchange()
    assert two.ids() == before


def test_an_entry_that_the_database_cannot_hold_stays_and_is_reported(
    office: Office, tmp_path: Path
) -> None:
    one = OfficeTruck(office, tmp_path, "AB")
    one.add("12 Elm Street")
    with one.open() as book:
        own = book.origin
        book.receive([entry(origin=own, seq=90, who="A\0B", op="name", value='"x"')], "a folder")
    found = one.exchange()
    assert found.sent == len(one.ids()) - 1
    assert "1 entries hold characters" in found.notes[0]


def test_an_unknown_table_and_column_are_kept(office: Office, tmp_path: Path) -> None:
    one = OfficeTruck(office, tmp_path, "AB")
    job = entry(origin="x", table="job", row_id="j", value='{"address":"12 Elm","later":1}')
    row = '{"job_id":"j","a":2}'
    entries = [job, entry(origin="x", seq=2, prev=job.id, table="later", row_id="l", value=row)]
    with one.open() as book:
        book.adopt_origins(["x"])
        book.receive(entries, "a folder")
    assert one.exchange().sent == 2
    assert office.ask('SELECT cells FROM fieldbook.row WHERE "table" = %s', "later")
    two = OfficeTruck(office, tmp_path, "CD")
    two.exchange()
    assert two.ids() == one.ids()


def test_an_exchange_of_nothing_new_asks_the_same_of_a_book_of_any_size(
    office: Office, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    truck, asked, read = OfficeTruck(office, tmp_path, "AB"), list[str](), list[int]()
    ask: Callable[..., object] = psycopg.Connection.execute
    own = Shared.own_entries_after

    def asking(connection: OfficeConnection, query: bytes, *rest: object, **more: bool) -> object:
        asked.append(str(query))
        return ask(connection, query, *rest, **more)

    def reading(self: Shared, number: int) -> dict[str, OwnEntries]:
        found = own(self, number)
        read.append(sum(len(entries.ids) for entries in found.values()))
        return found

    monkeypatch.setattr(psycopg.Connection, "execute", asking)
    monkeypatch.setattr(Shared, "own_entries_after", reading)
    found = []
    for customers in (1, 40):
        truck.add("12 Elm Street", customers)
        truck.exchange()
        asked.clear()
        again = truck.exchange()
        assert (again.sent, again.received) == (0, 0)
        # The office hashes no ids of an origin either.
        assert not any("string_agg" in query for query in asked)
        found.append(list(asked))
    assert found[0] == found[1]
    assert read[1::2] == [0, 0]
    # The second time only what was new is read and compared.
    assert 0 < read[2] < len(truck.ids())
