"""The key pair of this laptop: a file beside its settings, never inside a book.

A copied book carries no key, so a copy can't sign as the laptop it was copied from. The file is
made with the first entry. One that can't be read stays as it is: nothing is signed then,
nothing is lost, and a sentence says so.
"""

from __future__ import annotations

import json
import os
import platform
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from fieldbook.records.printable import printable
from fieldbook.store.disk import write_whole
from fieldbook.store.errors import BookError
from fieldbook.store.paths import state_folder
from fieldbook.store.seals.seal import LONGEST_NAME, public_of

_NAME = "laptop-key.json"
_FORM = "fieldbook key"
_VERSION = 1


class KeyFileError(BookError):
    """The key file of this laptop can't be read or written. The sentence says how to mend it."""


@dataclass(frozen=True)
class LaptopKey:
    """The private key (32 bytes), the public one in hex, and what this laptop is called."""

    private: bytes
    public: str
    name: str


def key_path() -> Path:
    """Where this laptop keeps its key."""
    return state_folder() / _NAME


def public_key() -> str:
    """The public key of this laptop in hex; "" where it has none, or none that can be read."""
    try:
        return _content().get("public", "")
    except (OSError, ValueError):
        return ""


def prepare_key() -> None:
    """Make the private key, if there is none, so that a copy of this laptop has the same one.

    The public key is worked out when something is first signed: that takes a library.
    """
    with suppress(OSError):
        if not key_path().exists():
            _write(os.urandom(32), "", _own_name())


def load_key() -> LaptopKey:
    """The key pair of this laptop, made if there is no file. Raises KeyFileError."""
    try:
        content = _content()
    except FileNotFoundError:
        return _kept(os.urandom(32), _own_name())
    except (OSError, ValueError) as why:
        raise _unreadable() from why
    try:
        private = bytes.fromhex(content["private"])
        public = public_of(private)
        name = printable(str(content["name"]))[:LONGEST_NAME]
    except (ValueError, KeyError, TypeError) as why:
        raise _unreadable() from why
    if not content.get("public"):
        return _kept(private, name)
    # A spoilt letter would make it another key, which other laptops would refuse.
    if public != content["public"]:
        raise _unreadable()
    return LaptopKey(private, public, name)


def name_laptop(name: str) -> None:
    """Give this laptop the name that its seals carry from now on. Raises KeyFileError."""
    key = load_key()
    _kept(key.private, printable(name)[:LONGEST_NAME])


def _content() -> dict[str, str]:
    content = json.loads(key_path().read_text("utf-8"))
    if not isinstance(content, dict) or content.get(_FORM) != _VERSION:
        raise ValueError
    return content


def _unreadable() -> KeyFileError:
    return KeyFileError(
        f"This laptop's key {key_path()} can't be read, so nothing was signed: put a copy of it "
        "back, or delete it and a new one is made."
    )


def _own_name() -> str:
    return printable(platform.node())[:LONGEST_NAME] or "laptop"


def _kept(private: bytes, name: str) -> LaptopKey:
    """The key pair of a private key, in the file. Raises KeyFileError."""
    key = LaptopKey(private, public_of(private), name)
    try:
        _write(private, key.public, name)
    except OSError as why:
        raise KeyFileError(
            f"This laptop's key {key_path()} can't be written ({why.strerror or why}), so nothing "
            "was signed: make room, or check the folder."
        ) from why
    return key


def _write(private: bytes, public: str, name: str) -> None:
    """Write the file whole or not at all. Raises OSError."""
    content = {_FORM: _VERSION, "private": private.hex(), "public": public, "name": name}
    file = key_path()
    file.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    part = file.with_name(f"{file.name}.{os.getpid()}.part")
    write_whole(file, part, json.dumps(content).encode())
