"""Derived rows: what Python works out from a property's entries, kept at the hub for SQL to read.

A laptop makes them at the end of an exchange for the properties that it sent entries of
(`send_derived.py`), the keeper for all others with `fieldbook hub refresh` (`refresh.py`). Both put
a property's rows there by `derived_rows.py`, which merges its entries as a book does. Each set is
marked with the hash of the entries that it was made from, so a view can tell that entries are newer
(`derived_sql.py`; `derived_views.py` has the views on it). They are a cache and never evidence.

What is said of a job besides its rows, such as flags, is worked out above the store: callers pass a
function for it. Imports the journal, `load` and the open book. Start at `derived_rows.py`.
"""
