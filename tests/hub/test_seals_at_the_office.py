"""Seals at the office: they come before their entries; no laptop can bend those of another."""

from __future__ import annotations

import json
from pathlib import Path

import psycopg
import pytest
from an_office import Office
from office_trucks import OfficeTruck
from psycopg import errors
from sealed_trucks import THIEF, laptops, states, through

from fieldbook.store.office.sealed.seals_sql import COLUMNS
from fieldbook.store.office.setup import add_laptop, remove_laptop
from fieldbook.store.seals.seal import Seal, as_plain, public_of, sealed

ADD = f"""
INSERT INTO fieldbook.seal ({", ".join(COLUMNS)})
VALUES ({", ".join(f"%({name})s" for name in COLUMNS)})
"""


@pytest.fixture
def trucks(office: Office, tmp_path: Path) -> tuple[OfficeTruck, OfficeTruck]:
    """Two laptops that are let in, and have exchanged once."""
    one, two = OfficeTruck(office, tmp_path, "AB"), OfficeTruck(office, tmp_path, "CD")
    one.add("12 Elm Street", customers=2)
    two.add("3 Alder Lane")
    for truck in (one, two, one):
        truck.exchange()
    return one, two


def name_of(truck: OfficeTruck) -> str:
    """The name of a truck's role."""
    return truck.url.split("//")[1].split(":")[0]


def own_seal(truck: OfficeTruck) -> Seal:
    """A seal that a truck made."""
    with truck.open() as book:
        return book.shared.own_seals_after(0)[0]


def add(url: str, seal: Seal, **changed: object) -> None:
    """Add a seal to the hub, as a laptop's role."""
    with psycopg.connect(url, autocommit=True) as connection:
        values = {**as_plain(seal), "id": seal.id, **changed}
        connection.execute(ADD.encode(), values)


def test_entries_of_the_office_are_signed(trucks: tuple[OfficeTruck, OfficeTruck]) -> None:
    one, two = trucks
    assert states(one) == states(two) == {"signed"}
    report = two.exchange()
    assert (report.unsigned, report.notes) == (0, ())
    with one.open() as here:
        keys = {laptop.key: laptop.trust for laptop in here.laptops.listed()}
    assert keys[own_seal(one).key] == "this laptop"
    assert keys[own_seal(two).key] == "not compared"


def test_a_restored_office_gets_the_seals_again(
    office: Office, trucks: tuple[OfficeTruck, OfficeTruck], tmp_path: Path
) -> None:
    one, two = trucks
    # By hand, as a restore of an older backup would: no laptop can.
    office.ask("ALTER TABLE fieldbook.seal DISABLE TRIGGER kept")
    office.ask("DELETE FROM fieldbook.seal")
    office.ask("ALTER TABLE fieldbook.seal ENABLE TRIGGER kept")
    for truck in (one, two):
        truck.exchange()
    third = OfficeTruck(office, tmp_path, "EF")
    third.exchange()
    assert states(third, of=one) == states(third, of=two) == {"signed"}


def test_an_older_hub_has_no_seals_and_goes_on(
    office: Office, trucks: tuple[OfficeTruck, OfficeTruck], tmp_path: Path
) -> None:
    one, _ = trucks
    office.ask("ALTER TABLE fieldbook.seal RENAME TO not_there")
    try:
        third = OfficeTruck(office, tmp_path, "EF")
        report = third.exchange()
        assert report.received == report.unsigned > 0
    finally:
        office.ask("ALTER TABLE fieldbook.not_there RENAME TO seal")
    third.exchange()
    assert states(third, of=one) == {"signed"}


def test_a_laptop_adds_no_seal_for_anothers_origin(
    trucks: tuple[OfficeTruck, OfficeTruck],
) -> None:
    one, two = trucks
    seal = own_seal(one)
    false = sealed(THIEF, "truck", seal.origin, seal.job_id, [(seal.upto, "0" * 64)], seal.at)
    with pytest.raises(errors.InsufficientPrivilege, match="row-level security"):
        add(two.url, false)
    # Nor one under an id that the other's next seal would have.
    with pytest.raises(errors.InsufficientPrivilege, match="row-level security"):
        add(two.url, seal, id="2" * 64)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE fieldbook.seal SET key = repeat('0', 64)",
        "DELETE FROM fieldbook.seal",
        "TRUNCATE fieldbook.seal",
        "INSERT INTO fieldbook.distrusted_key (key, laptop) VALUES (repeat('0', 64), 'truck')",
        "DELETE FROM fieldbook.distrusted_key",
        "INSERT INTO fieldbook.seal (sent_by) VALUES ('another')",
    ],
)
def test_a_laptop_changes_no_seal_and_distrusts_nobody(
    trucks: tuple[OfficeTruck, OfficeTruck], statement: str
) -> None:
    with (
        psycopg.connect(trucks[0].url, autocommit=True) as connection,
        pytest.raises(errors.InsufficientPrivilege),
    ):
        connection.execute(statement.encode())


def test_nobody_changes_a_seal(office: Office, trucks: tuple[OfficeTruck, OfficeTruck]) -> None:
    assert trucks
    with pytest.raises(errors.InsufficientPrivilege, match="never changed"):
        office.ask("UPDATE fieldbook.seal SET name = 'another'")


def test_another_key_for_a_laptops_own_origin_is_a_warning_to_the_others(
    trucks: tuple[OfficeTruck, OfficeTruck],
) -> None:
    one, two = trucks
    seal = own_seal(one)
    add(one.url, sealed(THIEF, "new", seal.origin, seal.job_id, [(seal.upto, "0" * 64)], seal.at))
    assert "new signs with another key" in two.exchange().notes[0]
    assert states(two, of=one) == {"signed"}


def test_a_laptop_that_is_shut_out_is_distrusted_by_all(
    office: Office, trucks: tuple[OfficeTruck, OfficeTruck], tmp_path: Path
) -> None:
    one, two = trucks
    # It also sent a seal in the name of the other's key, which it can't have signed with.
    seal, other = own_seal(one), own_seal(two)
    add(one.url, seal, id="1" * 64, key=other.key)
    assert remove_laptop(office.url, name_of(one)) == 1
    distrusted = "SELECT key FROM fieldbook.distrusted_key"
    assert office.ask(distrusted) == [(seal.key,)]
    two.exchange()
    with two.open() as book:
        trust = {laptop.key: (laptop.trust, laptop.marked_by) for laptop in book.laptops.listed()}
    assert trust[seal.key] == ("distrusted", "the office")
    assert trust[other.key] == ("this laptop", "")
    assert states(two, of=one) == {"signed"}
    stick = tmp_path / "stick"
    stick.mkdir()
    one.add("99 Stolen Road")
    through(one, stick)
    assert "the distrusted laptop" in through(two, stick).notes[0]
    assert "99 Stolen Road" not in str(two.jobs())
    add_laptop(office.url, name_of(one))
    assert office.ask(distrusted) == []


def test_the_office_makes_no_laptop_distrust_itself(
    office: Office, trucks: tuple[OfficeTruck, OfficeTruck]
) -> None:
    one, _ = trucks
    key = own_seal(one).key
    office.ask("INSERT INTO fieldbook.distrusted_key (key, laptop) VALUES (%s, 'x')", key)
    office.ask("INSERT INTO fieldbook.distrusted_key (key, laptop) VALUES ('no key', 'y')")
    try:
        one.exchange()
    finally:
        office.ask("DELETE FROM fieldbook.distrusted_key")
    assert {laptop.trust for laptop in laptops(one).values()} <= {"this laptop", "not compared"}
    with one.open():
        private = bytes.fromhex(
            json.loads((one.state / "laptop-key.json").read_text("utf-8"))["private"]
        )
    assert public_of(private) == key
