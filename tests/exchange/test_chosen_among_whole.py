"""One laptop chooses and puts away among laptops that hold all: the others miss nothing.

Steps are taken at random: work, exchanges through two sticks, fetches, properties put away. In the
end all whole books hold every entry that was ever made, and show the same, byte for byte.
"""

from __future__ import annotations

import random
from contextlib import suppress
from pathlib import Path

from chosen_trucks import Chosen, exported, through
from examples import few_or_many
from trucks import Truck

from fieldbook.actions.holding.leave_laptop import put_away
from fieldbook.actions.refused import RefusedError
from fieldbook.records.base import new_id
from fieldbook.store.changes import Add
from fieldbook.store.errors import BookError
from fieldbook.store.mending.verify import verify

_STEPS = 25
_SIGNED = {"kind": "handover", "state": "signed", "signed_at": "2026-05-04T10:00:00+00:00"}


class Firm:
    """Two whole laptops, a third that chooses, two sticks, and every entry that was ever made."""

    def __init__(self, folder: Path, seed: int) -> None:
        self.pick = random.Random(seed)
        self.chosen = Chosen(folder, "EF")
        self.whole = [Truck(folder, "AB"), Truck(folder, "CD")]
        self.trucks = [*self.whole, self.chosen]
        self.sticks = [folder / "one", folder / "two"]
        for stick in self.sticks:
            stick.mkdir()
        self.made: set[str] = set()
        for truck in self.trucks:
            self.begins(truck)

    def begins(self, truck: Truck) -> None:
        """A truck begins a property."""
        truck.begin(f"{self.pick.randrange(100)} Elm Street")

    def works(self, truck: Truck) -> None:
        """A truck enters something on a property that it holds."""
        truck.enter_static(self.pick.choice(self.held(truck)), str(self.pick.randrange(40, 90)))

    def hands_over(self, truck: Truck) -> None:
        """A truck hands a property over."""
        job_id = self.pick.choice(self.held(truck))
        with truck.open() as book:
            book.commit(job_id, [Add("sign_off", new_id(), _SIGNED)], by=truck.who, what="x")

    def exchanges(self, truck: Truck) -> None:
        """A truck exchanges through a stick."""
        through(truck, self.pick.choice(self.sticks))

    def fetches(self, _truck: Truck) -> None:
        """The third laptop fetches a property that it has a line of."""
        with self.chosen.open() as book:
            far = [line.job_id for line in book.keeping.elsewhere()]
        if far:
            with suppress(RefusedError):
                self.chosen.fetch_from(self.pick.choice(self.sticks), self.pick.choice(far))

    def puts_away(self, _truck: Truck) -> None:
        """The third laptop puts a property away, unless that is refused."""
        job_id = self.pick.choice(self.held(self.chosen))
        with self.chosen.open() as book, suppress(RefusedError, BookError):
            put_away(book, job_id)

    def held(self, truck: Truck) -> list[str]:
        """The properties on a truck's board, those on it alone."""
        with truck.open() as book:
            return sorted(job.id for job in book.jobs())

    def take_a_step(self) -> None:
        """One step, after which every entry is noted that a truck has."""
        steps = [self.works, self.exchanges, self.exchanges, self.fetches, self.puts_away]
        step = self.pick.choice([*steps, self.hands_over, self.begins])
        step(self.pick.choice(self.trucks))
        for truck in self.trucks:
            self.made |= ids(truck)

    def exchange_all(self) -> None:
        """Everybody exchanges through both sticks until nothing more can be to come."""
        for _ in range(2):
            for truck in self.trucks:
                for stick in self.sticks:
                    through(truck, stick)


def ids(truck: Truck) -> set[str]:
    """The ids of a truck's entries."""
    with truck.open() as book:
        return {entry.id for _, entry in book.shared.entries_not_from([], 0)}


@few_or_many("seeds", range(1), range(1, 40))
def test_whole_books_end_alike_whatever_another_chooses(tmp_path: Path, seeds: range) -> None:
    for seed in seeds:
        folder = tmp_path / str(seed)
        folder.mkdir()
        one_firm(folder, seed)


def one_firm(folder: Path, seed: int) -> None:
    """Take the steps of one seed, and look at what everybody holds in the end."""
    firm = Firm(folder, seed)
    for _ in range(_STEPS):
        firm.take_a_step()
    firm.exchange_all()
    one, two = firm.whole
    assert ids(one) == ids(two)
    assert firm.made <= ids(one)
    assert one.exported() == two.exported()
    for job_id in firm.held(firm.chosen):
        assert exported(firm.chosen, job_id) == exported(one, job_id)
    assert [verify(truck.path).wrong for truck in firm.trucks] == [(), (), ()]
