"""The job record: what a crew enters on one property, as tables, and how a value is read.

`tables` holds one file for each recorded thing; `fact` describes a column, `base` what every row
has. `values` and `days` turn typed text into a value or refuse it with one sentence.
`loaded_job` is the whole job as checks, sheets and papers read it, `ids` gives the ids of rows that
exist once. Start at `tables/zones.py`, then `loaded_job.py`.

The room imports `trade` and `units` besides SQLModel, and no book, check or screen. Nothing is
imported here: SQLModel takes longer to import than the first screen to draw.
"""
