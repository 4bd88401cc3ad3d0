"""The job file: one property's job record as one JSON document.

`schema` says what such a file holds: its keys, tables and columns, and the JSON Schema made of
them. `write` writes a loaded job, always the same bytes for the same record. `read` turns the bytes
of a file, which may come from anybody, into rows for the book or refuses it with one sentence that
names the place in the file; it uses `parse` for the JSON and `file_rows` for what must hold
between rows. The room imports `records` and `units`, and no book, check or screen. Start at
`schema.py`.
"""
