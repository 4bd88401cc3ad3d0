"""Attached files travel in parts, each once, and arrive whole or not at all."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

import psycopg
import pytest
from an_office import Office
from office_trucks import OfficeTruck
from psycopg import errors

from fieldbook.actions.files.attach import attach
from fieldbook.store.attached import attached_path
from fieldbook.store.office.files import _ADD, _ADD_PART
from fieldbook.store.office.office_tables import PART_BYTES

Trucks = tuple[OfficeTruck, OfficeTruck]


@pytest.fixture
def trucks(office: Office, tmp_path: Path) -> Trucks:
    return OfficeTruck(office, tmp_path, "AB"), OfficeTruck(office, tmp_path, "CD")


def attached(truck: OfficeTruck, folder: Path, content: bytes) -> str:
    """Attach a file to a new property; its hash."""
    file = folder / "photo.bin"
    file.write_bytes(content)
    job_id = truck.add("12 Elm Street")
    with truck.open_job(job_id) as open_job:
        attach(open_job, "job", job_id, str(file))
    return hashlib.sha256(content).hexdigest()


@pytest.mark.parametrize("size", [1, PART_BYTES - 1, PART_BYTES, 3 * PART_BYTES + 5])
def test_a_file_arrives_as_it_was(trucks: Trucks, tmp_path: Path, size: int) -> None:
    one, two = trucks
    sha256 = attached(one, tmp_path, os.urandom(size))
    assert one.exchange().files_sent == 1
    assert two.exchange().files_received >= 1
    there = attached_path(two.path, sha256)
    assert there.read_bytes() == attached_path(one.path, sha256).read_bytes()
    assert there.stat().st_mode & 0o777 == 0o600
    assert [one.name for one in there.parent.iterdir()] == [sha256]
    for truck in trucks:
        again = truck.exchange()
        assert (again.files_sent, again.files_received) == (0, 0)


def test_a_file_goes_on_where_the_connection_broke(
    office: Office, trucks: Trucks, tmp_path: Path
) -> None:
    one, two = trucks
    content = os.urandom(3 * PART_BYTES + 5)
    sha256 = attached(one, tmp_path, content)
    with psycopg.connect(one.url, autocommit=True) as connection:
        for number in (0, 1):
            part = content[number * PART_BYTES : (number + 1) * PART_BYTES]
            connection.execute(_ADD_PART, (sha256, number, part))
    assert one.exchange().files_sent == 1
    begun = attached_path(two.path, sha256)
    begun = begun.with_name(f"{begun.name}.office.part")
    begun.parent.mkdir(parents=True)
    begun.write_bytes(content[: PART_BYTES + 9])
    assert two.exchange().files_received >= 1
    assert attached_path(two.path, sha256).read_bytes() == content


def test_a_changed_file_is_refused_and_reported(
    office: Office, trucks: Trucks, tmp_path: Path
) -> None:
    one, two = trucks
    content = os.urandom(PART_BYTES + 5)
    sha256 = attached(one, tmp_path, content)
    here = attached_path(one.path, sha256)
    here.write_bytes(b"altered")
    assert "was changed since" in one.exchange().refused[0]
    here.write_bytes(content)
    assert one.exchange().files_sent == 1
    begun = attached_path(two.path, sha256)
    begun = begun.with_name(f"{begun.name}.office.part")
    begun.parent.mkdir(parents=True)
    begun.write_bytes(b"x" * PART_BYTES)
    assert any("came changed" in note for note in two.exchange().refused)
    assert not attached_path(two.path, sha256).exists()
    assert two.exchange().files_received == 1


def test_the_office_refuses_content_that_does_not_have_the_hash(
    office: Office, trucks: Trucks, tmp_path: Path
) -> None:
    one, two = trucks
    content = os.urandom(20)
    sha256 = attached(one, tmp_path, content)
    with psycopg.connect(two.url, autocommit=True) as connection:
        connection.execute(_ADD_PART, (sha256, 0, b"y" * 20))
        with pytest.raises(errors.CheckViolation, match="are not that file"):
            connection.execute(_ADD, (sha256, 20))
    assert one.exchange().files_sent == 1


def test_a_restored_office_gets_its_files_again(
    office: Office, trucks: Trucks, tmp_path: Path
) -> None:
    one, two = trucks
    sha256 = attached(one, tmp_path, os.urandom(99))
    one.exchange()
    office.ask(
        "SET session_replication_role = replica; DELETE FROM fieldbook.file;"
        "DELETE FROM fieldbook.file_part; DELETE FROM fieldbook.entry WHERE "
        "n = (SELECT max(n) FROM fieldbook.entry)"
    )
    assert one.exchange().files_sent >= 1
    two.exchange()
    assert attached_path(two.path, sha256).is_file()
