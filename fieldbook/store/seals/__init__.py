"""Seals: what proves which laptop made an entry.

Each laptop has an Ed25519 key pair (RFC 8032), whose private half is a file beside its settings and
never in a book (`laptop_key.py`). At an exchange it signs the ids of its own new entries, property
by property: a seal (`seal.py`; start there). Seals travel with the entries, as do the public key
and the laptop's name in them, and lie in a table of the book (`seal_table.py`).

`sealing.py` makes the seals of this laptop. `accepting.py` decides what of a stick or an office is
accepted. `known_laptops.py` lists the laptops known, and marks them compared or distrusted;
`key_words.py` puts a public key in words. The library `cryptography` is imported only where
something is signed or verified. This room imports the journal and, beside it, `disk` and `paths`.
"""
