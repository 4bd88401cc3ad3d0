"""A property travels whole in a bundle, and a hostile bundle changes nothing."""

from __future__ import annotations

import gzip
import json
import random
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from trucks import Truck, static

from fieldbook.actions import cells as entering
from fieldbook.actions import rows
from fieldbook.actions import signing as proofs
from fieldbook.actions.exchange.bundles import receive_bundle, write_job_bundle
from fieldbook.actions.files import attach as files
from fieldbook.checks.finding import CellRef
from fieldbook.checks.registry import check
from fieldbook.cli.main import main
from fieldbook.records.ids import once_id
from fieldbook.store.attached import attached_path
from fieldbook.store.book import Book
from fieldbook.store.errors import BookError
from fieldbook.store.exchange.bundle_reader import BundleError, read_bundle
from fieldbook.store.exchange.bundle_writer import write_bundle
from fieldbook.store.journal.entry import FIELDS, Entry, as_dict, make_entry
from fieldbook.store.mending.verify import verify
from fieldbook.store.paths import STATE_VARIABLE


@pytest.fixture
def trucks(tmp_path: Path) -> tuple[Truck, Truck]:
    """Two trucks with empty books."""
    return Truck(tmp_path, "AB"), Truck(tmp_path, "CD")


def run(truck: Truck, *arguments: str) -> Result:
    """Run a command on a truck's book."""
    machine = {STATE_VARIABLE: str(truck.state)}
    return CliRunner().invoke(main, ["--book", str(truck.path), *arguments], env=machine)


def bundled(truck: Truck, job: str, path: Path) -> list[Entry]:
    """Write a property to a bundle; returns its entries."""
    with truck.open() as book:
        write_job_bundle(book, job, path, over=True, files=True)
    return read_bundle(path).entries


def test_a_property_travels_with_its_signatures_and_photos(
    trucks: tuple[Truck, Truck], tmp_path: Path
) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    photo, empty = tmp_path / "trench.jpg", tmp_path / "empty.txt"
    photo.write_bytes(random.Random(1).randbytes(600_000))
    empty.write_bytes(b"")
    with one.open_job(job) as open_job:
        proofs.sign_off(open_job, "price", proofs.Override("A. Foreman", "a test"))
        for one_file in (photo, empty):
            files.attach(open_job, "job", job, str(one_file))
        hashes = [file.sha256 for file in open_job.job.attachments]
    sent = tmp_path / "elm.gz"
    assert run(one, "bundle", "elm", str(sent)).output == f"Wrote {sent}: 7 entries.\n"
    received = run(other, "take", str(sent))
    assert received.output == "7 entries came, attached files: 2 came, 0 went.\n"
    assert one.exported() == other.exported()
    assert attached_path(other.path, hashes[0]).read_bytes() == photo.read_bytes()
    assert run(other, "take", str(sent)).output == "0 entries came, 0 went.\n"
    assert not list(other.path.parent.glob("**/coming"))
    refused = run(one, "bundle", "elm", str(sent))
    assert (refused.exit_code, "--over" in refused.output) == (2, True)
    assert run(one, "bundle", "elm", str(sent), "--over", "--no-files").exit_code == 0
    assert sent.stat().st_size < 100_000


def test_a_bundle_holds_only_its_own_property(trucks: tuple[Truck, Truck], tmp_path: Path) -> None:
    one, other = trucks
    one.begin("12 Elm Street")
    job = one.begin("3 Alder Lane")
    bundled(one, job, tmp_path / "alder.gz")
    assert run(other, "take", str(tmp_path / "alder.gz")).exit_code == 0
    with other.open() as book:
        assert [one.address for one in book.jobs()] == ["3 Alder Lane"]
    assert verify(other.path).wrong == ()


def altered(entry: Entry, **changed: Any) -> Entry:  # noqa: ANN401
    """An entry with other content and the id that follows from it, as a stranger could make it."""
    return make_entry({**{name: getattr(entry, name) for name in FIELDS}, **changed})


def test_what_this_fieldbook_cannot_read_is_kept_and_flagged(
    trucks: tuple[Truck, Truck], tmp_path: Path
) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    entries = bundled(one, job, tmp_path / "elm.gz")
    supply = next(entry for entry in entries if entry.table == "supply")
    said = {"seq": 90, "op": "static_psi", "parents": (supply.id,)}
    strange = [
        altered(supply, **said, value='"as they say"', clock=supply.clock + 9),
        altered(supply, seq=92, op="frost_depth_in", value="12.5", parents=(supply.id,)),
        altered(supply, seq=94, table="pump_house", op="add", parents=()),
    ]
    path = tmp_path / "newer.gz"
    write_bundle(path, [*entries, *strange], {})
    with other.open() as book:
        assert receive_bundle(book, path).received == len(entries) + 3
        loaded = book.load(job)
        assert loaded.supply is not None
        assert loaded.supply.static_psi is None
        assert "not understood" in [flag.code for flag in check(loaded)]
    assert {one.id for one in strange} <= {one.id for one in bundled(other, job, path)}
    with other.open_job(job) as open_job:
        rows.remove_row(open_job, "supply", once_id(job, "supply"))
        open_job.undo()
        entering.enter_text(open_job, static(job), "61")
    again = [one for one in bundled(other, job, path) if one.table == "supply" and one.op == "add"]
    assert again[-1].row["frost_depth_in"] == 12.5
    assert verify(other.path).wrong == ()


def lines_of(entries: Iterable[Entry]) -> list[str]:
    """The lines of a bundle but the last, as they are written."""
    head = {"fieldbook entries": 1, "entries": len(list(entries)), "files": []}
    return [json.dumps(head), *(json.dumps(as_dict(one)) for one in entries)]


def packed(lines: Iterable[str]) -> bytes:
    """The bundle that has these lines."""
    import hashlib

    whole = "".join(f"{line}\n" for line in lines).encode()
    end = json.dumps({"end": hashlib.sha256(whole).hexdigest()}, separators=(",", ":"))
    return gzip.compress(whole + end.encode() + b"\n")


def _with(change: Callable[[list[dict[str, Any]]], None]) -> Callable[[list[Entry]], bytes]:
    """Makes a bundle whose lines are changed before they are hashed."""

    def made(entries: list[Entry]) -> bytes:
        held = [json.loads(line) for line in lines_of(entries)]
        change(held)
        return packed(json.dumps(one) for one in held)

    return made


def _escape(held: list[dict[str, Any]]) -> None:
    held[0]["files"] = ["../../../../etc/passwd"]


def _file(held: list[dict[str, Any]]) -> None:
    held[0]["files"] = ["0" * 64]
    held.append({"file": "0" * 64, "data": "aGVsbG8="})


def _unnamed_file(held: list[dict[str, Any]]) -> None:
    held.append({"file": "/etc/passwd", "data": "aGVsbG8="})


HOSTILE: dict[str, tuple[Callable[[list[Entry]], bytes], str]] = {
    "nothing": (lambda _: b"", "cut short"),
    "no gzip": (lambda _: b"hello" * 100, "damaged"),
    "not ours": (lambda _: gzip.compress(b'{"a": 1}\n'), "no file of fieldbook's"),
    "newer": (_with(lambda held: held[0].update({"fieldbook entries": 2})), "update fieldbook"),
    "bomb": (lambda _: gzip.compress(b"0" * 30_000_000), "too long"),
    "bomb of lines": (
        lambda _: gzip.compress(
            json.dumps({"fieldbook entries": 1, "entries": 9, "files": []}).encode()
            + b"\n" * 9_000_000
        ),
        "not JSON",
    ),
    "fewer": (_with(lambda held: held[0].update(entries=99)), "fewer entries"),
    "more": (_with(lambda held: held[0].update(entries=1)), "holds more than its first line says"),
    "half": (lambda entries: packed(lines_of(entries))[:-20], "cut short"),
    "two": (lambda entries: packed(lines_of(entries)) * 2, "after its end"),
    "deep": (lambda _: gzip.compress(b'{"a":' * 200_000 + b"\n"), ""),
    "a list": (_with(lambda held: held.insert(1, [])), "not a JSON object"),  # type: ignore[arg-type]
    "another's value": (_with(lambda held: held[2].update(value='"x"')), "does not match its id"),
    "a number for a word": (_with(lambda held: held[2].update(who=4)), "wrong type"),
    "a truth for a number": (_with(lambda held: held[2].update(seq=True)), "wrong type"),
    "a part missing": (_with(lambda held: held[2].pop("prev")), "fields of an entry"),
    "escape": (_with(_escape), "no valid hash"),
    "a file that is another": (_with(_file), "missing or was changed"),
    "a file not named": (_with(_unnamed_file), "holds more than its first line says"),
    "not to a number": (_with(lambda held: held[0].update(entries=1.0)), "can't be read"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_is_refused_in_one_sentence_and_changes_nothing(
    trucks: tuple[Truck, Truck], tmp_path: Path, name: str
) -> None:
    one, other = trucks
    entries = bundled(one, one.begin("12 Elm Street"), tmp_path / "elm.gz")
    made, words = HOSTILE[name]
    path = tmp_path / "hostile.gz"
    path.write_bytes(made(entries))
    before, around = other.path.read_bytes(), sorted(tmp_path.rglob("*"))
    refused = run(other, "take", str(path))
    assert refused.exit_code == 2
    assert "Nothing was changed: " in refused.output
    assert words in refused.output
    assert "Traceback" not in refused.output
    assert other.path.read_bytes() == before
    assert [p for p in sorted(tmp_path.rglob("*")) if p not in around and p.is_file()] == []


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"who": "A\x1b[2JB"}, "control characters"),
        ({"what": "x" * 5000}, "too long"),
        ({"value": "NaN"}, "not JSON"),
        ({"value": "{"}, "not JSON"),
        ({"value": "[1]", "op": "static_psi"}, "a list or an object"),
        ({"value": '{"static_psi": {}, "job_id": "j"}', "op": "add"}, "a list or an object"),
        ({"value": "3", "op": "add"}, "not a JSON object"),
        ({"clock": 1 << 62}, "wrong type"),
        ({"clock": -1}, "wrong type"),
        ({"job_id": "another", "op": "add"}, "another property"),
        ({"who": "\ud800"}, "half a character"),
    ],
)
def test_a_hostile_entry_is_refused(
    trucks: tuple[Truck, Truck], tmp_path: Path, changed: dict[str, Any], words: str
) -> None:
    one, other = trucks
    entries = bundled(one, one.begin("12 Elm Street"), tmp_path / "elm.gz")
    supply = next(entry for entry in entries if entry.table == "supply")
    try:
        bad = as_dict(altered(supply, **changed))
    except UnicodeEncodeError:
        bad = {**as_dict(supply), **changed}
    path = tmp_path / "hostile.gz"
    head = json.dumps({"fieldbook entries": 1, "entries": 1, "files": []})
    path.write_bytes(packed([head, json.dumps(bad)]))
    with other.open() as book, pytest.raises(BundleError, match="Nothing was changed"):
        receive_bundle(book, path)
    refused = run(other, "take", str(path))
    assert refused.exit_code == 2
    assert words in refused.output or changed.get("who") == "\ud800"


def test_a_clock_at_its_limit_does_not_advance_ours(
    trucks: tuple[Truck, Truck], tmp_path: Path
) -> None:
    one, other = trucks
    job = one.begin("12 Elm Street")
    entries = bundled(one, job, tmp_path / "elm.gz")
    supply = next(entry for entry in entries if entry.table == "supply")
    last = altered(
        supply, seq=90, op="static_psi", value="99.0", clock=(1 << 62) - 1, parents=(supply.id,)
    )
    path = tmp_path / "late.gz"
    write_bundle(path, [*entries, last], {})
    with other.open() as book:
        receive_bundle(book, path)
    other.enter_static(job, "70")
    newest = bundled(other, job, path)[-1]
    assert newest.clock < 1 << 58
    with other.open_job(job) as open_job:
        assert open_job.job.supply is not None
        assert open_job.job.supply.static_psi == 70


@examples(150)
@given(seed=st.integers(0, 10**9))
def test_any_byte_that_is_changed_is_found(seed: int) -> None:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "a.gz"
        content = dict.fromkeys(FIELDS, "x")
        numbers: dict[str, Any] = {"seq": 1, "clock": 5, "format": 7, "parents": (), "value": "3"}
        entry = make_entry({**content, **numbers})
        write_bundle(path, [entry] * 3, {})
        held = bytearray(path.read_bytes())
        pick = random.Random(seed)
        where = pick.randrange(10, len(held))
        held[where] ^= 1 << pick.randrange(8)
        path.write_bytes(held)
        with pytest.raises(BundleError):
            read_bundle(path)


def test_a_book_that_is_open_elsewhere_is_not_exchanged(
    trucks: tuple[Truck, Truck], tmp_path: Path
) -> None:
    one, _ = trucks
    with one.open(), pytest.raises(BookError, match="already open"):
        Book(one.path)
    with one.open():
        found = run(one, "exchange", str(tmp_path))
    assert found.exit_code == 2
    assert "already open" in found.output


def test_no_cell_of_another_property_is_touched(
    trucks: tuple[Truck, Truck], tmp_path: Path
) -> None:
    one, other = trucks
    job, mine = one.begin("12 Elm Street"), other.begin("3 Alder Lane")
    entries = bundled(one, job, tmp_path / "elm.gz")
    forged = altered(
        entries[0], seq=77, job_id=mine, row_id=mine, op="address", value='"Nowhere"', parents=()
    )
    path = tmp_path / "forged.gz"
    write_bundle(path, [forged], {})
    assert run(other, "take", str(path)).output.endswith("1 entry waits for others to come.\n")
    with other.open_job(mine) as open_job:
        assert open_job.job.job.address == "3 Alder Lane"
        entering.enter_text(open_job, CellRef("job", mine, "customer"), "B. Customer")
