"""A seal holds for the entries that were signed, and for nothing else."""

from __future__ import annotations

import random
from dataclasses import fields, replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from made_entries import entry

from fieldbook.store.journal.entry import Entry
from fieldbook.store.seals.key_words import words_of
from fieldbook.store.seals.seal import (
    ID_BYTES,
    Seal,
    SealError,
    as_plain,
    from_plain,
    is_genuine,
    public_of,
    sealed,
)

PRIVATE = bytes(range(32))
SEAL_FIELDS = [one.name for one in fields(Seal)]
AT = "2026-05-04T08:00:00+00:00"


def chain(count: int) -> list[Entry]:
    """Entries of one origin on one property, each after the one before."""
    made: list[Entry] = []
    for seq in range(1, count + 1):
        before = made[-1].id if made else ""
        made.append(entry(seq=seq, prev=before, clock=seq, op="name", value=f'"{seq}"'))
    return made


def seal_of(entries: list[Entry], private: bytes = PRIVATE) -> Seal:
    """The seal of a key over entries."""
    return sealed(private, "truck-2", "o", "j", [(one.seq, one.id) for one in entries], AT)


def test_a_seal_names_its_entries_and_their_maker() -> None:
    made = chain(3)
    seal = seal_of(made)
    assert is_genuine(seal)
    assert (seal.key, seal.upto) == (public_of(PRIVATE), 3)
    assert all(seal.covers(one.id) for one in made)
    assert not seal.covers(chain(4)[3].id)


@given(
    at=st.integers(0, 3),
    change=st.sampled_from(
        [
            {"who": "CD"},
            {"value": '"x"'},
            {"clock": 99},
            {"prev": "0" * 64},
            {"row_id": "s"},
            {"seq": 9},
            {"wall": "2020-01-01T00:00:00+00:00"},
            {"parents": ("f" * 64,)},
        ]
    ),
)
def test_an_entry_with_any_field_changed_is_not_sealed(at: int, change: dict[str, object]) -> None:
    made = chain(4)
    seal = seal_of(made)
    content = {one.name: getattr(made[at], one.name) for one in fields(Entry) if one.name != "id"}
    assert not seal.covers(entry(**{**content, **change}).id)


def _tampered(seal: Seal, field: str, pick: random.Random) -> Seal:
    """The seal with one field altered."""
    if field == "upto":
        return replace(seal, upto=seal.upto + pick.randint(1, 9))
    if field == "ids":
        at = pick.randrange(len(seal.ids))
        flipped = bytes([seal.ids[at] ^ pick.randint(1, 255)])
        return replace(seal, ids=seal.ids[:at] + flipped + seal.ids[at + 1 :])
    value = str(getattr(seal, field))
    at = pick.randrange(len(value))
    other = "1" if value[at] != "1" else "2"
    changed: dict[str, Any] = {field: value[:at] + other + value[at + 1 :]}
    return replace(seal, **changed)


@given(
    field=st.sampled_from([one.name for one in fields(Seal)]),
    pick=st.randoms(use_true_random=False),
)
def test_a_seal_with_any_field_changed_does_not_hold(field: str, pick: random.Random) -> None:
    assert not is_genuine(_tampered(seal_of(chain(4)), field, pick))


@given(count=st.integers(2, 6), pick=st.randoms(use_true_random=False))
def test_ids_reordered_cut_or_added_do_not_hold(count: int, pick: random.Random) -> None:
    seal = seal_of(chain(count))
    ids = [seal.ids[at : at + ID_BYTES] for at in range(0, len(seal.ids), ID_BYTES)]
    moved = [*ids[1:], ids[0]]
    gone = pick.randrange(len(ids))
    cut = ids[:gone] + ids[gone + 1 :]
    for other in (moved, cut, [*ids, bytes(ID_BYTES)]):
        assert not is_genuine(replace(seal, ids=b"".join(other)))


def test_another_key_is_another_maker() -> None:
    seal, other = seal_of(chain(2)), seal_of(chain(2), bytes(32))
    assert is_genuine(other)
    assert other.key != seal.key
    assert not is_genuine(replace(seal, key=other.key))
    assert not is_genuine(replace(seal, signature=other.signature))


def test_a_seal_is_read_as_it_was_written() -> None:
    seal = seal_of(chain(3))
    assert from_plain(as_plain(seal)) == seal


@pytest.mark.parametrize(
    "change",
    [
        {"key": "zz"},
        {"key": 1},
        {"signature": "0"},
        {"ids": "AAAA"},
        {"ids": ""},
        {"ids": "?"},
        {"upto": True},
        {"upto": 0},
        {"name": "a\x1b[2J"},
        {"name": "n" * 61},
        {"origin": None},
        {"more": 1},
    ],
)
def test_what_is_no_seal_is_refused(change: dict[str, object]) -> None:
    with pytest.raises(SealError):
        from_plain({**as_plain(seal_of(chain(1))), **change})


def test_what_is_no_object_is_refused() -> None:
    with pytest.raises(SealError):
        from_plain(["a seal"])


def test_words_of_a_key_are_four_and_differ() -> None:
    one, other = words_of(public_of(PRIVATE)), words_of(public_of(bytes(32)))
    assert len(one.split()) == len(other.split()) == 4
    assert not set(one.split()) & set(other.split())
