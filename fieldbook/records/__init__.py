"""The job record: what a crew enters on one property, as tables, and how a value is read.

`tables` holds one file for each recorded thing; `fact` describes a column, `base` what every row
has. `values` and `days` turn typed text into a value or refuse it with one sentence.
`loaded_job` is the whole job as checks, sheets and papers read it, `ids` gives the ids of rows that
exist once. Start at `tables/zones.py`, then `loaded_job.py`.

The room imports `trade` and `units`, and no book, check, screen or database library: the classes
of the tables are plain dataclasses, from which `store/lifecycle/book_tables.py` makes the tables.
"""
