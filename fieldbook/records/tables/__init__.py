"""The tables of the job record, one file for each recorded thing; `owner` has what the owner signs.

A class is a table, a column an attribute whose annotation carries a `Fact`: its label, unit, limits
and purpose. The names of tables and columns are stored in books and job files and never change.
A new table is a file here and one field of `LoadedJob`. Annotations are read at run time: without
`from __future__ import annotations` in these files they need no evaluating. The files import
`records.base`, `records.fact`, `trade` and `units`. Start at `zones.py`.
"""
