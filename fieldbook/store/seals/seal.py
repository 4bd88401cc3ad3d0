"""A seal: the signature of one laptop's key over the ids of entries that it made on a property.

An id is the hash of an entry's content, the id of the entry before it included, so a signature over
the ids proves every field and the order. Each id is signed by itself rather than the newest one for
all before it: a laptop that holds chosen properties, or one property from a file, can then check
what it has, and a copied book's two branches stay apart.
"""

from __future__ import annotations

import base64
import binascii
import hashlib
import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from functools import cached_property
from typing import Any

from fieldbook.records.printable import printable

ID_BYTES = 16
"""How much of each id is signed: finding another entry that begins alike takes 2^128 attempts."""
MOST_IDS = 1_000
LONGEST_NAME = 60
_LONGEST_ID, _LONGEST_TIME = 200, 40
_LARGEST_SEQ = 1 << 62
_PURPOSE = "fieldbook seal 1"
"""The first thing that is signed, so that a signature made for another purpose is no seal."""
_KEY, _SIGNATURE = re.compile("[0-9a-f]{64}"), re.compile("[0-9a-f]{128}")


class SealError(ValueError):
    """Data from outside is no seal; the message says why in a few words."""


@dataclass(frozen=True)
class Seal:
    """Who made which entries: `key` and `signature` are hex, `ids` the starts of the entries' ids.

    `upto` is the number of the last of these entries in its origin. `name` is how the laptop calls
    itself, `at` when its clock said that it signed.
    """

    origin: str
    job_id: str
    upto: int
    ids: bytes
    key: str
    name: str
    at: str
    signature: str

    @cached_property
    def id(self) -> str:
        """The hash of all of the seal."""
        return hashlib.sha256(f"{self.key}{self.signature}".encode() + self.message).hexdigest()

    @property
    def message(self) -> bytes:
        """What is signed. This form can never change."""
        listed = [_PURPOSE, self.origin, self.job_id, self.upto, self.ids.hex(), self.name, self.at]
        return json.dumps(listed, ensure_ascii=False, separators=(",", ":")).encode("utf-8")

    @cached_property
    def starts(self) -> frozenset[bytes]:
        """The start of each id that is sealed."""
        ids = self.ids
        return frozenset(ids[at : at + ID_BYTES] for at in range(0, len(ids), ID_BYTES))

    def covers(self, entry_id: str) -> bool:
        """Whether the seal names an entry; `is_genuine` says whether the seal itself holds."""
        return start_of(entry_id) in self.starts


def start_of(entry_id: str) -> bytes:
    """The part of an entry's id that is signed."""
    return bytes.fromhex(entry_id[: 2 * ID_BYTES])


def public_of(private: bytes) -> str:
    """The public key in hex of a private one (32 bytes)."""
    from cryptography.hazmat.primitives.asymmetric import ed25519  # noqa: PLC0415

    signing = ed25519.Ed25519PrivateKey.from_private_bytes(private)
    return signing.public_key().public_bytes_raw().hex()


def sign(private: bytes, message: bytes) -> str:
    """The Ed25519 signature of a message in hex (RFC 8032)."""
    from cryptography.hazmat.primitives.asymmetric import ed25519  # noqa: PLC0415

    return ed25519.Ed25519PrivateKey.from_private_bytes(private).sign(message).hex()


def verifies(key: str, message: bytes, signature: str) -> bool:
    """Whether a signature is that of a public key over a message; both are hex."""
    from cryptography.exceptions import InvalidSignature  # noqa: PLC0415
    from cryptography.hazmat.primitives.asymmetric import ed25519  # noqa: PLC0415

    try:
        verifying = ed25519.Ed25519PublicKey.from_public_bytes(bytes.fromhex(key))
        verifying.verify(bytes.fromhex(signature), message)
    except (InvalidSignature, ValueError):
        return False
    return True


def sealed(
    private: bytes, name: str, origin: str, job_id: str, entries: Sequence[tuple[int, str]], at: str
) -> Seal:
    """The seal of a private key over entries (number, id) of one origin on one property."""
    ids = b"".join(start_of(entry_id) for _, entry_id in entries)
    upto = max(seq for seq, _ in entries)
    unsigned = Seal(origin, job_id, upto, ids, public_of(private), name, at, "")
    return replace(unsigned, signature=sign(private, unsigned.message))


def is_genuine(seal: Seal) -> bool:
    """Whether the signature is that of the seal's key over the seal's content."""
    return verifies(seal.key, seal.message, seal.signature)


def as_plain(seal: Seal) -> dict[str, Any]:
    """A seal as plain values for JSON."""
    return {**asdict(seal), "ids": base64.b64encode(seal.ids).decode("ascii")}


def from_plain(raw: object) -> Seal:
    """The seal of values from outside. Raises SealError unless they have the form of one."""
    names = Seal.__dataclass_fields__.keys()
    if not isinstance(raw, Mapping) or set(raw) != set(names):
        raise SealError("it does not have exactly the fields of a seal")
    for name, longest in (
        ("origin", _LONGEST_ID),
        ("job_id", _LONGEST_ID),
        ("name", LONGEST_NAME),
        ("at", _LONGEST_TIME),
    ):
        text = raw[name]
        if not isinstance(text, str) or len(text) > longest or printable(text) != text:
            raise SealError(f"its {name} can't be read")
    if type(raw["upto"]) is not int or not 0 < raw["upto"] < _LARGEST_SEQ:
        raise SealError("its number can't be read")
    for name, form in (("key", _KEY), ("signature", _SIGNATURE)):
        if not isinstance(raw[name], str) or not form.fullmatch(raw[name]):
            raise SealError(f"its {name} can't be read")
    return Seal(**{**raw, "ids": _ids(raw["ids"])})


def from_stored(row: Sequence[object]) -> Seal:
    """The seal of a row of a file that may be damaged, its fields in order. Raises SealError."""
    raw = dict(zip(Seal.__dataclass_fields__, row, strict=True))
    ids = raw["ids"]
    return from_plain(
        {**raw, "ids": base64.b64encode(ids).decode("ascii") if isinstance(ids, bytes) else ""}
    )


def _ids(raw: object) -> bytes:
    try:
        ids = base64.b64decode(str(raw), validate=True)
    except (binascii.Error, ValueError) as why:
        raise SealError("its ids can't be read") from why
    if not ids or len(ids) % ID_BYTES or len(ids) > MOST_IDS * ID_BYTES:
        raise SealError("its ids can't be read")
    return ids


def size_of(seal: Seal) -> int:
    """The most bytes that a seal takes as JSON."""
    texts = len(seal.origin) + len(seal.job_id) + len(seal.at) + 6 * len(seal.name)
    return 400 + texts + len(seal.ids) * 4 // 3
