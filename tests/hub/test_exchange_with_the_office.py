"""Laptops meet at the office: everything gets everywhere, whatever breaks in between."""

from __future__ import annotations

from pathlib import Path

import pytest
from an_office import Office
from trucks import Truck

from fieldbook.store.verify import verify


@pytest.fixture
def trucks(office: Office, tmp_path: Path) -> tuple[Truck, Truck]:
    return Truck(office, tmp_path, "AB"), Truck(office, tmp_path, "CD")


def test_two_laptops_meet(trucks: tuple[Truck, Truck]) -> None:
    one, two = trucks
    elm, oak = one.add("12 Elm Street", 3), two.add("9 Oak Street", 2)
    first = one.exchange()
    assert (first.sent, first.got, first.waiting) == (len(one_entries(one)), 0, 0)
    second = two.exchange()
    assert second.sent > 0
    assert second.got >= first.sent
    one.exchange()
    assert one.jobs() == two.jobs()
    for truck in trucks:
        again = truck.exchange()
        assert (again.sent, again.got) == (0, 0)
        assert verify(truck.path).wrong == ()
    one.enter(elm, "A")
    two.enter(elm, "B")
    two.enter(oak, "C")
    for truck in (one, two, one):
        truck.exchange()
    assert one.jobs() == two.jobs()
    with one.work(elm) as here, two.work(elm) as there:
        assert [len(conflict.versions) for conflict in here.job.conflicts] == [2]
        assert here.job.conflicts == there.job.conflicts


def one_entries(truck: Truck) -> list[str]:
    """The ids of a book's entries."""
    from fieldbook.store.book import Book
    from fieldbook.store.seal import entries_after

    with Book(truck.path) as book:
        return [entry.id for _, entry in book.ask(lambda c: list(entries_after(c)))]
