"""Two rows, or two properties, that are the same thing: what makes one of them.

Two laptops without signal may each add a zone 3, or the same property. `moved_rows` works out where
every row goes that hangs on the one that is given up, from the links that the tables declare, so
that a new table needs nothing here. `same_cells` puts two rows into one, cell by cell: equal values
stay, a blank takes the other's, and two that differ become an open conflict, asked by F6.
`join_rows` makes one row of two within a property, `join_properties` one property of two. An
answer is a list of changes, which the caller commits as one act. Imports the record, checks and
changes. Start at `join_rows`.
"""
