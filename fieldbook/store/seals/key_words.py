"""A public key in four short words that two people can compare over the phone.

The words are proquints (D. S. Wilkerson, "A Proposal for Proquints", arXiv:0901.4016, 2009): 16
bits each, sayable in English and in Spanish, without a list of words. Four of them hold the first
64 bits of the SHA-256 of the key.
"""

from __future__ import annotations

import hashlib

_CONSONANTS, _VOWELS = "bdfghjklmnprstvz", "aiou"
WORDS = 4


def words_of(key: str) -> str:
    """The words of a public key given in hex, such as "lusab babad gutih tugad"."""
    digest = hashlib.sha256(bytes.fromhex(key)).digest()
    numbers = (int.from_bytes(digest[2 * at : 2 * at + 2], "big") for at in range(WORDS))
    return " ".join(map(proquint, numbers))


def proquint(number: int) -> str:
    """The word of a number of 16 bits."""
    letters = (
        _CONSONANTS[number >> 12],
        _VOWELS[number >> 10 & 3],
        _CONSONANTS[number >> 6 & 15],
        _VOWELS[number >> 4 & 3],
        _CONSONANTS[number & 15],
    )
    return "".join(letters)
