"""Disputes: the entries of the journal that bear on one claim, for the dispute sheet.

`claim_about.py` reads what a claim is about ("zone:2", "supply.static_psi") and says which rows
that is; `claim_entries.py` takes their entries from the journal and puts them in words. The
property's own row and the crew's notes are never among them: they hold how to get in. It may import
what other actions may. Start with `claim_of` in `claim_entries.py`.
"""
