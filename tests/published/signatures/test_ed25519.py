"""Signatures and the words of a key, against the publications that define them."""

from __future__ import annotations

import pytest

from fieldbook.store.seals.key_words import proquint
from fieldbook.store.seals.seal import public_of, sign, verifies

# RFC 8032, section 7.1: secret key, public key, message, signature of TEST 1 and TEST 2.
VECTORS = (
    (
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b4"
        "6bd25bf5f0595bbe24655141438e7a100b",
    ),
    (
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d"
        "8c387b2eaeb4302aeeb00d291612bb0c00",
    ),
)


@pytest.mark.parametrize(("secret", "public", "message", "signature"), VECTORS)
def test_ed25519_is_that_of_rfc_8032(
    secret: str, public: str, message: str, signature: str
) -> None:
    private, text = bytes.fromhex(secret), bytes.fromhex(message)
    assert public_of(private) == public
    assert sign(private, text) == signature
    assert verifies(public, text, signature)
    assert not verifies(public, text + b"\0", signature)


# D. S. Wilkerson, "A Proposal for Proquints", arXiv:0901.4016 (2009): addresses and their words.
@pytest.mark.parametrize(
    ("number", "word"),
    [(0x7F00, "lusab"), (0x0001, "babad"), (0x3F54, "gutih"), (0xDCC1, "tugad"), (0x3F76, "gutuk")],
)
def test_words_are_those_of_the_proposal(number: int, word: str) -> None:
    assert proquint(number) == word
