"""Three laptops that enter, exchange, are copied and restored, as a machine for Hypothesis.

After every step the machine asserts that no value is lost from sight; at the end all laptops
exchange with all, and it asserts that they hold the same. A test may also call the steps itself.
"""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule
from laptops import JOBS, Laptop, part_of, supply_of, terminal_of

from fieldbook.records.base import natural_id
from fieldbook.records.values import Value
from fieldbook.store.changes import Add, Keep, Put, Remove, Restore
from fieldbook.store.journal.entry import ADD, Entry

COUNT = 3
WHO = st.integers(0, COUNT - 1)
JOB = st.sampled_from((JOBS[0], *JOBS))
SLOT = st.sampled_from((1, 1, 1, 2))


class ThreeLaptops(RuleBasedStateMachine):
    """Three laptops; the clock of one is ten years behind, that of another ten years ahead."""

    def __init__(self) -> None:
        super().__init__()
        self.laptops = [Laptop("AB"), Laptop("CD", -10), Laptop("EF", 10)]
        self.images: list[bytes] = []
        self.touched: set[int] = set()
        begun = self.laptops[0]
        begun.add_job(JOBS[0])
        begun.act(
            JOBS[0], [Add("terminal", terminal_of(JOBS[0], 1), {"role": "zone", "number": 1})]
        )
        for other in self.laptops[1:]:
            other.receive(begun.entries())
        # A property of one laptop: elsewhere its rows may arrive before it does.
        begun.add_job(JOBS[1])
        begun.act(JOBS[1], [Put("supply", supply_of(JOBS[1]), "static_psi", 55.0)])

    @rule(who=WHO, job=JOB)
    def adds_a_property(self, who: int, job: str) -> None:
        self._touch(who).add_job(job)

    @rule(who=WHO, job=JOB, psi=st.sampled_from([50.0, 60.0, None]))
    def enters_the_static_pressure(self, who: int, job: str, psi: float | None) -> None:
        self._put(who, job, "supply", supply_of(job), "static_psi", psi)

    @rule(who=WHO, job=JOB, slot=SLOT, colour=st.sampled_from(["red", "blue", None]))
    def logs_a_wire(self, who: int, job: str, slot: int, colour: str | None) -> None:
        self._put(who, job, "terminal", terminal_of(job, slot), "colour", colour, number=slot)

    @rule(who=WHO, job=JOB, slot=SLOT, number=st.integers(1, 3))
    def numbers_a_zone(self, who: int, job: str, slot: int, number: int) -> None:
        self._put(
            who, job, "zone", natural_id(job, self.laptops[who].name, str(slot)), "number", number
        )

    @rule(who=WHO, job=JOB)
    def signs(self, who: int, job: str) -> None:
        laptop = self._touch(who)
        if laptop.row("job", job):
            row = {"kind": "price", "state": "signed", "signed_by": laptop.name}
            number = str(len(laptop.entries()))
            laptop.act(job, [Add("sign_off", natural_id(job, laptop.name, number), row)])

    @rule(who=WHO, job=JOB, slot=SLOT)
    def removes_a_terminal(self, who: int, job: str, slot: int) -> None:
        self._touch(who).act(job, [Remove("terminal", terminal_of(job, slot))])

    @rule(who=WHO, job=JOB, slot=SLOT)
    def keeps_a_terminal_or_puts_it_back(self, who: int, job: str, slot: int) -> None:
        laptop, row_id = self._touch(who), terminal_of(job, slot)
        here = laptop.row("terminal", row_id)
        laptop.act(job, [(Keep if here else Restore)("terminal", row_id)])

    @rule(who=WHO, job=JOB)
    def undoes(self, who: int, job: str) -> None:
        self._touch(who).undo(job)

    @rule(sender=WHO, receiver=WHO, seed=st.integers(0, 10**6))
    def gives_some(self, sender: int, receiver: int, seed: int) -> None:
        some = part_of(self.laptops[sender].entries(), seed)
        self._touch(receiver).receive(some)
        assert {entry.id for entry in some} <= self.laptops[receiver].ids()

    @rule(sender=WHO, receiver=WHO)
    def gives_all(self, sender: int, receiver: int) -> None:
        self._touch(receiver).receive(self.laptops[sender].entries())

    @rule(who=WHO)
    def is_backed_up(self, who: int) -> None:
        self.images.append(self.laptops[who].image())

    @rule(who=WHO, which=st.integers(0, 9), noticed=st.booleans())
    def is_restored_or_copied(self, who: int, which: int, *, noticed: bool) -> None:
        if self.images:
            self._touch(who).become(self.images[which % len(self.images)], noticed=noticed)

    def _put(
        self, who: int, job: str, table: str, row_id: str, column: str, value: Value, **seed: Value
    ) -> None:
        laptop = self._touch(who)
        if laptop.row("job", job):
            laptop.act(job, [Put(table, row_id, column, value, seed)])

    @invariant()
    def no_value_is_hidden(self) -> None:
        for who in self.touched:
            check_none_hidden(self.laptops[who])
            self.laptops[who].check_latest_versions()
        self.touched.clear()

    @rule()
    def equal_sets_are_equal_books(self) -> None:
        first, *others = self.laptops
        for other in others:
            if first.ids() == other.ids():
                assert_equal(first, other)

    def _touch(self, who: int) -> Laptop:
        self.touched.add(who)
        return self.laptops[who]

    def teardown(self) -> None:
        """All exchange with all, each in an order of its own, and come to hold the same."""
        for number, receiver in enumerate(self.laptops):
            for sender in self.laptops:
                given = sender.entries()
                receiver.receive(sorted(given, key=lambda one: (one.id[number], one.id)))
        for sender in self.laptops:
            self.laptops[0].receive(sender.entries())
            self.laptops[1].receive(reversed(sender.entries()))
            self.laptops[2].receive(sender.entries())
        for other in self.laptops[1:]:
            assert self.laptops[0].ids() == other.ids()
            assert_equal(self.laptops[0], other)
        for laptop in self.laptops:
            check_none_hidden(laptop)
            laptop.book.close()


def assert_equal(one: Laptop, other: Laptop) -> None:
    assert one.tables() == other.tables()
    assert one.conflicts() == other.conflicts()


def check_none_hidden(laptop: Laptop) -> None:
    """Assert that every value is shown, was superseded, waits, or is in an open conflict."""
    entries = laptop.entries()
    known = {entry.id: entry for entry in entries}
    replaced = {parent for entry in entries for parent in entry.parents}
    open_ids = {one for conflict in laptop.conflicts() for one in known if one in conflict[4]}
    waiting = ids_that_wait(entries)
    for entry in entries:
        if entry.id in replaced | open_ids | waiting:
            continue
        row = laptop.row(entry.table, entry.row_id)
        if not row and not laptop.row("job", entry.job_id):
            continue  # The row waits for its property.
        values = entry.row if entry.op == ADD else {entry.op: entry.value_of(entry.op)}
        if entry.op == "_deleted":
            assert not row, entry
            continue
        columns = [one for one in values if one not in ("entered_by", "entered_at")]
        later = {one.op for one in entries if entry.id in ancestors(one, known)}
        for column in columns:
            if column not in later:
                assert row.get(column) == values[column], (entry, row)


def ancestors(entry: Entry, known: dict[str, Entry]) -> set[str]:
    """The ids of all entries that an entry descends from."""
    found, left = set[str](), list(entry.parents)
    while left:
        one = left.pop()
        if one not in found and one in known:
            found.add(one)
            left.extend(known[one].parents)
    return found


def ids_that_wait(entries: Sequence[Entry]) -> set[str]:
    """The ids of entries with an ancestor that did not arrive."""
    known = {entry.id: entry for entry in entries}
    waiting = {one.id for one in entries if any(parent not in known for parent in one.parents)}
    while more := {
        one.id for one in entries if one.id not in waiting and set(one.parents) & waiting
    }:
        waiting |= more
    return waiting
