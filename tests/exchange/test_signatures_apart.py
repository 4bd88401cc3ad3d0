"""Signatures of two laptops that exchange through a folder: each shows what is not proven."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import count
from pathlib import Path

import pytest
from builders import all_signed, sound_job
from trucks import Truck

from fieldbook.actions import rows, signing
from fieldbook.actions.exchange.folder_exchange import exchange_through_folder
from fieldbook.actions.job_files import import_bytes
from fieldbook.actions.open_job import OpenJob
from fieldbook.checks.progress.holds import BACKFILL
from fieldbook.checks.progress.standing import standing
from fieldbook.jobfile.write import write_job
from fieldbook.records.ids import flush_id


class Pair:
    """Two laptops that hold a property that was handed over, and the folder between them."""

    def __init__(self, folder: Path) -> None:
        self.here, self.there = Truck(folder, "AB"), Truck(folder, "CD")
        self.folder = folder / "stick"
        self.folder.mkdir()
        with self.here.open() as book:
            text = write_job(all_signed(sound_job()))
            self.job_id = import_bytes(book, text.encode("utf-8"), "AB").job_id
        self.exchange()

    def exchange(self) -> None:
        """Give each laptop what the other has."""
        for truck in (self.here, self.there, self.here):
            with truck.open() as book:
                exchange_through_folder(book, self.folder, lambda _done, _total: None)

    def codes(self, truck: Truck) -> set[str]:
        """The codes of the flags on one laptop."""
        with truck.open_job(self.job_id) as open_job:
            return {flag.code for flag in open_job.findings}

    def proven(self, truck: Truck, kind: str, zone_id: str | None = None) -> bool | None:
        """Whether a signature is proven on one laptop; None where none counts."""
        with truck.open_job(self.job_id) as open_job:
            stands = standing(open_job.job, kind, zone_id, datetime.now().astimezone())
            return stands.proven if stands is not None else None


@pytest.fixture
def pair(tmp_path: Path) -> Pair:
    """Both laptops, which hold the same."""
    return Pair(tmp_path)


@pytest.fixture
def _clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each signature is a second later than the one before, so that their order is known."""
    seconds = count()
    began = datetime.now().astimezone() - timedelta(minutes=1)

    def now() -> str:
        return (began + timedelta(seconds=next(seconds))).isoformat(timespec="seconds")

    monkeypatch.setattr(signing, "now", now)


def first_zone(open_job: OpenJob) -> str:
    """The id of the first zone."""
    return open_job.job.zones[0].id


@pytest.mark.parametrize("act", ["undo the withdrawal", "redo the signature"])
def test_a_signature_that_comes_back_after_its_reason_was_removed_elsewhere_shows(
    pair: Pair, act: str
) -> None:
    with pair.here.open_job(pair.job_id) as open_job:
        zone_id = first_zone(open_job)
        assert not signing.sign_backfill(open_job, zone_id)
        if act == "redo the signature":
            assert signing.sign_backfill(open_job, zone_id)
            open_job.undo()
        assert open_job.job.signed(BACKFILL, zone_id) is None
    pair.exchange()
    with pair.there.open_job(pair.job_id) as open_job:
        rows.remove_row(open_job, "flush", flush_id(zone_id))
    pair.exchange()
    with pair.here.open_job(pair.job_id) as open_job:
        again = open_job.redo if act == "redo the signature" else open_job.undo
        again()
        assert open_job.job.signed(BACKFILL, zone_id) is not None
    pair.exchange()
    for truck in (pair.here, pair.there):
        assert "sign-off no longer met" in pair.codes(truck)
        assert pair.proven(truck, BACKFILL, zone_id) is False


@pytest.mark.usefixtures("_clock")
@pytest.mark.parametrize("last", ["the withdrawal", "the signature"])
@pytest.mark.parametrize("kind", ["price", BACKFILL])
def test_a_withdrawal_and_a_new_signature_apart_show_on_both_until_one_signs_again(
    pair: Pair, kind: str, last: str
) -> None:
    with pair.here.open_job(pair.job_id) as open_job:
        zone_id = first_zone(open_job) if kind == BACKFILL else None

    def press(truck: Truck, *, signs: bool) -> None:
        """Sign on one laptop, or take the signature back."""
        with truck.open_job(pair.job_id) as open_job:
            if kind == BACKFILL:
                assert signing.sign_backfill(open_job, zone_id) is signs
            else:
                assert signing.sign_off(open_job, kind) is signs

    assert pair.proven(pair.here, kind, zone_id)
    press(pair.there, signs=False)
    if last == "the signature":
        press(pair.here, signs=False)
        press(pair.there, signs=True)
    else:
        press(pair.there, signs=True)
        press(pair.here, signs=False)
    pair.exchange()
    for truck in (pair.here, pair.there):
        assert "signed on two laptops" in pair.codes(truck)
        assert pair.proven(truck, kind, zone_id) is False
    # The flag tells the crew to take it back, unless that is what came last, and to sign again.
    if last == "the signature":
        press(pair.here, signs=False)
    press(pair.here, signs=True)
    pair.exchange()
    for truck in (pair.here, pair.there):
        assert "signed on two laptops" not in pair.codes(truck)
        assert pair.proven(truck, kind, zone_id) is True
    assert pair.here.exported() == pair.there.exported()
    with pair.here.open_job(pair.job_id) as open_job:
        open_job.undo()
        assert open_job.job.signed(kind, zone_id) is None
        open_job.redo()
    assert pair.proven(pair.here, kind, zone_id) is True
