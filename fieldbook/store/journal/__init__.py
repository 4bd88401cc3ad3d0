"""The journal: an append-only list of every change, from which all rows of the record follow.

Start with `entry.py` (one change) and `merge.py` (the rules that make a row from its entries).

A change made here: `commit.py` writes it to the tables through `apply.py`, triggers copy it to the
outbox, and `append.py` turns the outbox into entries, all in one transaction. `undo.py` and
`restore.py` work out the changes that bring an earlier state back, `reassert.py` writes them.
Entries made elsewhere: `receive.py` adds them, `row_rebuilding.py` rebuilds the rows they touch.
`latest_versions.py` keeps what the next change needs to know of a row. `origin.py` decides under
which identity a book writes; `text_journal.py` writes a copy as plain text.

This room imports the record and, of the store, only `changes`, `errors` and `sqlite`.
"""
