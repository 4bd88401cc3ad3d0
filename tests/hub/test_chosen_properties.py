"""A laptop that holds chosen properties takes from the office those entries alone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from an_office import Office
from office_trucks import OfficeTruck

from fieldbook.actions.board.board import Board
from fieldbook.actions.holding.fetch_property import OfficeFetch, fetch_from_office
from fieldbook.actions.holding.leave_laptop import put_away
from fieldbook.actions.properties import remove_property
from fieldbook.actions.refused import RefusedError
from fieldbook.records.base import new_id
from fieldbook.store.changes import Add
from fieldbook.store.mending.rebuild import rebuild
from fieldbook.store.mending.verify import verify
from fieldbook.store.paths import STATE_VARIABLE

SIGNED = {"kind": "handover", "state": "signed", "signed_at": "2026-05-04T10:00:00+00:00"}


@pytest.fixture
def office(server: str) -> Iterator[Office]:
    """A hub for one test."""
    made = Office(server)
    yield made
    made.drop()


class ChosenTruck(OfficeTruck):
    """A laptop that holds chosen properties, and what it holds."""

    def choose(self) -> None:
        """Hold chosen properties from now on."""
        with self.open() as book:
            book.keeping.keep_chosen()

    def fetch(self, job_id: str) -> None:
        """Fetch a property from the office."""
        with self.open() as book:
            fetch_from_office(book, self.url, job_id, lambda _done, _total: None)

    def here(self) -> set[str]:
        """The jobs that are here."""
        with self.open() as book:
            return set(book.keeping.held_jobs())

    def lines(self) -> dict[str, str]:
        """By address, what the lines of the others were made from."""
        with self.open() as book:
            return {far.address: far.made_from for far in book.keeping.elsewhere()}


def test_only_chosen_properties_come_and_the_others_have_lines(
    office: Office, tmp_path: Path
) -> None:
    one, two = OfficeTruck(office, tmp_path, "AB"), ChosenTruck(office, tmp_path, "CD")
    elm, oak = one.add("12 Elm Street", 3), one.add("9 Oak Street", 2)
    one.exchange()
    two.choose()
    own = two.add("3 Alder Lane")
    report = two.exchange()
    assert (report.received, two.here()) == (0, {own})
    assert set(two.lines()) == {"12 Elm Street", "9 Oak Street"}
    two.fetch(elm)
    assert two.here() == {own, elm}
    assert set(two.lines()) == {"9 Oak Street"}
    one.enter(elm, "new")
    one.enter(oak, "newer")
    one.exchange()
    assert two.exchange().received == 1
    one.exchange()
    with one.open() as book:
        of_elm = book.shared.entries_of_job(elm)
    with two.open() as book:
        assert book.shared.entries_of_job(elm) == of_elm
        assert [far.customer for far in book.keeping.elsewhere()] == ["newer"]
    assert verify(two.path).wrong == verify(one.path).wrong == ()


def test_a_book_that_held_the_whole_firm_takes_only_what_it_has_from_now_on(
    office: Office, tmp_path: Path
) -> None:
    one, two = OfficeTruck(office, tmp_path, "AB"), ChosenTruck(office, tmp_path, "CD")
    elm = one.add("12 Elm Street", 3)
    one.exchange()
    two.exchange()
    two.choose()
    oak = one.add("9 Oak Street", 2)
    one.enter(elm, "new")
    one.exchange()
    assert two.exchange().received == 1
    assert two.here() == {elm}
    with two.open() as book:
        book.keeping.keep_whole()
    two.exchange()
    assert two.here() == {elm, oak}
    assert (two.jobs(), two.lines()) == (one.jobs(), {})


def test_what_comes_by_another_way_is_completed_from_the_office(
    office: Office, tmp_path: Path
) -> None:
    one, two = OfficeTruck(office, tmp_path, "AB"), ChosenTruck(office, tmp_path, "CD")
    elm = one.add("12 Elm Street", 3)
    one.exchange()
    two.choose()
    two.exchange()
    some = one.entries()[:2]
    with two.open() as book:
        book.receive(some, "a file of one property")
    assert two.here() == {elm}
    assert two.exchange().received == len(one.ids()) - 2
    assert (two.jobs(), two.lines()) == (one.jobs(), {})


def test_a_property_put_away_is_at_the_office_and_comes_back(
    office: Office, tmp_path: Path
) -> None:
    one, two = OfficeTruck(office, tmp_path, "AB"), ChosenTruck(office, tmp_path, "CD")
    two.choose()
    elm, oak = two.add("12 Elm Street", 3), two.add("9 Oak Street", 2)
    with two.open() as book:
        book.commit(elm, [Add("sign_off", new_id(), SIGNED)], by="CD", what="signed")
        origin = book.origin
        with pytest.raises(RefusedError, match="not known to be anywhere else"):
            put_away(book, elm)
    two.exchange()
    one.exchange()
    before = one.jobs()
    with two.open() as book:
        put_away(book, elm)
    again = two.exchange()
    assert (again.sent, again.received, again.notes) == (0, 0, ())
    two.enter(oak, "A")
    one.enter(elm, "B")
    one.exchange()
    assert (two.exchange().sent, two.here()) == (1, {oak})
    assert two.lines().keys() == {"12 Elm Street"}
    two.fetch(elm)
    one.exchange()
    assert two.jobs() == one.jobs() != before
    with two.open() as book:
        assert (book.origin, book.count_missing()) == (origin, 0)
    assert verify(two.path).wrong == ()


def test_a_line_shows_what_the_office_worked_out(office: Office, tmp_path: Path) -> None:
    one, two = OfficeTruck(office, tmp_path, "AB"), ChosenTruck(office, tmp_path, "CD")
    two.choose()
    elm = one.add("12 Elm Street", 1)
    one.exchange()
    two.exchange()
    with one.open() as whole, two.open() as book:
        (row,), (far,) = Board(whole).all_rows(), Board(book).all_rows()
    assert (far.next, far.places, far.open) == (row.next, row.places, row.open)
    assert far.elsewhere.startswith("entry ")
    with one.open() as book:
        remove_property(book, elm, "AB")
    one.exchange()
    two.exchange()
    with two.open() as book:
        assert Board(book).all_rows() == []


def test_the_app_fetches_a_property_while_a_thread_waits_for_the_network(
    office: Office, tmp_path: Path
) -> None:
    one, two = OfficeTruck(office, tmp_path, "AB"), ChosenTruck(office, tmp_path, "CD")
    two.choose()
    elm = one.add("12 Elm Street", 3)
    one.exchange()
    two.exchange()
    # Its seal is newer than what this laptop received of the office.
    one.enter(elm, "meanwhile")
    one.exchange()
    with two.open() as book:
        fetching = OfficeFetch(book, two.url, elm)
        for done, total in fetching.steps():
            assert done <= total
        report = fetching.report()
        assert report.received == len(one.ids())
        assert (report.unsigned, report.wrongly_signed, report.notes) == (0, 0, ())
        again = OfficeFetch(book, two.url, "no such property")
        with pytest.raises(RefusedError, match="The office has no entries of that property"):
            list(again.steps())
    assert two.exchange().received == 0
    assert (two.jobs(), two.lines()) == (one.jobs(), {})


def test_an_office_that_lost_what_was_put_away_is_named_and_gets_it_from_backups(
    office: Office, tmp_path: Path
) -> None:
    two = ChosenTruck(office, tmp_path, "CD")
    two.choose()
    elm = two.add("12 Elm Street", 3)
    two.add("9 Oak Street", 2)
    with two.open() as book:
        book.commit(elm, [Add("sign_off", new_id(), SIGNED)], by="CD", what="signed")
    two.exchange()
    with two.open() as book:
        ids = {entry.id for entry in book.shared.entries_of_job(elm)}
        put_away(book, elm)
    office.ask("ALTER TABLE fieldbook.entry DISABLE TRIGGER USER")
    office.ask("DELETE FROM fieldbook.entry WHERE job_id = %s", elm)
    office.ask("ALTER TABLE fieldbook.entry ENABLE TRIGGER USER")
    report = two.exchange()
    assert any(note.startswith(f"{len(ids)} entries that were put away") for note in report.notes)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(STATE_VARIABLE, str(two.state))
        rebuild(two.path, two.path.with_name("all.sqlite"))
    two.path = two.path.with_name("all.sqlite")
    assert two.exchange().sent == len(ids)
    assert two.exchange().notes == ()
